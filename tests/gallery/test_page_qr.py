"""Codes to scan, read by another library."""

import numpy as np
import pytest
import zxingcpp

from gallery.page_ink import Path
from gallery.page_qr import QUIET_MODULES, code_drawing


def scanned(text: str) -> str:
    drawing = code_drawing(text)
    assert drawing is not None
    px = 20.0
    side = round(drawing.width_mm * px)
    picture = np.full((side, side), 255, np.uint8)
    for mark in drawing.marks:
        assert isinstance(mark, Path)
        (left, top), (right, bottom) = mark.points_mm[0], mark.points_mm[2]
        picture[round(top * px) : round(bottom * px), round(left * px) : round(right * px)] = 0
    (found,) = zxingcpp.read_barcodes(picture)
    return str(found.text)


@pytest.mark.parametrize("text", ["a", "danglewise:dw1." + "aB3_-" * 80, "Ελλ ü"])
def test_another_library_reads_what_was_written(text: str) -> None:
    assert scanned(text) == text


def test_the_quiet_zone_of_the_standard_is_kept() -> None:
    # ISO/IEC 18004: four modules on every side.
    drawing = code_drawing("quiet")
    assert drawing is not None
    edges = [p for mark in drawing.marks if isinstance(mark, Path) for p in mark.points_mm]
    module = drawing.width_mm / (21 + 2 * QUIET_MODULES)
    assert min(x for x, _ in edges) == pytest.approx(4 * module)
    assert max(y for _, y in edges) == pytest.approx(drawing.height_mm - 4 * module)


@pytest.mark.parametrize("letters", [1500, 100_000])
def test_what_is_too_long_to_scan_is_no_code(letters: int) -> None:
    assert code_drawing("x" * letters) is None
