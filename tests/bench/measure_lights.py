"""How well the stored shifts predict measured reflectances under other lights.

Run by hand from the top of the repository: ``python -m tests.bench.measure_lights``. Takes the 24
patches of a colour chart as colour-science has them and prints errors in CIEDE2000.
"""

import warnings

import numpy as np

from palettes.difference import delta_e_2000, pairwise
from palettes.lights import UNCERTAINTY, Light, reflectance_lab, shift_lab
from palettes.spaces import FloatArray, lab_to_srgb1

CHARTS = ("BabelColor Average", "ColorChecker N Ohta")


def chart(name: str) -> FloatArray:
    """Reflectances of the chart, (24, 36), 380 to 730 nm."""
    with warnings.catch_warnings():
        # It warns that its plotting part is missing, which nothing here uses.
        warnings.simplefilter("ignore")
        import colour
    shape = colour.SpectralShape(380, 730, 10)
    patches = colour.SDS_COLOURCHECKERS[name].values()
    return np.array([patch.copy().align(shape).values for patch in patches])


def main() -> None:
    """Prints the table."""
    for name in CHARTS:
        print(f"{name}: a pair, mean (nine in ten below, largest); a colour alone, mean (largest)")
        shifted = []
        reflectances = chart(name)
        upper = np.triu_indices(len(reflectances), 1)
        day = reflectance_lab(reflectances, Light.DAYLIGHT)
        picked = np.clip(lab_to_srgb1(day), 0.0, 1.0)
        for light in list(Light)[1:]:
            lit = reflectance_lab(reflectances, light)
            for how, guess in (("shifted", day + shift_lab(picked, light)), ("ignored", day)):
                pairs = np.abs(pairwise(guess)[upper] - pairwise(lit)[upper])
                alone = delta_e_2000(guess, lit)
                print(
                    f"  {light:12} {how}: {pairs.mean():.2f} ({np.quantile(pairs, 0.9):.2f}, "
                    f"{pairs.max():.2f}); {alone.mean():.2f} ({alone.max():.2f})"
                )
                shifted += [pairs] if how == "shifted" else []
        share = (np.concatenate(shifted) < UNCERTAINTY).mean()
        print(f"  all lights: {100 * share:.1f} % of the pairs off by less than {UNCERTAINTY:g}")


if __name__ == "__main__":
    main()
