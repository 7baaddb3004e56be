"""The needle's way in words: said once, for the screen beside the work and for the printed sheet.

Every sentence follows the thread's path (``explorer/thread_path.py``). The first bead is strung
from below, so the thread comes out on top of base beads 1, 3, 5 and below 2, 4, 6. The last bead of
a dangle is passed once, all others of it twice, whatever their shape.
"""

from collections.abc import Iterable

from explorer.design import Design
from explorer.lengths import both
from explorer.thread import ThreadPlan
from explorer.thread_path import Leg, Step
from explorer.thread_pieces import other_tail_mm, tails_mm
from palettes.forms import Form

BARE = "Past a bare base bead the thread runs under the ladder's own thread."
DANGLE_CAPTION = "a dangle, once through its turning bead"


def cut_words(plan: ThreadPlan, piece: int) -> str:
    """Which piece of thread, counted from 1, and how long it is cut."""
    length = both(round(plan.pieces_mm[piece - 1]))
    return f"thread piece {piece} of {len(plan.pieces_mm)}, cut to {length}"


def first_words(plan: ThreadPlan, design: Design) -> str:
    """How the work begins: the piece of thread, its tail and the first base bead."""
    tail_mm = tails_mm(plan.legs, design, plan.setup)[0]
    return (
        f"Take {cut_words(plan, 1)}. String base bead 1, from below upward, and leave a tail of "
        f"{both(round(tail_mm))}; it sews the closure at the start later."
    )


def ladder_words(column: int) -> str:
    """How the base bead of a column from 1 is laid beside the one before."""
    new, old = ("down", "up") if column % 2 else ("up", "down")
    return (
        f"Pass {new} through it, {old} through base bead {column} and {new} through the new one "
        "again, so that the two stand side by side."
    )


def straighten_words(first: int, last: int) -> str:
    """The zigzag from one column to another, toward the start.

    Args:
        first: the column that is passed first, beside the bead that the thread comes out of.
        last: the column that is passed last.
    """
    ways = ("up", "down") if first % 2 == 0 else ("down", "up")
    passed = [
        f"{way} through base bead {column + 1}"
        for way, column in zip(ways, range(first, last - 1, -1), strict=False)
    ]
    on = f" and so on to base bead {last + 1}" if first - last > 1 else ""
    straight = " The band lies straight then; the thread comes out at the top of base bead 1."
    return (
        f"Zigzag back from base bead {first + 2}: {', '.join(passed)}{on}."
        f"{straight if last == 0 else ''}"
    )


def start_words(design: Design) -> str:
    """How the fringe begins, where the thread comes out of the straightened band."""
    _, column = next(design.columns())
    if column.beads:
        return (
            "The thread is at the top of base bead 1: hook it under the ladder's own thread "
            "there, so that it holds."
        )
    return (
        "The thread is at the top of base bead 1, where nothing hangs: hook it under the ladder's "
        "own thread there, so that it holds, and go on to base bead 2."
    )


def turn_words(tip: Form, others: int | None = None, name: str = "") -> str:
    """What the needle does at the end of a dangle.

    Args:
        tip: the shape of the dangle's last bead.
        others: the beads above it; None where any number is meant.
        name: the last bead's name.
    """
    back = {
        None: "the others and the base bead",
        0: "the base bead",
        1: "the other one and the base bead",
    }.get(others, f"the other {others} and the base bead")
    drop = tip is Form.DROP
    what = f"The last one ({name})" if name else "The last one"
    kind = "a drop and the turning bead" if drop else "the turning bead"
    through = "its hole, which runs across," if drop else "it"
    lies = "hangs with its narrow end up" if drop else "lies sideways"
    return (
        f"{what} is {kind}: pass through {through} once only, then go back up through {back}. "
        f"Drawn up, it {lies}."
    )


def turns_words(design: Design) -> str:
    """The same for a whole piece: a sentence for drops too where some dangles end in one."""
    forms = {
        design.beads[column.beads[-1]].kind.form is Form.DROP
        for _, column in design.columns()
        if column.beads
    }
    plain, drop = turn_words(Form.ROUND), turn_words(Form.DROP)
    if forms == {False, True}:
        return f"{plain} Where a dangle ends in a drop: {drop[0].lower()}{drop[1:]}"
    return drop if forms == {True} else plain


def join_words(plan: ThreadPlan, design: Design, piece: int, join: tuple[Leg, Leg]) -> str:
    """How one piece of thread ends and the next begins.

    Args:
        plan: the thread.
        design: the piece of jewellery.
        piece: which piece of thread begins, counted from 1.
        join: the two stitches of the join, as ``joined`` finds them.
    """
    old, new = join
    # What is woven in comes off the tail, so that the other end is as long as it was reckoned.
    tail_mm = other_tail_mm(design, plan.setup) - new.length_mm
    away = (
        f"Weave the old end away through {numbered(old)} and cut it close."
        if old.visits
        else "Leave the old end hanging, to be woven in later."
    )
    return (
        f"{away} Take {cut_words(plan, piece)}: weave it in through {numbered(new)}, leave a tail "
        f"of {both(round(tail_mm))}, to be cut close later, and go on."
    )


def joined(legs: Iterable[Leg]) -> tuple[tuple[Leg, Leg], ...]:
    """The stitches of every join, the old end's and the new one's, in the order of work."""
    sewn = [leg for leg in legs if leg.step is Step.JOINS]
    return tuple(zip(sewn[::2], sewn[1::2], strict=True))


def numbered(leg: Leg) -> str:
    """The base beads that a stitch passes, in order and counted from 1."""
    beads = "base bead" if len(leg.visits) == 1 else "base beads"
    return f"{beads} {', '.join(str(column + 1) for column, _ in leg.visits)}"
