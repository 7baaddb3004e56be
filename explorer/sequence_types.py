"""What is asked of a colour order, and the two answers to it."""

from dataclasses import dataclass
from enum import StrEnum

# Chosen by us: enough to prove nearly every strip up to 8 colours and 40 motifs, and little enough
# that the hardest ends within seconds. A step is a place filled or a node of the integer solver.
DEFAULT_STEPS = 20_000

# Chosen by us: finds an order that is as good in nearly every case and proves fewer of them; for
# callers that ask for a hundred orders at once.
QUICK_STEPS = 400

# Chosen by us: longer than any strip, and the exact solver has been tried up to here.
MOST_MOTIFS = 20_000

# Chosen by us: colour sets are kept as bits of one number; no maker lays out more colours at once.
MOST_COLOURS = 48


class Arrangement(StrEnum):
    """How a strip of coloured motifs is laid out."""

    FREE = "free"
    UNIT = "unit"
    MIRROR = "mirror"
    RUN = "run"
    BLOCKS = "blocks"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderBrief:
    """What a maker asks of an order of colours over a strip of motifs.

    Attributes:
        motifs: how many motifs the strip has, at least 1.
        ring: the pair that meets over the closure counts as neighbours too.
        least, most: fewest and most uses of each colour. Empty means the arrangement's own choice:
            every colour as often as the others, give or take one.
        gap: a colour is not used again within this many motifs; 0 asks nothing.
        fixed: pairs of place and colour that the maker has settled, places from 0.
        barred: pairs of place and colour that may not meet.
        arrangement: how the strip is laid out.
        length: motifs in a repeating unit or in a block; 0 leaves it to the arrangement.
        ends: first and last colour of a run; None leaves it to the arrangement.
        give: share of the strongest weakest pair, 0 to 1, that may be given up so that repeats of
            a colour stand further apart.
        spread: spread repeats once the weakest pair is settled; False saves the time.
        steps: how much work may be spent, in counted steps, never in seconds.
    """

    motifs: int
    ring: bool = False
    least: tuple[int, ...] = ()
    most: tuple[int, ...] = ()
    gap: int = 0
    fixed: tuple[tuple[int, int], ...] = ()
    barred: tuple[tuple[int, int], ...] = ()
    arrangement: Arrangement = Arrangement.FREE
    length: int = 0
    ends: tuple[int, int] | None = None
    give: float = 0.0
    spread: bool = True
    steps: int = DEFAULT_STEPS

    def __post_init__(self) -> None:
        if not 1 <= self.motifs <= MOST_MOTIFS:
            raise ValueError(f"a strip has 1 to {MOST_MOTIFS} motifs; got {self.motifs!r}")
        if min((0, self.gap, self.length, self.steps, *self.least, *self.most)) < 0:
            raise ValueError(f"gap, length, steps and uses are at least 0; got {self!r}")
        if not 0.0 <= self.give <= 1.0:
            raise ValueError(f"the share to give up is 0 to 1; got {self.give!r}")
        if any(not 0 <= place < self.motifs for place, _ in self.fixed):
            raise ValueError(f"places run from 0 to {self.motifs - 1}; got fixed {self.fixed!r}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """An order of colours that keeps to its brief.

    Attributes:
        order: the colour of each motif, from the start of the strip.
        weakest: the smallest difference between judged neighbours; None when there are none.
        weakest_pair: the places where it stands, the first such pair along the strip.
        proven: no order that keeps to the brief has a stronger weakest pair; of a run, none has a
            smaller greatest step.
        proven_spread: at that weakest, no order spreads its repeats better.
        strongest: the largest difference between judged neighbours; None when there are none.
        mean: the mean difference of judged neighbours; None when there are none.
        counts: uses of each colour.
        bound: no order can have a weakest above this; equal to ``weakest`` when proven.
        closure: the difference of the last motif to the first; None for one motif.
        distance: the smallest distance between two uses of one colour; None without repeats.
        shortfall: sum of squared shortfalls from even spacing, see ``sequence_spread``.
        meant: pairs of places that the arrangement makes neighbours on purpose and does not judge.
    """

    order: tuple[int, ...]
    weakest: float | None
    weakest_pair: tuple[int, int] | None
    proven: bool
    proven_spread: bool
    mean: float | None
    counts: tuple[int, ...]
    bound: float | None
    closure: float | None
    strongest: float | None = None
    distance: int | None = None
    shortfall: float = 0.0
    meant: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change to a brief that makes an order possible.

    Attributes:
        field: the part of the brief: ``motifs``, ``ring``, ``least``, ``most``, ``gap``, ``fixed``
            or ``length``.
        to: the value that works.
        words: the change as a sentence with a verb.
    """

    field: str
    to: object
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NoOrder:
    """No order keeps to the brief.

    Attributes:
        demands: the parts of the brief that cannot stand together.
        why: one plain sentence.
        changes: what would make it possible, the least change first; may be empty.
        proven: False when the search ended before it had looked everywhere.
    """

    demands: tuple[str, ...]
    why: str
    changes: tuple[Change, ...] = ()
    proven: bool = True


def balanced(colours: int, motifs: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Fewest and most uses when every colour is used as often as the others, give or take one.

    Args:
        colours: how many colours there are, at least 1.
        motifs: how many motifs the strip has.

    Returns:
        ``least`` and ``most``, one number a colour.

    Raises:
        ValueError: there is no colour.
    """
    if colours < 1:
        raise ValueError(f"an order needs at least 1 colour; got {colours!r}")
    return (motifs // colours,) * colours, (-(-motifs // colours),) * colours
