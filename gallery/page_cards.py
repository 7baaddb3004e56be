"""Labels to cut out, two beside each other, each as high as the higher of the two."""

from collections.abc import Sequence

from gallery.page import Card
from gallery.page_flow import Piece
from gallery.page_ink import FAINT, INK, MM_PER_PT, QUIET, Anchor, Mark, Path, Words, moved
from gallery.page_tables import chip_marks
from gallery.page_text import BASELINE, Setting, line_mm, set_lines

# Cards side by side, and space round their words; chosen by us, because two fit the width of a
# page.
_ACROSS = 2
_PAD_MM = 4.0
# Left of the words, chosen by us, because letter and bead stand there.
_CHIP_ROOM_MM = 13.0


def card_pieces(cards: Sequence[Card], setting: Setting) -> list[Piece]:
    """Rows of cards, their edges dashed to cut along."""
    wide = setting.paper.room_mm / _ACROSS
    found = []
    for first in range(0, len(cards), _ACROSS):
        row = [_card(card, wide, setting) for card in cards[first : first + _ACROSS]]
        high = max(deep for _, deep in row)
        marks: list[Mark] = []
        for at, (own, _) in enumerate(row):
            marks += [moved(mark, at * wide, 0.0) for mark in own]
            marks.append(_edge(at * wide, wide, high))
        found.append(Piece(height_mm=high, marks=tuple(marks)))
    return found


def _card(card: Card, wide_mm: float, setting: Setting) -> tuple[list[Mark], float]:
    room = wide_mm - 2.0 * _PAD_MM
    size, small = setting.body_pt, setting.small_pt
    title = setting.shortened(card.title, size * 1.3, room, bold=True)
    marks = list(set_lines([title], _PAD_MM, _PAD_MM, size * 1.3, bold=True))
    y = _PAD_MM + line_mm(size * 1.3)
    under = setting.wrapped(card.under, small, room) if card.under else []
    marks += set_lines(under, _PAD_MM, y, small, srgb1=QUIET)
    y += len(under) * line_mm(small) + 1.0
    step = max(line_mm(size), 5.2)
    for chip, words, figure in card.rows:
        middle = y + step / 2.0
        marks += chip_marks(chip, _PAD_MM, middle, size)
        taken = setting.measure.width_mm(figure, size, bold=True) + 2.0
        line = setting.shortened(words, small, room - _CHIP_ROOM_MM - taken)
        base = middle + small * BASELINE * MM_PER_PT * 0.33
        marks.append(Words(x_mm=_PAD_MM + _CHIP_ROOM_MM, y_mm=base, text=line, size_pt=small))
        marks.append(
            Words(
                x_mm=wide_mm - _PAD_MM, y_mm=base, text=figure, size_pt=size, bold=True,
                anchor=Anchor.END, srgb1=INK,
            )
        )  # fmt: skip
        y += step
    return marks, y + _PAD_MM


def _edge(left_mm: float, wide_mm: float, high_mm: float) -> Path:
    right = left_mm + wide_mm
    return Path(
        points_mm=((left_mm, 0.0), (right, 0.0), (right, high_mm), (left_mm, high_mm)),
        closed=True,
        stroke=FAINT,
        width_mm=0.2,
        dash_mm=1.5,
    )
