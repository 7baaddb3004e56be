"""Proposals over two scores: where each stands, and which ones nothing beats."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from explorer.contrast_words import tenths
from explorer.propose import Proposal, front


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """Something to judge a proposal by.

    Attributes:
        label: what it is, with its unit, as an axis says it.
        better: 1.0 where more is better, -1.0 where less is.
        value: the score of a proposal; None where it has none.
        digits: decimals that make sense.
        down: whether its text is rounded down, as contrast is wherever it is told.
    """

    label: str
    better: float
    value: Callable[[Proposal], float | None]
    digits: int = 0
    down: bool = False


# Decimals chosen by us, because further ones say nothing that can be seen or measured.
SCORES: Mapping[str, Score] = MappingProxyType(
    {
        "weakest": Score(
            label="Weakest neighbours apart",
            better=1.0,
            value=lambda p: p.weakest,
            digits=1,
            down=True,
        ),
        "mean": Score(
            label="Neighbours apart on average", better=1.0, value=lambda p: p.mean, digits=1
        ),
        "harmony": Score(
            label="Colours go together", better=1.0, value=lambda p: p.harmony, digits=2
        ),
        "slack": Score(
            label="Little left over, mm", better=-1.0, value=lambda p: p.fit.slack_mm, digits=1
        ),
        "beads": Score(label="Few beads", better=-1.0, value=lambda p: float(p.beads)),
        "colours": Score(
            label="Few colours", better=-1.0, value=lambda p: float(len(set(p.recipe.order)))
        ),
        "many": Score(
            label="Many colours", better=1.0, value=lambda p: float(len(set(p.recipe.order)))
        ),
        "long": Score(
            label="Long drop, mm",
            better=1.0,
            value=lambda p: p.outline.drop_mm,
            digits=1,
        ),
        "short": Score(
            label="Short drop, mm",
            better=-1.0,
            value=lambda p: p.outline.drop_mm,
            digits=1,
        ),
    }
)
FIRST = ("weakest", "harmony")
# Chosen by us: so many marks on an axis can be read on a phone.
_MOST_TICKS = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A proposal on the picture.

    Attributes:
        place: its place among the proposals, from 0.
        across, up: from 0 to 1; better lies to the right and upward.
        values: both scores as text.
        unbeaten: whether no other is at least as good in both scores and better in one.
    """

    place: int
    across: float
    up: float
    values: tuple[str, str]
    unbeaten: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Tradeoff:
    """The picture as data.

    Attributes:
        marks: every proposal that has both scores.
        ticks: for each axis, places from 0 to 1 with their text.
    """

    marks: tuple[Mark, ...]
    ticks: tuple[tuple[tuple[float, str], ...], tuple[tuple[float, str], ...]]


def tradeoff(proposals: Sequence[Proposal], across: str, up: str) -> Tradeoff:
    """Proposals over two scores; those without one of them are left out.

    Args:
        proposals: in the order in which they are shown.
        across: the key of the score to the right, in ``SCORES``.
        up: the key of the score upward.
    """
    scores = SCORES[across], SCORES[up]
    rows = [
        (place, values)
        for place, proposal in enumerate(proposals)
        if None not in (values := tuple(score.value(proposal) for score in scores))
    ]
    if not rows:
        return Tradeoff(marks=(), ticks=((), ()))
    table = np.array([values for _, values in rows], dtype=np.float64)
    unbeaten = front(table * [score.better for score in scores])
    spans = [_span(column.tolist(), s) for column, s in zip(table.T, scores, strict=True)]
    marks = tuple(
        Mark(
            place=place,
            across=spans[0].share(table[at, 0]),
            up=spans[1].share(table[at, 1]),
            values=(
                _told(table[at, 0], scores[0]),
                _told(table[at, 1], scores[1]),
            ),
            unbeaten=bool(unbeaten[at]),
        )
        for at, (place, _) in enumerate(rows)
    )
    return Tradeoff(marks=marks, ticks=(spans[0].ticks(), spans[1].ticks()))


def _told(value: float, score: Score) -> str:
    return tenths(value) if score.down else _number(value, score.digits)


def _number(value: float, digits: int) -> str:
    """A number with a true minus sign, and none before a zero."""
    text = f"{value:.{digits}f}"
    return text.lstrip("-") if float(text) == 0.0 else text.replace("-", "\N{MINUS SIGN}")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Span:
    """An axis from ``low`` to ``high`` in steps, turned round where less is better."""

    low: float
    high: float
    step: float
    better: float

    def share(self, value: float) -> float:
        part = (value - self.low) / (self.high - self.low)
        return float(part if self.better > 0.0 else 1.0 - part)

    def ticks(self) -> tuple[tuple[float, str], ...]:
        digits = max(0, -math.floor(math.log10(self.step) + 1e-9))
        count = round((self.high - self.low) / self.step)
        values = [self.low + self.step * at for at in range(count + 1)]
        return tuple((self.share(value), _number(value, digits)) for value in values)


def _span(values: Sequence[float], score: Score) -> _Span:
    """Round numbers that hold all values: steps of 1, 2 or 5 and powers of ten."""
    low, high = min(values), max(values)
    least = 10.0**-score.digits
    room = max(high - low, least)
    power = 10.0 ** math.floor(math.log10(room / (_MOST_TICKS - 1)))
    steps = (power * factor for factor in (1.0, 2.0, 5.0, 10.0, 20.0))
    step = next(
        s for s in steps if s >= least and math.ceil(high / s) - math.floor(low / s) < _MOST_TICKS
    )
    bottom = math.floor(low / step + 1e-9)
    top = max(math.ceil(high / step - 1e-9), bottom + 1)
    return _Span(low=bottom * step, high=top * step, step=step, better=score.better)


def scores_from(text: str) -> tuple[str, str]:
    """Two scores from the address, such as ``weakest~beads``; the usual ones for anything else."""
    names = text.split("~")
    if len(names) == 2 and names[0] != names[1] and all(name in SCORES for name in names):
        return names[0], names[1]
    return FIRST
