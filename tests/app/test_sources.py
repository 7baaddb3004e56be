"""Where colours come from, each to the end: a piece of nothing but beads at hand."""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from skimage import data
from streamlit.testing.v1 import AppTest

from explorer.app import stock, taps
from explorer.app.asking import Asked, beads_each, request
from explorer.app.demo import demo
from explorer.app.parts.photo import tap_place
from explorer.app.photographs import Photo, read
from explorer.app.refit import motif_hexes
from explorer.app.state import HISTORY, PALETTE_SEARCH, History, Work
from explorer.app.steps import brief_of
from explorer.app.taps import CHART, Taps
from explorer.app.using import used
from explorer.brief import Brief
from explorer.counts import counts
from explorer.errors import BriefError
from explorer.propose import Proposals, propose
from explorer.shelf import Shelf, default_path
from gallery.files import to_png
from palettes.extract import in_proportion
from palettes.measure import Measured
from palettes.swatches import Swatch
from palettes.tray import Tray, TrayBead
from palettes.tray_files import starter_tray

if TYPE_CHECKING:
    from tests.app.conftest import Site

TRAY = starter_tray()
CUP = np.ascontiguousarray(data.coffee())  # type: ignore[no-untyped-call]  # it has no types


def _all_at_hand(work: Work, tray: Tray) -> bool:
    """Whether every bead of the piece is in a box, and there are enough."""
    return all(use.there and not use.missing for use in stock.uses(work.piece.design, tray))


def _boxes(count: int) -> tuple[TrayBead, ...]:
    kind = demo().sizing.hanging
    return tuple(box for box in TRAY.beads if box.kind.name == kind)[:count]


def _swatches(boxes: tuple[TrayBead, ...]) -> tuple[Swatch, ...]:
    return tuple(Swatch(name=b.name, hex=b.hex, finish=b.finish) for b in boxes)


def test_a_piece_of_boxes_is_made_of_them_alone_base_and_all() -> None:
    boxes = _boxes(5)
    work = used(demo(), _swatches(boxes), boxes=boxes, tray=TRAY).work
    assert _all_at_hand(work, TRAY)
    assert work.tray.at_hand


def test_another_kind_of_bead_becomes_the_dangles() -> None:
    boxes = tuple(box for box in TRAY.beads if box.kind.name == "round 11/0")[:4]
    work = used(demo(), _swatches(boxes), boxes=boxes, tray=TRAY).work
    assert work.sizing.hanging == "round 11/0"
    assert _all_at_hand(work, TRAY)


def test_a_base_that_there_is_not_stays_and_that_is_said() -> None:
    boxes = _boxes(3)
    done = used(demo(), _swatches(boxes), boxes=boxes, tray=Tray(beads=boxes))
    assert done.work.tray.base == demo().tray.base
    assert any("stays" in words for words in done.words)


def test_of_a_colour_with_few_beads_only_so_many_motifs_are_made() -> None:
    few, *rest = _boxes(3)
    few = replace(few, grams=None, count=25)
    boxes = (few, *rest)
    tray = Tray(beads=(*boxes, *(b for b in TRAY.beads if b.kind.name == "cube 3")))
    work = used(demo(), _swatches(boxes), boxes=boxes, tray=tray).work
    # The demo's larger motif hangs 2 + 4 + 7 + 4 + 2 = 19 beads, so 25 make one motif.
    assert motif_hexes(work.piece.design).count(few.hex) <= 1
    assert _all_at_hand(work, tray)


def test_the_proportions_of_a_photograph_become_the_motifs() -> None:
    swatches = tuple(Swatch(name=h, hex=h) for h in ("#102040", "#e0a030", "#c02030"))
    shares = (0.45, 0.35, 0.2)
    work = used(demo(), swatches, shares=shares).work
    hexes = motif_hexes(work.piece.design)
    assert tuple(hexes.count(s.hex) for s in swatches) == in_proportion(shares, len(hexes))
    assert not work.tray.at_hand


def test_proposals_within_the_beads_at_hand_take_no_more_than_there_are() -> None:
    boxes = tuple(replace(box, grams=None, count=90) for box in _boxes(4))
    tray = Tray(beads=boxes)
    work = used(demo(), _swatches(boxes), boxes=boxes, tray=tray).work
    brief = brief_of(work, seed=1, count=6)
    assert isinstance(brief, Brief)
    other = replace(brief.colours[0], name="not mine")
    within = stock.limited(replace(brief, colours=(*brief.colours, other)), tray)
    assert within.stock == (90, 90, 90, 90, 0)
    found = propose(within)
    assert isinstance(found, Proposals)
    held = {box.bead: 90 for box in boxes}
    for proposal in found.proposals:
        design = proposal.design
        for entry in counts(design).by_bead:
            if entry.dangles:
                assert entry.dangles <= held[design.beads[entry.bead]]


