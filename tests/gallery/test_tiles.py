"""Large pictures: tiles without seams, streamed files, work and memory in proportion."""

import io
import tracemalloc
import weakref
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from PIL import Image

from gallery import raster, stamps, strokes, true_size
from gallery.files import Pixels
from gallery.page_beads import Across, beads_within, threads_within
from gallery.png_stream import png_stream
from gallery.raster import Drawing, draw
from gallery.scene import Ground, MetalRing, PlacedBead, Pose, Scene, Thread
from gallery.solids import Floats
from gallery.true_size import px_per_mm_at, true_size_png

HIGH_MM = 20.0


def strip(columns: int, ground: Ground = Ground.PAPER) -> Scene:
    """Columns of seven beads at 2 mm, on a thread along the whole and one down each."""
    beads = [
        PlacedBead(
            x_mm=2.0 * at + 0.37, y_mm=1.7 * row, across_mm=1.9, along_mm=1.6, hole_mm=0.7,
            turn_deg=float(at * 7 % 30), srgb1=(0.2, 0.1 * (row + 1), 0.4), layer=row % 3,
            pose=Pose.END if row == 6 else Pose.SIDE,
        )
        for at in range(columns)
        for row in range(7)
    ]  # fmt: skip
    along = Thread(points_mm=tuple((2.0 * at, -0.5) for at in range(columns)), layer=2)
    down = [Thread(points_mm=((2.0 * at, 0.0), (2.0 * at, 13.0))) for at in range(columns)]
    ring = MetalRing(x_mm=-1.0, y_mm=3.0, width_mm=5.0, height_mm=7.0)
    return Scene(
        left_mm=-3.0, top_mm=-3.0, width_mm=2.0 * columns + 6.0, height_mm=HIGH_MM,
        beads=tuple(beads), threads=(along, *down), rings=(ring,), ground=ground,
    )  # fmt: skip


def unpacked(png: bytes) -> Pixels:
    with Image.open(io.BytesIO(png)) as image:
        return np.array(image)


@pytest.mark.parametrize("ground", list(Ground))
@pytest.mark.parametrize("clear", [False, True])
def test_tiles_leave_no_seam(monkeypatch: pytest.MonkeyPatch, ground: Ground, clear: bool) -> None:
    scene = strip(90, ground)
    whole = draw(scene, 8.0, clear=clear)
    monkeypatch.setattr(raster, "_BAND_PIXELS", 1)
    monkeypatch.setattr(raster, "_TILE_PX", 1)
    tiled = draw(scene, 8.0, clear=clear)
    # A thread's rim rounds otherwise in the last place; a seam would be many levels.
    assert np.abs(whole.astype(int) - tiled.astype(int)).max() <= 1


def test_any_part_is_that_part_of_the_whole() -> None:
    drawing = Drawing(strip(60), 8.0)
    whole = drawing.part(0, 0, drawing.width, drawing.height)
    part = drawing.part(211, 37, 120, 61)
    assert np.abs(whole[37:98, 211:331].astype(int) - part.astype(int)).max() <= 1


def test_a_streamed_picture_is_the_picture(monkeypatch: pytest.MonkeyPatch) -> None:
    scene = strip(100)
    for bar in (False, True):
        whole = true_size_png(scene, bar=bar)
        with monkeypatch.context() as patch:
            patch.setattr(true_size, "_WHOLE_PIXELS", 0)
            # Bands of 64 rows, so that the scale bar is parted between two of them.
            patch.setattr(raster, "_HELD_BYTES", 1)
            streamed = true_size_png(scene, bar=bar)
        assert np.abs(unpacked(whole).astype(int) - unpacked(streamed).astype(int)).max() <= 1
        with Image.open(io.BytesIO(whole)) as one, Image.open(io.BytesIO(streamed)) as other:
            assert one.info["dpi"] == other.info["dpi"]
            other.verify()


def test_a_stream_with_alpha_and_bands_of_any_height() -> None:
    pixels = np.random.default_rng(3).integers(0, 256, (50, 31, 4), dtype=np.uint8)
    bands = (pixels[:7], pixels[7:8], pixels[8:])
    assert np.array_equal(unpacked(b"".join(png_stream(bands, 31, 50, 4, 5.0))), pixels)
    with pytest.raises(ValueError, match="50 rows; got 8"):
        b"".join(png_stream(bands[:2], 31, 50, 4, 5.0))
    with pytest.raises(ValueError, match="a band"):
        b"".join(png_stream((pixels[..., :3],), 31, 50, 4, 5.0))


