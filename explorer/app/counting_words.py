"""Beads, packs, thread, holes and time in words."""

import math
from collections.abc import Iterable, Sequence

from explorer.buying import Purchase, total_cost
from explorer.lengths import millimetres
from explorer.thread import ThreadPlan

_MINUTES = 60.0  # to an hour, by definition


def grams(value_g: float) -> str:
    """A weight for reading, to a tenth of a gram."""
    return f"{value_g:.1f} g"


def weight_words(line: Purchase) -> str:
    """What the missing beads weigh, with how sure that is."""
    if line.least_g == line.most_g:
        return grams(line.weight_g)
    return f"{line.least_g:.1f} to {grams(line.most_g)}"


def pack_words(line: Purchase) -> str:
    """The packs to buy: ``2 of 5 g, 1 of 24 g``; or that there is nothing to buy."""
    if not line.packs:
        return "nothing to buy"
    sizes: dict[float, int] = {}
    for pack in line.packs:
        sizes[pack.weight_g] = sizes.get(pack.weight_g, 0) + 1
    parts = [f"{n} of {size:g} g" if n > 1 else f"{size:g} g" for size, n in sizes.items()]
    return " + ".join(parts)


def lacks_words(line: Purchase) -> str:
    """What the tray lacks of a bead."""
    if line.missing == 0:
        return "all at hand"
    return f"{line.missing} lacking" if line.in_stock else ""


def money(value: float) -> str:
    """A price, in whatever money the maker reckons."""
    return f"{value:,.2f}"


def cost_words(lines: Sequence[Purchase]) -> str:
    """What is to be paid and what the beads in the piece are worth, each by itself.

    What no sum holds is named: beads at hand, what has no price or the price 0, thread and closure.
    """
    known = [line.used_cost for line in lines if line.used_cost is not None]
    words = [_to_pay(lines)]
    if len(known) == len(lines):
        worth = money(math.fsum(known))
        words.append(
            f"The beads in the piece are worth {worth} by your prices, at hand or not, spares and "
            "left-overs aside."
        )
    elif known:
        unknown = ", ".join(_names(line for line in lines if line.used_cost is None))
        words.append(f"What the beads in the piece are worth is not known: no price for {unknown}.")
    free = _names(
        line for line in lines if line.used_cost == 0.0 or (line.packs and line.cost == 0.0)
    )
    if known and free:
        words.append(f"At a price of 0: {', '.join(free)}.")
    if known:
        words.append("Thread and closure are in neither sum. All in your own money.")
    return " ".join(words)


def _to_pay(lines: Sequence[Purchase]) -> str:
    """What the packs cost that are to be bought, or what must be known for it."""
    bought = [line for line in lines if line.packs]
    if not bought:
        return "Nothing is to be bought: all is at hand."
    total = total_cost(lines)
    if total is None:
        kinds = dict.fromkeys(line.bead.kind.name for line in bought if line.cost is None)
        return (
            f"Write prices beside the packs of {', '.join(kinds)}, or the price of a gram on the "
            "page My beads, to see what buying costs."
        )
    own = any(line.taken for line in lines)
    more = "; what you have at hand is not counted in that" if own else ""
    return f"The packs cost {money(total)}{more}."


def _names(lines: Iterable[Purchase]) -> list[str]:
    return [f"{line.bead.name or line.bead.hex} ({line.bead.kind.name})" for line in lines]


def thread_words(plan: ThreadPlan) -> str:
    """How much thread in how many pieces."""
    pieces = len(plan.pieces_mm)
    cut = ", ".join(millimetres(round(piece)) for piece in plan.pieces_mm)
    return (
        f"Cut {metres(plan.length_mm)} in {'one piece' if pieces == 1 else f'{pieces} pieces'}: "
        f"{cut}. Of it {metres(plan.path_mm)} stay in the piece; the rest is tails and allowance."
    )


def metres(value_mm: float) -> str:
    """A length of thread for reading: ``4.54 m``, and ``31 mm`` where that is more telling."""
    return f"{value_mm:.0f} mm" if value_mm < 99.5 else f"{value_mm / 1000.0:.2f} m"


def hours(seconds: float) -> str:
    """A time for reading: ``45 minutes``, ``1 h 10 min``; to five minutes above an hour."""
    minutes = seconds / _MINUTES
    if minutes < _MINUTES:
        whole = max(1, round(minutes))
        return f"{whole} minute{'s' if whole > 1 else ''}"
    fives = round(minutes / 5.0) * 5
    return f"{fives // 60} h {fives % 60} min" if fives % 60 else f"{fives // 60} h"


def takes_words(beads: int, lines: Sequence[Purchase], plan: ThreadPlan | None, s: float) -> str:
    """All that a piece takes, in a line."""
    weight = math.fsum(line.weight_g for line in lines)
    packs = sum(len(line.packs) for line in lines)
    parts = [
        f"{beads} beads to count out",
        f"{packs} pack{'' if packs == 1 else 's'} to buy, {grams(weight)} needed",
        f"{metres(plan.length_mm)} of thread" if plan else "thread: see below",
        f"about {hours(s)}",
    ]
    return " · ".join(parts)
