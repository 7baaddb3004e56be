"""All that a maker asks for, checked when it is made, so that nothing later needs to doubt it."""

import math
from dataclasses import dataclass, field, replace
from enum import StrEnum

from explorer.design import NO_CLOSURE, Closure
from explorer.errors import BriefError
from explorer.fit import (
    CATALOGUE_PITCH_SPREAD,
    MEASURED_PITCH_SPREAD,
    MEASURING_ERROR_MM,
    BaseBeads,
    Fit,
    NoFit,
    Repeat,
    fit_strip,
    with_plain_ends,
)
from explorer.lengths import MM_PER_INCH, checked_mm
from explorer.profile import Shape
from explorer.sequence_types import MOST_COLOURS, MOST_MOTIFS, Arrangement
from palettes.beads import Bead, BeadKind

# Chosen by us: from a doll's wrist to a wide thigh, in millimetres.
LEAST_SNUG_MM, MOST_SNUG_MM = 40.0, 1000.0
# A bare ease or closure below this is no number of millimetres that anyone measured: a tape is read
# to about as much. Chosen by us, because 0.75 and 1.5 are then asked about and 3 is believed.
LEAST_BARE_MM = MEASURING_ERROR_MM
MOST_EASE_MM = 200.0
MOST_CLOSURE_MM = 200.0
LEAST_PITCH_MM, MOST_PITCH_MM = 0.5, 20.0  # chosen by us: beyond any bead that is woven
# Chosen by us, because a motif wider than 31 dangles is a fringe without motifs.
MOST_DANGLES = 31
MOST_DIVIDER = 9  # chosen by us: as many plain base beads as a motif is wide are a gap
# Chosen by us, because a tray holds as many beads; nobody looks through two hundred proposals; a
# seed is a whole number of 32 bits.
MOST_TRAY = 5000
MOST_COUNT = 200
MOST_SEED = 2**32 - 1
# A pitch four times off is a slip of unit or of the decimal point. Chosen by us, because the ladder
# pitches of one kind of bead differ by a tenth or two.
_PITCH_OFF = 4.0

