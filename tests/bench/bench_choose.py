"""What choosing colours costs and reaches beside general peers.

Run by hand from the top of the repository: ``python -m tests.bench.bench_choose``; it needs
glasbey and distinctipy, which nothing else here does. Each program runs in a cold process of its
own, one after another, and the best of a few runs counts; so ratios compare whole commands.

Floors: eight free colours at 25 or more in less time than the peer whose palette is best; the best
6 of 300 over four viewers proved in two seconds; a photograph of 12 megapixels in two seconds and
600 MB; palettes as near to photographs as Pillow's quantisers.
"""

import json
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from PIL import Image
from skimage import data

from palettes.choose import choose
from palettes.choose_types import Choice, Wishes
from palettes.choose_watch import Sofar
from palettes.difference import delta_e_2000
from palettes.extract import extract
from palettes.lights import Light
from palettes.spaces import hexes_to_srgb1, srgb1_to_hex, srgb1_to_lab
from palettes.viewing import conditions, worst_matrix
from palettes.vision import Sight, Viewer

FOUR = conditions(
    [Viewer(sight=s) for s in (Sight.TYPICAL, Sight.PROTAN, Sight.DEUTAN, Sight.TRITAN)],
    [Light.DAYLIGHT],
)
RUNS = 3
GLASBEY = "import glasbey, json; print(json.dumps(glasbey.create_palette(8{})))"
DISTINCTIPY = (
    "import distinctipy as d, json\n"
    "print(json.dumps([d.get_hex(c) for c in d.get_colors(8, rng={})]))"
)
PHOTOGRAPHS = (
    "astronaut",
    "chelsea",
    "coffee",
    "rocket",
    "retina",
    "colorwheel",
    "hubble_deep_field",
)


def cold(arguments: list[str], runs: int = RUNS) -> tuple[float, str]:
    """Seconds of the quickest of a few cold processes, and what it printed."""
    best, printed = float("inf"), ""
    for _ in range(runs):
        begin = time.perf_counter()
        done = subprocess.run(
            [sys.executable, "-W", "ignore", *arguments], capture_output=True, text=True, check=True
        )
        best, printed = min(best, time.perf_counter() - begin), done.stdout
    return best, printed


def weakest(hexes: list[str]) -> float:
    """The least CIEDE2000 over the four viewers."""
    upper = np.triu_indices(len(hexes), 1)
    return float(worst_matrix(hexes_to_srgb1(hexes), FOUR)[upper].min())


def free() -> None:
    """Eight free colours, ours and the peers'."""
    own_arguments = ["-m", "explorer", "palette", "--free", "--size", "8", "--json"]
    seconds, printed = cold(own_arguments)
    own = [colour["hex"] for colour in json.loads(printed)["colours"]]
    print(f"eight free colours, ours             {weakest(own):5.1f}  {seconds:6.2f} s")
    for name, program in (
        ("glasbey", GLASBEY.format("")),
        ("glasbey, colour-blind safe", GLASBEY.format(", colorblind_safe=True")),
        ("distinctipy, seed 1", DISTINCTIPY.format(1)),
        ("distinctipy, seed 2", DISTINCTIPY.format(2)),
    ):
        took, printed = cold(["-c", program])
        hexes = json.loads(printed)
        ratio = f"ours takes {seconds / took:.2f} of it"
        print(f"  {name:34s} {weakest(hexes):5.1f}  {took:6.2f} s, {ratio}")
    took, printed = cold([*own_arguments, "--patient"], 1)
    own = [colour["hex"] for colour in json.loads(printed)["colours"]]
    print(f"  ours, --patient                    {weakest(own):5.1f}  {took:6.2f} s")


def best_of_many() -> None:
    """The best 6 of 300 over four viewers, proved."""
    for seed in range(5):
        srgb1 = np.random.default_rng(seed).random((300, 3))
        begin = time.perf_counter()
        found = choose(srgb1, FOUR, Wishes(size=6))
        took = time.perf_counter() - begin
        proved = isinstance(found, Choice) and found.proven
        print(f"best 6 of 300, seed {seed}               proved {proved}  {took:6.2f} s")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "tray.csv"
        colours = np.random.default_rng(9).random((300, 3))
        rows = (f"bead {i},round 8/0,{srgb1_to_hex(c)}\n" for i, c in enumerate(colours))
        path.write_text("name,kind,colour\n" + "".join(rows), encoding="utf-8")
        arguments = ["-m", "explorer", "palette", "--free", "--tray", str(path), "--json"]
        took, printed = cold(arguments)
        proved = json.loads(printed)["proven"]
        print(f"  as a whole command                 proved {proved}  {took:6.2f} s")


def first_of_many() -> None:
    """Best 6 of 5 000: processor time to the first answer, to the best one, and to the end."""
    srgb1 = np.random.default_rng(3).random((5000, 3))
    told: list[tuple[float, float | None]] = []
    begin = time.process_time()

    def tell(sofar: Sofar) -> bool:
        if not told or sofar.reached != told[-1][1]:
            told.append((time.process_time() - begin, sofar.reached))
        return True

    choose(srgb1, FOUR, Wishes(size=6), told=tell)
    took = time.process_time() - begin
    print(f"best 6 of 5 000: first {told[0][0]:.2f} s, best {told[-1][0]:.2f} s, end {took:.1f} s")


def photograph() -> None:
    """A photograph of 12 megapixels, cold, with its memory."""
    with tempfile.TemporaryDirectory() as folder:
        small = getattr(data, PHOTOGRAPHS[0])()
        large = Image.fromarray(small).resize((4000, 3000), Image.Resampling.BICUBIC)
        for ending in ("jpg", "png"):
            path = Path(folder) / f"large.{ending}"
            large.save(path)
            took, _ = cold(["-m", "explorer", "palette", str(path), "--json"])
            # Of all finished children the largest: a bound on this one.
            most_mb = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024.0
            print(f"12 megapixels, {ending}        {took:6.2f} s, at most {most_mb:.0f} MB")


def nearness() -> None:
    """How near palettes lie to photographs, ours and the quantisers'."""
    for size in (6, 8):
        rows: dict[str, list[tuple[float, float]]] = {}
        for name in PHOTOGRAPHS:
            whole = Image.fromarray(getattr(data, name)()[..., :3])
            small = whole.resize((300, round(300 * whole.height / whole.width)))
            pixels = np.asarray(small)
            lab = srgb1_to_lab(pixels.reshape(-1, 3)[::5] / 255.0)
            hexes = [c.hex for c in extract(pixels, size, np.random.default_rng(1))]
            tables = {"ours": srgb1_to_lab(hexes_to_srgb1(hexes))}
            for method in (
                Image.Quantize.MEDIANCUT,
                Image.Quantize.MAXCOVERAGE,
                Image.Quantize.FASTOCTREE,
            ):
                table = small.quantize(size, method).getpalette() or []
                tables[method.name.lower()] = srgb1_to_lab(
                    np.array(table[: 3 * size], dtype=np.float64).reshape(-1, 3) / 255.0
                )
            for label, palette in tables.items():
                apart = np.stack([delta_e_2000(lab, colour) for colour in palette]).min(axis=0)
                rows.setdefault(label, []).append((apart.mean(), np.percentile(apart, 95)))
        for label, pairs in rows.items():
            mean, tail = np.mean(pairs, axis=0)
            print(f"{size} colours of photographs, {label:12s}  mean {mean:5.2f}  95th {tail:5.2f}")


def main() -> None:
    """Prints the table; photographs first, while no other child has run."""
    photograph()
    nearness()
    best_of_many()
    first_of_many()
    free()


if __name__ == "__main__":
    main()
