"""A grid of pictures, each with its caption, on one sheet."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gallery.files import Pixels, Srgb8, lined, shortened, with_text

# Paper and ink of the whole product; by eye.
PAPER: Srgb8 = (250, 247, 241)
INK: Srgb8 = (42, 39, 35)
_QUIET_INK: Srgb8 = (98, 92, 82)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStyle:
    """Sizes of a contact sheet in pixels, and its colours.

    Attributes:
        columns: pictures a row; by eye.
        gap_px: space between pictures and round the sheet; by eye.
        text_px: height of a caption's letters; by eye.
        paper, ink: the colours, sRGB in 0-255.
    """

    columns: int = 3
    gap_px: int = 24
    text_px: int = 15
    paper: Srgb8 = PAPER
    ink: Srgb8 = INK

    def __post_init__(self) -> None:
        if self.columns < 1 or self.gap_px < 0 or self.text_px < 1:
            raise ValueError(
                f"a sheet has 1 column or more, a gap of 0 or more and text of 1 or more pixels; "
                f"got {self.columns!r}, {self.gap_px!r} and {self.text_px!r}"
            )


def contact_sheet(
    pictures: Sequence[Pixels],
    captions: Sequence[str] = (),
    *,
    title: str = "",
    style: SheetStyle | None = None,
) -> Pixels:
    """A grid of pictures with plain-text captions under them.

    Args:
        pictures: each (h, w, 3) sRGB; smaller ones are centred in the grid's cell.
        captions: none, or one a picture; after a line break comes a quieter second line.
            A line too wide for its picture goes on below.
        title: a line over everything, or none.
        style: sizes and colours.

    Raises:
        ValueError: there is no picture, or captions and pictures differ in number.
    """
    style = style or SheetStyle()
    if not pictures:
        raise ValueError("a contact sheet needs at least one picture; got none")
    if captions and len(captions) != len(pictures):
        raise ValueError(f"{len(pictures)} pictures want as many captions; got {len(captions)}")
    columns = min(style.columns, len(pictures))
    rows = -(-len(pictures) // columns)
    cell_w = max(picture.shape[1] for picture in pictures)
    cell_h = max(picture.shape[0] for picture in pictures)
    told = [_lines(caption, cell_w, style) for caption in captions]
    lines = max(map(len, told), default=0)
    caption_h = round(lines * style.text_px * 1.35) + (style.gap_px // 3 if lines else 0)
    head = round(style.text_px * 2.6) if title else 0
    width = columns * cell_w + (columns + 1) * style.gap_px
    height = head + rows * (cell_h + caption_h) + (rows + 1) * style.gap_px
    sheet = np.full((height, width, 3), style.paper, np.uint8)
    if title:
        room = width - 2 * style.gap_px
        size = round(style.text_px * 1.4)
        sheet = with_text(
            sheet, shortened(title, size, room), (style.gap_px, style.gap_px), size, style.ink
        )
    for number, picture in enumerate(pictures):
        row, column = divmod(number, columns)
        left = style.gap_px + column * (cell_w + style.gap_px)
        top = head + style.gap_px + row * (cell_h + caption_h + style.gap_px)
        _paste(sheet, picture, left + (cell_w - picture.shape[1]) // 2, top)
        for line, (text, ink) in enumerate(told[number] if told else ()):
            below = top + cell_h + style.gap_px // 3 + line * round(style.text_px * 1.35)
            sheet = with_text(sheet, text, (left, below), style.text_px, ink)
    return sheet


def _paste(sheet: Pixels, picture: Pixels, left: int, top: int) -> None:
    height, width = picture.shape[:2]
    sheet[top : top + height, left : left + width] = picture[..., :3]


def _lines(caption: str, width: int, style: SheetStyle) -> list[tuple[str, Srgb8]]:
    """A caption's lines with their inks."""
    return [
        (line, style.ink if number == 0 else _QUIET_INK)
        for number, text in enumerate(caption.split("\n"))
        for line in lined(text, style.text_px, width)
    ]
