"""Drawings of what is counted: motifs bead by bead, and the row of base beads in tens."""

from collections.abc import Iterator, Mapping

from explorer.design import Column, Design, Part
from gallery.page import Figure
from gallery.page_ink import INK, QUIET, WHITE, Anchor, Drawing, Mark, Oval, Path, Words, box
from gallery.scene import Srgb1

_GREY: Srgb1 = (0.88, 0.87, 0.85)  # by eye
_SQUARE_MM = 3.7  # chosen by us: four tens stand side by side on either paper
_BEAD_MM = 4.4  # chosen by us: a letter is read in it
# Chosen by us: more shapes than this are no help, and the table says it all.
MOST_SHAPES = 8
# Dangles longer than this are drawn to their first beads and their last, a gap between. Chosen by
# us, because such a drawing is 60 mm high.
_MOST_ROWS = 14


def motif_figures(design: Design, letters: Mapping[int, str]) -> tuple[Figure, ...]:
    """One drawing for each way that motifs are built, with the motifs built so; none if many.

    In motifs of a single bead the circles are empty, since they take the colour of their own.
    """
    groups: dict[tuple[tuple[int, ...], ...], list[int]] = {}
    for number, motif in enumerate(design.motifs):
        plain = len({bead for column in motif for bead in column.beads}) == 1
        key = tuple((0,) * len(c.beads) if plain else c.beads for c in motif)
        groups.setdefault(key, []).append(number)
    if len(groups) > MOST_SHAPES:
        return ()
    found = []
    for members in groups.values():
        motif = design.motifs[members[0]]
        plain = len({bead for column in motif for bead in column.beads}) == 1
        drawing = _motif(motif, {} if plain else letters)
        every = len(members) == len(design.motifs)
        which = "every motif" if every else f"motif{'s' * (len(members) > 1)} {runs(members)}"
        found.append(Figure(picture=drawing, caption=which))
    return tuple(found)


def _motif(motif: tuple[Column, ...], letters: Mapping[int, str]) -> Drawing:
    size = _BEAD_MM
    deepest = min(max(len(column.beads) for column in motif), _MOST_ROWS)
    marks: list[Mark] = []
    for at, column in enumerate(motif):
        x = at * size
        marks.append(box(x, 0.0, size - 0.3, size * 0.8, fill=_GREY, stroke=QUIET))
        for row, bead in _rows(column.beads):
            y = size * (1.35 + row)
            marks.append(
                Oval(x_mm=x + size / 2.0 - 0.15, y_mm=y, rx_mm=size / 2.0 - 0.25,
                     ry_mm=size / 2.0 - 0.25, fill=WHITE, width_mm=0.25)
            )  # fmt: skip
            mark = letters.get(bead, "")
            marks.append(_small(mark, x + size / 2.0 - 0.15, y + 0.95))
        marks.append(_small(str(len(column.beads)), x + size / 2.0 - 0.15, size * 0.58, bold=True))
    # Wide enough for its caption even where a motif has one dangle.
    return Drawing(
        width_mm=max(len(motif) * size, 30.0),
        height_mm=size * (1.0 + deepest),
        marks=tuple(marks),
    )


def _rows(beads: tuple[int, ...]) -> Iterator[tuple[int, int]]:
    if len(beads) <= _MOST_ROWS:
        yield from enumerate(beads)
        return
    half = _MOST_ROWS // 2
    yield from enumerate(beads[:half])
    yield from ((row + half + 1, bead) for row, bead in enumerate(beads[1 - half :]))


def _small(text: str, x: float, y: float, *, bold: bool = False) -> Words:
    return Words(x_mm=x, y_mm=y, text=text, size_pt=7.5, bold=bold, anchor=Anchor.MIDDLE)


def runs(numbers: list[int]) -> str:
    """Numbers from 0 as people count them: ``1, 3-5``."""
    parts: list[list[int]] = []
    for number in numbers:
        if parts and number == parts[-1][1] + 1:
            parts[-1][1] = number
        else:
            parts.append([number, number])
    return ", ".join(
        f"{first + 1}" if first == last else f"{first + 1}\N{EN DASH}{last + 1}"
        for first, last in parts
    )


def tens(design: Design, letters: Mapping[int, str]) -> tuple[Figure, ...]:
    """The row of base beads in tens: squares to tick, grey where no motif hangs.

    Base beads of more than one sort carry their letters.
    """
    columns = list(design.columns())
    several = len({letters[column.base] for _, column in columns}) > 1
    found = []
    for first in range(0, len(columns), 10):
        marks: list[Mark] = []
        for at, (place, column) in enumerate(columns[first : first + 10]):
            x = at * _SQUARE_MM
            grey = place.part is not Part.MOTIF
            marks.append(
                box(x, 0.0, _SQUARE_MM, _SQUARE_MM * 1.15, fill=_GREY if grey else WHITE,
                    stroke=INK, line_mm=0.2)
            )  # fmt: skip
            if several:
                marks.append(_small(letters[column.base], x + _SQUARE_MM / 2.0, 3.2))
        if first + 10 <= len(columns):
            edge = 10 * _SQUARE_MM
            marks.append(Path(points_mm=((edge, -0.8), (edge, _SQUARE_MM * 1.15 + 0.8))))
        last = min(first + 10, len(columns))
        caption = f"{first + 1}\N{EN DASH}{last}" if last > first + 1 else str(last)
        found.append(
            Figure(
                picture=Drawing(
                    width_mm=10 * _SQUARE_MM, height_mm=_SQUARE_MM * 1.15, marks=tuple(marks)
                ),
                caption=caption,
            )
        )
    return tuple(found)
