"""Where the dots of each plot stand."""

import math
from collections.abc import Sequence

from explorer.app.parts.plot import Dot, Plot
from palettes.spaces import hexes_to_srgb1, lab_to_lch, srgb1_to_lab
from palettes.swatches import Swatch

# In the drawing's own units; chosen by us, so that 11 of them are a dot that a finger finds.
_WIDTH, _HEIGHT, _EDGE = 520.0, 260.0, 34.0
_WHEEL = 340.0
# The most chroma that the wheel shows; sRGB's own most is about 134 (a pure blue). Chosen by us,
# because a wheel for that one blue would crowd all others together.
_MOST_CHROMA = 110.0


def _lchs(swatches: Sequence[Swatch]) -> list[tuple[float, float, float]]:
    lch = lab_to_lch(srgb1_to_lab(hexes_to_srgb1([swatch.hex for swatch in swatches])))
    return [(float(row[0]), float(row[1]), float(row[2])) for row in lch]


def wheel(swatches: Sequence[Swatch], chosen: int) -> Plot:
    """Hue round the middle, strength (chroma) outward; grey is the middle."""
    middle = _WHEEL / 2.0
    reach = middle - 24.0
    dots = []
    for place, (swatch, (_, chroma, hue)) in enumerate(zip(swatches, _lchs(swatches), strict=True)):
        far = min(chroma / _MOST_CHROMA, 1.0) * reach
        dots.append(
            Dot(
                x=middle + far * math.cos(math.radians(hue)),
                y=middle - far * math.sin(math.radians(hue)),
                label=f"{swatch.name}: hue {hue:.0f}°, chroma {chroma:.0f}",
                hex=swatch.hex,
                strong=place == chosen,
                r=12.0,
            )
        )
    return Plot(
        width=_WHEEL,
        height=_WHEEL,
        label="The colours by hue and strength",
        dots=sorted(dots, key=lambda dot: dot.strong),
        rings=tuple((middle, middle, reach * part) for part in (1 / 3, 2 / 3, 1.0)),
        most="22rem",
    )


def ladder(swatches: Sequence[Swatch], chosen: int) -> Plot:
    """Lightness upward, dark to light, the colours in the order of the tray."""
    step = (_WIDTH - 2.0 * _EDGE) / max(1, len(swatches) - 1)
    dots = [
        Dot(
            x=_EDGE + place * step if len(swatches) > 1 else _WIDTH / 2.0,
            y=_HEIGHT - _EDGE - lightness / 100.0 * (_HEIGHT - 2.0 * _EDGE),
            label=f"{swatch.name}: lightness {lightness:.0f} of 100",
            hex=swatch.hex,
            strong=place == chosen,
            r=12.0,
        )
        for place, (swatch, (lightness, _, _)) in enumerate(
            zip(swatches, _lchs(swatches), strict=True)
        )
    ]
    rows = (_EDGE, _HEIGHT / 2.0, _HEIGHT - _EDGE)
    return Plot(
        width=_WIDTH,
        height=_HEIGHT,
        label="The colours by lightness",
        dots=sorted(dots, key=lambda dot: dot.strong),
        lines=tuple((0.0, y, _WIDTH, y) for y in rows),
        texts=(
            (0.0, _EDGE - 6.0, "start", "light"),
            (0.0, _HEIGHT - _EDGE + 18.0, "start", "dark"),
        ),
        most="34rem",
    )
