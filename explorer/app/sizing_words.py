"""Usual measurements, ease, closures and swatches in words."""

from explorer.brief import Wearer
from explorer.cautions import Wear
from explorer.ends import FASTENINGS
from explorer.fit import Fit, curvature_mm
from explorer.lengths import both, millimetres
from explorer.sitting import fit_sitting, short_words
from explorer.wearers import EASES, LIMBS, Limb

MINUS = "\N{MINUS SIGN}"


def limb_options() -> dict[str, str]:
    """The usual measurements by their place in ``LIMBS``."""
    return {str(i): f"{limb.name}, about {_girth(limb)}" for i, limb in enumerate(LIMBS)}


def _girth(limb: Limb) -> str:
    spread = "" if limb.spread_mm is None else f" give or take {limb.spread_mm:g}"
    return f"{limb.girth_mm:g} mm{spread}"


def limb_wear(limb: Limb) -> Wear:
    """What a piece for that limb is worn as."""
    if limb.child:
        return Wear.CHILD
    return Wear.ANKLET if "ankle" in limb.name else Wear.BRACELET


def limb_words(limb: Limb) -> str:
    """How far to trust a usual measurement."""
    words = f"A usual {limb.name} ({limb.mark})."
    if limb.spread_mm is None:
        return words
    low, high = limb.girth_mm - limb.spread_mm, limb.girth_mm + limb.spread_mm
    # About a third of a normal distribution lies beyond one standard deviation.
    return f"{words} About one in three is thinner than {low:g} mm or thicker than {high:g} mm."


def ease_options() -> dict[str, str]:
    """Ease in words by its place in ``EASES``."""
    return {
        str(i): f"{ease.limb}, {ease.word}: {millimetres(ease.middle_mm)}"
        for i, ease in enumerate(EASES)
    }


def fastening_options(now: str, *, child: bool = False) -> dict[str, str]:
    """The usual closures with their lengths, and the one there is; no magnets for a child."""
    usual = {f.kind: f"{f.kind} ({f.least_mm:g} to {f.most_mm:g} mm)" for f in FASTENINGS}
    if child:
        usual = {k: f"{k}: never for a child" if "magnet" in k else w for k, w in usual.items()}
    usual = {"": "not named yet", **usual}
    return usual if now in usual else {now: now, **usual}


def room_words(fit: Fit, wearer: Wearer) -> str:
    """How much room there is for the strip, as one sum, and what is left over of it.

    ``205 mm measured + 22 mm of ease - 18 mm of closure = 209 mm of room.``
    """
    parts = [f"{millimetres(wearer.snug_mm)} measured + {millimetres(wearer.ease_mm)} of ease"]
    if wearer.curvature_mm:
        parts.append(f"+ {millimetres(wearer.curvature_mm)} for thick base beads")
    if wearer.closure_counted and fit.closure_mm:
        parts.append(f"{MINUS} {millimetres(fit.closure_mm)} of closure")
    parts.append(f"= {both(fit.target_mm)} of room for the strip.")
    return " ".join(parts)


def takes_words(fit: Fit) -> str:
    """What the strip takes of that room."""
    motifs = "1 motif fits" if fit.motifs == 1 else f"{fit.motifs} motifs fit"
    beads = f"{fit.repeat_base_beads} base beads"
    if fit.repeat.margins:
        beads = f"{beads} and {fit.repeat.margins} plain ones, as many at each end"
    if fit.slack_mm < 0.05:
        return f"{motifs} on {beads}, to the millimetre."
    left = f"so {both(fit.slack_mm)} are left over"
    return f"{motifs} on {beads}: a strip of {both(fit.strip_mm)}, {left}."


def closed_words(fit: Fit, wearer: Wearer) -> str:
    """How the piece sits once it is closed, and how that comes of the ease asked for."""
    short = short_words(fit_sitting(fit))
    if short:
        return short
    words = f"Closed, the piece is {both(fit.finished_mm)} round"
    asked = f"the {millimetres(wearer.ease_mm)} asked for"
    if not wearer.closure_counted and fit.closure_mm:
        asked = f"{asked} and the closure's {millimetres(fit.closure_mm)}"
    if fit.slack_mm >= 0.05:
        asked = f"{asked}, less the {millimetres(fit.slack_mm)} left over"
    return f"{words} and sits with {both(fit.finished_ease_mm)} of ease: {asked}."


def curvature_label(diameter_mm: float) -> str:
    """What allowing for the base's thickness does."""
    return f"Allow for the base beads' thickness: {millimetres(curvature_mm(diameter_mm))} longer"


def swatch_words(fit: Fit) -> str:
    """A measured pitch with how sure it is, and what that makes of the strip."""
    return (
        f"Your swatch gives {fit.pitch_mm:.3f} mm a base bead, give or take "
        f"{100.0 * fit.pitch_spread:.1f} %: the strip may come out "
        f"{millimetres(fit.strip_mm * fit.pitch_spread)} longer or shorter."
    )


def closest_words(fit: Fit) -> str:
    """One of the fits that close best."""
    repeat = fit.repeat
    parts = [f"{fit.motifs} motifs of {repeat.dangles} dangles", f"{repeat.divider} between"]
    if repeat.margins:
        parts.append(f"{repeat.margins // 2} plain at each end")
    return f"{', '.join(parts)}: {left_words(fit.slack_mm)}"


def left_words(slack_mm: float) -> str:
    """What is left over of the room."""
    if slack_mm < -0.05:
        return f"{millimetres(-slack_mm)} too long"
    return "to the millimetre" if slack_mm < 0.05 else f"{millimetres(slack_mm)} left over"
