"""How people with another colour vision see a colour."""

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from palettes.charts import number_table
from palettes.spaces import (
    LINEAR_TO_XYZ,
    FloatArray,
    checked_srgb1,
    linear1_to_srgb1,
    srgb1_to_linear1,
)


class Sight(StrEnum):
    """A type of colour vision."""

    TYPICAL = "typical"
    PROTAN = "protan"
    DEUTAN = "deutan"
    TRITAN = "tritan"
    GREY = "grey"


@dataclass(frozen=True, slots=True, kw_only=True)
class Viewer:
    """Someone's eyes.

    Attributes:
        sight: the type of colour vision.
        severity: from 0, as typical eyes, to 1, the whole type; without meaning for ``typical``.
    """

    sight: Sight
    severity: float = 1.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.severity) and 0.0 <= self.severity <= 1.0):
            raise ValueError(f"a severity is a number from 0 to 1; got {self.severity!r}")

    def __str__(self) -> str:
        """The spelling that ``parse_viewer`` takes."""
        return self.sight.value if self.severity == 1.0 else f"{self.sight}:{self.severity:g}"


TYPICAL = Viewer(sight=Sight.TYPICAL)
# Every type in full, in the order in which they are shown.
VIEWERS = tuple(Viewer(sight=sight) for sight in Sight)


def parse_viewer(text: str) -> Viewer:
    """A viewer from text such as ``deutan`` or ``deutan:0.6``.

    Raises:
        ValueError: no such type, or a severity that is no number from 0 to 1.
    """
    name, colon, severity = text.strip().lower().partition(":")
    if name not in {sight.value for sight in Sight}:
        known = ", ".join(sight.value for sight in Sight)
        raise ValueError(f"{text!r} is no viewer: write one of {known}, or such as deutan:0.6")
    try:
        degree = float(severity) if colon else 1.0
    except ValueError as error:
        raise ValueError(f"a severity is a number from 0 to 1; got {severity!r}") from error
    return Viewer(sight=Sight(name), severity=degree)


def machado_matrix(sight: Sight, severity: float) -> FloatArray:
    """The matrix of Machado, Oliveira and Fernandes 2009 for linear sRGB, shape (3, 3).

    The paper tabulates severities in steps of 0.1; between them the entries are interpolated
    linearly (ours; the same as colorspacious does).

    Args:
        sight: protan or deutan; for tritan the model is known to be too mild.
        severity: 0 to 1.

    Raises:
        ValueError: another sight, or a severity outside 0-1.
    """
    if sight not in {Sight.PROTAN, Sight.DEUTAN}:
        raise ValueError(f"Machado's model serves protan and deutan here; got {sight}")
    if not 0.0 <= severity <= 1.0:
        raise ValueError(f"a severity is a number from 0 to 1; got {severity!r}")
    return _machado(sight, float(severity)).copy()


@cache
def _machado(sight: Sight, severity: float) -> FloatArray:
    table = number_table("machado2009")
    rows = table[table[:, 0] == (0.0 if sight is Sight.PROTAN else 1.0)]
    entries = [np.interp(severity, rows[:, 1], column) for column in rows[:, 2:].T]
    return np.array(entries, dtype=np.float64).reshape(3, 3)


# Linear sRGB to the cone responses of Smith and Pokorny 1975, as in Vienot, Brettel and Mollon
# 1999, Digital Video Colourmaps for Checking the Legibility of Displays by Dichromats, Color
# Research and Application 24(4).
_LINEAR_TO_LMS: FloatArray = np.array(
    [[17.8824, 43.5161, 4.11935], [3.45565, 27.1554, 3.86714], [0.0299566, 0.184309, 1.46709]]
)
# Brettel, Vienot and Mollon 1997, Computerized Simulation of Color Appearance for Dichromats,
# JOSA A 14(10): to a tritan the hues of 485 nm and 660 nm look as they do to typical eyes. Their
# cone responses by Smith and Pokorny's fundamentals (L + M = luminance 1) from the CIE 1931
# observer with the correction of Vos 1978 (worked out; only the ratios matter).
_LMS_485_NM = (0.481731, 0.518229, 0.055506)
_LMS_660_NM = (0.954990, 0.044970, 0.000006)


