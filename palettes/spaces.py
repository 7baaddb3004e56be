"""Colour spaces: the only place in the project that converts one into another.

Names carry space and scale. ``srgb8`` is 0-255 per channel, ``srgb1`` is 0-1 with the sRGB
transfer curve, ``linear1`` is 0-1 proportional to light, ``xyz1`` is CIE XYZ with Y = 1 for white,
``lab`` is CIE L*a*b* under D65 and ``lch`` its polar form (hue in degrees). Arrays are (..., 3).

Source of every constant: IEC 61966-2-1:1999 (sRGB), CIE 15:2004 (L*a*b*).
"""

import re

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

# IEC 61966-2-1:1999, clause 5.2: linear sRGB to XYZ under D65, to the standard's four decimals.
LINEAR_TO_XYZ: FloatArray = np.array(
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
)
XYZ_TO_LINEAR: FloatArray = np.asarray(np.linalg.inv(LINEAR_TO_XYZ), dtype=np.float64)
# The white that the matrix itself gives, so that white is exactly L* = 100, a* = b* = 0.
WHITE_XYZ1: FloatArray = LINEAR_TO_XYZ.sum(axis=1)

# CIE 15:2004, 8.2.1: the straight part of the L* curve below (6/29)^3.
_EPSILON = (6.0 / 29.0) ** 3
_SLOPE = (29.0 / 6.0) ** 2 / 3.0
_OFFSET = 4.0 / 29.0

_HEX = re.compile(r"#?(?:[0-9a-fA-F]{6}|[0-9a-fA-F]{3})", re.ASCII)


def _floats(values: ArrayLike) -> FloatArray:
    array = np.asarray(values, dtype=np.float64)
    if array.shape[-1:] != (3,):
        raise ValueError(f"colours come as (..., 3); got an array of shape {array.shape}")
    return array


def parse_hex(text: str) -> str:
    """A hex colour in its one spelling, lowercase ``#rrggbb``.

    Args:
        text: six or three hex digits, with or without ``#``, spaces around them allowed.

    Raises:
        ValueError: the text is no such colour; the message repeats it and says what is allowed.
    """
    stripped = text.strip()
    if not _HEX.fullmatch(stripped):
        raise ValueError(f"{text!r} is no hex colour: write six digits 0-9 a-f such as #1f8a83")
    digits = stripped.removeprefix("#").lower()
    if len(digits) == 3:
        digits = "".join(2 * digit for digit in digits)
    return f"#{digits}"


def hex_to_srgb1(text: str) -> FloatArray:
    """A hex colour as an sRGB triple in 0-1, shape (3,); ``ValueError`` as ``parse_hex``."""
    digits = parse_hex(text)
    return np.array([int(digits[i : i + 2], 16) for i in (1, 3, 5)], dtype=np.float64) / 255.0


def hexes_to_srgb1(texts: tuple[str, ...] | list[str]) -> FloatArray:
    """Several hex colours as an array (n, 3) of sRGB in 0-1; (0, 3) for none."""
    return np.array([hex_to_srgb1(text) for text in texts], dtype=np.float64).reshape(-1, 3)


def srgb1_to_hex(srgb1: ArrayLike) -> str:
    """The nearest ``#rrggbb`` to one sRGB triple in 0-1; what lies outside is clipped."""
    array = _floats(srgb1)
    if array.shape != (3,) or not np.isfinite(array).all():
        raise ValueError(f"one finite colour is wanted; got {srgb1!r}")
    red, green, blue = (int(v) for v in np.rint(np.clip(array, 0.0, 1.0) * 255.0))
    return f"#{red:02x}{green:02x}{blue:02x}"


def srgb1_to_linear1(srgb1: ArrayLike) -> FloatArray:
    """SRGB to linear light, IEC 61966-2-1 clause 5.2; odd about zero, so out-of-gamut survives."""
    array = _floats(srgb1)
    size = np.abs(array)
    curve = np.where(size <= 0.04045, size / 12.92, ((size + 0.055) / 1.055) ** 2.4)
    return np.copysign(curve, array)


