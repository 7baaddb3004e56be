"""Lines of text: how wide they are, where they break, and sizes of type."""

import unicodedata
from dataclasses import dataclass
from typing import Protocol

from gallery.page import Paper
from gallery.page_ink import INK, MM_PER_PT, Anchor, Mark, Words
from gallery.scene import Srgb1

# Sizes in points and the distance of lines in sizes, chosen by us: two sizes of heading and one of
# text, as quiet pages have them.
TITLE_PT, HEADING_PT, BODY_PT, SMALL_PT = 24.0, 13.5, 10.5, 9.0
LEADING = 1.36
# Where a line's baseline lies below its top, in sizes: the font's own ascent, rounded.
BASELINE = 1.0
# What a character is replaced by that the font lacks; the font has this one.
LACKING = "◊"


class Measure(Protocol):
    """What a font knows."""

    def width_mm(self, text: str, size_pt: float, *, bold: bool = False) -> float:
        """The width of a line of text in millimetres."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What pages are set with: the paper, the scale of all text, the font's measure."""

    paper: Paper
    scale: float
    measure: Measure

    @property
    def body_pt(self) -> float:
        """The size of running text."""
        return BODY_PT * self.scale

    @property
    def small_pt(self) -> float:
        """The size of captions and table heads."""
        return SMALL_PT * self.scale

    def wrapped(
        self, text: str, size_pt: float, width_mm: float, *, bold: bool = False
    ) -> list[str]:
        """The text in lines no wider than the room; a word that is too wide is broken."""
        lines: list[str] = []
        for paragraph in text.splitlines() or [""]:
            lines += self._paragraph(paragraph, size_pt, width_mm, bold=bold)
        return lines

    def _paragraph(self, text: str, size_pt: float, width_mm: float, *, bold: bool) -> list[str]:
        lines, line = [], ""
        for word in text.split():
            longer = f"{line} {word}".strip()
            if self.measure.width_mm(longer, size_pt, bold=bold) <= width_mm:
                line = longer
                continue
            if line:
                lines.append(line)
            *full, line = self._broken(word, size_pt, width_mm, bold=bold)
            lines += full
        return [*lines, line]

    def _broken(self, word: str, size_pt: float, width_mm: float, *, bold: bool) -> list[str]:
        parts = [""]
        for letter in word:
            fits = self.measure.width_mm(parts[-1] + letter, size_pt, bold=bold) <= width_mm
            if fits or not parts[-1]:
                parts[-1] += letter
            else:
                parts.append(letter)
        return parts

    def shortened(self, text: str, size_pt: float, width_mm: float, *, bold: bool = False) -> str:
        """One line of the text, cut with an ellipsis where it is wider than the room."""
        text = " ".join(text.split())
        if self.measure.width_mm(text, size_pt, bold=bold) <= width_mm:
            return text
        low, high = 0, len(text)
        while low < high:
            middle = (low + high + 1) // 2
            wide = self.measure.width_mm(text[:middle] + "…", size_pt, bold=bold) > width_mm
            low, high = (low, middle - 1) if wide else (middle, high)
        return text[:low].rstrip() + "…"


def line_mm(size_pt: float) -> float:
    """The height of a line of text."""
    return size_pt * LEADING * MM_PER_PT


def set_lines(
    lines: list[str],
    x_mm: float,
    y_mm: float,
    size_pt: float,
    *,
    bold: bool = False,
    srgb1: Srgb1 = INK,
    anchor: Anchor = Anchor.START,
) -> tuple[Mark, ...]:
    """Lines of text from an upper edge down."""
    first = y_mm + size_pt * BASELINE * MM_PER_PT
    return tuple(
        Words(
            x_mm=x_mm,
            y_mm=first + number * line_mm(size_pt),
            text=line,
            size_pt=size_pt,
            bold=bold,
            srgb1=srgb1,
            anchor=anchor,
        )
        for number, line in enumerate(lines)
        if line
    )


def printable(text: str, covered: frozenset[int]) -> tuple[str, frozenset[str]]:
    """The text as a font can print it, and the characters that it lacks.

    Args:
        text: any text; it is composed (Unicode NFC), and control characters become spaces.
        covered: the code points that the font has.
    """
    composed = unicodedata.normalize("NFC", text)
    if all(ord(c) in covered for c in composed):
        return composed, frozenset()
    lacking: set[str] = set()
    out = []
    for c in composed:
        if unicodedata.category(c) == "Cc":
            out.append(" ")
        elif ord(c) in covered:
            out.append(c)
        else:
            lacking.add(c)
            out.append(LACKING)
    return "".join(out), frozenset(lacking)
