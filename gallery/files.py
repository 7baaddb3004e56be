"""The only reader and writer of picture files, and the only place that knows Pillow."""

import contextlib
import errno
import io
import os
import secrets
import stat
import tempfile
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

Pixels = NDArray[np.uint8]
Srgb8 = tuple[int, int, int]


# zlib's own levels run from 1, fast, to 9, small; Pillow's usual one is 6. Chosen by us: on the
# app's picture 3 is about twice as fast, for files about a tenth larger.
_QUICK_LEVEL, _USUAL_LEVEL = 3, 6
# A new file that nobody else has open; O_BINARY and O_NOINHERIT exist on Windows alone.
_ASIDE = (
    os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOINHERIT", 0)
)


def to_png(pixels: Pixels, px_per_mm: float | None = None, *, quick: bool = False) -> bytes:
    """A picture as the bytes of a PNG file.

    Args:
        pixels: (h, w, 3) or (h, w, 4) sRGB.
        px_per_mm: the true scale, stored as pixels per metre (ISO/IEC 15948, pHYs).
        quick: pack less tightly, for a picture that someone waits for; the pixels are the same.

    Raises:
        ValueError: the array is no picture.
    """
    if pixels.ndim != 3 or pixels.shape[2] not in (3, 4) or pixels.dtype != np.uint8:
        raise ValueError(f"a picture is (h, w, 3 or 4) bytes; got {pixels.shape} {pixels.dtype}")
    image = Image.fromarray(np.ascontiguousarray(pixels))
    out = io.BytesIO()
    level = _QUICK_LEVEL if quick else _USUAL_LEVEL
    if px_per_mm is None:
        image.save(out, format="PNG", compress_level=level)
    else:
        # Pillow turns dots per inch back into whole pixels per metre.
        dpi = (px_per_mm * 25.4, px_per_mm * 25.4)
        image.save(out, format="PNG", compress_level=level, dpi=dpi)
    return out.getvalue()


def read_png(path: Path) -> Pixels:
    """A picture file as (h, w, 3) or, where it has alpha, (h, w, 4) sRGB bytes."""
    with Image.open(path) as image:
        mode = "RGBA" if image.mode in ("RGBA", "LA", "PA") else "RGB"
        return np.array(image.convert(mode), dtype=np.uint8)


def write_bytes(path: Path, content: bytes, *, private: bool = False) -> None:
    """Writes a file whole or not at all: aside first, then renamed into place.

    Args:
        path: where to; its folder is made if it is missing.
        content: what the file holds.
        private: whether only its owner may read and write it; otherwise it is as public as the
            user's own mask for new files (``umask``) allows.

    Raises:
        OSError: the folder cannot be made or written, the disk is full, or what stands there is no
            file; nothing is left over and what stood there before is untouched.
    """
    _check_replaceable(path)
    path.parent.mkdir(parents=True, exist_ok=True)
    aside = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    # The system takes the user's mask off these rights, so a stricter one is kept.
    handle = os.open(aside, _ASIDE, 0o600 if private else 0o666)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        aside.replace(path)
    except BaseException:
        aside.unlink(missing_ok=True)
        raise


def make_private(path: Path) -> None:
    """Makes a file its owner's alone: a missing one is made so, empty, another loses other rights.

    A file that is there is never opened here: closing it would take away the locks that other
    users of it in this process hold (POSIX.1-2017, ``fcntl``, advisory locks and ``close``).

    Raises:
        OSError: it cannot be made.
    """
    with contextlib.suppress(FileExistsError):
        os.close(os.open(path, _ASIDE, 0o600))
    mode = stat.S_IMODE(path.stat().st_mode)
    if mode & 0o077:
        # Another's file stays as its owner wants it, and some file systems know no rights.
        with contextlib.suppress(OSError):
            path.chmod(mode & 0o700)


def check_place(path: Path) -> None:
    """Finds out whether ``write_bytes`` could write there, before there is anything to write.

    A file is made where it would be written, or in the nearest folder that there is, and taken
    away again; no folder is made.

    Raises:
        OSError: it could not.
    """
    _check_replaceable(path)
    folder = path.parent
    # A link that leads nowhere is there too, and no folder can be made in its place.
    while not os.path.lexists(folder) and folder != folder.parent:
        folder = folder.parent
    handle, aside = tempfile.mkstemp(prefix=f".{path.name}.", dir=folder)
    os.close(handle)
    Path(aside).unlink()


def _check_replaceable(path: Path) -> None:
    """``OSError`` where something stands that is no file: a pipe or a device is never replaced."""
    if path.is_dir():
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    if path.exists() and not path.is_file():
        raise FileExistsError(errno.EEXIST, "a pipe, a device or a socket stands there", str(path))


def write_png(path: Path, pixels: Pixels, px_per_mm: float | None = None) -> None:
    """Writes a picture as a PNG file, whole or not at all; errors as ``write_bytes``."""
    write_bytes(path, to_png(pixels, px_per_mm))


@lru_cache(maxsize=16)
def _font(size_px: int) -> ImageFont.FreeTypeFont:
    # The printed pages' own: the one that Pillow brings along has no letter beyond English.
    path = files("font_source_sans_pro") / "files" / "SourceSansPro-Regular.ttf"
    return ImageFont.truetype(str(path), size_px)


def text_size(text: str, size_px: int) -> tuple[int, int]:
    """Width and height in pixels that a line of text takes."""
    left, _, right, _ = _font(size_px).getbbox(text or " ")
    ascent_and_descent = round(size_px * 1.3)
    return round(right - left), ascent_and_descent


def undrawn(text: str) -> str:
    """The characters of a text that our font has no sign for, each once; lines may be broken."""
    lacking = _sign("\uffff")  # no character (Unicode Standard, "Noncharacters")
    signs = dict.fromkeys(text.replace("\n", ""))
    return "".join(one for one in signs if not one.isprintable() or _sign(one) == lacking)


def _sign(character: str) -> tuple[tuple[int, int], bytes]:
    mask = _font(20).getmask(character)  # large enough for signs to differ; by eye
    return mask.size, bytes(mask)


def shortened(text: str, size_px: int, width_px: int) -> str:
    """The text, cut with an ellipsis where it is wider than the room."""
    if text_size(text, size_px)[0] <= width_px:
        return text
    while text and text_size(text + "…", size_px)[0] > width_px:
        text = text[:-1]
    return text.rstrip() + "…"


def lined(text: str, size_px: int, width_px: int) -> list[str]:
    """The text in lines that the room holds, broken at spaces; a word too wide is cut."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_size(longer, size_px)[0] <= width_px:
            lines[-1] = longer
        else:
            lines.append(shortened(word, size_px, width_px))
    return lines


def with_text(
    pixels: Pixels, text: str, at: tuple[int, int], size_px: int, ink: Srgb8, *, anchor: str = "la"
) -> Pixels:
    """A copy of the picture with one line of text.

    Args:
        pixels: (h, w, 3) sRGB.
        text: the line, plain.
        at: x and y in pixels.
        size_px: the height of the letters' body.
        ink: the colour.
        anchor: which point of the text stands there: ``la`` upper left, ``ma`` upper middle.
    """
    image = Image.fromarray(np.ascontiguousarray(pixels))
    ImageDraw.Draw(image).text(at, text, fill=ink, font=_font(size_px), anchor=anchor)
    return np.array(image, dtype=np.uint8)
