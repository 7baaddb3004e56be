"""An order for the motifs of a piece, each reckoned as it is seen: with its tips and inner colours.

Proposals reckon so from their recipe (``explorer.orders``); a piece may have motifs of several
outlines, and of work by hand, so that here each is looked at as it hangs.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf

import numpy as np

from explorer.contrast import met_colours
from explorer.order_choice import ROUNDING, Differences, choose_order, differences
from explorer.pattern import Key, Pattern
from explorer.sequence_types import MOST_COLOURS, NoOrder, OrderBrief, balanced
from explorer.weave import Loom
from palettes.difference import DISTINCT_FROM
from palettes.spaces import FloatArray, linear1_to_srgb1, srgb1_to_lab, srgb1_to_linear1

# Neighbours that nothing parts, behind which others are still looked at. Chosen by us, because so
# many motifs beside their like are no order any more.
_MOST_ALIKE = 12
# Motifs of a strip whose motifs change about. Chosen by us, because nobody wears a longer one, and
# each pass takes as many tries.
_MOST_CHANGED = 200
# Looks that are compared all with all when motifs change about. Chosen by us, because so many take
# a tenth of a second, and no piece that one hand makes has more.
_MOST_LOOKS = 400


@dataclass(frozen=True, slots=True)
class Seen:
    """What the motifs of a piece look like in each of some colours.

    Attributes:
        sort: for each motif the row of its looks; motifs that hang alike share one.
        lab: L*a*b* of each row in each colour, (rows, colours, 3).
    """

    sort: tuple[int, ...]
    lab: FloatArray

    def apart(self, settled: Mapping[int, Key]) -> Differences:
        """How far apart the colours look in motifs as most of those not settled hang."""
        return differences(self.lab[self._usual(settled)])

    def _usual(self, settled: Mapping[int, Key]) -> int:
        free = [row for slot, row in enumerate(self.sort) if slot not in settled]
        return Counter(free or self.sort).most_common(1)[0][0]

    def order(self, brief: OrderBrief, settled: Mapping[int, Key]) -> tuple[int, ...] | None:
        """A free order between settled motifs, each of these as it is seen; None where none is.

        Args:
            brief: what is asked for.
            settled: the motifs that no order changes.

        Returns:
            For each motif the place of its colour; at settled ones of any colour.
        """
        colours = self.lab.shape[1]
        looks = [tuple(look) for look in self.lab[self._usual(settled)].tolist()]
        fixed = []
        for slot in sorted(settled):
            # A settled motif that looks like one of the colours counts as that colour.
            look = tuple(self.lab[self.sort[slot], 0].tolist())
            if look not in looks:
                looks.append(look)
            fixed.append((slot, looks.index(look)))
        if len(looks) > MOST_COLOURS:
            return None
        least, most = balanced(colours, max(0, brief.motifs - len(settled)))
        alone = (0,) * (len(looks) - colours)
        taken = [sum(place == one for _, place in fixed) for one in range(len(looks))]
        asked = replace(
            brief,
            least=tuple(n + m for n, m in zip((*least, *alone), taken, strict=True)),
            most=tuple(n + m for n, m in zip((*most, *alone), taken, strict=True)),
            fixed=tuple(fixed),
        )
        found = choose_order(differences(np.array(looks)), asked)
        if isinstance(found, NoOrder):
            return None
        order = [place if place < colours else -1 for place in found.order.order]
        return self._changed_about(order, brief.gap, settled)

    def _changed_about(
        self, order: list[int], gap: int, settled: Mapping[int, Key]
    ) -> tuple[int, ...]:
        """The order with motifs changed about as long as that parts the most alike neighbours.

        The search took every motif to hang like most of them; where one hangs otherwise, its own
        looks decide.
        """
        colours = self.lab.shape[1]
        looks, place = np.unique(self.lab.reshape(-1, 3), axis=0, return_inverse=True)
        free = {self.sort[slot] for slot in range(len(order)) if slot not in settled}
        if len({self.lab[row].tobytes() for row in free}) < 2:
            return tuple(order)
        if len(looks) > _MOST_LOOKS or len(order) > _MOST_CHANGED:
            return tuple(order)
        ranks, at = differences(looks).ranks, place.reshape(-1)
        row = _Row(
            order=order,
            looks=[at[sort * colours : (sort + 1) * colours].tolist() for sort in self.sort],
            ranks=ranks,
            gap=max(1, gap),
            settled=settled,
        )
        while row.better():
            pass
        return tuple(row.order)


class _Row:
    """An order whose motifs change about, as long as every colour's uses are as even as they were.

    Args:
        order: for each motif the place of its colour; it is changed.
        looks: for each motif its look in each colour.
        ranks: how far apart looks are.
        gap: within so many motifs no colour may come again.
        settled: the motifs that stay.
    """

    def __init__(
        self,
        order: list[int],
        looks: list[list[int]],
        ranks: FloatArray,
        gap: int,
        settled: Mapping[int, Key],
    ) -> None:
        self.order = order
        self._looks, self._ranks, self._gap, self._settled = looks, ranks, gap, settled
        self._free = [slot for slot in range(len(order)) if slot not in settled]
        self._beside = [self._apart(slot) for slot in range(len(order) - 1)]
        self._uses = [0] * len(looks[0])
        for slot in self._free:
            self._uses[order[slot]] += 1
        self._least, self._most = min(self._uses), max(self._uses)

    def better(self) -> bool:
        """Part the most alike neighbours that can be, as far as they are not clearly distinct."""
        rows = sorted(range(len(self._beside)), key=self._beside.__getitem__)
        for rank, pair in enumerate(rows):
            weakest = self._beside[pair]
            # Behind neighbours that nothing parts, only those that look alike are worth a change.
            if weakest == inf or (rank and weakest >= DISTINCT_FROM) or rank > _MOST_ALIKE:
                return False
            places = (one for one in (pair, pair + 1) if one not in self._settled)
            if any(self._changed(move, weakest) for one in places for move in self._moves(one)):
                return True
        return False

    def _moves(self, one: int) -> Iterator[dict[int, int]]:
        """Other colours for a motif, or for it and another, with every colour's uses as asked."""
        own = self.order[one]
        for colour, uses in enumerate(self._uses):
            if self._uses[own] > self._least and uses < self._most:
                yield {one: colour}
        for other in self._free:
            yield {one: self.order[other], other: own}

    def _changed(self, move: Mapping[int, int], weakest: float) -> bool:
        """Give motifs other colours where all that they touch is further apart then."""
        before = {slot: self.order[slot] for slot in move}
        if before == move:
            return False
        self._take(move)
        touched = {n for slot in move for n in (slot - 1, slot)}
        new = {n: self._apart(n) for n in touched if 0 <= n < len(self._beside)}
        if min(new.values()) > weakest + ROUNDING and all(map(self._keeps, move)):
            for n, value in new.items():
                self._beside[n] = value
            return True
        self._take(before)
        return False

    def _take(self, move: Mapping[int, int]) -> None:
        for slot, colour in move.items():
            self._uses[self.order[slot]] -= 1
            self._uses[colour] += 1
            self.order[slot] = colour

    def _apart(self, slot: int) -> float:
        """How far a motif is from the next; two settled ones are as they are."""
        if slot in self._settled and slot + 1 in self._settled:
            return inf
        one, other = (self._looks[n][max(0, self.order[n])] for n in (slot, slot + 1))
        return float(self._ranks[one, other])

    def _keeps(self, slot: int) -> bool:
        """Whether no motif within the gap has a motif's colour."""
        near = range(max(0, slot - self._gap), min(len(self.order), slot + self._gap + 1))
        return all(self.order[n] != self.order[slot] for n in near if n != slot)