def test_only_boxes_with_enough_come_into_question() -> None:
    work = demo()
    each = beads_each(work, 6)
    # 11 motifs of 19 and 16 beads in turn: 6 * 19 + 5 * 16 = 194; a sixth of it is 32.33.
    assert counts(work.piece.design).dangle_beads == 194
    assert each == 33
    asked = request(Asked(), work, TRAY)
    assert asked.beads_each == 33
    assert asked.tray is not None
    assert {box.kind.name for box in asked.tray.beads} == {work.sizing.hanging}
    with pytest.raises(BriefError, match="budget"):
        request(Asked(budget="dear"), work, TRAY)


def test_a_tap_outside_or_of_nothing_is_none() -> None:
    assert tap_place({"tap": {"n": 1, "x": 0.5, "y": 0.25}}) == (0.5, 0.25)
    for sent in (None, {}, {"tap": 3}, {"tap": {"x": "a", "y": 0.1}}, {"tap": {"x": 1.2, "y": 0}}):
        assert tap_place(sent) is None


def _pile(card: tuple[int, int, int], bead: tuple[int, int, int]) -> Photo:
    pixels = np.full((300, 400, 3), (90, 80, 70), dtype=np.uint8)
    pixels[50:250, 20:180] = card
    pixels[50:250, 220:380] = bead
    return read(to_png(pixels), "pile.png")


def test_taps_give_the_colour_that_the_card_says() -> None:
    # Under white light a card of 90 % sends back sRGB 243 (IEC 61966-2-1, worked out by hand:
    # 1.055 * 0.9 ** (1 / 2.4) - 0.055 = 0.955), so a picture with such a card is left as it is.
    shot = _pile((243, 243, 243), (150, 60, 70))
    at = Taps(mark=shot.mark).with_tap((0.25, 0.5))
    assert taps.measured(at, shot) is None
    found = taps.measured(at.with_tap((0.75, 0.5)), shot)
    assert isinstance(found, Measured)
    channels = np.array([int(found.hex[at : at + 2], 16) for at in (1, 3, 5)])
    assert abs(channels - (150, 60, 70)).max() <= 1


def test_corners_in_a_line_are_no_chart() -> None:
    shot = _pile((243, 243, 243), (150, 60, 70))
    at = Taps(mark=shot.mark, way=CHART)
    for x in (0.1, 0.2, 0.3, 0.4, 0.7):
        at = at.with_tap((x, 0.5))
    assert (len(at.white), len(at.beads)) == (4, 1)
    assert not isinstance(taps.measured(at, shot), Measured)


def test_a_picture_that_cannot_be_used_says_what_to_do() -> None:
    for content in (b"no picture", b"\0\0\0\x18ftypheic\0\0\0\0", b""):
        with pytest.raises(BriefError) as caught:
            read(content, "x.jpg")
        assert caught.value.got == ("x.jpg, a HEIC picture" if b"heic" in content else "x.jpg")


def _page() -> None:
    from explorer.app import session
    from explorer.app.views import colours

    session.begin()
    colours.view()


def _run(source: str, **state: object) -> AppTest:
    Shelf(default_path()).keep_tray(stock.with_new(stock.Boxes(), TRAY.beads).content)
    app = AppTest.from_function(_page, default_timeout=60)
    app.session_state["source"] = source
    for key, value in state.items():
        app.session_state[key] = value
    app.run()
    assert not app.exception
    return app


def _work(app: AppTest) -> Work:
    held = app.session_state[HISTORY]
    assert isinstance(held, History)
    return held.now


def _notes(app: AppTest) -> str:
    return " ".join(element.proto.body for element in app.get("html"))


@pytest.mark.parametrize("mood", ["summer", "quiet", "apart"])
def test_a_mood_ends_in_a_piece_of_beads_at_hand(mood: str) -> None:
    app = _run("mood", source_mood_name=mood)
    app.button(key="source_mood_use").click().run()
    assert not app.exception
    assert len(_work(app).tray.swatches) == 6
    assert _all_at_hand(_work(app), TRAY)
    assert "The piece above has these colours now" in _notes(app)
    app.button(key="undo").click().run()
    assert _work(app) == demo()


def test_another_seed_gives_another_palette() -> None:
    app = _run("mood")
    found = set()
    for _ in range(3):
        app.button(key="source_mood_use").click().run()
        found.add(_work(app).tray.swatches)
        app.button(key="source_mood_another").click().run()
    assert len(found) > 1


