"""The words of the Contrast page, as plain text."""

from collections.abc import Callable, Sequence

from explorer.contrast_compare import Apart, light_change
from explorer.contrast_piece import Meeting, Neighbours
from explorer.contrast_words import LOOKS, reach, tenths, who
from explorer.suggest import Suggestion, in_words
from palettes.difference import Verdict, verdict
from palettes.lights import UNCERTAINTY, Light
from palettes.sizes import distances_tested_m
from palettes.viewing import TYPICAL_DAYLIGHT, Condition
from palettes.vision import Sight

SIGHTS = {
    Sight.TYPICAL: "Most people",
    Sight.PROTAN: "Red-blind (protan)",
    Sight.DEUTAN: "Green-blind (deutan)",
    Sight.TRITAN: "Blue-blind (tritan)",
    Sight.GREY: "No colour (grey photo)",
}
LIGHTS = {
    Light.DAYLIGHT: "Daylight",
    Light.LAMPLIGHT: "Lamplight",
    Light.FLUORESCENT: "Fluorescent tube",
    Light.LED: "LED lamp",
}
_SHORT = {
    Sight.TYPICAL: "most people",
    Sight.PROTAN: "red-blind",
    Sight.DEUTAN: "green-blind",
    Sight.TRITAN: "blue-blind",
    Sight.GREY: "no colour",
}
SIGNS = {
    Verdict.SAME: "=",
    Verdict.CLOSE: "≈",
    Verdict.DISTINCT: "+",
    Verdict.CLEARLY_APART: "++",
}
# Distances in metres of ``palettes.sizes``, chosen by us, because they are where pieces are looked
# at.
_PLACES = {0.4: "in the hand", 1.0: "at a table", 2.5: "across a room"}


def viewer_words(look: Condition) -> str:
    """Whose eyes, partial types as weak and with their severity: ``Red-weak (protan), 60 %``."""
    return _by_severity(SIGHTS[look.viewer.sight], look)


def look_words(look: Condition) -> str:
    """Whose eyes and which light in a few words: ``red-blind, lamplight``."""
    return f"{_by_severity(_SHORT[look.viewer.sight], look)}, {LIGHTS[look.light].lower()}"


def _by_severity(words: str, look: Condition) -> str:
    if look.viewer.severity == 1.0:
        return words
    return f"{words.replace('-blind', '-weak')}, {100.0 * look.viewer.severity:.0f} %"


def verdict_words(delta_e: float) -> str:
    """A sign and words for a difference: ``≈ look alike``."""
    found = verdict(delta_e)
    return f"{SIGNS[found]} {LOOKS[found]}"


def number(row: Apart) -> str:
    """The difference as it is known: ``16.2``, or ``16.2 ± 2`` where a light is reckoned with."""
    worst = tenths(row.worst)
    return f"{worst} ± {row.uncertainty:.0f}" if row.uncertainty else worst


def whom_words(row: Apart) -> str:
    """To whom the pair is hardest to tell apart, and how many they are."""
    people = who(row.worst_look)
    return f"{viewer_words(row.worst_look)}. {people}" if people else "Most people."


def light_words(row: Apart) -> str:
    """In which light the pair is hardest to tell apart, and whether the light is to blame."""
    look = row.worst_look
    views = dict(row.by_view)
    names = {light: str(_lit(look, light)) for light in Light}
    seen = {light: views[name] for light, name in names.items() if name in views}
    if look.light is not Light.DAYLIGHT:
        return _lamp_words(LIGHTS[look.light], row.worst, seen.get(Light.DAYLIGHT))
    if len(seen) < 2:
        return "Daylight; no other light was asked for."
    better = [light for light, apart in seen.items() if light_change(row.worst, apart)]
    if not better:
        return f"Any: the lights change less than our usual error, {UNCERTAINTY:.0f}."
    told = " and ".join(LIGHTS[light].lower() for light in better)
    return f"Daylight; {told} {'parts' if len(better) == 1 else 'part'} them more."


def _lamp_words(name: str, worst: float, in_daylight: float | None) -> str:
    if in_daylight is None:
        return f"{name}; daylight was not asked for."
    if light_change(in_daylight, worst) == 0.0:
        return f"Any: {name.lower()} changes less than our usual error, {UNCERTAINTY:.0f}."
    return f"{name}: a difference of {tenths(worst)} instead of {tenths(in_daylight)} in daylight."


def _lit(look: Condition, light: Light) -> Condition:
    return Condition(viewer=look.viewer, light=light)


def distance_words(row: Apart) -> str:
    """From how far the pair reads apart, and how plainly at each distance."""
    words = reach(row)
    steps = ", ".join(f"{step_words(steps)} {_place(metres)}" for metres, steps in row.steps)
    return f"{words[0].upper()}{words[1:]}. Noticeable steps: {steps}."


def reach_words(row: Apart) -> str:
    """From how far a pair reads apart, in a table's cell; outside the tested range marked so."""
    if row.reads_apart_to_m == 0.0:
        return "never"
    if not row.beyond_tested:
        return f"to {row.reads_apart_to_m:.1f} m"
    near, far = (float(metres) for metres in distances_tested_m(row.width_mm))
    if row.reads_apart_to_m > far:
        return f"to {far:.1f} m and more, beyond the tested range"
    return f"only nearer than {near:.1f} m, beyond the tested range"


def step_words(steps: float) -> str:
    """A number of noticeable differences."""
    return f"{steps:.1f}" if steps < 9.95 else f"{steps:.0f}"


def _place(metres: float) -> str:
    return _PLACES.get(metres, f"at {metres:g} m")


def sure_words(row: Apart) -> str:
    """The number with what is known of its error."""
    words = f"The difference is {number(row)} by CIEDE2000 (ΔE)"
    if row.uncertainty:
        words += (
            ": how a light moves a colour is reckoned, not measured; nine in ten pairs are off by "
            f"less than {row.uncertainty:.0f}, a few by much more"
        )
    else:
        words += ", as exact as the colours were picked"
    daylight = str(TYPICAL_DAYLIGHT)
    if str(row.worst_look) != daylight:
        words += f"; {tenths(row.delta_e_2000)} for most people in daylight"
    if row.spread is not None:
        low, high = row.spread
        words += f"; metallic and rainbow beads play between {low:.0f} and {high:.0f}"
    return f"{words}."


def pair_name(row: Neighbours) -> str:
    """A pair in a list to choose from: ``Motifs 1 and 2: difference 19.5``."""
    facing = ", facing dangles" if row.meeting is Meeting.DANGLES else ""
    if row.alike_by_choice:
        return f"Motifs {row.i + 1} and {row.j + 1}{facing}: the same beads"
    return f"Motifs {row.i + 1} and {row.j + 1}{facing}: difference {tenths(row.worst)}"


def button_words(change: Suggestion, told: Callable[[float], str] = tenths) -> str:
    """What a suggestion's button says: the change, the pair's number and the whole piece's.

    Args:
        change: the suggestion.
        told: writes a difference as the maker does; names in the words stay as they are.
    """
    words = in_words(change, told)
    if tenths(change.weakest_to) == tenths(change.pair_to):
        return words
    weakest = told(change.weakest_to)
    goes = "stay at" if weakest == told(change.weakest_from) else "go to"
    return f"{words}; the weakest neighbours {goes} {weakest}"


def prevalence_words(looks: Sequence[Condition]) -> str:
    """How many people see so, once for a viewer in all lights."""
    return who(looks[0]) or "Typical eyes."
