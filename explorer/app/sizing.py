"""What a maker types on the Size page, kept as typed, and what it means."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from explorer.brief import (
    DEFAULT_BASE,
    DEFAULT_HANGING,
    LEAST_BARE_MM,
    LEAST_PITCH_MM,
    LEAST_SNUG_MM,
    MOST_CLOSURE_MM,
    MOST_EASE_MM,
    MOST_PITCH_MM,
    MOST_SNUG_MM,
    Strip,
    Wearer,
)
from explorer.design import Closure
from explorer.errors import BriefError
from explorer.fit import MEASURED_PITCH_SPREAD, Repeat, curvature_mm
from explorer.lengths import checked_mm, parse_mm
from palettes.beads import BeadKind
from palettes.charts import bead_kinds

# Chosen by us, because a design's closure stays under 200 mm.
_MOST_CHAIN_MM = 199.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizing:
    """The boxes of the Size page, each as it was typed; an empty pitch is the kind's own.

    Attributes:
        snug, ease, closure: lengths as text.
        closure_counted: whether the ease already allows for the closure.
        base, hanging: names of bead kinds.
        dangles, divider: base beads of a motif and of a divider (common practice, no source).
        swatch_length, swatch_beads: a measured piece of strip and the base beads counted on it; 20
            chosen by us, because a ruler's error is then a fortieth of a bead.
        quick: whether the strip follows the quick rule instead of the exact fit.
        reading: how far off the ruler may have been read on the swatch.
        plain_ends: whether plain base beads at both ends fill what is left over.
        margin: plain base beads at each end, where they do not.
        curvature: whether the strip is longer for the base beads' thickness.
        fastening: the closure's kind in the trade's word; empty where none is named.
        extender: the length of an extender chain; empty for none.
    """

    snug: str
    ease: str = "20 mm"
    closure: str = "16 mm"
    closure_counted: bool = True
    base: str = DEFAULT_BASE
    hanging: str = DEFAULT_HANGING
    dangles: int = 5
    divider: int = 1
    swatch_length: str = ""
    swatch_beads: int = 20
    quick: bool = False
    reading: str = "0.5 mm"
    plain_ends: bool = True
    margin: int = 0
    curvature: bool = False
    fastening: str = "lobster clasp"
    extender: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A sizing that makes sense."""

    wearer: Wearer
    strip: Strip
    hanging: BeadKind
    closure: Closure


def measured(sizing: Sizing) -> Measured | tuple[BriefError, ...]:
    """What the boxes mean, or everything that is wrong with them at once, box by box."""
    faults: list[BriefError] = []

    def length(
        text: str, field: str, least_mm: float, most_mm: float, bare_mm: float = 0.0
    ) -> float:
        try:
            return parse_mm(text, field, least_mm=least_mm, most_mm=most_mm, least_bare_mm=bare_mm)
        except BriefError as error:
            faults.append(error)
            return least_mm

    snug = length(sizing.snug, "snug", LEAST_SNUG_MM, MOST_SNUG_MM)
    ease = length(sizing.ease, "ease", 0.0, MOST_EASE_MM, LEAST_BARE_MM)
    # A closure with a part at each end may be typed as a sum.
    closure = sum(
        length(part, "closure", 0.0, MOST_CLOSURE_MM, LEAST_BARE_MM)
        for part in sizing.closure.split("+")
    )
    extender = length(sizing.extender.strip() or "0", "extender", 0.0, _MOST_CHAIN_MM)
    pitch = _pitch(sizing, length)
    spread = _spread(sizing, length) if pitch else MEASURED_PITCH_SPREAD
    if faults:
        return tuple(faults)
    try:
        base = _kind(sizing.base, "base")
        checked_mm(closure, sizing.closure, "closure", least_mm=0.0, most_mm=_MOST_CHAIN_MM)
        return Measured(
            wearer=Wearer(
                snug_mm=snug,
                ease_mm=ease,
                closure_counted=sizing.closure_counted,
                curvature_mm=curvature_mm(base.diameter_mm) if sizing.curvature else 0.0,
            ),
            strip=Strip(
                base=base,
                measured_pitch_mm=pitch,
                measured_spread=spread,
                repeat=Repeat(
                    dangles=sizing.dangles, divider=sizing.divider, margins=2 * sizing.margin
                ),
                plain_ends=sizing.plain_ends,
            ),
            hanging=_kind(sizing.hanging, "hanging"),
            closure=Closure(kind=sizing.fastening.strip(), length_mm=closure, extender_mm=extender),
        )
    except BriefError as error:
        return (error,)


def _pitch(sizing: Sizing, length: Callable[[str, str, float, float], float]) -> float | None:
    if not sizing.swatch_length.strip():
        return None
    beads = max(1, sizing.swatch_beads)
    whole = length(sizing.swatch_length, "pitch", beads * LEAST_PITCH_MM, beads * MOST_PITCH_MM)
    return whole / beads


def _spread(sizing: Sizing, length: Callable[[str, str, float, float], float]) -> float:
    """How far the measured pitch may be off, as a fraction: the ruler's error over the swatch."""
    beads = max(1, sizing.swatch_beads)
    whole = length(sizing.swatch_length, "pitch", beads * LEAST_PITCH_MM, beads * MOST_PITCH_MM)
    return length(sizing.reading, "reading", 0.0, whole / 2.0) / whole


def with_repeat(sizing: Sizing, repeat: Repeat) -> Sizing:
    """The boxes with that repeat in them, fitted exactly; its plain ends are those that fill."""
    after = replace(sizing, dangles=repeat.dangles, divider=repeat.divider, quick=False)
    if sizing.plain_ends or repeat.margins == 2 * sizing.margin:
        return after
    return replace(after, plain_ends=repeat.margins > 0, margin=0)


def _kind(name: str, field: str) -> BeadKind:
    kinds = bead_kinds()
    if name not in kinds:
        raise BriefError(field, name, f"one of {', '.join(kinds)}", "Choose a bead from the list.")
    return kinds[name]