def test_the_page_tells_of_a_palette_that_was_ended_early_and_looks_on() -> None:
    app = _run("mood", source_mood_name="apart")
    assert "proved" in _notes(app)
    assert "Ended early" not in _notes(app)
    held = app.session_state[PALETTE_SEARCH]
    held.stopped = True
    held._found = replace(held.result(), proven=False, stopped=True)
    app.run()
    assert "Ended early: the best found so far, not proved." in _notes(app)
    app.button(key="source_mood_use")
    app.button(key="source_mood_on").click().run()
    assert "Ended early" not in _notes(app)
    assert not [button for button in app.button if button.key == "source_mood_on"]


def test_three_picks_of_a_child_end_in_a_piece_of_beads_at_hand() -> None:
    picks = [b for b in TRAY.beads if b.name in ("Coral Bell", "Duck Pond", "Pear Drop")]
    app = _run("picks", source_picks_beads=tuple(bead.key for bead in picks))
    app.button(key="source_picks_use").click().run()
    work = _work(app)
    assert {bead.hex for bead in picks} <= {s.hex for s in work.tray.swatches}
    assert _all_at_hand(work, TRAY)


def test_a_scheme_around_a_grey_is_told_and_nothing_changes() -> None:
    free = Asked(from_beads=False)
    app = _run("picks", source_asked=free, source_picks_colours=("#808080",))
    app.selectbox(key="source_scheme").select("triad").run()
    assert not app.exception
    assert "nearly grey" in _notes(app)
    assert _work(app) == demo()


def test_a_photograph_ends_in_a_piece_of_beads_at_hand() -> None:
    app = _run("photo")
    png = to_png(CUP)
    app.file_uploader(key="source_file").upload("cup.png", png, "image/png").run()
    assert not app.exception
    app.checkbox(key="source_photo_in_shares").check().run()
    app.button(key="source_photo_use").click().run()
    assert not app.exception
    assert _all_at_hand(_work(app), TRAY)
    before = _work(app)
    app.file_uploader(key="source_file").upload("x.png", b"none", "image/png").run()
    assert "dw-fault" in _notes(app)
    assert _work(app) == before


def test_a_palette_comes_from_pasted_text_and_rubbish_changes_nothing() -> None:
    app = _run("palettes")
    css = "a { color: #1f8a83 } b { color: #d1495b; border: 1px solid #f2c14e }"
    app.text_area(key="palette_pasted").set_value(css).run()
    hexes = [s.hex for s in _work(app).tray.swatches]
    assert hexes == ["#1f8a83", "#d1495b", "#f2c14e"]
    before = _work(app)
    for text in ("no colours", "JASC-PAL\n0100\n5\n1 2 3", "x" * 300_000):
        app.text_area(key="palette_pasted").set_value(text).run()
        assert not app.exception
        assert "dw-fault" in _notes(app)
        assert app.text_area(key="palette_pasted").value == text
        assert _work(app) == before


@pytest.mark.browser
def test_a_photograph_and_a_measured_bead_in_a_browser(site: "Site", tmp_path: Path) -> None:
    from playwright.sync_api import expect

    picture = tmp_path / "cup.png"
    picture.write_bytes(to_png(CUP))
    page = site.page
    site.open("colours")
    page.get_by_role("radio", name="From a photograph").click()
    page.get_by_text("It stays on this computer.").wait_for()
    site.settle()
    page.locator("[data-testid=stFileUploaderDropzoneInput]").first.set_input_files(picture)
    page.get_by_role("radio", name="Any colour").click()
    page.locator(".dw-found .one").nth(5).wait_for()
    site.settle()
    assert page.locator(".photo .mark").count() == 6
    page.get_by_role("button", name="Use these colours").click()
    page.get_by_text("The piece above has these colours now.").wait_for()
    site.settle()
    assert page.evaluate("document.documentElement.scrollWidth") <= page.evaluate("innerWidth")

    pile = tmp_path / "pile.png"
    pile.write_bytes(to_png(_pile((243, 243, 243), (150, 60, 70)).pixels))
    site.open("beads")
    page.get_by_text("Measure a colour from a photograph").click()
    page.get_by_text("Lay a pile of one bead").wait_for()
    page.locator("[data-testid=stFileUploaderDropzoneInput]").first.set_input_files(pile)
    frame = page.locator(".photo .frame")
    frame.wait_for()
    site.settle()
    frame.scroll_into_view_if_needed()
    box = frame.bounding_box()
    assert box is not None
    frame.click(position={"x": 0.25 * box["width"], "y": 0.5 * box["height"]})
    page.get_by_text("Tap the beads.").wait_for()
    frame.focus()
    # The ring stands where the last tap was; a step of the keys is a fiftieth.
    for _ in range(25):
        page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    page.get_by_text("#963c46").wait_for()
    page.get_by_role("button", name="Take this colour for the bead above").click()
    site.settle()
    expect(page.get_by_role("textbox", name="Colour")).to_have_value("#963c46")