def test_four_times_the_strip_is_four_times_the_stamping(monkeypatch: pytest.MonkeyPatch) -> None:
    # Counted, not timed: what is stamped, and on how many pixels.
    work = {"stamps": 0, "pixels": 0}
    stamp, shadow = stamps._stamp, raster._shadow

    def counted(*given: object) -> None:
        work["stamps"] += 1
        stamp(*given)  # type: ignore[arg-type]  # handed on as they came

    def seen(cover: "np.ndarray[tuple[int, ...], np.dtype[np.float64]]", scale: float) -> object:
        work["pixels"] += cover.size
        return shadow(cover, scale)

    monkeypatch.setattr(stamps, "_stamp", counted)
    monkeypatch.setattr(raster, "_shadow", seen)
    done = []
    for columns in (250, 1000):
        work.update(stamps=0, pixels=0)
        true_size_png(strip(columns))
        done.append(dict(work))
    for what in work:
        assert done[1][what] < 4.6 * done[0][what]


def test_a_long_picture_takes_little_memory() -> None:
    # 10 million pixels are 31 MB; a tile, its file and what else there is stay below as much again.
    scene = Scene(
        left_mm=0.0, top_mm=0.0, width_mm=2700.0, height_mm=HIGH_MM, ground=Ground.PAPER,
        beads=strip(20).beads,
    )  # fmt: skip
    tracemalloc.start()
    try:
        true_size_png(scene)
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert peak < 110_000_000


def test_threads_are_worked_out_many_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    strands: list[int] = []
    inked = strokes._inked

    def counted(ends_px: Floats, *given: object) -> object:
        strands.append(len(ends_px))
        return inked(ends_px, *given)  # type: ignore[arg-type]  # handed on as they came

    monkeypatch.setattr(strokes, "_inked", counted)
    draw(strip(90), 8.0)
    # One down each of 90 columns and 89 along; all that are in the picture, and few calls.
    assert sum(strands) == 179
    assert len(strands) < 12


def test_a_strip_of_a_thousand_motifs_is_one_band(monkeypatch: pytest.MonkeyPatch) -> None:
    scene = replace(strip(1), width_mm=19_600.0, height_mm=27.0)
    monkeypatch.setattr(Drawing, "part", lambda *_: None)
    assert len(list(Drawing(scene, px_per_mm_at(300.0), most_pixels=10**9).bands())) == 1


def test_one_band_is_let_go_before_the_next_is_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[weakref.ref[Pixels]] = []
    held: list[int] = []
    part = Drawing.part

    def watched(drawing: Drawing, *given: Any) -> Pixels:
        held.append(sum(one() is not None for one in drawn))
        made = part(drawing, *given)
        drawn.append(weakref.ref(made))
        return made

    monkeypatch.setattr(true_size, "_WHOLE_PIXELS", 0)
    monkeypatch.setattr(raster, "_HELD_BYTES", 1)
    monkeypatch.setattr(Drawing, "part", watched)
    for bar in (False, True):
        true_size_png(strip(20), bar=bar)
    assert len(held) > 8
    assert max(held) == 0


def test_no_picture_is_larger_than_can_be_opened() -> None:
    # Pillow opens up to twice its MAX_IMAGE_PIXELS.
    assert Image.MAX_IMAGE_PIXELS is not None
    most = 2 * Image.MAX_IMAGE_PIXELS
    assert most == true_size._MOST_PIXELS
    wide = replace(strip(1), width_mm=1.01 * most / px_per_mm_at(300.0) ** 2 / HIGH_MM)
    with pytest.raises(ValueError, match="at most"):
        true_size_png(wide)


def test_a_part_of_a_scene_shows_what_the_whole_shows_there() -> None:
    scene = strip(40)
    across = Across(scene)
    for left in (-3.0, 0.0, 10.37, 33.3, 70.0, 100.0):
        part = across.between(left, left + 13.0)
        window = (left, scene.top_mm, 13.0, scene.height_mm)
        assert beads_within(part, *window) == beads_within(scene, *window)
        near = list(threads_within(part, left, 13.0))
        assert near == list(threads_within(scene, left, 13.0))
    assert len(across.between(10.0, 20.0).beads) < len(scene.beads) / 5