def linear1_to_srgb1(linear1: ArrayLike) -> FloatArray:
    """Linear light to sRGB, the inverse of ``srgb1_to_linear1``."""
    array = _floats(linear1)
    size = np.abs(array)
    curve = np.where(size <= 0.0031308, size * 12.92, 1.055 * size ** (1 / 2.4) - 0.055)
    return np.copysign(curve, array)


def linear1_to_xyz1(linear1: ArrayLike) -> FloatArray:
    """Linear sRGB to CIE XYZ under D65, Y = 1 for white."""
    return _floats(linear1) @ LINEAR_TO_XYZ.T


def xyz1_to_linear1(xyz1: ArrayLike) -> FloatArray:
    """CIE XYZ under D65 to linear sRGB; may leave 0-1 where the colour is out of gamut."""
    return _floats(xyz1) @ XYZ_TO_LINEAR.T


def xyz1_to_lab(xyz1: ArrayLike) -> FloatArray:
    """CIE XYZ to L*a*b* against sRGB's white (CIE 15:2004, equations 8.3-8.6)."""
    ratio = _floats(xyz1) / WHITE_XYZ1
    f = np.where(ratio > _EPSILON, np.cbrt(ratio), _SLOPE * ratio + _OFFSET)
    fx, fy, fz = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)], axis=-1)


def lab_to_xyz1(lab: ArrayLike) -> FloatArray:
    """L*a*b* to CIE XYZ, the inverse of ``xyz1_to_lab``."""
    array = _floats(lab)
    fy = (array[..., 0] + 16.0) / 116.0
    f = np.stack([fy + array[..., 1] / 500.0, fy, fy - array[..., 2] / 200.0], axis=-1)
    return np.where(f > 6.0 / 29.0, f**3, (f - _OFFSET) / _SLOPE) * WHITE_XYZ1


def linear1_to_lab(linear1: ArrayLike) -> FloatArray:
    """Linear sRGB to L*a*b* under D65."""
    return xyz1_to_lab(linear1_to_xyz1(linear1))


def lab_to_linear1(lab: ArrayLike) -> FloatArray:
    """L*a*b* under D65 to linear sRGB; may leave 0-1 where the colour is out of gamut."""
    return xyz1_to_linear1(lab_to_xyz1(lab))


def srgb1_to_lab(srgb1: ArrayLike) -> FloatArray:
    """SRGB to L*a*b* under D65."""
    return linear1_to_lab(srgb1_to_linear1(srgb1))


def lab_to_srgb1(lab: ArrayLike) -> FloatArray:
    """L*a*b* under D65 to sRGB; may leave 0-1 where the colour is out of gamut."""
    return linear1_to_srgb1(lab_to_linear1(lab))


def lab_to_lch(lab: ArrayLike) -> FloatArray:
    """L*a*b* to lightness, chroma and hue in degrees 0-360."""
    array = _floats(lab)
    hue = np.degrees(np.arctan2(array[..., 2], array[..., 1])) % 360.0
    return np.stack([array[..., 0], np.hypot(array[..., 1], array[..., 2]), hue], axis=-1)


def lch_to_lab(lch: ArrayLike) -> FloatArray:
    """Lightness, chroma and hue in degrees to L*a*b*."""
    array = _floats(lch)
    hue = np.radians(array[..., 2])
    return np.stack(
        [array[..., 0], array[..., 1] * np.cos(hue), array[..., 1] * np.sin(hue)], axis=-1
    )


def checked_srgb1(srgb1: ArrayLike) -> FloatArray:
    """The colours as an array, once it is certain that they are sRGB colours.

    Raises:
        ValueError: no triples, not finite, or outside 0-1 by more than rounding (1e-9).
    """
    array = _floats(srgb1)
    if not np.isfinite(array).all():
        raise ValueError("colours are finite numbers; got NaN or infinity among them")
    if array.size and not (array.min() >= -1e-9 and array.max() <= 1.0 + 1e-9):
        raise ValueError(f"sRGB channels lie in 0 to 1; got {array.min():g} to {array.max():g}")
    return np.clip(array, 0.0, 1.0)
