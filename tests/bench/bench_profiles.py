"""Cost of listing and scoring all symmetric profiles of seven dangles, against thumbnails.

Run by hand from the top of the repository: ``python -m tests.bench.bench_profiles``.
"""

import statistics
import time
from collections.abc import Callable

from explorer.design import build
from explorer.layout import thumbnail_scene
from explorer.profile import Shape, profile
from explorer.profile_generator import ProfileRules, all_profiles, count_profiles
from explorer.profile_scores import score_table
from explorer.thread import thread_plan
from gallery.raster import draw
from palettes.beads import Bead
from palettes.charts import bead_kinds

RULES = ProfileRules(width=7, least=1, most=8)
KINDS = bead_kinds()
DESIGN = build(
    beads=(
        Bead(name="ground", kind=KINDS["cube 3"], hex="#eeeeee"),
        Bead(name="one", kind=KINDS["round 8/0"], hex="#aa2222"),
        Bead(name="two", kind=KINDS["round 8/0"], hex="#2222aa"),
    ),
    base=0,
    base_pitch_mm=KINDS["cube 3"].ladder_pitch_mm,
    profiles=(profile(Shape.PEAK, 7, 1, 6),),
    order=(1, 2) * 5,
    divider_base_beads=1,
)
THUMBNAIL_WIDTH_PX, THUMBNAIL_HEIGHT_PX = 400, 200


def list_and_score() -> None:
    """Count, list and score the 4 096 profiles."""
    if count_profiles(RULES) != len(score_table(all_profiles(RULES), KINDS["round 8/0"])):
        raise RuntimeError("the profiles listed are not those counted")


def thumbnail() -> None:
    """One thumbnail of an adult bracelet."""
    scene = thumbnail_scene(DESIGN, aspect=THUMBNAIL_WIDTH_PX / THUMBNAIL_HEIGHT_PX)
    draw(scene, THUMBNAIL_WIDTH_PX / scene.width_mm)


def thread() -> None:
    """One thread plan of the same bracelet."""
    thread_plan(DESIGN)


def median_s(work: Callable[[], None], times: int) -> float:
    """The middle of several timings, the first left out as a warm-up."""
    work()
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def main() -> None:
    """Print the ratios."""
    one_thumbnail = median_s(thumbnail, 9)
    print(
        f"thumbnail {THUMBNAIL_WIDTH_PX} x {THUMBNAIL_HEIGHT_PX} px: {one_thumbnail * 1e3:.1f} ms"
    )
    for name, work in (("4096 profiles", list_and_score), ("thread plan", thread)):
        taken = median_s(work, 31)
        print(f"{name}: {taken * 1e3:.2f} ms, {taken / one_thumbnail:.3f} thumbnails")


if __name__ == "__main__":
    main()
