"""A scene at the size of life on pages that are narrower than it: rows, each with its labels."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace

from gallery.page import Label, TrueSize
from gallery.page_beads import Across
from gallery.page_flow import Piece, room_high_mm
from gallery.page_ink import INK, QUIET, Anchor, Mark, Shown, Words
from gallery.page_text import BASELINE, Setting, line_mm

# Space between two labels that share a line; by eye.
_LABEL_GAP_MM = 1.0
# Worked out: 2**18 halvings of any paper leave less than a thousandth of a millimetre.
_HALVINGS = 18


def strip_pieces(block: TrueSize, setting: Setting) -> list[Piece]:
    """The rows of a scene, one piece each; a scene higher than a page is parted across as well."""
    scene = block.scene
    labelled = line_mm(setting.small_pt) if block.labels else 0.0
    high = room_high_mm(setting) - labelled
    found: list[Piece] = []
    across = Across(scene)
    for left, right in windows(block, setting.paper.room_mm):
        top, bottom = scene.top_mm, scene.top_mm + scene.height_mm
        above = _labels(block.labels, left, right, setting)
        part = across.between(left, right)
        while top < bottom - 1e-6:
            deep = min(high, bottom - top)
            shown = Shown(
                x_mm=0.0,
                y_mm=labelled,
                scene=part,
                left_mm=left,
                top_mm=top,
                width_mm=right - left,
                height_mm=deep,
                look=block.look,
            )
            found.append(Piece(height_mm=labelled + deep, marks=(*above, shown), gap_mm=3.0))
            top += deep
    return found


def windows(block: TrueSize, room_mm: float) -> list[tuple[float, float]]:
    """Left and right of every row, in the scene's own x; no row is wider than the room.

    As few rows as can be, the widest of them as narrow as can be, so that none holds but a rest.
    """
    least, most = 0.0, room_mm
    block = replace(
        block,
        breaks_mm=tuple(sorted(block.breaks_mm)),
        fine_breaks_mm=tuple(sorted(block.fine_breaks_mm)),
    )
    best = _windows(block, room_mm)
    for _ in range(_HALVINGS):
        room = (least + most) / 2.0
        found = _windows(block, room)
        if len(found) <= len(best) and _fine(block, found) <= _fine(block, best):
            best, most = found, room
        else:
            least = room
    return best


def _fine(block: TrueSize, rows: list[tuple[float, float]]) -> int:
    """How many rows end where a scene is parted only if need be."""
    breaks = frozenset(block.breaks_mm)
    return sum(right not in breaks for _, right in rows[:-1])


def _windows(block: TrueSize, room_mm: float) -> list[tuple[float, float]]:
    """Every row as wide as its breaks and the room let it be."""
    scene = block.scene
    left, end = scene.left_mm, scene.left_mm + scene.width_mm
    found = []
    while end - left > room_mm + 1e-6:
        right = _last(block.breaks_mm, left, room_mm)
        if right is None:
            right = _last(block.fine_breaks_mm, left, room_mm)
        if right is None:
            right = left + room_mm
        found.append((left, right))
        left = right
    return [*found, (left, end)]


def _last(breaks_mm: Sequence[float], left_mm: float, room_mm: float) -> float | None:
    """The last break that a row from ``left_mm`` may end at."""
    at = bisect_right(breaks_mm, left_mm + room_mm + 1e-6)
    return breaks_mm[at - 1] if at and breaks_mm[at - 1] > left_mm + 1e-6 else None


def _labels(
    labels: tuple[Label, ...], left_mm: float, right_mm: float, setting: Setting
) -> tuple[Mark, ...]:
    """Labels over a row; where they would run into one another some are left out."""
    size, marks, free = setting.small_pt, [], -1e9
    baseline = size * BASELINE * 25.4 / 72.0
    for label in labels:
        middle = (label.left_mm + label.right_mm) / 2.0
        if not left_mm <= middle < right_mm:
            continue
        half = setting.measure.width_mm(label.text, size) / 2.0
        at = middle - left_mm
        if at - half < free:
            continue
        free = at + half + _LABEL_GAP_MM
        ink = INK if label.right_mm - label.left_mm >= 2.0 * half else QUIET
        marks.append(
            Words(
                x_mm=at, y_mm=baseline, text=label.text, size_pt=size, anchor=Anchor.MIDDLE,
                srgb1=ink,
            )
        )  # fmt: skip
    return tuple(marks)
