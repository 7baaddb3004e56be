"""From a measurement to whole base beads and motifs, so that both ends match and the piece closes.

A repeat is ``dangles`` base beads with a dangle each and a divider of ``divider`` base beads; one
more divider ends the strip: ``base beads = n * (dangles + divider) + divider``. What is then left
over takes plain base beads, as many at each end, so that less than two base beads stay left over.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

# In the maker's favour, so that an exact fit is never lost to rounding. Chosen by us, because no
# ruler reads a millionth of a millimetre.
TOLERANCE_MM = 1e-6
# Chosen by us, because a tape round a limb is read to about 2 mm.
MEASURING_ERROR_MM = 2.0
# Plan for 5 % on pitch until a swatch is measured (common practice, no source).
CATALOGUE_PITCH_SPREAD = 0.05
# Chosen by us, because half a millimetre read on a swatch of 50 mm is one part in a hundred.
MEASURED_PITCH_SPREAD = 0.01
# Neighbouring fits: dangles two fewer to two more, dividers of 0 to 2 base beads. Chosen by us:
# beyond that it is another piece.
_NEAR_DANGLES = 2
_DIVIDERS = (0, 1, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeat:
    """What repeats along the strip, and the plain base beads at both ends together."""

    dangles: int
    divider: int
    margins: int = 0

    def __post_init__(self) -> None:
        if self.dangles < 1 or self.divider < 0 or self.margins < 0:
            raise ValueError(f"a repeat has a dangle or more and no negative part; got {self!r}")

    @property
    def base_beads(self) -> int:
        """Base beads of one repeat."""
        return self.dangles + self.divider

    def strip_base_beads(self, motifs: int) -> int:
        """Base beads of a strip with that many motifs."""
        return motifs * self.base_beads + self.divider + self.margins


@dataclass(frozen=True, slots=True, kw_only=True)
class QuickRule:
    """What the rule of the trade gives (common practice, no source).

    Strip length divided by the repeat's width, rounded down, times the base beads of a repeat, plus
    one for the end. ``excess_mm`` is how much longer than the target that comes out, 0 if it fits.
    """

    motifs: int
    base_beads: int
    strip_mm: float
    excess_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """A neighbouring fit: other dangles or another divider for the same target."""

    repeat: Repeat
    motifs: int
    base_beads: int
    strip_mm: float
    slack_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """A strip that fits.

    Attributes:
        repeat: what repeats, and the plain base beads that are taken at both ends.
        motifs: the most that fit.
        base_beads: all base beads, plain ones among them.
        pitch_mm: the strip's length per base bead.
        pitch_spread: how far that may be off, as a fraction.
        snug_mm: the wearer's measurement.
        target_mm: the longest strip wanted.
        strip_mm: the strip's length.
        slack_mm: how much shorter than the target it is.
        next_motif_needs_mm: how much longer the target must be for one more motif.
        closure_mm: the closure's length, closed; 0 where none is counted or known.
        finished_mm: the strip with its closure, closed.
        finished_ease_mm: what the finished piece has over the snug measurement, as it lies on the
            limb.
        if_measured_off: motifs if the measurement were 2 mm less, and 2 mm more.
        if_pitch_off: motifs if the pitch were at the top, and at the bottom, of its spread.
        quick_rule: the trade's own rule of thumb, which knows no plain ends.
        alternatives: neighbouring fits without plain ends, the least slack first.
    """

    repeat: Repeat
    motifs: int
    base_beads: int
    pitch_mm: float
    pitch_spread: float
    snug_mm: float
    target_mm: float
    strip_mm: float
    slack_mm: float
    next_motif_needs_mm: float
    closure_mm: float
    finished_mm: float
    finished_ease_mm: float
    if_measured_off: tuple[int, int]
    if_pitch_off: tuple[int, int]
    quick_rule: QuickRule
    alternatives: tuple[Alternative, ...]

    @property
    def borderline(self) -> bool:
        """Whether a small error of measurement or pitch would change the number of motifs."""
        return any(n != self.motifs for n in (*self.if_measured_off, *self.if_pitch_off))

    @property
    def short_mm(self) -> float:
        """How much the finished piece is shorter than the limb; 0 where it goes round."""
        return -self.finished_ease_mm if self.finished_ease_mm < -TOLERANCE_MM else 0.0

    @property
    def repeat_base_beads(self) -> int:
        """Base beads of motifs and dividers: all but the plain ones at the ends."""
        return self.base_beads - self.repeat.margins

    @property
    def plain_ends(self) -> int:
        """Plain base beads at each end that the room holds, those taken already among them."""
        left_mm = self.target_mm + TOLERANCE_MM - self.repeat_base_beads * self.pitch_mm
        return max(0, math.floor(left_mm / (2.0 * self.pitch_mm)))

    @property
    def quick_rule_differs(self) -> bool:
        """Whether the rule of thumb gives another strip than the exact fit of the repeat."""
        return self.quick_rule.base_beads != self.repeat_base_beads


@dataclass(frozen=True, slots=True, kw_only=True)
class NoFit:
    """Not even one motif fits; the smallest measurements that would let it.

    Attributes:
        target_mm: the longest strip that was wanted.
        needs_mm: the shortest strip with one motif.
        snug_needs_mm: the snug measurement that gives such a strip, all else the same.
    """

    repeat: Repeat
    target_mm: float
    needs_mm: float
    snug_needs_mm: float


def curvature_mm(base_diameter_mm: float) -> float:
    """How much longer than the limb a strip is that lies on it with beads of that thickness.

    The middle of the beads lies on a circle whose radius is half a thickness larger, so its length
    is pi times the thickness more. That is the whole of it where the beads keep their distance at
    mid-line, and nothing where they close up on the inside: an option, not a rule (worked out by
    us).
    """
    return math.pi * base_diameter_mm


BaseBeads = Callable[[Repeat, int], int]
"""How many base beads a strip of so many motifs has: more with each, however wide it is."""


def motifs_that_fit(
    target_mm: float,
    pitch_mm: float,
    repeat: Repeat,
    base_beads: BaseBeads = Repeat.strip_base_beads,
) -> int:
    """The most motifs whose strip is no longer than the target; 0 if none is."""
    most_mm = target_mm + TOLERANCE_MM
    spare_beads = most_mm / pitch_mm - repeat.divider - repeat.margins
    motifs = max(0, math.floor(spare_beads / repeat.base_beads))
    # The division may round either way by its last bit, and motifs may have widths of their own:
    # settle it by the length itself.
    while motifs and base_beads(repeat, motifs) * pitch_mm > most_mm:
        motifs -= 1
    while base_beads(repeat, motifs + 1) * pitch_mm <= most_mm:
        motifs += 1
    return motifs


def with_plain_ends(fit: Fit, each_end: int) -> Fit:
    """The same motifs with so many plain base beads at each end.

    Raises:
        ValueError: fewer than none, or more than there is room for.
    """
    if not 0 <= each_end <= fit.plain_ends:
        raise ValueError(f"there is room for 0 to {fit.plain_ends} at each end; got {each_end!r}")
    more = 2 * each_end - fit.repeat.margins
    more_mm = more * fit.pitch_mm
    return replace(
        fit,
        repeat=replace(fit.repeat, margins=2 * each_end),
        base_beads=fit.base_beads + more,
        strip_mm=(fit.base_beads + more) * fit.pitch_mm,
        slack_mm=_slack_mm(fit.target_mm, (fit.base_beads + more) * fit.pitch_mm),
        finished_mm=fit.finished_mm + more_mm,
        finished_ease_mm=fit.finished_ease_mm + more_mm,
    )


def fit_strip(
    *,
    snug_mm: float,
    ease_mm: float,
    closure_mm: float,
    closure_counted: bool,
    pitch_mm: float,
    pitch_spread: float,
    repeat: Repeat,
    curvature_mm: float = 0.0,
    base_beads: BaseBeads = Repeat.strip_base_beads,
) -> Fit | NoFit:
    """The strip with the most motifs that is no longer than the target.

    Args:
        snug_mm: the wearer's measurement, the tape just touching.
        ease_mm: what is added for comfort.
        closure_mm: the closure's length, closed.
        closure_counted: whether the closure takes up a part of measurement and ease; if not, it
            adds to them.
        pitch_mm: the strip's length per base bead.
        pitch_spread: how far that may be off, as a fraction.
        repeat: what repeats.
        curvature_mm: what a thick base needs more, since it lies on a wider circle than the limb.
        base_beads: how many there are where not all motifs are as wide as the repeat says.
    """
    allowance_mm = ease_mm + curvature_mm - (closure_mm if closure_counted else 0.0)
    target_mm = snug_mm + allowance_mm
    motifs = motifs_that_fit(target_mm, pitch_mm, repeat, base_beads)
    if motifs == 0:
        needs_mm = base_beads(repeat, 1) * pitch_mm
        return NoFit(
            repeat=repeat,
            target_mm=target_mm,
            needs_mm=needs_mm,
            snug_needs_mm=snug_mm + needs_mm - target_mm,
        )
    strip_mm = base_beads(repeat, motifs) * pitch_mm
    return Fit(
        repeat=repeat,
        motifs=motifs,
        base_beads=base_beads(repeat, motifs),
        pitch_mm=pitch_mm,
        pitch_spread=pitch_spread,
        snug_mm=snug_mm,
        target_mm=target_mm,
        strip_mm=strip_mm,
        slack_mm=_slack_mm(target_mm, strip_mm),
        next_motif_needs_mm=base_beads(repeat, motifs + 1) * pitch_mm - target_mm,
        closure_mm=closure_mm,
        finished_mm=strip_mm + closure_mm,
        finished_ease_mm=strip_mm + closure_mm - curvature_mm - snug_mm,
        if_measured_off=(
            motifs_that_fit(target_mm - MEASURING_ERROR_MM, pitch_mm, repeat, base_beads),
            motifs_that_fit(target_mm + MEASURING_ERROR_MM, pitch_mm, repeat, base_beads),
        ),
        if_pitch_off=(
            motifs_that_fit(target_mm, pitch_mm * (1.0 + pitch_spread), repeat, base_beads),
            motifs_that_fit(target_mm, pitch_mm * (1.0 - pitch_spread), repeat, base_beads),
        ),
        quick_rule=quick_rule(target_mm, pitch_mm, repeat),
        alternatives=alternatives(target_mm, pitch_mm, repeat),
    )


def quick_rule(target_mm: float, pitch_mm: float, repeat: Repeat) -> QuickRule:
    """The rule of the trade for the same strip; see ``QuickRule``."""
    motifs = max(0, math.floor((target_mm + TOLERANCE_MM) / (repeat.base_beads * pitch_mm)))
    base_beads = motifs * repeat.base_beads + 1
    strip_mm = base_beads * pitch_mm
    excess_mm = strip_mm - target_mm
    return QuickRule(
        motifs=motifs,
        base_beads=base_beads,
        strip_mm=strip_mm,
        excess_mm=excess_mm if excess_mm > TOLERANCE_MM else 0.0,
    )


def alternatives(target_mm: float, pitch_mm: float, repeat: Repeat) -> tuple[Alternative, ...]:
    """Fits with other dangles or another divider, the least slack first."""
    found = []
    for dangles in range(
        max(1, repeat.dangles - _NEAR_DANGLES), repeat.dangles + _NEAR_DANGLES + 1
    ):
        for divider in _DIVIDERS:
            other = Repeat(dangles=dangles, divider=divider, margins=repeat.margins)
            motifs = motifs_that_fit(target_mm, pitch_mm, other)
            if motifs and other != repeat:
                base_beads = other.strip_base_beads(motifs)
                strip_mm = base_beads * pitch_mm
                found.append(
                    Alternative(
                        repeat=other,
                        motifs=motifs,
                        base_beads=base_beads,
                        strip_mm=strip_mm,
                        slack_mm=_slack_mm(target_mm, strip_mm),
                    )
                )
    return tuple(sorted(found, key=lambda a: (round(a.slack_mm, 6), a.repeat.dangles)))


def _slack_mm(target_mm: float, strip_mm: float) -> float:
    return max(0.0, target_mm - strip_mm)
