"""Picture files: true scale in the file, whole or not at all."""

import struct
import zlib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from gallery.files import (
    read_png,
    shortened,
    text_size,
    to_png,
    undrawn,
    with_text,
    write_bytes,
    write_png,
)

PIXELS = np.random.default_rng(1).integers(0, 256, (6, 9, 3), dtype=np.uint8)


def _chunks(png: bytes) -> dict[bytes, bytes]:
    """A PNG's chunks by ISO/IEC 15948: length, type, data, CRC, after a signature."""
    assert png[:8] == bytes([137, 80, 78, 71, 13, 10, 26, 10])
    chunks, at = {}, 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        kind, data = png[at + 4 : at + 8], png[at + 8 : at + 8 + length]
        (crc,) = struct.unpack(">I", png[at + 8 + length : at + 12 + length])
        assert crc == zlib.crc32(kind + data)
        chunks[kind] = data
        at += 12 + length
    return chunks


def test_the_true_scale_is_stored_as_pixels_per_metre() -> None:
    for px_per_mm in (300 / 25.4, 5.0, 12.345):
        across, down, unit = struct.unpack(">IIB", _chunks(to_png(PIXELS, px_per_mm))[b"pHYs"])
        assert unit == 1
        assert across == down
        assert abs(across - px_per_mm * 1000.0) <= 0.5 + 1e-6


def test_no_scale_is_stored_where_none_is_given() -> None:
    assert b"pHYs" not in _chunks(to_png(PIXELS))


def test_a_quick_file_holds_the_same_pixels(tmp_path: Path) -> None:
    across = np.arange(300, dtype=np.uint8)
    clear = np.stack([across, across[::-1], across // 3, across], axis=-1)[None].repeat(40, axis=0)
    for pixels in (PIXELS, clear):
        quick = to_png(pixels, quick=True)
        write_bytes(tmp_path / "quick.png", quick)
        assert np.array_equal(read_png(tmp_path / "quick.png"), pixels)
    # Unpacked it is the same stream: only how tightly it is packed differs.
    usual = to_png(clear)
    assert zlib.decompress(_chunks(quick)[b"IDAT"]) == zlib.decompress(_chunks(usual)[b"IDAT"])
    assert len(quick) >= len(usual)


def test_a_picture_survives_the_file(tmp_path: Path) -> None:
    write_png(tmp_path / "new" / "a.png", PIXELS)
    assert np.array_equal(read_png(tmp_path / "new" / "a.png"), PIXELS)
    clear = np.dstack([PIXELS, PIXELS[..., 0]])
    write_png(tmp_path / "b.png", clear)
    assert np.array_equal(read_png(tmp_path / "b.png"), clear)


def test_pillow_agrees_on_the_bytes() -> None:
    width, height = struct.unpack(">II", _chunks(to_png(PIXELS))[b"IHDR"][:8])
    assert (height, width) == PIXELS.shape[:2]


@pytest.mark.parametrize("shape", [(4, 4), (4, 4, 2), (4, 4, 5)])
def test_what_is_no_picture_is_refused(shape: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="picture"):
        to_png(np.zeros(shape, np.uint8))


def test_a_full_disk_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "a.png"
    write_bytes(target, b"old")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OSError, match="No space left"):
        write_bytes(target, b"new and longer")
    assert target.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["a.png"]


def test_a_folder_that_is_a_file_is_an_error(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(OSError, match="file"):
        write_bytes(tmp_path / "file" / "a.png", b"x")


def test_a_written_picture_is_as_public_as_other_files(tmp_path: Path) -> None:
    write_bytes(tmp_path / "a.png", b"x")
    assert (tmp_path / "a.png").stat().st_mode & 0o777 == 0o644


def test_text_is_drawn_where_it_is_put_and_cut_to_its_room() -> None:
    paper = np.full((40, 200, 3), 250, np.uint8)
    inked = with_text(paper, "Eleven peaks", (10, 8), 16, (0, 0, 0))
    rows, columns = np.nonzero(inked.min(axis=-1) < 128)
    assert columns.min() >= 9
    assert rows.min() >= 8
    assert np.all(paper == 250)
    short = shortened("Eleven peaks in five colours", 16, 90)
    assert short.endswith("…")
    assert text_size(short, 16)[0] <= 90
    assert shortened("Peaks", 16, 90) == "Peaks"


def test_letters_of_other_languages_are_drawn() -> None:
    assert undrawn("Für Zoë \N{EN DASH} 12 €\n\N{GREEK SMALL LETTER LAMDA}, Ж") == ""
    assert undrawn("日\N{FAMILY} and \u200f日") == "日\N{FAMILY}\u200f"


def test_a_grey_file_is_read_as_rgb(tmp_path: Path) -> None:
    Image.new("L", (3, 2), 77).save(tmp_path / "g.png")
    assert np.all(read_png(tmp_path / "g.png") == 77)
