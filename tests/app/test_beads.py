"""The maker's own beads: put down, changed, read, saved, taken off, and kept between sessions."""

import csv
import io
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from streamlit.testing.v1 import AppTest

from explorer.app import stock, using
from explorer.app.bead_order import Looking, ordered
from explorer.app.bead_rows import bead_of, put, texts_of
from explorer.app.demo import demo
from explorer.app.parts.bead_files import fault_table
from explorer.app.parts.take_off import use_table
from explorer.app.stock import Boxes, Stock
from explorer.counts import counts
from explorer.shelf import Shelf
from palettes.charts import bead_kinds
from palettes.spaces import hex_to_srgb1, lab_to_lch, srgb1_to_lab
from palettes.swatches import Swatch
from palettes.tray import Tray, TrayBead, taken_off
from palettes.tray_files import starter_tray
from palettes.tray_read import parse_tray

if TYPE_CHECKING:
    from tests.app.conftest import Site

ROUND = bead_kinds()["round 8/0"]
GOOD = "name,kind,colour,grams,mine\nTeal,round 8/0,#1f8a83,12,x\nPlum,round 8/0,#5b2a5f,,y\n"
BAD = GOOD + "Grey,round 8/0,grey,2,z\n"


def _bead(name: str, hex_: str = "#1f8a83", **more: object) -> TrayBead:
    return TrayBead(name=name, kind=ROUND, hex=hex_, **more)  # type: ignore[arg-type]


def test_steps_go_back_and_forth_and_a_step_that_changes_nothing_is_none() -> None:
    first = Stock(now=stock.read(GOOD, "x"))
    assert stock.changed(first, first.now) is first
    second = stock.changed(first, stock.without(first.now, 0))
    assert [b.name for b in second.tray.beads] == ["Plum"]
    assert stock.undone(second).now == first.now
    assert stock.redone(stock.undone(second)).now == second.now


def test_beads_are_written_back_with_what_was_in_their_file() -> None:
    boxes = stock.read(GOOD.encode(), "x")
    assert boxes.content == GOOD.encode()
    more = stock.with_new(boxes, (_bead("Moss", "#40602f"), _bead("Teal", "#000000")))
    rows = list(csv.reader(io.StringIO(more.content.decode())))
    assert rows[1] == ["Teal", "round 8/0", "#1f8a83", "12", "x"]
    assert [row[0] for row in rows] == ["name", "Teal", "Plum", "Moss"]


def test_the_starter_beads_join_and_a_second_time_change_nothing() -> None:
    once = stock.with_new(Boxes(), starter_tray().beads)
    assert len(once.tray.beads) == len(starter_tray().beads)
    assert stock.with_new(once, starter_tray().beads) == once
    # What is written down can be read again, whole.
    assert [b.key for b in stock.read(once.content, "x").tray.beads] == [
        b.key for b in once.tray.beads
    ]


def test_more_beads_than_a_tray_holds_are_refused() -> None:
    with pytest.raises(ValueError, match="at most 5000"):
        stock.with_new(Boxes(), (_bead(str(n)) for n in range(5001)))


@pytest.mark.parametrize(
    ("change", "column"),
    [
        ({"name": " "}, "name"),
        ({"colour": "teal"}, "colour"),
        ({"grams": "-3"}, "grams"),
        ({"count": "2.5"}, "count"),
        ({"price": "dear"}, "price"),
        ({"lot": "x" * 201}, "lot"),
    ],
)
def test_a_box_that_makes_no_sense_is_named(change: dict[str, str], column: str) -> None:
    found = bead_of({**texts_of(_bead("Teal")), **change})
    assert isinstance(found, dict)
    assert list(found) == [column]


@pytest.mark.parametrize("name", ["=1+1", "'quoted", 'with "marks", and commas', "<b>bold</b>"])
def test_any_name_comes_through_the_boxes(name: str) -> None:
    bead = _bead(name, grams=12.5, count=3, price=0.25, lot="-7x", kept="@home")
    found = bead_of(texts_of(bead))
    assert isinstance(found, TrayBead)
    assert replace(found, row=None) == bead


def test_two_beads_of_one_name_kind_and_lot_cannot_be() -> None:
    boxes = stock.read(GOOD, "x")
    teal = boxes.tray.beads[0]
    assert isinstance(put(boxes, None, teal), dict)
    assert isinstance(put(boxes, 1, teal), dict)
    other = put(boxes, None, replace(teal, lot="second"))
    assert isinstance(other, Boxes)
    assert len(other.tray.beads) == 3


