"""Writes palettes/data/chart24.csv with colour-science.

Run by hand from the top of the repository: ``python tests/reference/write_chart24.py``.
"""

from pathlib import Path

import colour
import numpy as np

_HEADER = """\
# The 24 patches of the ColorChecker Classic as made after November 2014, CIE L*a*b* under D65, row
# by row from dark skin to black. X-Rite's measured values under D50 as in colour-science 0.4.7
# (CCS_COLOURCHECKERS), adapted to D65 by CAT02. Written by tests/reference/write_chart24.py.
# Columns: L*, a*, b*.
"""


def rows() -> list[str]:
    """The table's lines."""
    chart = colour.CCS_COLOURCHECKERS["ColorChecker24 - After November 2014"]
    xyz = colour.xyY_to_XYZ(np.array(list(chart.data.values())))
    daylight = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    white, daylight_white = (colour.xy_to_XYZ(xy) for xy in (chart.illuminant, daylight))
    adapted = colour.chromatic_adaptation(
        xyz, white, daylight_white, method="Von Kries", transform="CAT02"
    )
    return [",".join(f"{v:.3f}" for v in lab) for lab in colour.XYZ_to_Lab(adapted, daylight)]


if __name__ == "__main__":
    target = Path(__file__).parents[2] / "palettes" / "data" / "chart24.csv"
    target.write_text(_HEADER + "\n".join(rows()) + "\n", encoding="utf-8")