def _tritan_half(white_lms: FloatArray, anchor_lms: tuple[float, float, float]) -> FloatArray:
    """Linear sRGB to linear sRGB on the half-plane through neutral and an anchor (equation 8)."""
    normal = np.cross(white_lms, np.array(anchor_lms))
    project = np.eye(3)
    project[2] = [-normal[0] / normal[2], -normal[1] / normal[2], 0.0]
    lms_to_linear = np.asarray(np.linalg.inv(_LINEAR_TO_LMS), dtype=np.float64)
    return lms_to_linear @ project @ _LINEAR_TO_LMS


_WHITE_LMS: FloatArray = _LINEAR_TO_LMS.sum(axis=1)
_TRITAN_BLUE = _tritan_half(_WHITE_LMS, _LMS_485_NM)
_TRITAN_RED = _tritan_half(_WHITE_LMS, _LMS_660_NM)
# Positive where M/L lies below white's: on the long-wave side.
_TRITAN_SIDE: FloatArray = np.array([_WHITE_LMS[1], -_WHITE_LMS[0], 0.0]) @ _LINEAR_TO_LMS


def _as_tritan(linear1: FloatArray) -> FloatArray:
    """Brettel, Vienot and Mollon 1997: two half-planes that meet in the neutral axis."""
    long_side = (linear1 @ _TRITAN_SIDE > 0.0)[..., None]
    return np.where(long_side, linear1 @ _TRITAN_RED.T, linear1 @ _TRITAN_BLUE.T)


def _as_grey(linear1: FloatArray) -> FloatArray:
    """Luminance alone (IEC 61966-2-1), the same in all channels: L* is kept exactly."""
    return np.repeat((linear1 @ LINEAR_TO_XYZ[1])[..., None], 3, axis=-1)


def see(srgb1: ArrayLike, viewer: Viewer) -> FloatArray:
    """A colour as another sees it, shown in colours for typical eyes.

    Protan and deutan by Machado et al. 2009, tritan by Brettel et al. 1997, grey by luminance;
    for tritan and grey a severity below 1 mixes the colour and its whole simulation in linear
    light (ours). The result is clipped to sRGB, since a picture of it would be: scores and
    pictures shall agree.

    Args:
        srgb1: (..., 3).
        viewer: whose eyes.

    Returns:
        sRGB in 0-1, (..., 3).

    Raises:
        ValueError: colours outside sRGB, or not finite.
    """
    colours = checked_srgb1(srgb1)
    if viewer.sight is Sight.TYPICAL or viewer.severity == 0.0:
        return colours
    linear1 = srgb1_to_linear1(colours)
    if viewer.sight in {Sight.PROTAN, Sight.DEUTAN}:
        seen = linear1 @ _machado(viewer.sight, viewer.severity).T
    else:
        whole = _as_tritan(linear1) if viewer.sight is Sight.TRITAN else _as_grey(linear1)
        seen = linear1 + viewer.severity * (whole - linear1)
    return np.clip(linear1_to_srgb1(np.clip(seen, 0.0, 1.0)), 0.0, 1.0)


# From this severity on a viewer stands for the whole type, below it for a partial one. Chosen by
# us, because the simulation hardly changes any more above it.
_WHOLE_FROM = 0.9


def prevalence(viewer: Viewer) -> str:
    """How many people see so, in words tied to the severity.

    Red-green figures: Birch 2012, Worldwide prevalence of red-green color deficiency, JOSA A 29(3);
    the whole types (about 1 man in 45), tritan and total absence of colour are from memory.
    """
    whole = viewer.severity >= _WHOLE_FROM
    if viewer.sight is Sight.TYPICAL or viewer.severity == 0.0:
        return "most people"
    if viewer.sight in {Sight.PROTAN, Sight.DEUTAN}:
        if whole:
            return (
                "about 1 man in 45 and very few women cannot tell red from green at all, "
                "in this form or its twin; many more have a milder form"
            )
        return (
            "about 8 in 100 men and 4 in 1000 women of European descent "
            "see red and green less well, most of them mildly"
        )
    if viewer.sight is Sight.TRITAN:
        return "a few people in 100 000 are born so; it comes with some illnesses too"
    if whole:
        return "about 1 person in 30 000 sees no colour; a grey photograph shows the same"
    return "no common eyes: colours part of the way to a grey photograph"
