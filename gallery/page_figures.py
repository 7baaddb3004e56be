"""Drawings and pictures side by side on paper, each with its caption under it."""

from dataclasses import replace

from gallery.page import Figure
from gallery.page_flow import Piece
from gallery.page_ink import QUIET, Drawing, Mark, Photo, moved, scaled
from gallery.page_text import Setting, line_mm, set_lines

_FIGURE_GAP_MM = 6.0  # chosen by us: keeps captions apart
# Rows that are together no higher stay on one page. Chosen by us: a third of a page is lost at
# most.
_TOGETHER_MM = 90.0


def figure_pieces(figures: tuple[Figure, ...], setting: Setting) -> list[Piece]:
    """Figures side by side as long as they fit; drawings grow with the text, scenes do not."""
    figures = tuple(
        replace(figure, picture=scaled(figure.picture, setting.scale))
        if isinstance(figure.picture, Drawing) and setting.scale > 1.0
        else figure
        for figure in figures
    )
    rows: list[list[Figure]] = []
    used = 0.0
    for figure in figures:
        wide = figure_mm(figure)[0]
        if rows and used + _FIGURE_GAP_MM + wide <= setting.paper.room_mm + 1e-6:
            rows[-1].append(figure)
            used += _FIGURE_GAP_MM + wide
        else:
            rows.append([figure])
            used = wide
    pieces = [_figure_row(row, setting) for row in rows]
    if sum(piece.height_mm + piece.gap_mm for piece in pieces) > _TOGETHER_MM:
        return pieces
    return [replace(piece, keep=True) for piece in pieces[:-1]] + pieces[-1:]


def figure_mm(figure: Figure) -> tuple[float, float]:
    """A figure's width and height without its caption."""
    if isinstance(figure.picture, Drawing):
        return figure.picture.width_mm, figure.picture.height_mm
    scene = figure.picture
    return figure.width_mm, figure.width_mm * scene.height_mm / scene.width_mm


def _figure_row(row: list[Figure], setting: Setting) -> Piece:
    size, x = setting.small_pt, 0.0
    deep = max(figure_mm(figure)[1] for figure in row)
    marks: list[Mark] = []
    below = 0.0
    for figure in row:
        wide, high = figure_mm(figure)
        if isinstance(figure.picture, Drawing):
            marks += [moved(mark, x, deep - high) for mark in figure.picture.marks]
        else:
            marks.append(Photo(x_mm=x, y_mm=deep - high, scene=figure.picture, width_mm=wide))
        lines = setting.wrapped(figure.caption, size, wide) if figure.caption else []
        marks += set_lines(lines, x, deep + 0.8, size, srgb1=QUIET)
        below = max(below, len(lines) * line_mm(size))
        x += wide + _FIGURE_GAP_MM
    return Piece(height_mm=deep + 0.8 + below, marks=tuple(marks), gap_mm=3.0)
