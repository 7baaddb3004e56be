"""The steps before and after the present as bytes for the shelf, and back.

Each step is packed beside its neighbour nearer to the present, so that it takes little more room
than what tells the two apart; and only what is new since the last time is packed at all.
"""

import struct
import zlib
from collections.abc import Iterator
from itertools import islice

from explorer.app.kept import from_text, to_text
from explorer.app.state import History, Work
from palettes.errors import ChartError

# Chosen by us: an evening's steps, and little beside a photograph.
MOST_STEPS = 50
MOST_BYTES = 200_000
_HEAD = b"dw-steps-1"
_NOW, _PAST, _FUTURE = range(3)  # places, by definition
# Before each part: which of the three it is, and its length in bytes.
_PART = struct.Struct(">BI")
# Chosen by us: the text of the longest strip stays below it; damage can ask for no more.
_MOST_TEXT = 30_000_000


class Packer:
    """Packs the histories of one session, and remembers what it packed for the last one."""

    def __init__(self) -> None:
        # By the identity of the work, which is held beside its text so that it stays its own.
        self._texts: dict[int, tuple[Work, bytes]] = {}
        self._parts: dict[tuple[int, int], bytes] = {}

    def packed(self, history: History) -> bytes:
        """The steps nearest to the present, as many as may be kept."""
        texts, parts = self._texts, self._parts
        self._texts, self._parts = {}, {}
        beside: dict[int, Work | None] = {_NOW: None, _PAST: history.now, _FUTURE: history.now}
        out, room = [_HEAD], MOST_BYTES - len(_HEAD)
        for side, work in _outward(history):
            near = beside[side]
            key = (id(work), id(near))
            for one in (work, near):
                if one is not None:
                    self._texts[id(one)] = texts.get(id(one)) or (one, to_text(one).encode())
            part = parts.get(key) or _squeezed(
                self._texts[id(work)][1], b"" if near is None else self._texts[id(near)][1]
            )
            room -= _PART.size + len(part)
            if room < 0:
                break
            self._parts[key] = part
            out += [_PART.pack(side, len(part)), part]
            beside[side] = work
        return b"".join(out)

    def unpacked(self, content: bytes, now: Work) -> History:
        """The history that ``packed`` wrote, as far as it can be read.

        Steps back are a comfort: damage here never stands in the way of the piece.

        Args:
            content: what was kept.
            now: what lies on the table.
        """
        found: dict[int, list[Work]] = {_NOW: [], _PAST: [], _FUTURE: []}
        # The nearest came first.
        try:
            for side, work in self._read(content):
                found[side].insert(0, work)
        except (ChartError, ValueError, KeyError, struct.error, zlib.error):
            pass
        return History(now=now, past=tuple(found[_PAST]), future=tuple(found[_FUTURE]))

    def _read(self, content: bytes) -> Iterator[tuple[int, Work]]:
        if not content.startswith(_HEAD):
            return
        at = len(_HEAD)
        beside: dict[int, bytes] = {_NOW: b""}
        while at < len(content):
            side, length = _PART.unpack_from(content, at)
            at += _PART.size
            text = _spread(content[at : at + length], beside[side])
            at += length
            work = from_text(text.decode())[0]
            self._texts[id(work)] = (work, text)
            if side == _NOW:
                beside = {_PAST: text, _FUTURE: text}
            else:
                beside[side] = text
            yield side, work


def _outward(history: History) -> Iterator[tuple[int, Work]]:
    """The present, then the steps on both sides of it, the nearest first."""
    yield _NOW, history.now
    yield from islice(_around(history), MOST_STEPS)


def _around(history: History) -> Iterator[tuple[int, Work]]:
    for away in range(1, max(len(history.past), len(history.future)) + 1):
        for side, steps in ((_PAST, history.past), (_FUTURE, history.future)):
            if away <= len(steps):
                yield side, steps[-away]


def _squeezed(text: bytes, beside: bytes) -> bytes:
    squeeze = zlib.compressobj(zdict=beside) if beside else zlib.compressobj()
    return squeeze.compress(text) + squeeze.flush()


def _spread(part: bytes, beside: bytes) -> bytes:
    spread = zlib.decompressobj(zdict=beside) if beside else zlib.decompressobj()
    text = spread.decompress(part, _MOST_TEXT)
    if not spread.eof:
        raise ValueError("a step is cut short or far too long")
    return text