def test_orders_to_look_through() -> None:
    tray, kinds = starter_tray(), dict(bead_kinds())
    light = ordered(tray, Looking(order="light"), kinds)
    lightness = [srgb1_to_lab(hex_to_srgb1(tray.beads[p].hex))[0] for p in light]
    assert lightness == sorted(lightness, reverse=True)
    few = [tray.beads[p].stock or 0 for p in ordered(tray, Looking(order="few"), kinds)]
    assert few == sorted(few)
    near = ordered(tray, Looking(order="near", near=tray.beads[7].hex), kinds)
    assert tray.beads[near[0]].hex == tray.beads[7].hex
    hues = [
        lab_to_lch(srgb1_to_lab(hex_to_srgb1(tray.beads[p].hex)))
        for p in ordered(tray, Looking(order="hue"), kinds)
    ]
    colourful = [round(hue / 20.0) for _, chroma, hue in hues if chroma >= 10.0]
    assert colourful == sorted(colourful)
    assert ordered(tray, Looking(words="no such bead"), kinds) == ()


def test_making_a_piece_takes_what_it_counts_lot_after_lot() -> None:
    design = demo().piece.design
    wanted = counts(design)
    boxes = []
    for entry in wanted.by_bead:
        bead = design.beads[entry.bead]
        # Two lots that together hold two more than the piece takes.
        for lot, held in (("a", entry.used // 2), ("b", entry.used - entry.used // 2 + 2)):
            boxes.append(
                TrayBead(
                    name=bead.name, kind=bead.kind, hex=bead.hex, finish=bead.finish,
                    lot=lot, count=held,
                )
            )  # fmt: skip
    tray = Tray(beads=tuple(boxes))
    after = taken_off(tray, stock.off_the_boxes(design, tray))
    assert isinstance(after, Tray)
    assert sum(tray.stocks) - sum(after.stocks) == wanted.total
    assert [box.count for box in after.beads] == [0, 2] * len(wanted.by_bead)


def test_what_is_missing_is_told_and_names_are_only_text() -> None:
    design = demo().piece.design
    bead = replace(design.beads[0], name="<i>x</i>")
    design = replace(design, beads=(bead, *design.beads[1:]))
    own = TrayBead(name=bead.name, kind=bead.kind, hex=bead.hex, finish=bead.finish, count=60)
    uses = {use.bead: use for use in stock.uses(design, Tray(beads=(own,)))}
    # The demo strip has 67 base beads.
    assert (uses[bead].used, uses[bead].held, uses[bead].missing) == (67, 60, 7)
    other = design.beads[1]
    assert not uses[other].there
    table = use_table(tuple(uses.values()))
    assert "<i>" not in table
    assert "7 missing" in table


def test_faults_are_only_text() -> None:
    reading = parse_tray("name,kind,colour\nA,round 8/0,<script>\n")
    assert "<script>" not in fault_table(reading.faults)


def test_a_base_is_one_of_which_there_is_enough() -> None:
    design = demo().piece.design
    cube = bead_kinds()["cube 3"]
    swatches = (Swatch(name="dark", hex="#202020"),)
    few = TrayBead(name="White", kind=cube, hex="#ffffff", count=66)
    enough = TrayBead(name="Grey", kind=cube, hex="#808080", count=67)
    assert using.best_base(design, swatches, Tray(beads=(few, enough))) == enough
    assert using.best_base(design, swatches, Tray(beads=(few,))) is None


def test_the_shelf_keeps_the_last_states_of_the_beads(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    assert shelf.tray() is None
    numbers = [shelf.keep_tray(str(n).encode()) for n in range(25)]
    assert shelf.tray() == (numbers[-1], b"24")
    assert shelf.tray(since=numbers[-2]) == (numbers[-1], b"24")
    assert shelf.tray(since=numbers[-1]) is None


def _page() -> None:
    from explorer.app import session
    from explorer.app.views import beads

    session.begin()
    beads.view()


def _run() -> AppTest:
    app = AppTest.from_function(_page, default_timeout=60).run()
    assert not app.exception
    return app


def _notes(app: AppTest) -> str:
    return " ".join(element.proto.body for element in app.get("html"))


def _kept() -> Tray:
    from explorer.shelf import default_path

    found = Shelf(default_path()).tray()
    return Tray() if found is None else parse_tray(found[1]).tray


def test_good_rows_are_kept_only_when_the_maker_says_so() -> None:
    app = _run()
    app.text_area(key="beads_pasted").set_value(GOOD).run()
    next(b for b in app.button if b.label == "Take them").click().run()
    before = _kept()
    assert [b.name for b in before.beads] == ["Teal", "Plum"]
    app.text_area(key="beads_pasted").set_value(BAD.replace("Plum", "Fig")).run()
    assert "grey" in _notes(app)
    assert app.text_area(key="beads_pasted").value == BAD.replace("Plum", "Fig")
    take = next(b for b in app.button if b.label == "These are my beads now")
    assert take.disabled
    assert _kept() == before
    app.checkbox(key="beads_consent").check().run()
    next(b for b in app.button if b.label == "These are my beads now").click().run()
    assert [b.name for b in _kept().beads] == ["Teal", "Fig"]
    app.button(key="beads_undo").click().run()
    assert [b.name for b in _kept().beads] == ["Teal", "Plum"]


def test_what_is_no_table_leaves_the_beads_alone() -> None:
    app = _run()
    app.button(key="beads_starter").click().run()
    before = _kept()
    for text in ("no table", "name;name\n1;2", 'name,kind,colour\n"open'):
        app.text_area(key="beads_pasted").set_value(text).run()
        assert not app.exception
        assert "dw-fault" in _notes(app)
        assert app.text_area(key="beads_pasted").value == text
        assert _kept() == before


def test_a_bead_is_put_down_changed_and_taken_out() -> None:
    app = _run()
    app.text_input(key="bead_box_name").set_value("Teal").run()
    app.text_input(key="bead_box_grams").set_value("lots").run()
    app.button(key="bead_write").click().run()
    assert "dw-fault" in _notes(app)
    assert app.text_input(key="bead_box_grams").value == "lots"
    assert _kept() == Tray()
    app.text_input(key="bead_box_grams").set_value("12,5").run()
    app.button(key="bead_write").click().run()
    assert not app.exception
    assert [(b.name, b.grams) for b in _kept().beads] == [("Teal", 12.5)]
    # Another session finds it.
    assert "1 bead of 1 kind" in _notes(_run())


@pytest.mark.browser
def test_thousands_of_beads_are_looked_through_and_kept(
    site: "Site", data_folder: Path, tmp_path: Path
) -> None:
    from explorer.shelf import default_path

    rows = ["name,kind,colour,grams"]
    rows += [f"Bead {n},round 8/0,#{(n * 2654435761) % 0xFFFFFF:06x},10" for n in range(3000)]
    table = tmp_path / "many.csv"
    table.write_text("\n".join(rows))
    page = site.page
    site.open("beads")
    files = page.locator("details", has_text="Beads from a table, and back to one")
    if files.get_attribute("open") is None:
        files.locator("summary").click()
    page.locator("[data-testid=stFileUploaderDropzoneInput]").last.set_input_files(table)
    page.get_by_text("3000 beads read").wait_for()
    site.settle()
    page.get_by_role("button", name="Take them").or_(
        page.get_by_role("button", name="These are my beads now")
    ).first.click()
    page.get_by_text("1 to 48 of 3000").wait_for()
    site.settle()
    page.get_by_role("textbox", name="Search").fill("Bead 2999")
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Bead 2999").click()
    page.get_by_role("heading", name="Bead 2999").wait_for()
    site.settle()
    assert page.evaluate("document.documentElement.scrollWidth") <= page.evaluate("innerWidth")
    page.reload()
    page.get_by_text("1 to 48 of 3000").wait_for()
    # Later tests of this server need not look through thousands.
    Shelf(data_folder / default_path().relative_to(tmp_path)).keep_tray(GOOD.encode())


def test_damaged_beads_give_way_to_those_before_and_the_page_says_so() -> None:
    import sqlite3
    from contextlib import closing

    from explorer.shelf import default_path

    shelf = Shelf(default_path())
    first = GOOD.encode()
    shelf.keep_tray(first)
    shelf.keep_tray(first + b"\n")
    with closing(sqlite3.connect(shelf.path)) as connection:
        connection.execute("UPDATE trays SET content = x'00' WHERE number = 2")
        connection.commit()
    app = _run()
    assert "damaged on the shelf; these are as they were before" in _notes(app)
    assert shelf.tray() == (1, first)
