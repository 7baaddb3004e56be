"""A page as a picture: true to its measures, and to the PDF as another program draws it."""

import io
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path as FilePath

import numpy as np
import pytest
from PIL import Image

from gallery.page import A4, LETTER, Document, Heading, Paper, Ruler, Text, Title
from gallery.page_ink import Drawing, Look, OneBead, Oval, Path, Photo, Shown, box
from gallery.page_picture import drawing_picture, page_picture
from gallery.pdf import to_pdf
from gallery.scene import MetalRing, PlacedBead, Scene, Thread

DOCUMENT = Document(
    title="A page",
    blocks=(
        Title(text="A page", under="Ελληνικά, Кириллица"),
        Heading(text="A part", number="1"),
        Text(text="Some words to read. " * 30),
        Ruler(),
    ),
    foot="the foot",
)


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_a_page_has_its_papers_shape(paper: Paper) -> None:
    picture = page_picture(DOCUMENT, paper, width_px=600)
    high, wide, parts = picture.shape
    assert (wide, parts) == (600, 3)
    assert high == round(600 * paper.height_mm / paper.width_mm)


def test_lengths_are_true() -> None:
    # 50 mm on 100 mm of paper are half of its width
    line = Path(points_mm=((25.0, 10.0), (75.0, 10.0)), width_mm=1.0)
    picture = drawing_picture(Drawing(width_mm=100.0, height_mm=20.0, marks=(line,)), 1000)
    dark = np.flatnonzero((picture[100] < 128).all(axis=1))
    assert dark[0] == pytest.approx(250, abs=4)
    assert dark[-1] == pytest.approx(750, abs=4)


def test_a_dashed_line_is_half_gaps() -> None:
    line = Path(points_mm=((0.0, 5.0), (100.0, 5.0)), width_mm=2.0, dash_mm=5.0)
    picture = drawing_picture(Drawing(width_mm=100.0, height_mm=10.0, marks=(line,)), 1000)
    assert (picture[50] < 128).all(axis=1).mean() == pytest.approx(0.5, abs=0.05)


SCENE = Scene(
    left_mm=0.0,
    top_mm=0.0,
    width_mm=40.0,
    height_mm=20.0,
    beads=(
        PlacedBead(
            x_mm=10.0, y_mm=10.0, across_mm=8.0, along_mm=6.0, hole_mm=2.0, srgb1=(0.8, 0.1, 0.1)
        ),
    ),
    threads=(Thread(points_mm=((20.0, 2.0), (20.0, 18.0)), width_mm=0.8),),
    rings=(MetalRing(x_mm=32.0, y_mm=10.0, width_mm=10.0, height_mm=10.0, wire_mm=1.5),),
)


def shown(look: Look, left_mm: float = 0.0) -> np.typing.NDArray[np.uint8]:
    """The scene's part from there on, ten pixels a millimetre, at (5, 5)."""
    mark = Shown(
        x_mm=5.0, y_mm=5.0, scene=SCENE, left_mm=left_mm, top_mm=0.0, width_mm=40.0 - left_mm,
        height_mm=20.0, look=look,
    )  # fmt: skip
    return drawing_picture(Drawing(width_mm=50.0, height_mm=30.0, marks=(mark,)), 500)


def is_red(pixels: np.typing.NDArray[np.uint8]) -> np.typing.NDArray[np.bool_]:
    linear = pixels.astype(int)
    return np.asarray(linear[..., 0] - linear[..., 1] > 60)


def test_a_scene_stands_where_it_is_put() -> None:
    glass = shown(Look.GLASS)
    rows, columns = np.nonzero(is_red(glass))
    # The bead's centre, ten pixels a millimetre, in the scene's own place and the mark's.
    assert columns.mean() == pytest.approx(150, abs=4)
    assert rows.mean() == pytest.approx(150, abs=6)
    assert columns.max() - columns.min() == pytest.approx(80, abs=6)
    # Thread and wire: dark on white, the middle of the ring free.
    assert glass[150, 250].max() < 200
    assert (glass[150, 370] == 255).all()
    assert glass[150, 370 - 43].max() < 200
    assert glass[150, 370 + 43].max() < 200


def test_outlines_have_no_colour_and_no_thread() -> None:
    outline = shown(Look.OUTLINE)
    assert not is_red(outline).any()
    assert (outline[150, 250] == 255).all()
    # The line round the bead: white within, ink where its side is.
    assert (outline[150, 150] == 255).all()
    assert outline[150, 106:116].min() < 128


