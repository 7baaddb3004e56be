"""The geometry of a piece laid in a loop: places along an ellipse, and the ellipse that fills."""

import math

import numpy as np

from explorer.layout_columns import Frame
from palettes.spaces import FloatArray

# Chosen by us, because beyond this the loop's ends grow so tight that dangles fan out like spokes.
_MOST_ASPECT = 2.6


def ellipse(length_mm: float, aspect: float, samples: int = 1440) -> FloatArray:
    """Points (samples + 1, 5) anticlockwise from the top: length so far, x, y and outward x, y."""
    turn = np.linspace(0.0, 2.0 * math.pi, samples + 1)
    x, y = -aspect * np.sin(turn), -np.cos(turn)
    steps = np.hypot(np.diff(x), np.diff(y))
    far = np.concatenate([[0.0], np.cumsum(steps)])
    scale = length_mm / far[-1]
    out_x, out_y = x / aspect**2, y
    norm = np.hypot(out_x, out_y)
    return np.stack([far * scale, x * scale, y * scale, out_x / norm, out_y / norm], axis=1)


def loop_frames(way: FloatArray, far_mm: list[float]) -> list[Frame]:
    """Frames at lengths along an ellipse, their dangles pointing outward."""
    x, y, out_x, out_y = (np.interp(far_mm, way[:, 0], way[:, column]) for column in range(1, 5))
    turn = np.degrees(np.arctan2(-out_x, out_y))
    return [
        Frame(x_mm=float(at_x), y_mm=float(at_y), turn_deg=float(at_turn))
        for at_x, at_y, at_turn in zip(x, y, turn, strict=True)
    ]


def filling_aspect(length_mm: float, reach_mm: float, wanted: float) -> float:
    """The aspect of an ellipse of that length which, with a rim round it, has the wanted frame."""
    low, high = 1.0, _MOST_ASPECT
    for _ in range(20):
        aspect = (low + high) / 2.0
        # Half the height by Ramanujan's first formula for an ellipse's length (1914).
        sides = 3.0 * (1.0 + aspect) - math.sqrt((3.0 * aspect + 1.0) * (aspect + 3.0))
        half = length_mm / (math.pi * sides)
        wide = (aspect * half + reach_mm) / (half + reach_mm) > wanted
        low, high = (low, aspect) if wide else (aspect, high)
    return (low + high) / 2.0
