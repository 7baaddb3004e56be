"""What a component's numbered queue reports, read so that nothing is lost and nothing done twice.

A component sends all that Python has not yet acknowledged, so a fast press is never lost, and one
that arrives twice is done once. What comes from a browser is input: anything unknown is passed
over.
"""

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

Read = TypeVar("Read")

# Chosen by us, because more events in one message are no one's presses.
MOST_EVENTS = 2000
# Chosen by us, because it is more than any session counts to; a browser's own numbers stay exact to
# 2**53.
_LARGEST = 2**31


def news(
    sent: object, read: Callable[[Mapping[str, Any]], Read | None], *, epoch: str, done: int
) -> tuple[tuple[int, Read], ...]:
    """What is new in a queue, each with its number, in the order of the numbers.

    Args:
        sent: what the browser sent: a list of objects with ``n``, ``epoch`` and more.
        read: takes one object; None for one that is to be passed over.
        epoch: this session's mark; what carries another belongs to an earlier life of the page.
        done: the highest number that was already done.
    """
    if not isinstance(sent, list):
        return ()
    found: dict[int, Read] = {}
    for item in sent[:MOST_EVENTS]:
        if not isinstance(item, Mapping) or item.get("epoch") != epoch:
            continue
        number = whole(item.get("n"))
        if number is None or number <= done or number in found:
            continue
        one = read(item)
        if one is not None:
            found[number] = one
    return tuple(sorted(found.items(), key=lambda pair: pair[0]))


def whole(value: object) -> int | None:
    """A whole number, not below zero, that a session can count to; None for anything else."""
    fits = isinstance(value, int) and not isinstance(value, bool) and 0 <= value < _LARGEST
    return value if fits and isinstance(value, int) else None
