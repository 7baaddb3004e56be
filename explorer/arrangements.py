"""How a strip is laid out: which motifs must be alike, which pairs are judged, which are meant.

Each arrangement names, for every motif, the place of the puzzle that it shows. A free strip has a
place for each motif; a repeating unit shows its few places again and again; in a mirrored strip two
motifs show each place; a block of neighbours shows one.
"""

from dataclasses import dataclass, replace

from explorer.sequence_places import Places, free_places, settle, usable, within
from explorer.sequence_types import Arrangement, OrderBrief, balanced


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """A brief as a puzzle, and the way back from its places to motifs.

    Attributes:
        places: the puzzle.
        shows: for each motif the place that it shows.
        judged: pairs of motifs whose difference counts.
        meant: pairs of neighbouring motifs that are alike on purpose.
    """

    places: Places
    shows: tuple[int, ...]
    judged: tuple[tuple[int, int], ...]
    meant: tuple[tuple[int, int], ...] = ()

    def motifs(self, filling: tuple[int, ...]) -> tuple[int, ...]:
        """The colour of each motif, from the colour of each place."""
        return tuple(filling[place] for place in self.shows)


def neighbours(motifs: int, *, ring: bool) -> tuple[tuple[int, int], ...]:
    """Pairs of motifs side by side; in a ring of three or more the last and the first as well."""
    pairs = tuple((i, i + 1) for i in range(motifs - 1))
    return (*pairs, (motifs - 1, 0)) if ring and motifs > 2 else pairs


def uses_of(brief: OrderBrief, colours: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Fewest and most uses, in motifs: as asked, or the arrangement's own.

    The arrangement's own uses every colour on as many places as the others, give or take one.

    Raises:
        ValueError: uses or settled colours do not belong to so many colours.
    """
    least, most = _own_uses(brief, colours)
    least, most = brief.least or least, brief.most or most
    if len(least) != colours or len(most) != colours:
        raise ValueError(
            f"{colours} colours need {colours} uses each way; got {least!r} and {most!r}"
        )
    if any(not 0 <= colour < colours for _, colour in brief.fixed):
        raise ValueError(f"colours run from 0 to {colours - 1}; got fixed {brief.fixed!r}")
    return least, tuple(min(high, brief.motifs) for high in most)


def _own_uses(brief: OrderBrief, colours: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    shows = shown_places(brief, colours)
    weights = _weights(shows)
    least, most = balanced(colours, len(weights))
    return (
        tuple(sum(sorted(weights)[:uses]) for uses in least),
        tuple(sum(sorted(weights, reverse=True)[:uses]) for uses in most),
    )


def shown_places(brief: OrderBrief, colours: int) -> tuple[int, ...]:
    """For each motif the place of the puzzle that it shows."""
    motifs = brief.motifs
    if brief.arrangement is Arrangement.UNIT:
        unit = min(brief.length or colours, motifs)
        return tuple(i % unit for i in range(motifs))
    if brief.arrangement is Arrangement.MIRROR:
        return tuple(min(i, motifs - 1 - i) for i in range(motifs))
    if brief.arrangement is Arrangement.BLOCKS:
        blocks = -(-motifs // brief.length) if brief.length else min(colours, motifs)
        return tuple((i * blocks) // motifs for i in range(motifs))
    return tuple(range(motifs))


def lay_out(brief: OrderBrief, colours: int) -> Layout:
    """The puzzle that a brief sets; a run is no puzzle of places, see ``sequence_run``.

    Raises:
        ValueError: uses or settled colours do not belong to so many colours.
    """
    least, most = uses_of(brief, colours)
    if brief.arrangement is Arrangement.FREE:
        return Layout(
            places=free_places(brief, least, most),
            shows=tuple(range(brief.motifs)),
            judged=neighbours(brief.motifs, ring=brief.ring),
        )
    shows = shown_places(brief, colours)
    mirrored = brief.arrangement is Arrangement.MIRROR
    ring = brief.ring and not mirrored
    beside = neighbours(brief.motifs, ring=ring)
    alike = brief.arrangement is not Arrangement.UNIT
    judged = tuple((i, j) for i, j in beside if not (alike and shows[i] == shows[j]))
    meant = tuple((i, j) for i, j in beside if alike and shows[i] == shows[j])
    if mirrored and brief.motifs > 2:
        meant = (*meant, (brief.motifs - 1, 0))
    weights = _weights(shows)
    if not brief.least and not brief.most:
        # The arrangement's own uses count places, whatever number of motifs shows each.
        weights = (1,) * len(weights)
        least, most = balanced(colours, len(weights))
    round_again = brief.arrangement is Arrangement.UNIT and brief.motifs > len(weights)
    places = Places(
        near=_links(shows, judged),
        apart=_links(shows, _within(brief, shows, ring=ring)),
        weights=weights,
        domains=(usable(most),) * len(weights),
        least=least,
        most=most,
        spacing=2,
        ring=round_again or ring,
    )
    settled, barred = (
        tuple((shows[p], colour) for p, colour in pairs if p < brief.motifs)
        for pairs in (brief.fixed, brief.barred)
    )
    places = settle(places, settled, barred)
    if places.apart == within(places.count, brief.gap, ring=places.ring):
        places = replace(places, spacing=max(2, brief.gap + 1))
    return _scaled(Layout(places=places, shows=shows, judged=judged, meant=meant))


def _within(brief: OrderBrief, shows: tuple[int, ...], *, ring: bool) -> list[tuple[int, int]]:
    """Pairs of motifs that the gap keeps apart, but for those alike on purpose."""
    motifs, alike = brief.motifs, brief.arrangement is not Arrangement.UNIT
    half = -(-motifs // 2) if brief.arrangement is Arrangement.MIRROR else motifs
    pairs = []
    for step in range(1, min(brief.gap, motifs - 1) + 1):
        for i in range(motifs if ring else half - step):
            j = (i + step) % motifs
            if not (alike and shows[i] == shows[j]):
                pairs.append((i, j))
    return pairs


def _links(
    shows: tuple[int, ...], pairs: tuple[tuple[int, int], ...] | list[tuple[int, int]]
) -> tuple[tuple[int, ...], ...]:
    """Pairs of motifs as, for each place, the earlier places linked with it, itself included."""
    rows: list[set[int]] = [set() for _ in range(max(shows) + 1)]
    for i, j in pairs:
        a, b = sorted((shows[i], shows[j]))
        rows[b].add(a)
    return tuple(tuple(sorted(row)) for row in rows)


def _weights(shows: tuple[int, ...]) -> tuple[int, ...]:
    weights = [0] * (max(shows) + 1)
    for place in shows:
        weights[place] += 1
    return tuple(weights)


def _scaled(layout: Layout) -> Layout:
    """Count in places where each stands for as many motifs, so that the quicker proofs apply."""
    places = layout.places
    each = places.weights[0]
    if each == 1 or len(set(places.weights)) > 1:
        return layout
    scaled = replace(
        places,
        weights=(1,) * places.count,
        least=tuple(-(-low // each) for low in places.least),
        most=tuple(high // each for high in places.most),
    )
    return replace(layout, places=scaled)
