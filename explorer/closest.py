"""The fits that close best: plain ends first, then other dangles and dividers."""

from dataclasses import replace

from explorer.brief import Strip, Wearer
from explorer.design import Closure
from explorer.fit import Fit, Repeat

# Chosen by us, because a plain margin longer than four base beads at an end reads as bare.
MOST_MARGIN = 4


def closest_fits(
    wearer: Wearer,
    strip: Strip,
    closure: Closure,
    *,
    dangles: tuple[int, int],
    dividers: tuple[int, int] = (0, 3),
    count: int = 12,
) -> tuple[Fit, ...]:
    """The simplest closer fit, then those with the least left over, the simpler first at a tie.

    The simplest is the strip's own repeat with plain base beads at both ends, where the strip does
    not take them. The others take plain ends as the strip does, but no more than ``MOST_MARGIN``.

    Args:
        wearer: the measurement.
        strip: base and pitch, the repeat to begin from, and whether plain ends are taken.
        closure: the fastening.
        dangles: the narrowest and the widest motif.
        dividers: the fewest and the most base beads of a divider.
        count: how many to give.
    """
    own = replace(strip, plain_ends=True).fit(wearer, closure)
    first = [own] if isinstance(own, Fit) and own.repeat.margins and not strip.plain_ends else []
    found: list[Fit] = []
    for width in range(dangles[0], dangles[1] + 1):
        for divider in range(dividers[0], dividers[1] + 1):
            repeat = Repeat(dangles=width, divider=divider)
            fit = replace(strip, repeat=repeat).fit(wearer, closure)
            if isinstance(fit, Fit) and fit.repeat.margins <= 2 * MOST_MARGIN:
                found.append(fit)
    found.sort(key=lambda fit: (round(fit.slack_mm, 6), fit.repeat.margins, fit.repeat.divider))
    return (*first, *found)[:count]
