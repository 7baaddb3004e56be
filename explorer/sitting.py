"""How a finished piece sits on its limb: how long it is closed, and whether it goes round."""

from dataclasses import dataclass, replace

from explorer.brief import Strip, Wearer
from explorer.design import Closure, Design
from explorer.fit import TOLERANCE_MM, Fit, NoFit
from explorer.lengths import both, millimetres
from explorer.links import links_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Sitting:
    """A finished piece on the limb that it is for.

    Attributes:
        snug_mm: the limb, the tape just touching.
        finished_mm: the piece closed: strip, link beads and closure.
        closure_mm: the closure's part of that; 0 where none is counted or known.
        ease_mm: what it has over the limb, as it lies there; below 0 it does not go round.
    """

    snug_mm: float
    finished_mm: float
    closure_mm: float
    ease_mm: float

    @property
    def short_by_mm(self) -> float:
        """How much is missing to go round; 0 where nothing is."""
        return -self.ease_mm if self.ease_mm < -TOLERANCE_MM else 0.0


def sitting(design: Design, wearer: Wearer) -> Sitting:
    """How a design sits on its wearer."""
    finished_mm = design.strip_mm + links_mm(design) + design.closure.length_mm
    return Sitting(
        snug_mm=wearer.snug_mm,
        finished_mm=finished_mm,
        closure_mm=design.closure.length_mm,
        ease_mm=finished_mm - wearer.curvature_mm - wearer.snug_mm,
    )


def fit_sitting(fit: Fit) -> Sitting:
    """How a strip that is only fitted yet sits on its wearer."""
    return Sitting(
        snug_mm=fit.snug_mm,
        finished_mm=fit.finished_mm,
        closure_mm=fit.closure_mm,
        ease_mm=fit.finished_ease_mm,
    )


def finished_words(found: Sitting) -> str:
    """How long the piece is closed: ``finished 202.7 mm (8 in) with its closure``."""
    with_closure = "with its closure" if found.closure_mm else "no closure counted"
    return f"finished {both(found.finished_mm)}, {with_closure}"


def short_words(found: Sitting) -> str:
    """That the piece does not go round, in one sentence; empty where it does."""
    if not found.short_by_mm:
        return ""
    closure = "" if found.closure_mm else ", no closure counted"
    return (
        f"Shorter than the limb: closed, the piece is {both(found.finished_mm)} round{closure}, "
        f"{millimetres(found.short_by_mm)} less than the {millimetres(found.snug_mm)} measured."
    )


def going_round(wearer: Wearer, strip: Strip, closure: Closure) -> tuple[Wearer, Fit] | None:
    """The nearest that goes round: the least more ease with which the finished piece does.

    Args:
        wearer: the measurement and the ease asked for.
        strip: the base; plain ends are taken, whatever it says of them.
        closure: the fastening.

    Returns:
        The wearer with that ease and the strip's fit; None where not one motif fits.
    """
    filled = replace(strip, plain_ends=True)
    fit = filled.fit(wearer, closure)
    if isinstance(fit, NoFit):
        return None
    if not fit.short_mm:
        return wearer, fit
    # One plain bead more at each end; the hair more is for the rounding of the sum.
    more_mm = 2.0 * fit.pitch_mm - fit.slack_mm + TOLERANCE_MM
    eased = replace(wearer, ease_mm=wearer.ease_mm + more_mm)
    fitted = filled.fit(eased, closure)
    return None if isinstance(fitted, NoFit) else (eased, fitted)
