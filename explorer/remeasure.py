"""Half-way round, the strip measures other than planned: what to do about it."""

from dataclasses import dataclass, replace

from explorer.brief import Wearer
from explorer.counts import Counts, counts
from explorer.design import Design
from explorer.fit import TOLERANCE_MM
from explorer.links import best_links, with_links
from explorer.resize import most_motifs, of_length
from explorer.swatch import Swatch


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way on.

    Attributes:
        words: what to do, with a verb.
        design: the piece that comes of it, at the measured pitch.
        strip_mm: its strip with link beads.
        slack_mm: how much shorter than wanted it is; below 0 it is too long.
        counts: its beads.
    """

    words: str
    design: Design
    strip_mm: float
    slack_mm: float
    counts: Counts


def ways_on(design: Design, wearer: Wearer, measured: Swatch) -> tuple[Way, ...]:
    """Keep, drop or add motifs, and link beads, after measuring half-way; the best first.

    The best is no longer than wanted and leaves the least over; what is too long comes last.

    Args:
        design: the piece as planned.
        wearer: the measurement that it is for.
        measured: base beads woven so far, over their length.
    """
    pitched = replace(design, base_pitch_mm=measured.pitch_mm, start_links=(), end_links=())
    fitting = most_motifs(pitched, wearer.target_mm(design.closure))
    planned = len(design.motifs)
    ways = [_way(pitched, number, planned, wearer) for number in sorted({planned, max(1, fitting)})]
    return tuple(sorted(ways, key=lambda way: (way.slack_mm < -TOLERANCE_MM, abs(way.slack_mm))))


def _way(pitched: Design, motifs: int, planned: int, wearer: Wearer) -> Way:
    bare = of_length(pitched, motifs)
    slack_mm = wearer.target_mm(bare.closure) - bare.strip_mm
    links = best_links(bare, slack_mm, _link_beads(bare))
    design = with_links(bare, links)
    return Way(
        words=_words(motifs - planned, links.each_end),
        design=design,
        strip_mm=bare.strip_mm + links.length_mm,
        slack_mm=links.slack_mm,
        counts=counts(design),
    )


def _link_beads(design: Design) -> tuple[int, ...]:
    """The beads to link with: the dividers', else the base's, so that nothing new is bought."""
    hanging = [n for divider in design.dividers for column in divider for n in column.beads]
    base = design.motifs[0][0].base
    return tuple(dict.fromkeys([*hanging, base]))


def _words(more: int, links: int) -> str:
    if more == 0:
        motifs = "Keep all motifs"
    else:
        number = f"{abs(more)} motif{'s' if abs(more) > 1 else ''}"
        motifs = f"Add {number}" if more > 0 else f"Leave out {number}"
    if links == 0:
        return motifs
    return f"{motifs}, and put {links} link bead{'s' if links > 1 else ''} at each end"
