"""Writes palettes/data/light_shifts.csv anew: ``python tests/reference/write_light_shifts.py``.

Takes some ten seconds. A test compares nodes of the file with ``recovered_shift``.
"""

from pathlib import Path

from palettes.lights import NODES, grid_srgb1, recovered_shift

TARGET = Path(__file__).parents[2] / "palettes" / "data" / "light_shifts.csv"
HEADER = f"""\
# What lamplight (CIE A), a cool white tube (CIE FL2) and a phosphor LED (CIE LED-B2) add to the
# L*a*b* of a colour seen in D65, on a grid of {NODES} x {NODES} x {NODES} sRGB colours, blue
# fastest.
# Columns: L*, a*, b* under lamplight, under the tube, under the LED. Reflectances recovered by
# Otsu 2018, clipped to 0-1, adapted by CAT02. Written by tests/reference/write_light_shifts.py
# with colour-science; regenerate it whenever palettes/lights.py changes.
"""


def main() -> None:
    """Writes the file."""
    rows = recovered_shift(grid_srgb1())
    # Two decimals: a hundredth of the stated uncertainty.
    lines = [",".join(f"{value + 0.0:.2f}" for value in row) for row in rows.round(2) + 0.0]
    TARGET.write_text(HEADER + "\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
