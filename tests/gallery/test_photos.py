"""Photographs as makers bring them: turned, in other spaces, damaged, hostile."""

import io
import re
import struct
import warnings
import zlib

import numpy as np
import pytest
from coloraide import Color
from PIL import Image, ImageCms

from gallery.photos import ENDINGS, MOST_BYTES, MOST_PIXELS, PhotoError, Pixels, read_photo


def file_of(image: Image.Image, kind: str = "PNG", **more: object) -> bytes:
    out = io.BytesIO()
    image.save(out, format=kind, **more)
    return out.getvalue()


def corner() -> Image.Image:
    """Forty by twenty, white with a red corner at the upper left."""
    picture = np.full((20, 40, 3), 255, dtype=np.uint8)
    picture[:8, :8] = (255, 0, 0)
    return Image.fromarray(picture)


def red_at(pixels: Pixels) -> tuple[bool, bool]:
    """Whether the red lies low and whether it lies right."""
    rows, columns = np.nonzero(pixels[:, :, 1] < 128)
    return bool(rows.mean() > pixels.shape[0] / 2), bool(columns.mean() > pixels.shape[1] / 2)


# How a file's first row and column lie in the upright picture: CIPA DC-008 (Exif 2.32), 4.6.4 A:
# orientation, then whether the first pixel of the file lies low and right when it is upright.
TURNS = {
    1: (False, False),
    2: (False, True),
    3: (True, True),
    4: (True, False),
    5: (False, False),
    6: (False, True),
    7: (True, True),
    8: (True, False),
}


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF"])
@pytest.mark.parametrize("orientation", TURNS)
def test_turned_upright(orientation: int, kind: str) -> None:
    image = corner()
    exif = image.getexif()
    exif[0x0112] = orientation
    pixels = read_photo(file_of(image, kind, exif=exif))
    assert pixels.shape[:2] == ((40, 20) if orientation > 4 else (20, 40))
    assert red_at(pixels) == TURNS[orientation]


def wide_profile() -> bytes:
    """An ICC profile (ICC.1:2001, matrix and curve) of Display P3 with a gamma of 2.2."""

    def fixed(*values: float) -> bytes:
        return b"".join(struct.pack(">i", round(value * 65536)) for value in values)

    # The primaries of P3 adapted to D50 (from memory: as in the profiles that systems ship).
    tags = {
        b"rXYZ": b"XYZ \0\0\0\0" + fixed(0.51512, 0.24120, -0.00105),
        b"gXYZ": b"XYZ \0\0\0\0" + fixed(0.29198, 0.69225, 0.04189),
        b"bXYZ": b"XYZ \0\0\0\0" + fixed(0.15710, 0.06657, 0.78407),
        b"wtpt": b"XYZ \0\0\0\0" + fixed(0.96420, 1.0, 0.82491),
        b"rTRC": b"curv\0\0\0\0" + struct.pack(">IHxx", 1, round(2.2 * 256)),
        b"gTRC": b"curv\0\0\0\0" + struct.pack(">IHxx", 1, round(2.2 * 256)),
        b"bTRC": b"curv\0\0\0\0" + struct.pack(">IHxx", 1, round(2.2 * 256)),
        b"desc": b"desc\0\0\0\0" + struct.pack(">I", 2) + b"w\0" + bytes(78),
        b"cprt": b"text\0\0\0\0none\0\0\0\0",
    }
    body, table, offset = b"", b"", 128 + 4 + 12 * len(tags)
    for name, bare in tags.items():
        content = bare + bytes(-len(bare) % 4)
        table += name + struct.pack(">II", offset + len(body), len(content))
        body += content
    header = struct.pack(">I4sI4s4s4s", 0, b"none", 0x02400000, b"mntr", b"RGB ", b"XYZ ")
    header += bytes(12) + b"acsp" + bytes(28) + fixed(0.96420, 1.0, 0.82491) + bytes(48)
    whole = header + struct.pack(">I", len(tags)) + table + body
    return struct.pack(">I", len(whole)) + whole[4:]


def test_profiles_are_honoured() -> None:
    for bytes_ in ((200, 80, 60), (90, 150, 200), (128, 128, 128)):
        image = Image.new("RGB", (8, 8), bytes_)
        got = read_photo(file_of(image, icc_profile=wide_profile()))[0, 0]
        linear = [(channel / 255.0) ** 2.2 for channel in bytes_]
        # Another library's P3 and adaptation.
        wanted = Color("display-p3-linear", linear).convert("srgb").coords()
        assert got.tolist() == pytest.approx([255 * v for v in wanted], abs=3.0)
        plain = read_photo(file_of(image))[0, 0]
        assert plain.tolist() == list(bytes_)


def test_a_damaged_profile_counts_as_srgb() -> None:
    image = Image.new("RGB", (8, 8), (200, 80, 60))
    damaged = wide_profile()[:200]
    assert read_photo(file_of(image, icc_profile=damaged))[0, 0].tolist() == [200, 80, 60]


def test_printers_colours_become_srgb() -> None:
    image = Image.new("CMYK", (16, 16), (0, 255, 255, 0))
    red, green, blue = read_photo(file_of(image, "JPEG"))[8, 8].tolist()
    assert red > 200
    assert max(green, blue) < 60
    lab = Image.new("LAB", (8, 8), (128, 0, 0))
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    # A profile for another kind of picture than this is no use; the file is still read.
    assert read_photo(file_of(lab, "TIFF", icc_profile=srgb)).shape == (8, 8, 3)


