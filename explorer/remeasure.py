"""Half-way round, the strip measures other than planned: what to do about it."""

from dataclasses import dataclass, replace

from explorer.brief import Wearer
from explorer.changes import most_motifs, with_motifs
from explorer.counts import Counts, counts
from explorer.design import Design
from explorer.fit import TOLERANCE_MM
from explorer.links import best_links
from explorer.pattern import Hung, Pattern, Relative, once
from explorer.swatch import Swatch
from explorer.weave import weave


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way on.

    Attributes:
        words: what to do, with a verb.
        pattern: the piece that comes of it, at the measured pitch.
        strip_mm: its strip with link beads.
        slack_mm: how much shorter than wanted it is; below 0 it is too long.
        counts: its beads.
    """

    words: str
    pattern: Pattern
    strip_mm: float
    slack_mm: float
    counts: Counts

    @property
    def design(self) -> Design:
        """The piece bead by bead."""
        return weave(self.pattern)


def ways_on(pattern: Pattern, wearer: Wearer, measured: Swatch) -> tuple[Way, ...]:
    """Keep, drop or add motifs, and link beads, after measuring half-way; the best first.

    The best is no longer than wanted and leaves the least over; what is too long comes last.

    Args:
        pattern: the piece as planned.
        wearer: the measurement that it is for.
        measured: base beads woven so far, over their length.
    """
    pitched = replace(
        once(pattern),
        base=replace(pattern.base, pitch_mm=measured.pitch_mm, measured=True),
        ends=replace(pattern.ends, start=(), end=()),
    )
    fitting = most_motifs(pitched, wearer.target_mm(pattern.ends.closure))
    planned = pattern.run.motifs
    ways = [_way(pitched, number, planned, wearer) for number in sorted({planned, max(1, fitting)})]
    return tuple(sorted(ways, key=lambda way: (way.slack_mm < -TOLERANCE_MM, abs(way.slack_mm))))


def _way(pitched: Pattern, motifs: int, planned: int, wearer: Wearer) -> Way:
    bare = with_motifs(pitched, motifs)
    woven = weave(bare)
    slack_mm = wearer.target_mm(woven.closure) - woven.strip_mm
    # The dividers' beads, else the base's, so that nothing new is bought.
    tried = tuple(dict.fromkeys((*bare.divider, Hung(paint=Relative.BASE, kind=bare.base.kind))))
    links = best_links(slack_mm, [(bead.kind or bare.hanging).pitch_mm for bead in tried])
    row = (tried[links.bead],) * links.each_end
    pattern = replace(bare, ends=replace(bare.ends, start=row, end=row, for_motifs=motifs))
    return Way(
        words=_words(motifs - planned, links.each_end),
        pattern=pattern,
        strip_mm=woven.strip_mm + links.length_mm,
        slack_mm=links.slack_mm,
        counts=counts(weave(pattern)),
    )


def _words(more: int, links: int) -> str:
    if more == 0:
        motifs = "Keep all motifs"
    else:
        number = f"{abs(more)} motif{'s' if abs(more) > 1 else ''}"
        motifs = f"Add {number}" if more > 0 else f"Leave out {number}"
    if links == 0:
        return motifs
    return f"{motifs}, and put {links} link bead{'s' if links > 1 else ''} at each end"
