"""Pictures as files: every view for every use, and what cannot be is said."""

import io
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from explorer.app.demo import demo
from explorer.counts import counts
from explorer.design import Design
from explorer.errors import BriefError
from explorer.picture_files import LEAST_PX, MOST_PX, PictureAsk, Use, View, picture_file
from gallery.scene import Ground
from palettes.finishes import Finish
from tests.explorer.columns import with_columns

PIECE = demo().piece
DESIGN = PIECE.design
SHORT = with_columns(DESIGN, motifs=DESIGN.motifs[:3], dividers=DESIGN.dividers[:4])
GIRTH_MM = PIECE.wearer.snug_mm if PIECE.wearer else 0.0


def ask(**changes: object) -> PictureAsk:
    return replace(PictureAsk(design=DESIGN, girth_mm=GIRTH_MM, longer_px=600), **changes)  # type: ignore[arg-type]  # our names


def opened(asked: PictureAsk) -> Image.Image:
    ending, content = picture_file(asked)
    assert ending == "png"
    return Image.open(io.BytesIO(content))


@pytest.mark.parametrize("view", list(View))
@pytest.mark.parametrize("use", list(Use))
def test_every_view_for_every_use(view: View, use: Use) -> None:
    # A piece of three motifs, worn on a thin wrist.
    asked = ask(design=SHORT, girth_mm=60.0, view=view, use=use)
    if view is View.WORN and use in (Use.TRUE_SIZE, Use.CLEAR, Use.VECTOR):
        with pytest.raises(BriefError, match="flat view"):
            picture_file(asked)
        return
    if use is Use.VECTOR:
        ending, content = picture_file(asked)
        assert ending == "svg"
        assert ET.fromstring(content).tag.endswith("svg")  # noqa: S314  our own file
        return
    picture = opened(asked)
    if use in (Use.SCREEN, Use.CLEAR):
        assert max(picture.size) == 600
    assert picture.mode == ("RGBA" if use is Use.CLEAR else "RGB")
    if use in (Use.SQUARE, Use.UPRIGHT):
        assert picture.size == {Use.SQUARE: (1080, 1080), Use.UPRIGHT: (1080, 1350)}[use]


def test_true_size_prints_at_true_size() -> None:
    picture = opened(ask(use=Use.TRUE_SIZE))
    # ISO/IEC 15948: pHYs holds pixels per metre; 300 dots an international inch of 25.4 mm.
    across_dpi, down_dpi = picture.info["dpi"]
    assert across_dpi == pytest.approx(300.0, abs=0.1)
    assert down_dpi == pytest.approx(300.0, abs=0.1)
    assert picture.size[0] / across_dpi * 25.4 >= DESIGN.strip_mm


def test_lines_hold_every_bead() -> None:
    _, content = picture_file(ask(use=Use.VECTOR))
    assert content.count(b"data-bead=") == counts(DESIGN).total


def _pixels(asked: PictureAsk) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    return np.asarray(opened(asked).convert("RGB"), np.float64)


def test_ground_skin_and_caption_are_seen() -> None:
    paper, slate = _pixels(ask()), _pixels(ask(ground=Ground.SLATE))
    assert paper[0, 0].mean() > slate[0, 0].mean() + 100.0
    light = _pixels(ask(view=View.WORN, skin="#f6ede4"))
    dark = _pixels(ask(view=View.WORN, skin="#292420"))
    middle = light.shape[1] // 2
    assert light[5, middle].mean() > dark[5, middle].mean() + 100.0
    bare = _pixels(ask(use=Use.SQUARE, view=View.LOOP))
    named = _pixels(ask(use=Use.SQUARE, view=View.LOOP, caption="Summer"))
    assert np.abs(bare - named).max() > 100.0


def test_beads_alike_have_no_small_differences() -> None:
    # The second and the fourth motif of the demo have one outline; here all beads look the same.
    beads = tuple(replace(bead, hex="#2fa79b", finish=Finish.OPAQUE) for bead in DESIGN.beads)
    one = replace(DESIGN, beads=beads)
    alike = [_motif(one, place, alike=True) for place in (1, 3)]
    real = _motif(one, 1, alike=False)
    assert np.array_equal(alike[0], alike[1])
    assert not np.array_equal(alike[0], real)


def _motif(
    design: Design, place: int, *, alike: bool
) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    alone = with_columns(
        design, motifs=(design.motifs[place],), dividers=design.dividers[place : place + 2]
    )
    return _pixels(ask(design=alone, view=View.CLOSE, alike=alike, longer_px=300))


def test_no_girth_and_odd_sizes_are_said_so() -> None:
    with pytest.raises(BriefError, match="measured for someone"):
        picture_file(ask(view=View.WORN, girth_mm=None))
    with pytest.raises(BriefError, match="goes round"):
        picture_file(ask(view=View.WORN, girth_mm=400.0))
    for px in (0, LEAST_PX - 1, MOST_PX + 1, -5):
        with pytest.raises(BriefError, match="pixels"):
            picture_file(ask(longer_px=px))


def test_what_would_be_too_large_is_refused_with_a_way_out() -> None:
    motifs = DESIGN.motifs * 100
    long = with_columns(DESIGN, motifs=motifs, dividers=(DESIGN.dividers[0],) * (len(motifs) + 1))
    with pytest.raises(BriefError, match="can be drawn"):
        picture_file(ask(design=long, use=Use.TRUE_SIZE, view=View.LOOP))


def test_one_motif_has_every_view() -> None:
    one = with_columns(DESIGN, motifs=DESIGN.motifs[:1], dividers=DESIGN.dividers[:2])
    for view in (View.STRIP, View.ROWS, View.LOOP, View.CLOSE):
        assert max(opened(ask(design=one, view=view)).size) == 600
