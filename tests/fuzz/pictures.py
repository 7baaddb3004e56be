"""Pictures that go wrong: cut short, of odd modes, of enormous size, or something else by name."""

import io
import struct
import zlib
from functools import cache

import numpy as np
from PIL import Image, ImageCms

_MODES = ("1", "L", "LA", "P", "PA", "RGB", "RGBA", "RGBa", "CMYK", "YCbCr", "LAB", "HSV", "I", "F",
          "I;16")  # fmt: skip
_FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "GIF", "BMP", "PPM", "ICO", "TGA", "PDF")


def _chunk(name: bytes, body: bytes) -> bytes:
    """A chunk of a PNG file (ISO/IEC 15948, 5.3)."""
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png_bomb(width: int, height: int) -> bytes:
    """A PNG that says it is enormous; its packed zeros are few bytes."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes(1_000_000), 9)
    return (
        b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", body) + _chunk(b"IEND", b"")
    )


@cache
def text_bomb() -> bytes:
    """A small PNG with a packed text that would unpack to a hundred megabytes."""
    head = struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0)
    text = b"Comment\x00\x00" + zlib.compress(bytes(100_000_000), 9)
    return (
        b"\x89PNG\r\n\x1a\n"
        + _chunk(b"IHDR", head)
        + _chunk(b"zTXt", text)
        + _chunk(b"IDAT", zlib.compress(b"\x00\x00"))
        + _chunk(b"IEND", b"")
    )


@cache
def samples() -> tuple[bytes, ...]:
    """One small picture of every mode in every format that can hold it, and the bombs."""
    grey = np.arange(24 * 16, dtype=np.uint32).reshape(16, 24)
    colour = Image.fromarray(
        np.dstack([grey % 256, grey // 3 % 256, 255 - grey % 256]).astype("u1")
    )
    found: list[bytes] = []
    for mode in _MODES:
        image = _in_mode(colour, mode)
        for name in _FORMATS:
            out = io.BytesIO()
            try:
                image.save(out, format=name)
            except (OSError, ValueError, KeyError):
                continue
            found.append(out.getvalue())
    exif = Image.Exif()
    exif[0x0112] = 6
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    for name in ("JPEG", "PNG", "WEBP", "TIFF"):
        out = io.BytesIO()
        colour.save(out, format=name, exif=exif, icc_profile=profile)
        found.append(out.getvalue())
    frames = io.BytesIO()
    colour.save(frames, format="GIF", save_all=True, append_images=[colour.rotate(90)] * 3)
    bombs = [png_bomb(60_000, 60_000), png_bomb(7200, 7200), png_bomb(1, 2**31 - 1), text_bomb()]
    heic = b"\x00\x00\x00\x18ftypheic" + bytes(40)
    return (*found, frames.getvalue(), *bombs, heic, b"not a picture", b"")


def _in_mode(colour: Image.Image, mode: str) -> Image.Image:
    if mode in ("LA", "PA", "RGBa"):
        return colour.convert("RGBA").convert("LA" if mode != "RGBa" else "RGBa")
    if mode == "LAB":
        lab = ImageCms.createProfile("LAB")
        srgb = ImageCms.createProfile("sRGB")
        made = ImageCms.profileToProfile(colour, srgb, lab, outputMode="LAB")
        assert made is not None
        return made
    if mode == "I;16":
        return Image.fromarray(np.asarray(colour.convert("L")).astype(np.uint16) * 257)
    return colour.convert(mode)
