"""Contact sheets, pictures to show around, true size, vector pictures, grounds and squint."""

import io
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from PIL import Image
from skimage.filters import gaussian

from gallery.contact_sheet import SheetStyle, contact_sheet
from gallery.files import lined, text_size
from gallery.framing import framed, scale_to_fit
from gallery.grounds import GROUND_SRGB1, on_ground
from gallery.raster import draw
from gallery.scene import Ground, MetalRing, PlacedBead, Pose, Scene, Thread
from gallery.social import FORMAT_PX, Format, social
from gallery.squint import spread_mm, squint
from gallery.true_size import bar_length_mm, px_per_mm_at, true_size_png, with_scale_bar
from gallery.vector import to_svg
from palettes.finishes import Finish
from palettes.forms import Form
from palettes.spaces import linear1_to_srgb1, srgb1_to_linear1

SVG = "{http://www.w3.org/2000/svg}"


def _scene() -> Scene:
    beads = tuple(
        PlacedBead(
            x_mm=2.0 + 2.1 * number,
            y_mm=3.0,
            across_mm=2.0,
            along_mm=1.5,
            hole_mm=0.8,
            form=tuple(Form)[number % 5],
            finish=tuple(Finish)[number % 11],
            pose=Pose.END if number % 3 == 0 else Pose.SIDE,
            srgb1=(0.2, 0.1 * (number % 4), 0.6),
            tag=f'm{number}."<&' if number == 0 else f"m{number}.c0.b0",
        )
        for number in range(12)
    )
    return Scene(
        left_mm=0.0,
        top_mm=0.0,
        width_mm=28.0,
        height_mm=6.0,
        beads=beads,
        threads=(Thread(points_mm=((1.0, 3.0), (27.0, 3.0))),),
        rings=(MetalRing(x_mm=26.5, y_mm=3.0, width_mm=2.0, height_mm=2.0),),
    )


def test_a_contact_sheet_holds_every_picture_unchanged() -> None:
    pictures = [np.full((20, 30, 3), 40 * number, np.uint8) for number in range(5)]
    style = SheetStyle(columns=2, gap_px=10)
    sheet = contact_sheet(pictures, [f"no. {n}\nsecond" for n in range(5)], style=style)
    for number in range(5):
        level = 40 * number
        assert np.sum(np.all(sheet == level, axis=-1)) >= 600 - 5
    assert sheet.shape[1] == 2 * 30 + 3 * 10


def test_captions_of_a_contact_sheet_are_told_whole() -> None:
    words = (
        "12. strongest contrast: peak by turns, 5 colours mirrored about the middle, tips in Rust"
    )
    lines = lined(words, 26, 400)
    assert " ".join(lines) == words
    assert len(lines) >= 3
    assert all(text_size(line, 26)[0] <= 400 for line in lines)
    assert lined("m" * 60, 26, 400)[0].endswith("…")
    pictures = [np.full((200, 400, 3), 90, np.uint8)] * 2
    style = SheetStyle(columns=1, gap_px=40, text_px=26)
    short, long = (contact_sheet(pictures, [caption, "2"], style=style) for caption in ("1", words))
    more = long.shape[0] - short.shape[0]
    assert more > 0
    assert more % 2 == 0
    # The last word of the first caption stands where the next picture would have begun.
    below = 40 + 200 + 40 // 3 + (len(lines) - 1) * round(26 * 1.35)
    assert np.any(long[below : below + 26, 40:440] != long[0, 0])


def test_a_contact_sheet_of_nothing_or_of_unequal_lists_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one"):
        contact_sheet([])
    with pytest.raises(ValueError, match="1 pictures want as many captions; got 2"):
        contact_sheet([np.zeros((4, 4, 3), np.uint8)], ["a", "b"])
    with pytest.raises(ValueError, match="1 column"):
        SheetStyle(columns=0)


def test_a_title_stands_over_the_pictures() -> None:
    picture = np.full((30, 200, 3), 90, np.uint8)
    plain = contact_sheet([picture])
    titled = contact_sheet([picture], title="Pieces for summer")
    assert titled.shape[0] > plain.shape[0]
    assert np.any(titled[: titled.shape[0] - plain.shape[0]] < 100)


@pytest.mark.parametrize("size", [(400, 200), (200, 400), (333, 77)])
def test_a_framed_scene_fills_a_picture_exactly(size: tuple[int, int]) -> None:
    fitted, scale = framed(_scene(), *size)
    assert draw(fitted, scale).shape == (size[1], size[0], 3)
    assert fitted.width_mm >= 28.0 - 1e-9
    assert fitted.height_mm >= 6.0 - 1e-9
    assert scale > 0.9 * min(size[0] / 28.0, size[1] / 6.0)