# The defaults that a maker sees first, chosen by us: 3 mm cubes with 8/0 dangles just touch
# (3.0 / 3.1), take any needle, and are quick to weave.
DEFAULT_BASE = "cube 3"
# The usual partner of that base, as ``crowding.usual_hanging`` says for every base.
DEFAULT_HANGING = "round 8/0"
# Shortest and longest dangle. Chosen by us: six 8/0 beads hang 13 mm, within what is usual.
USUAL_LEAST, USUAL_MOST = 1, 6
DEFAULT_REPEAT = Repeat(dangles=5, divider=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wearer:
    """A measurement and how the piece shall sit.

    Attributes:
        snug_mm: round the limb, the tape just touching.
        ease_mm: what is added for comfort.
        closure_counted: whether the ease already allows for the closure, so that the strip is
            shorter by it.
        curvature_mm: what a thick base needs more; see ``fit.curvature_mm``.
    """

    snug_mm: float
    ease_mm: float = 0.0
    closure_counted: bool = True
    curvature_mm: float = 0.0

    def __post_init__(self) -> None:
        checked_mm(self.snug_mm, self.snug_mm, "snug", least_mm=LEAST_SNUG_MM, most_mm=MOST_SNUG_MM)
        checked_mm(self.ease_mm, self.ease_mm, "ease", least_mm=0.0, most_mm=MOST_EASE_MM)
        checked_mm(
            self.curvature_mm, self.curvature_mm, "curvature", least_mm=0.0, most_mm=MOST_EASE_MM
        )

    def target_mm(self, closure: Closure) -> float:
        """The longest bare strip that serves with a closure.

        Raises:
            BriefError: the closure takes up all of measurement and ease.
        """
        counted_mm = closure.length_mm if self.closure_counted else 0.0
        target_mm = self.snug_mm + self.ease_mm + self.curvature_mm - counted_mm
        if target_mm <= 0.0:
            raise BriefError(
                "closure",
                closure.length_mm,
                f"less than measurement and ease together, {self.snug_mm + self.ease_mm:g} mm",
                "Measure the closure again.",
            )
        return target_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """The base: its bead, the pitch if it was measured, and what repeats.

    Attributes:
        base: the kind of the base beads.
        measured_pitch_mm: as measured over a swatch; the kind's own if none was.
        measured_spread: how far the measured pitch may be off, as a fraction.
        repeat: dangles, divider and margins.
        plain_ends: whether plain base beads at both ends, as many at each, fill what a whole number
            of motifs leaves over; ``repeat.margins`` is then for the fit to find.
    """

    base: BeadKind
    measured_pitch_mm: float | None = None
    measured_spread: float = MEASURED_PITCH_SPREAD
    repeat: Repeat = DEFAULT_REPEAT
    plain_ends: bool = True

    def __post_init__(self) -> None:
        whole("dangles", self.repeat.dangles, 1, MOST_DANGLES)
        whole("divider", self.repeat.divider, 0, MOST_DIVIDER)
        if self.measured_pitch_mm is not None:
            _check_pitch(self.measured_pitch_mm, self.base)
        if not 0.0 <= self.measured_spread <= 0.5:
            raise ValueError(f"a pitch's spread is 0 to 0.5 of it; got {self.measured_spread!r}")

    @property
    def pitch_mm(self) -> float:
        """The pitch to plan with."""
        return self.measured_pitch_mm or self.base.ladder_pitch_mm

    @property
    def pitch_spread(self) -> float:
        """How far the pitch may be off, as a fraction of it."""
        measured = self.measured_pitch_mm is not None
        return self.measured_spread if measured else CATALOGUE_PITCH_SPREAD

    def fit(
        self,
        wearer: Wearer,
        closure: Closure = NO_CLOSURE,
        base_beads: BaseBeads = Repeat.strip_base_beads,
    ) -> Fit | NoFit:
        """The strip for a wearer and a closure; ``base_beads`` as in ``fit_strip``.

        Raises:
            BriefError: the closure takes up all of measurement and ease.
        """
        wearer.target_mm(closure)
        fit = fit_strip(
            snug_mm=wearer.snug_mm,
            ease_mm=wearer.ease_mm,
            closure_mm=closure.length_mm,
            closure_counted=wearer.closure_counted,
            pitch_mm=self.pitch_mm,
            pitch_spread=self.pitch_spread,
            repeat=replace(self.repeat, margins=0) if self.plain_ends else self.repeat,
            curvature_mm=wearer.curvature_mm,
            base_beads=base_beads,
        )
        if isinstance(fit, Fit) and self.plain_ends:
            return with_plain_ends(fit, fit.plain_ends)
        return fit


def _check_pitch(pitch_mm: float, base: BeadKind) -> None:
    checked_mm(pitch_mm, pitch_mm, "pitch", least_mm=LEAST_PITCH_MM, most_mm=MOST_PITCH_MM)
    ratio = pitch_mm / base.ladder_pitch_mm
    if not 1.0 / _PITCH_OFF <= ratio <= _PITCH_OFF:
        per_inch = float(MM_PER_INCH)
        hint = "inches" if 0.7 < ratio * per_inch < 1.4 else "another unit"
        raise BriefError(
            "pitch",
            f"{pitch_mm:g} mm",
            f"about {base.ladder_pitch_mm:g} mm for {base.name}",
            f"Was {hint} meant? Measure ten beads of the strip and divide by ten.",
        )


class Mood(StrEnum):
    """How loud proposals should be."""

    AS_IT_COMES = "as it comes"
    BOLDER = "bolder"
    CALMER = "calmer"


class HowMuch(StrEnum):
    """How much proposals vary besides outline and colours: tips, dividers, base, turns, growth."""

    PLAIN = "plain"
    LITTLE = "a little"
    MORE = "more"


# What a maker is shown who asks for nothing. Chosen by us, by looking at sheets of 24: some pieces
# have something of it, and most stay calm.
USUAL_EXTRAS = HowMuch.LITTLE


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """What proposals are asked for.

    Attributes:
        wearer: the measurement.
        strip: the base.
        colours: the beads whose colours the motifs may take; the dangles' kind is theirs.
        base_bead: the base bead in its colour.
        divider_bead: the small bead under the dividers; none for bare dividers.
        closure: the fastening to draw and to thread.
        repeats: what proposals may repeat; none means the strip's own repeat and its neighbours.
        shapes: the profile shapes that proposals may use; none means all.
        profiles: profiles that they use instead of shapes, each for its own width.
        alternate: whether two profiles may take turns where both ends then close alike.
        arrangements: the arrangements that they may use; none means all.
        keep_palette: whether every proposal uses every colour.
        gap: a colour is not used again within so many motifs.
        fixed: motifs that the maker has settled, as pairs of place and colour, both from 0.
        stock: beads at hand of each colour, or none where stock does not matter.
        mood: whether proposals should be bolder or calmer than usual.
        extras: how much they vary besides outline and colours.
        least_beads, most_beads: the shortest and the longest dangle.
        count: how many proposals; 24 chosen by us, because six rows of four fill a page.
        seed: the number that all choices by chance start from.
    """

    wearer: Wearer
    strip: Strip
    colours: tuple[Bead, ...]
    base_bead: Bead
    divider_bead: Bead | None = None
    closure: Closure = field(default_factory=Closure)
    repeats: tuple[Repeat, ...] = ()
    shapes: tuple[Shape, ...] = ()
    profiles: tuple[tuple[int, ...], ...] = ()
    alternate: bool = False
    arrangements: tuple[Arrangement, ...] = ()
    keep_palette: bool = False
    gap: int = 0
    fixed: tuple[tuple[int, int], ...] = ()
    stock: tuple[int, ...] = ()
    mood: Mood = Mood.AS_IT_COMES
    extras: HowMuch = HowMuch.PLAIN
    least_beads: int = USUAL_LEAST
    most_beads: int = USUAL_MOST
    count: int = 24
    seed: int = 1

    def __post_init__(self) -> None:
        if not self.colours:
            raise BriefError("colours", "none", "one colour or more", "Choose a palette.")
        whole("colours", len(self.colours), 1, MOST_TRAY)
        kinds = sorted({bead.kind.name for bead in self.colours})
        if len(kinds) > 1:
            raise BriefError(
                "colours",
                ", ".join(kinds),
                "beads of one kind for the dangles",
                "Choose the beads of one kind and size.",
            )
        self._check_wishes()
        whole("count", self.count, 1, MOST_COUNT)
        whole("seed", self.seed, 0, MOST_SEED)
        whole("least_beads", self.least_beads, 1, 60)
        whole("most_beads", self.most_beads, self.least_beads, 60)

    def _check_wishes(self) -> None:
        whole("gap", self.gap, 0, MOST_COLOURS)
        for place, colour in self.fixed:
            whole("fix", place, 0, MOST_MOTIFS - 1)
            whole("fix", colour, 0, len(self.colours) - 1)
        if self.stock and len(self.stock) != len(self.colours):
            raise ValueError(
                f"{len(self.colours)} colours have as many stocks or none; got {len(self.stock)}"
            )
        for beads in self.stock:
            whole("stock", beads, 0, 10_000_000)


def whole(field: str, value: object, least: int, most: int) -> int:
    """A whole number in a range, from a number or text.

    Raises:
        BriefError: it is none, or lies outside.
    """
    wanted = f"a whole number from {least} to {most}"
    try:
        number = float(str(value).strip())
    except ValueError:
        raise BriefError(field, value, wanted, "Type digits only.") from None
    if not math.isfinite(number) or number != int(number) or not least <= number <= most:
        raise BriefError(field, value, wanted, f"Choose one between {least} and {most}.")
    return int(number)
