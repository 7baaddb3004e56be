"""Text as a QR code (ISO/IEC 18004) to scan from paper; the only place that knows segno."""

import segno
from segno.encoder import DataOverflowError

from gallery.page_ink import INK, Drawing, Mark, box

# Chosen by us: phones read a module of 0.4 mm from paper at a hand's breadth; larger is easier.
_LEAST_MODULE_MM, _USUAL_MM = 0.40, 30.0
_MOST_MM = 46.0  # chosen by us: a quarter of the page, beside the title
QUIET_MODULES = 4  # the standard's own quiet zone


def code_drawing(text: str) -> Drawing | None:
    """A square code of the text, its quiet zone included; None where it would be too large.

    Args:
        text: what is read when it is scanned.
    """
    try:
        code = segno.make_qr(text, error="l", boost_error=True)
    except DataOverflowError:
        return None
    rows = [bytes(row) for row in code.matrix]
    modules = len(rows) + 2 * QUIET_MODULES
    module_mm = max(_LEAST_MODULE_MM, _USUAL_MM / modules)
    side = modules * module_mm
    if side > _MOST_MM:
        return None
    marks: list[Mark] = []
    for row, line in enumerate(rows):
        for start, length in _runs(line):
            marks.append(
                box(
                    (start + QUIET_MODULES) * module_mm,
                    (row + QUIET_MODULES) * module_mm,
                    length * module_mm,
                    module_mm,
                    stroke=None,
                    fill=INK,
                )
            )
    return Drawing(width_mm=side, height_mm=side, marks=tuple(marks))


def _runs(line: bytes) -> list[tuple[int, int]]:
    """Start and length of every run of dark modules."""
    found: list[tuple[int, int]] = []
    for at, dark in enumerate(line):
        if dark and found and sum(found[-1]) == at:
            found[-1] = (found[-1][0], found[-1][1] + 1)
        elif dark:
            found.append((at, 1))
    return found
