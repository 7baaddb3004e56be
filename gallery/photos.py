"""Reads photographs that makers bring: upright, in sRGB, no larger than needed, nothing trusted."""

import io
import re
import warnings
from collections.abc import Callable
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageCms, UnidentifiedImageError

Pixels = NDArray[np.uint8]
Found = TypeVar("Found")

# Chosen by us: the largest phone cameras' full pictures; decoded, 50 megapixels fill 150 MB.
MOST_PIXELS = 52_000_000
MOST_BYTES = 120_000_000
# Chosen by us, because a palette needs no more pixels.
PALETTE_PX = 1024
# What cameras, phones and browsers write, with how their files' names end. Others are not tried:
# some of Pillow's readers start other programs.
_FORMATS = {
    "JPEG": ("jpg", "jpeg"), "PNG": ("png",), "WEBP": ("webp",), "TIFF": ("tif", "tiff"),
    "GIF": ("gif",), "BMP": ("bmp",),
}  # fmt: skip
_ENDINGS = tuple(ending for endings in _FORMATS.values() for ending in endings)
# Let through where a file is chosen, so that their own advice can be given.
_ADVISED = ("heic", "heif")
# What may be chosen, and the same in words.
ENDINGS = (*_ENDINGS, *_ADVISED)
_KINDS = f"{', '.join(_ENDINGS).upper()}; {', '.join(_ADVISED).upper()} once saved as JPG"
# Brands in the `ftyp` box of HEIF pictures with HEVC inside (ISO/IEC 23008-12, from memory).
_HEIC_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")
# EXIF's tag and the turns that make a picture upright (CIPA DC-008, Exif 2.32, 4.6.4 A).
_ORIENTATION = 0x0112
_UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}


class PhotoError(Exception):
    """A photograph cannot be used.

    Args:
        got: what was found.
        wanted: what is allowed.
        remedy: what to do now, as a sentence with a verb.
    """

    def __init__(self, got: str, wanted: str, remedy: str) -> None:
        super().__init__(f"got {got}; wanted {wanted}. {remedy}")
        self.got = got
        self.wanted = wanted
        self.remedy = remedy


def read_photo(content: bytes, *, least_px: int = PALETTE_PX, name: str = "this file") -> Pixels:
    """A photograph, turned upright and converted to sRGB by the profile that it carries.

    Large ones are made smaller by whole factors while they are read; a damaged profile counts as
    sRGB; of several frames the first is taken.

    Args:
        content: the file's bytes.
        least_px: the longer side stays at least so long, if it was.
        name: what to call the file in an error.

    Returns:
        (h, w, 3), or (h, w, 4) where the picture has see-through parts; sRGB bytes.

    Raises:
        PhotoError: it is no picture that we take, is damaged or too large.
    """
    if len(content) > MOST_BYTES:
        raise PhotoError(
            f"{name}, of more than {MOST_BYTES // 1_000_000} MB",
            "a photograph",
            "Save it smaller, as JPEG.",
        )
    return _opened(content, lambda image: _pixels(image, least_px), name)


def photo_pixels(content: bytes, name: str = "this file") -> int:
    """How many pixels a photograph's head says it has; the picture itself is not read.

    Args:
        content: the file's bytes.
        name: what to call the file in an error.

    Raises:
        PhotoError: it is no picture that we take, or is damaged.
    """
    return _opened(content, lambda image: image.width * image.height, name)


def _opened(content: bytes, use: Callable[[Image.Image], Found], name: str) -> Found:
    if not content:
        raise PhotoError(
            name, "a picture with something in it; this file is empty", "Choose another file."
        )
    if content[4:8] == b"ftyp" and content[8:12] in _HEIC_BRANDS:
        raise PhotoError(
            f"{name}, a HEIC picture",
            "a JPEG or PNG picture",
            "On the phone, share it as JPEG, or set the camera's format to the most compatible.",
        )
    try:
        with warnings.catch_warnings():
            # The size is checked below; what else a file has to complain of does not matter.
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(content), formats=tuple(_FORMATS)) as image:
                return use(image)
    except PhotoError:
        raise
    except Image.DecompressionBombError as error:
        # Pillow refuses the largest before it gives a size, and tells the pixels in its words.
        told = re.search(r"\d+", str(error))
        raise _too_large(
            f"{int(told[0]) // 1_000_000 if told else 'too many'} million pixels"
        ) from error
    except UnidentifiedImageError as error:
        raise PhotoError(name, f"a picture ({_KINDS})", "Choose another file.") from error
    except (OSError, ValueError, SyntaxError, EOFError, MemoryError, OverflowError) as error:
        raise PhotoError(
            f"{name}, a damaged picture ({error})", "a whole one", "Save or send it again."
        ) from error


def _too_large(got: str) -> PhotoError:
    return PhotoError(got, f"at most {MOST_PIXELS // 1_000_000} million pixels", "Save it smaller.")


def _pixels(image: Image.Image, least_px: int) -> Pixels:
    width, height = image.size
    if width * height > MOST_PIXELS:
        raise _too_large(f"{width} x {height} pixels")
    profile = image.info.get("icc_profile")
    # A JPEG is decoded at a half, a quarter or an eighth of its size where that is enough.
    longer = max(width, height)
    if longer > least_px:
        image.draft(None, (-(-width * least_px // longer), -(-height * least_px // longer)))
    image.load()
    # Asked after loading: Pillow turns TIFF pictures itself then, and takes the tag away.
    turn = _UPRIGHT.get(image.getexif().get(_ORIENTATION, 1))
    plain = _in_eight_bits(image)
    factor = max(plain.size) // least_px
    if factor > 1:
        plain = _reduced(plain, factor)
    plain = _in_srgb(plain, profile)
    if turn is not None:
        plain = plain.transpose(turn)
    return np.asarray(plain, dtype=np.uint8)


def _in_eight_bits(image: Image.Image) -> Image.Image:
    """The picture in one of the modes L, RGB, RGBA, CMYK or LAB."""
    if image.mode.startswith("I"):
        # Sixteen bits of grey.
        levels = np.clip(np.asarray(image) // 256, 0, 255).astype(np.uint8)
        return Image.fromarray(levels)
    if image.mode in ("LA", "PA", "La", "RGBa") or "transparency" in image.info:
        return image.convert("RGBA")
    if image.mode in ("L", "RGB", "RGBA", "CMYK", "LAB"):
        return image
    return image.convert("L" if image.mode == "1" else "RGB")


def _reduced(image: Image.Image, factor: int) -> Image.Image:
    if image.mode != "RGBA":
        return image.reduce(factor)
    # Weighted by opacity, or the colour under what is see-through would bleed into the rest.
    return image.convert("RGBa").reduce(factor).convert("RGBA")


def _in_srgb(image: Image.Image, profile: object) -> Image.Image:
    """The picture in sRGB, by its profile (ICC.1) if it has one that fits."""
    alpha = image.getchannel("A") if image.mode == "RGBA" else None
    flat = image.convert("RGB") if alpha is not None else image
    converted = _by_profile(flat, profile) if isinstance(profile, bytes) else None
    out = flat.convert("RGB") if converted is None else converted
    if alpha is None or alpha.getextrema() == (255, 255):
        return out
    out.putalpha(alpha)
    return out


def _by_profile(image: Image.Image, profile: bytes) -> Image.Image | None:
    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        srgb = ImageCms.createProfile("sRGB")
        return ImageCms.profileToProfile(
            image,
            source,
            srgb,
            renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
            outputMode="RGB",
            flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
    except (ImageCms.PyCMSError, OSError, ValueError):
        return None