def seen(pattern: Pattern, keys: Sequence[Key]) -> Seen:
    """What the motifs of a piece look like in each of these colours.

    Args:
        pattern: the piece, with what goes with each colour inside motifs.
        keys: the colours.
    """
    looms = [Loom(replace(pattern, order=replace(pattern.order, keys=(key,)))) for key in keys]
    hexes = [colour.hex for colour in pattern.colours]
    finishes = [colour.finish for colour in pattern.colours]
    met = met_colours(hexes, finishes, None)[1]
    own = {colour.key: row for colour, row in zip(pattern.colours, met, strict=True)}
    light = {key: srgb1_to_linear1(row) for key, row in own.items()}
    rows: dict[object, int] = {}
    sort = []
    srgb1: list[list[FloatArray]] = []
    for slot in range(pattern.run.motifs):
        by_hand = pattern.by_hand(slot)
        lengths = () if by_hand.as_it_is else tuple(looms[0].lengths(slot, by_hand))
        row = rows.setdefault((by_hand, lengths), len(rows))
        sort.append(row)
        if row < len(srgb1):
            continue
        looks = []
        for loom in looms:
            hung = Counter(bead for dangle in loom.dangles(slot, by_hand) for bead in dangle)
            faces = {
                bead: count * bead[1].diameter_mm * bead[1].pitch_mm for bead, count in hung.items()
            }
            if len({key for key, _ in faces}) == 1:
                # One colour stays exactly itself, free of rounding.
                looks.append(own[next(iter(faces))[0]])
                continue
            whole = sum(faces.values())
            parts = [face / whole * light[key] for (key, _), face in faces.items()]
            # Sums of the same beads in another order are one look.
            looks.append(linear1_to_srgb1(np.round(np.sum(parts, axis=0), 12)))
        srgb1.append(looks)
    return Seen(sort=tuple(sort), lab=srgb1_to_lab(np.array(srgb1)))
