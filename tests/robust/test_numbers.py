"""Numbers that are none reach no picture and no count; the same brief gives the same everywhere."""

import json
import math
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.app.demo import demo
from explorer.brief import Strip, Wearer, whole
from explorer.counts import Spares, counts
from explorer.design import Closure, Design
from explorer.errors import BriefError
from explorer.fit import TOLERANCE_MM, Fit, Repeat, motifs_that_fit
from explorer.layout import strip_scene
from explorer.thread import weaving_time_s
from gallery.framing import drawable
from gallery.raster import draw, size_px
from palettes.beads import BeadKind
from palettes.charts import bead_kinds
from palettes.tray import TrayBead
from tests.explorer.columns import with_columns
from tests.fuzz.nasty import NUMBERS

ROOT = Path(__file__).resolve().parents[2]
KIND = bead_kinds()["round 8/0"]
# What a programmer's or a maker's wrong number may end in.
REFUSED = (BriefError, ValueError, TypeError, OverflowError)


def _fit(**changed: Any) -> Fit | None:
    sizes = {"snug_mm": 214.0, "ease_mm": 20.0, "curvature_mm": 0.0, **changed}
    closure = Closure(length_mm=sizes.pop("closure_mm", 16.0))
    found = Strip(base=bead_kinds()["cube 3"]).fit(Wearer(**sizes), closure)
    return found if isinstance(found, Fit) else None


def _design(**changed: Any) -> Design:
    return with_columns(demo().piece.design, **changed)


def _kind(**changed: Any) -> BeadKind:
    return replace(KIND, **changed)


# Whatever takes a number from outside, by name.
TAKERS: dict[str, Callable[[Any], object]] = {
    **{name: lambda n, name=name: _fit(**{name: n})  # type: ignore[misc] # its name is bound
       for name in ("snug_mm", "ease_mm", "closure_mm", "curvature_mm")},
    **{f.name: lambda n, name=f.name: _kind(**{name: n})  # type: ignore[misc] # as above
       for f in fields(BeadKind) if f.name not in ("name", "form")},
    "pitch": lambda n: Strip(base=KIND, measured_pitch_mm=n),
    "spread": lambda n: Strip(base=KIND, measured_spread=n),
    "base_pitch_mm": lambda n: _design(base_pitch_mm=n),
    "closure": lambda n: Closure(length_mm=n),
    "extender": lambda n: Closure(extender_mm=n),
    "repeat": lambda n: Strip(base=KIND, repeat=Repeat(dangles=n, divider=1)),
    "whole": lambda n: whole("count", n, 0, 10**6),
    "pace": lambda n: weaving_time_s(100, n),
    "spares in a hundred": lambda n: counts(demo().piece.design, Spares(percent=n)).spares,
    "least spares": lambda n: counts(demo().piece.design, Spares(least=n)).spares,
    "grams": lambda n: TrayBead(name="a", kind=KIND, hex="#102030", grams=n).stock,
    "price": lambda n: TrayBead(name="a", kind=KIND, hex="#102030", price=n).bead_price,
    "scale": lambda n: size_px(strip_scene(demo().piece.design), n),
}  # fmt: skip


def _numbers(value: object) -> list[float]:
    if isinstance(value, bool) or value is None:
        return []
    if isinstance(value, int | float):
        return [float(value)]
    if isinstance(value, tuple):
        return [number for one in value for number in _numbers(one)]
    names = getattr(type(value), "__dataclass_fields__", {})
    return [number for name in names for number in _numbers(getattr(value, name))]


@pytest.mark.parametrize("taker", TAKERS)
@pytest.mark.parametrize("number", NUMBERS, ids=lambda n: repr(n)[:12])
def test_a_number_that_is_none_is_refused_or_harmless(taker: str, number: Any) -> None:
    try:
        found = TAKERS[taker](number)
    except REFUSED:
        return
    assert all(math.isfinite(n) for n in _numbers(found)), (taker, number, found)


# A number that makes sense to each of them, so that a refusal is one of the number.
_SENSE = {"snug_mm": 200.0, "pitch": 3.0, "spread": 0.1, "repeat": 5, "least spares": 3}


