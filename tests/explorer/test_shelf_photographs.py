"""Photographs on their way to and from a shelf: looked at once, ours left as they are."""

import io
import zipfile
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from explorer import shelf_archive, shelf_photographs
from explorer.shelf_archive import INDEX, from_archive, to_archive
from explorer.shelf_photographs import as_jpeg
from gallery.photo_jpeg import is_ours, to_jpeg
from gallery.photos import Pixels, read_photo
from palettes.errors import ChartError
from tests.explorer.test_shelf_exchange import PIECE, index, packed
from tests.explorer.test_shelf_making import photo

SCAN = b"\xff\xda"


def busy(seed: int = 1, size: tuple[int, int] = (400, 301)) -> Image.Image:
    """A picture that changes a little every time it is packed anew."""
    coarse = np.random.default_rng(seed).integers(0, 256, (30, 40, 3), dtype=np.uint8)
    return Image.fromarray(coarse).resize(size, Image.Resampling.BICUBIC)


def jpeg(image: Image.Image, **options: Any) -> bytes:
    out = io.BytesIO()
    image.save(out, format="JPEG", **options)
    return out.getvalue()


def archive(rows: list[list[str]], parts: dict[str, bytes]) -> bytes:
    """Pieces, each with the photographs named."""
    names = [f"pieces/{number:04d}.json" for number in range(1, len(rows) + 1)]
    listed = [
        {"file": name, "photographs": [{"file": one, "added": ""} for one in row]}
        for name, row in zip(names, rows, strict=True)
    ]
    return packed({INDEX: index(*listed), **dict.fromkeys(names, PIECE), **parts})


@pytest.mark.parametrize("one_name", [True, False])
def test_a_photograph_named_many_times_is_decoded_once(
    monkeypatch: pytest.MonkeyPatch, one_name: bool
) -> None:
    decoded = []

    def counted(content: bytes, *, name: str) -> Pixels:
        decoded.append(len(content))
        return read_photo(content, name=name)

    monkeypatch.setattr(shelf_photographs, "read_photo", counted)
    content = photo()
    rows = [
        ["photographs/0001-1.jpg" if one_name else f"photographs/{at:04d}-{n}.jpg" for n in (1, 2)]
        for at in range(1, 11)
    ]
    found = from_archive(archive(rows, {n: content for row in rows for n in row}), "it")
    assert len({photo.jpeg for entry in found for photo in entry.photographs}) == 1
    assert sum(len(entry.photographs) for entry in found) == 20
    assert len(decoded) == 1


def test_an_archive_s_pixels_are_bounded_before_they_are_read(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(shelf_archive, "MOST_ARCHIVE_PIXELS", 300_000)
    names = ["photographs/0001-1.jpg", "photographs/0001-2.jpg", "photographs/0001-3.jpg"]
    parts = {name: jpeg(busy(seed)) for seed, name in enumerate(names)}
    assert len(from_archive(archive([names[:2]], parts), "it")[0].photographs) == 2
    with pytest.raises(ChartError, match="million pixels"):
        from_archive(archive([names], parts), "it")


def test_a_photograph_named_often_takes_its_room_each_time(monkeypatch: pytest.MonkeyPatch) -> None:
    name, content = "photographs/0001-1.jpg", as_jpeg(jpeg(busy()))
    rows = [[name] * 12] * 5
    monkeypatch.setattr(shelf_archive, "_MOST_TOTAL_BYTES", 5 * len(PIECE) + 30 * len(content))
    with pytest.raises(ChartError, match="more than"):
        from_archive(archive(rows, {name: content}), "it")


@pytest.mark.parametrize("size", [(400, 301), (1600, 1200), (1, 1), (17, 900)])
def test_a_photograph_is_the_same_on_every_round(size: tuple[int, int]) -> None:
    first = as_jpeg(jpeg(busy(size=size)))
    name = "photographs/0001-1.jpg"
    content = archive([[name]], {name: first})
    for _ in range(3):
        entries = from_archive(content, "it")
        assert entries[0].photographs[0].jpeg == first
        content = to_archive(entries)


def with_segment(content: bytes, marker: int, words: bytes) -> bytes:
    """A JPEG with a segment more, before its scan (ITU-T T.81, B.1.1.4)."""
    at = content.index(SCAN)
    return content[:at] + bytes([255, marker]) + (len(words) + 2).to_bytes(2) + words + content[at:]


WORDS = b"51.5 N 0.1 W"
OURS = to_jpeg(np.asarray(busy()))
NOT_OURS = {
    "a comment": with_segment(OURS, 0xFE, WORDS),
    "EXIF": with_segment(OURS, 0xE1, b"Exif\0\0" + WORDS),
    "another application's words": with_segment(OURS, 0xED, WORDS),
    "words after its end": OURS + WORDS,
    "words after its end, ended again": OURS + WORDS + b"\xff\xd9",
    "words at the end of its picture": OURS[:-2] + WORDS * 3 + b"\xff\xd9",
    "a comment within its picture": OURS[:-40] + b"\xff\xfe\x00\x0e" + WORDS + OURS[-40:],
    "words in its head": OURS.replace(b"JFIF\0\1\1\0\0\1\0\1", b"JFIF\0\1\1\0\x35\x31\x2e\x35"),
    "a preview in its head": OURS.replace(b"\0\x10JFIF", b"\0\x13JFIF", 1),
    "a part of it": OURS[: len(OURS) // 2] + b"\xff\xd9",
    "progressive": jpeg(busy(), quality=86, progressive=True),
    "of its own tables": jpeg(busy(), quality=86, optimize=True),
    "another quality": jpeg(busy(), quality=70),
    "grey": jpeg(busy().convert("L"), quality=86),
    "too large": jpeg(busy(size=(1201, 40)), quality=86),
    "EXIF as a camera writes it": photo(place=True),
    "nothing": b"",
    "no picture": b"\xff\xd8\xff\xda",
}


@pytest.mark.parametrize("kind", NOT_OURS)
def test_what_is_not_just_ours_is_never_passed_on(kind: str) -> None:
    assert is_ours(OURS)
    content = NOT_OURS[kind]
    assert content != OURS
    assert not is_ours(content)
    if WORDS in content:
        assert WORDS not in as_jpeg(content)


def test_an_archive_off_the_shelf_packs_the_same_bytes(tmp_path: Path) -> None:
    name = "photographs/0001-1.jpg"
    once = to_archive(from_archive(archive([[name]], {name: jpeg(busy())}), "it"))
    again = to_archive(from_archive(once, "it"))
    assert once == again
    (tmp_path / "a.zip").write_bytes(again)
    assert zipfile.is_zipfile(tmp_path / "a.zip")
