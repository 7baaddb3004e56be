"""An order's demands, reduced to places: which must stand out, which must differ, what may be used.

Every arrangement becomes the same kind of puzzle: fill places 0, 1, 2, ... with colours. The search
knows nothing else, so a ring, a mirrored strip and a repeating unit are solved by one method.
"""

from dataclasses import dataclass, replace
from functools import reduce

from explorer.sequence_types import OrderBrief


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """A row of places to be filled with colours.

    Attributes:
        near: for each place, the earlier places whose colours are its neighbours.
        apart: for each place, the earlier places whose colours may not be its own.
        weights: how many motifs each place stands for.
        domains: for each place, the colours allowed there as bits of one number.
        least, most: uses of each colour, counted in motifs.
        spacing: two uses of one colour stand at least this many places from each other.
        ring: the last place meets the first.
    """

    near: tuple[tuple[int, ...], ...]
    apart: tuple[tuple[int, ...], ...]
    weights: tuple[int, ...]
    domains: tuple[int, ...]
    least: tuple[int, ...]
    most: tuple[int, ...]
    spacing: int
    ring: bool

    @property
    def count(self) -> int:
        """How many places there are."""
        return len(self.near)

    @property
    def even(self) -> bool:
        """Whether every place stands for one motif."""
        return all(weight == 1 for weight in self.weights)

    @property
    def is_path(self) -> bool:
        """Whether each place neighbours only the next, and in a ring the last the first."""
        return self.near == path(self.count, ring=self.ring)

    @property
    def is_strip(self) -> bool:
        """Whether places are single motifs along a strip or ring with one gap for all of it."""
        if not (self.even and self.is_path):
            return False
        if self.spacing <= 2:
            return all({*a} <= {*b} for a, b in zip(self.apart, self.near, strict=True))
        return self.apart == within(self.count, self.spacing - 1, ring=self.ring)

    @property
    def open_to_all(self) -> bool:
        """Whether no place is settled."""
        return len(set(self.domains)) == 1

    @property
    def contradicts_itself(self) -> bool:
        """Whether some place would have to differ from itself."""
        return any(j in self.near[j] or j in self.apart[j] for j in range(self.count))


def path(count: int, *, ring: bool) -> tuple[tuple[int, ...], ...]:
    """Neighbours along a strip: the place before, and at the end of a ring the first as well."""
    near: list[tuple[int, ...]] = [(j - 1,) if j else () for j in range(count)]
    if ring and count > 2:
        near[-1] = (0, count - 2)
    return tuple(near)


def within(count: int, gap: int, *, ring: bool) -> tuple[tuple[int, ...], ...]:
    """For each place, the earlier places that are at most ``gap`` motifs away."""
    return tuple(
        tuple(i for i in range(j) if j - i <= gap or (ring and count - (j - i) <= gap))
        if ring and j >= count - gap
        else tuple(range(max(0, j - gap), j))
        for j in range(count)
    )


def everything(colours: int) -> int:
    """All colours as bits of one number."""
    return (1 << colours) - 1


def settle(
    places: Places, fixed: tuple[tuple[int, int], ...], barred: tuple[tuple[int, int], ...] = ()
) -> Places:
    """The same places with colours settled or barred; a place with two wishes is left none."""
    domains = list(places.domains)
    for place, colour in fixed:
        domains[place] &= 1 << colour
    for place, colour in barred:
        domains[place] &= ~(1 << colour)
    return replace(places, domains=tuple(domains))


def with_gap(places: Places, gap: int) -> Places:
    """The same places with a gap between two uses of a colour, along the strip."""
    apart = within(places.count, gap, ring=places.ring)
    joined = tuple(tuple(sorted({*a, *b})) for a, b in zip(places.apart, apart, strict=True))
    return replace(places, apart=joined, spacing=max(places.spacing, gap + 1))


def free_places(brief: OrderBrief, least: tuple[int, ...], most: tuple[int, ...]) -> Places:
    """The puzzle of a free arrangement: one place a motif."""
    count = brief.motifs
    places = Places(
        near=path(count, ring=brief.ring),
        apart=((),) * count,
        weights=(1,) * count,
        domains=(usable(most),) * count,
        least=least,
        most=most,
        spacing=2,
        ring=brief.ring and brief.motifs > 1,
    )
    # A shorter strip that is tried has not all places.
    barred = tuple(pair for pair in brief.barred if pair[0] < count)
    return settle(with_gap(places, brief.gap) if brief.gap else places, brief.fixed, barred)


def usable(most: tuple[int, ...]) -> int:
    """The colours that may be used at all, as bits of one number."""
    return reduce(lambda bits, c: bits | (1 << c) if most[c] else bits, range(len(most)), 0)
