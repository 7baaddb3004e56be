"""What the bars of the profile editor report, checked.

They come in a numbered queue: see ``explorer.app.queued``.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from explorer.app.events import MOST_LENGTH
from explorer.app.queued import news, whole

_TARGET = re.compile(r"[ABC]|m\d{1,5}", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """One change of one bar.

    Attributes:
        number: counted up by the editor from 1.
        drag: the same for all changes of one drag, which are one step together.
        target: the outline or the motif that the bars stand for; see ``shaping.Scope``.
        place: which dangle, from 0.
        length: its new number of beads.
        mirror: whether its mirror image changes too.
    """

    number: int
    drag: int
    target: str
    place: int
    length: int
    mirror: bool


def read_strokes(sent: object, *, epoch: str, done: int) -> tuple[Stroke, ...]:
    """The changes that are new, in their order.

    Args:
        sent: a list of objects with ``n, epoch, stroke, target, place, value, mirror``.
        epoch: this session's mark; what carries another belongs to an earlier life of the page.
        done: the highest number that was already done.
    """
    return tuple(stroke for _, stroke in news(sent, _stroke, epoch=epoch, done=done))


def _stroke(item: Mapping[str, Any]) -> Stroke | None:
    number, drag = whole(item.get("n")), whole(item.get("stroke"))
    place, length = whole(item.get("place")), whole(item.get("value"))
    target, mirror = item.get("target"), item.get("mirror")
    if number is None or drag is None or place is None or length is None:
        return None
    if not isinstance(target, str) or not _TARGET.fullmatch(target):
        return None
    if not isinstance(mirror, bool) or not 1 <= length <= MOST_LENGTH:
        return None
    return Stroke(
        number=number, drag=drag, target=target, place=place, length=length, mirror=mirror
    )