def test_a_window_shows_its_part_only() -> None:
    part = shown(Look.GLASS, left_mm=25.0)
    assert not is_red(part).any()
    # The ring alone, 25 mm farther left.
    ink = np.flatnonzero((part[150] < 200).all(axis=1))
    assert ink.min() == pytest.approx(10 * (5 + 27 - 25), abs=4)
    assert ink.max() == pytest.approx(10 * (5 + 37 - 25), abs=4)


def test_an_oval_is_as_wide_as_it_says() -> None:
    oval = Oval(x_mm=30.0, y_mm=15.0, rx_mm=20.0, ry_mm=5.0, width_mm=1.0, fill=(0.1, 0.5, 0.2))
    picture = drawing_picture(Drawing(width_mm=60.0, height_mm=30.0, marks=(oval,)), 600)
    across = np.flatnonzero((picture[150] < 255).any(axis=1))
    down = np.flatnonzero((picture[:, 300] < 255).any(axis=1))
    assert across[-1] - across[0] == pytest.approx(410, abs=4)
    assert down[-1] - down[0] == pytest.approx(110, abs=4)
    assert picture[150, 300].tolist() == pytest.approx([26, 128, 51], abs=1)


def test_a_photograph_of_a_scene_fills_its_frame() -> None:
    photo = Photo(x_mm=10.0, y_mm=5.0, scene=SCENE, width_mm=30.0)
    picture = drawing_picture(Drawing(width_mm=50.0, height_mm=30.0, marks=(photo,)), 500)
    rows, columns = np.nonzero(is_red(picture))
    assert columns.mean() == pytest.approx(10 * (10 + 10 * 30 / 40), abs=6)
    assert rows.mean() == pytest.approx(10 * (5 + 10 * 30 / 40), abs=6)


def test_a_bead_as_a_sign_stands_where_its_words_do() -> None:
    sign = OneBead(x_mm=20.0, y_mm=10.0, bead=replace(SCENE.beads[0], x_mm=0.0, y_mm=0.0))
    aside = OneBead(x_mm=10.0, y_mm=0.0, bead=SCENE.beads[0])
    one, other = (
        drawing_picture(Drawing(width_mm=40.0, height_mm=20.0, marks=(mark,)), 400)
        for mark in (sign, aside)
    )
    assert np.nonzero(is_red(one))[1].mean() == pytest.approx(200, abs=4)
    assert (one == other).all()


def test_what_there_is_not_is_refused() -> None:
    with pytest.raises(ValueError, match="pages 0 to 0"):
        page_picture(DOCUMENT, page=1)
    with pytest.raises(ValueError, match="wide"):
        page_picture(DOCUMENT, width_px=5)
    drawing = Drawing(width_mm=9.0, height_mm=9.0, marks=(box(0, 0, 9, 9),))
    with pytest.raises(ValueError, match="wide"):
        drawing_picture(drawing, 9000)


def test_the_picture_is_the_pdf(tmp_path: FilePath) -> None:
    poppler = shutil.which("pdftoppm")
    if poppler is None:
        pytest.skip("no pdftoppm to draw the PDF with")
    (tmp_path / "page.pdf").write_bytes(to_pdf(DOCUMENT, A4).pdf)
    command = [poppler, "-scale-to-x", "800", "-scale-to-y", "-1", "-png", "page.pdf", "page"]
    subprocess.run(command, cwd=tmp_path, check=True)
    (drawn,) = tmp_path.glob("page*.png")
    ours = Image.fromarray(page_picture(DOCUMENT, A4, width_px=800))
    other = Image.open(io.BytesIO(drawn.read_bytes())).convert("RGB").resize(ours.size)
    a, b = (_ink(image) for image in (ours, other))
    # Ink stands in the same places; a hair's breadth beside them it would not.
    alike = np.corrcoef(a.ravel(), b.ravel())[0, 1]
    beside = np.corrcoef(a.ravel(), np.roll(b, 1, axis=0).ravel())[0, 1]
    assert alike > 0.93
    assert beside < 0.8


def _ink(image: Image.Image) -> np.typing.NDArray[np.float64]:
    """Where ink is, on a grid of squares of about a millimetre and a half."""
    return 255.0 - np.asarray(image.convert("L").resize((140, 198), Image.Resampling.BOX), float)