@pytest.mark.parametrize("taker", TAKERS)
def test_a_number_that_makes_sense_is_taken(taker: str) -> None:
    TAKERS[taker](_SENSE.get(taker, 2.0))


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_no_size_makes_no_picture_and_no_count(bad: float) -> None:
    scene = strip_scene(demo().piece.design)
    with pytest.raises(ValueError, match="number"):
        draw(scene, bad)
    with pytest.raises(ValueError, match="mm"):
        _design(base_pitch_mm=bad)


def test_the_smallest_and_the_largest_piece_are_drawn_and_counted_in_finite_numbers() -> None:
    small = replace(KIND, diameter_mm=0.05, pitch_mm=0.05, hole_mm=0.01, ladder_pitch_mm=0.05)
    large = replace(KIND, diameter_mm=100.0, pitch_mm=100.0, hole_mm=1.0, ladder_pitch_mm=100.0)
    for kind, pitch in ((small, 0.1), (large, 50.0)):
        beads = tuple(replace(bead, kind=kind) for bead in demo().piece.design.beads)
        design = _design(beads=beads, base_pitch_mm=pitch)
        scene = strip_scene(design)
        pixels = draw(scene, drawable(scene, 800.0 / scene.width_mm) / 2.0, clear=True)
        assert np.isfinite(pixels).all()
        assert pixels[..., 3].any()


@given(st.data())
def test_spares_are_reckoned_of_every_use_of_a_bead(
    designs: st.SearchStrategy[Design], data: st.DataObject
) -> None:
    design = data.draw(designs)
    rule = Spares(percent=30.0, least=0)
    for one in counts(design, rule).by_bead:
        assert one.used == one.base + one.dangles + one.dividers + one.links
        assert one.spares == rule.of(one.used)


def test_a_bead_used_everywhere_has_spares_of_all_its_uses() -> None:
    design = demo().piece.design
    links = (design.motifs[0][0].base,) * 3
    linked = replace(design, start_links=links, end_links=links)
    base = linked.motifs[0][0].base
    one = counts(linked, Spares(percent=10.0, least=0)).by_bead[base]
    assert one.links == 6
    # Worked out by hand: a tenth of all of them, rounded up.
    assert one.spares == -(-(one.base + 6) // 10)


def _digest(*, seed: str, before: tuple[str, ...] = ()) -> dict[str, Any]:
    command = [*before, sys.executable, "-m", "tests.robust.digest"]
    environment = {**os.environ, "PYTHONHASHSEED": seed}
    if before:
        environment["OPENBLAS_NUM_THREADS"] = "1"
    done = subprocess.run(
        command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def test_the_same_brief_gives_the_same_in_every_process_and_on_one_core() -> None:
    taskset = shutil.which("taskset")
    one_core = (taskset, "-c", str(min(os.sched_getaffinity(0)))) if taskset else ()
    first, other = _digest(seed="0"), _digest(seed="12345", before=one_core)
    assert first == other
    assert len(first) == 7


def test_the_most_motifs_are_found_at_the_very_edge_of_rounding() -> None:
    repeat = Repeat(dangles=5, divider=1)
    for step in range(1, 1500):
        pitch = 0.37 + step * 0.0137
        for motifs in (1, 7, 31, 230):
            # As long as the strip less the tolerance, where a division may round either way.
            target = repeat.strip_base_beads(motifs) * pitch - TOLERANCE_MM
            for nudge in (math.nextafter(target, 0.0), target, math.nextafter(target, math.inf)):
                found = motifs_that_fit(nudge, pitch, repeat)
                assert repeat.strip_base_beads(found) * pitch <= nudge + TOLERANCE_MM
                assert repeat.strip_base_beads(found + 1) * pitch > nudge + TOLERANCE_MM


def test_a_thick_base_makes_the_strip_longer_by_what_it_needs() -> None:
    plain, thick = _fit(), _fit(curvature_mm=9.4)
    assert plain is not None
    assert thick is not None
    assert thick.target_mm == pytest.approx(plain.target_mm + 9.4)