def test_no_picture_is_smaller_than_a_pixel() -> None:
    with pytest.raises(ValueError, match="at least 1 x 1"):
        scale_to_fit(_scene(), 0, 10)


@pytest.mark.parametrize("fmt", list(Format))
def test_a_picture_to_show_around_has_its_format_and_its_caption(fmt: Format) -> None:
    width, height = FORMAT_PX[fmt]
    bare = social(_scene(), fmt)
    told = social(_scene(), fmt, caption="Twelve beads\nin a row\nnever shown")
    assert bare.shape == told.shape == (height, width, 3)
    below = told[-150:].astype(int).min(axis=-1)
    assert np.any(below < 100)
    assert not np.any(bare[-100:].min(axis=-1) < 100)


def test_a_caption_on_slate_is_light() -> None:
    told = social(on_ground(_scene(), Ground.SLATE), caption="Twelve beads")
    assert told[-110:].max() > 230


def test_true_size_at_300_dpi_measures_as_it_should() -> None:
    png = true_size_png(_scene(), bar=False)
    with Image.open(io.BytesIO(png)) as image:
        across_dpi, down_dpi = image.info["dpi"]
        assert abs(image.width / across_dpi * 25.4 - 28.0) < 0.05
        assert abs(image.height / down_dpi * 25.4 - 6.0) < 0.05


def test_the_scale_bar_is_as_long_as_it_says() -> None:
    paper = np.full((120, 900, 3), 250, np.uint8)
    barred = with_scale_bar(paper, 12.0)
    assert bar_length_mm(900, 12.0) == 20
    rows = np.sum(np.all(barred == (42, 39, 35), axis=-1), axis=1)
    assert rows.max() == 20 * 12
    assert px_per_mm_at(254.0) == pytest.approx(10.0)
    with pytest.raises(ValueError, match="above 0"):
        px_per_mm_at(0.0)


def test_a_true_size_picture_too_large_is_refused_with_the_largest() -> None:
    vast = Scene(left_mm=0, top_mm=0, width_mm=9000, height_mm=2000)
    with pytest.raises(ValueError, match="at most"):
        true_size_png(vast)


def test_the_vector_picture_has_every_bead_at_true_size() -> None:
    scene = _scene()
    root = ET.fromstring(to_svg(scene))  # noqa: S314  # our own text
    assert root.get("width") == "28mm"
    assert root.get("viewBox") == "0 0 28 6"
    uses = root.findall(f"{SVG}use")
    assert len(uses) == len(scene.beads)
    assert {use.get("data-bead") for use in uses} == {bead.tag for bead in scene.beads}
    ids = {node.get("id") for node in root.iter() if node.get("id")}
    assert all((use.get("href") or "#")[1:] in ids for use in uses)
    first = scene.beads[0]
    assert (uses[0].get("transform") or "").startswith(f"translate({first.x_mm:g} {first.y_mm:g})")


@pytest.mark.parametrize("ground", [ground for ground in Ground if ground is not Ground.PLAIN])
def test_a_ground_keeps_its_mean_colour(ground: Ground) -> None:
    scene = on_ground(Scene(left_mm=0, top_mm=0, width_mm=60, height_mm=40), ground)
    pixels = draw(scene, 6.0)
    mean = linear1_to_srgb1(srgb1_to_linear1(pixels / 255.0).mean(axis=(0, 1)))
    assert np.abs(mean - np.array(GROUND_SRGB1[ground])).max() < 0.04
    assert pixels.std(axis=(0, 1)).max() > 0.3


def test_a_ground_nobody_knows_is_refused() -> None:
    with pytest.raises(ValueError, match="sand"):
        on_ground(_scene(), "sand")


def test_squinting_spreads_light_as_a_gaussian_of_the_eye_s_minute() -> None:
    # One minute of arc at 3 m is 0.873 mm (tan of 1/60 degree times 3000).
    assert spread_mm(3000.0) == pytest.approx(0.5 * 0.8727, abs=1e-4)
    pixels = draw(_scene(), 8.0)
    ours = srgb1_to_linear1(squint(pixels, 8.0, 2000.0) / 255.0)
    linear = srgb1_to_linear1(pixels / 255.0)
    sigma = spread_mm(2000.0) * 8.0
    theirs = gaussian(  # type: ignore[no-untyped-call]  # skimage has no types
        linear, sigma=sigma, mode="nearest", truncate=3.0, channel_axis=-1
    )
    assert np.abs(ours - theirs).max() < 0.006
    with pytest.raises(ValueError, match="above 0"):
        spread_mm(0.0)