@pytest.mark.parametrize("mode", ["1", "L", "P", "I;16", "RGB"])
def test_every_depth_is_read(mode: str) -> None:
    levels = np.tile(np.linspace(0, 255, 32).astype(np.uint8), (8, 1))
    if mode == "I;16":
        image = Image.fromarray(levels.astype(np.uint16) * 257)
    else:
        image = Image.fromarray(levels).convert(mode)
    pixels = read_photo(file_of(image))
    assert pixels.shape == (8, 32, 3)
    assert pixels[0, 0].tolist() == [0, 0, 0]
    assert pixels[0, -1].tolist() == [255, 255, 255]


def test_see_through_parts_stay() -> None:
    picture = np.zeros((2000, 2400, 4), dtype=np.uint8)
    picture[:, :1200] = (255, 0, 0, 255)
    picture[:, 1200:] = (0, 0, 255, 0)
    pixels = read_photo(file_of(Image.fromarray(picture)))
    assert pixels.shape == (1000, 1200, 4)
    # What is see-through bleeds no colour into the rest.
    assert pixels[500, 599].tolist() == [255, 0, 0, 255]
    assert pixels[500, 900, 3] == 0
    opaque = Image.new("RGBA", (4, 4), (1, 2, 3, 255))
    assert read_photo(file_of(opaque)).shape == (4, 4, 3)
    palette = Image.new("P", (4, 4), 0)
    assert read_photo(file_of(palette, transparency=0)).shape == (4, 4, 4)


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_large_ones_are_made_smaller_but_not_too_small(kind: str) -> None:
    noise = np.random.default_rng(0).integers(0, 256, (15, 20, 3)).astype(np.uint8)
    image = Image.fromarray(noise).resize((2800, 2100), Image.Resampling.BILINEAR)
    more = {"compress_level": 1} if kind == "PNG" else {}
    content = file_of(image, kind, **more)
    pixels = read_photo(content)
    assert 1024 <= pixels.shape[1] < 2048
    assert pixels.shape[1] * 3 == pytest.approx(pixels.shape[0] * 4, abs=4)
    small = np.asarray(image.resize((700, 525), Image.Resampling.BOX))
    ours = np.asarray(Image.fromarray(pixels).resize((700, 525), Image.Resampling.BOX))
    assert np.abs(small.astype(float) - ours).mean() < 4.0
    assert read_photo(content, least_px=9999).shape == (2100, 2800, 3)


def test_a_phones_own_format_is_told_how_to_convert() -> None:
    heic = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(100)
    with pytest.raises(PhotoError, match="HEIC") as caught:
        read_photo(heic)
    assert "JPEG" in caught.value.remedy


def png_of(width: int, height: int) -> bytes:
    """A PNG that says it is so large and holds next to nothing."""

    def chunk(name: bytes, content: bytes) -> bytes:
        check = struct.pack(">I", zlib.crc32(name + content))
        return struct.pack(">I", len(content)) + name + content + check

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(bytes(1000)))
        + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize("side", [7300, 12_000, 60_000])
def test_bombs_are_refused(side: int) -> None:
    assert side * side > MOST_PIXELS
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        with pytest.raises(PhotoError, match="52 million pixels"):
            read_photo(png_of(side, side))


@pytest.mark.parametrize(("side", "got"), [(7300, "7300 x 7300"), (20_000, "400 million")])
def test_too_many_pixels_are_counted(side: int, got: str) -> None:
    with pytest.raises(PhotoError) as caught:
        read_photo(png_of(side, side))
    assert caught.value.got == f"{got} pixels"
    assert caught.value.wanted == "at most 52 million pixels"


@pytest.mark.parametrize("content", [b"", b"some words"])
def test_what_is_no_picture_is_named_with_the_kinds_to_choose_from(content: bytes) -> None:
    with pytest.raises(PhotoError) as caught:
        read_photo(content, name="list.jpg")
    assert caught.value.got == "list.jpg"
    if content:
        told = re.findall(r"[A-Z]{3,}", caught.value.wanted.partition(" once")[0])
        assert told == [ending.upper() for ending in ENDINGS]
    else:
        assert "empty" in caught.value.wanted


def whole_jpeg() -> bytes:
    return file_of(corner(), "JPEG")


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"GIF",
        b"no picture at all",
        whole_jpeg()[: len(whole_jpeg()) // 2],
        png_of(100, 100),
        b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 10 10\n",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        bytes(MOST_BYTES + 1),
    ],
    ids=["empty", "stub", "text", "half", "hollow", "postscript", "vector", "huge"],
)
def test_what_is_no_whole_picture_is_refused_with_a_remedy(content: bytes) -> None:
    with pytest.raises(PhotoError) as caught:
        read_photo(content)
    assert caught.value.wanted
    assert caught.value.remedy.endswith(".")


def test_the_first_of_several_frames() -> None:
    frames = [Image.new("RGB", (8, 8), colour) for colour in ("red", "blue")]
    film = file_of(frames[0], "GIF", save_all=True, append_images=frames[1:])
    assert read_photo(film)[0, 0].tolist() == [255, 0, 0]


def test_a_damaged_picture_is_told_with_its_files_name() -> None:
    with pytest.raises(PhotoError) as caught:
        read_photo(whole_jpeg()[: len(whole_jpeg()) // 2], name="beach.jpg")
    assert caught.value.got.startswith("beach.jpg, a damaged picture")
