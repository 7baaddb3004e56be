"""The fits that close best: dangles, divider and margins searched together."""

from dataclasses import replace

from explorer.brief import Strip, Wearer
from explorer.fit import Fit, Repeat

# Chosen by us: a plain margin longer than four base beads at an end reads as bare.
MOST_MARGIN = 4


def closest_fits(
    wearer: Wearer,
    strip: Strip,
    *,
    dangles: tuple[int, int],
    dividers: tuple[int, int] = (0, 3),
    margins: bool = True,
    count: int = 12,
) -> tuple[Fit, ...]:
    """Fits with the least left over, the simpler first where two leave the same.

    Args:
        wearer: the measurement.
        strip: base and pitch.
        dangles: the narrowest and the widest motif.
        dividers: the fewest and the most base beads of a divider.
        margins: whether plain base beads at both ends, as many at each, may fill the rest.
        count: how many to give.
    """
    found: list[Fit] = []
    for width in range(dangles[0], dangles[1] + 1):
        for divider in range(dividers[0], dividers[1] + 1):
            for margin in range(MOST_MARGIN + 1 if margins else 1):
                repeat = Repeat(dangles=width, divider=divider, margins=2 * margin)
                fit = replace(strip, repeat=repeat).fit(wearer)
                # A margin is for what is left over; it must not cost a motif.
                if isinstance(fit, Fit) and _keeps_motifs(fit, wearer, strip):
                    found.append(fit)
    found.sort(key=lambda fit: (round(fit.slack_mm, 6), fit.repeat.margins, fit.repeat.divider))
    return tuple(found[:count])


def _keeps_motifs(fit: Fit, wearer: Wearer, strip: Strip) -> bool:
    bare = replace(strip, repeat=replace(fit.repeat, margins=0)).fit(wearer)
    return isinstance(bare, Fit) and bare.motifs == fit.motifs
