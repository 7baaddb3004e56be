"""Names that hold signs of Markdown stand as they are on buttons and beside boxes."""

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from streamlit.testing.v1 import AppTest

from explorer.app import state, steps
from explorer.app.demo import demo
from explorer.app.state import History, Work
from explorer.app.wording import as_label
from explorer.piece import Piece, to_json

if TYPE_CHECKING:
    from tests.app.conftest import Site

NAMES = ("**[x](http://e)**", "$a$", ":red[x]", "www.e.com", "a@e.com")
# Two that look the same, so that a change is called for, and three far from them.
HEXES = ("#d1495b", "#d24a5c", "#1f8a83", "#f2c14e", "#30323d")


def named_piece() -> Piece:
    """The demo in colours with such names, the two alike ones side by side."""
    piece = demo().piece
    design = piece.design
    hanging = next(bead.kind for bead in design.beads if bead.kind != design.beads[0].kind)
    extra = tuple(
        replace(design.beads[0], name=name, hex=hex_, kind=hanging)
        for name, hex_ in zip(NAMES, HEXES, strict=True)
    )
    first = len(design.beads)
    motifs = tuple(
        tuple(
            replace(column, beads=(first + place % len(NAMES),) * len(column.beads))
            for column in motif
        )
        for place, motif in enumerate(design.motifs)
    )
    whole = replace(design, beads=(*design.beads, *extra), motifs=motifs)
    return replace(piece, name=NAMES[0], design=whole, origin=None)


def _neighbours() -> None:
    from explorer.app import session
    from explorer.app.views import neighbours

    session.begin()
    neighbours.view()


def _class() -> None:
    from explorer.app import session
    from explorer.app.views import handing_on

    session.begin()
    handing_on.view()


def _opened() -> Work:
    return steps.opened(demo(), named_piece())


def test_the_changes_of_two_neighbours_name_colours_as_they_are() -> None:
    app = AppTest.from_function(_neighbours, default_timeout=90).run()
    app.session_state[state.HISTORY] = History(now=_opened())
    app.run()
    assert not app.exception
    told = [button.label for button in app.button if str(button.key).startswith("judging_do_")]
    assert any(as_label(name) in label for name in NAMES for label in told)
    for label in told:
        # CommonMark 2.4: a sign after a backslash stands for itself.
        bare = re.sub(r"\\[!-/:-@\[-`{-~]", "", label)
        assert not re.search(r"[*\[\]$@]|:red|www\.", bare), label


def test_a_class_asks_for_beads_at_hand_by_their_names() -> None:
    app = AppTest.from_function(_class, default_timeout=90).run()
    app.session_state[state.HISTORY] = History(now=_opened())
    app.run()
    app.button_group(key="hand_kind").set_value("class").run()
    assert not app.exception
    labels = [box.label for box in app.text_input]
    for name in NAMES:
        assert any(label.startswith(as_label(name)) for label in labels), name


@pytest.mark.parametrize(
    ("name", "label"),
    [
        ("www.e.com", r"www\.e.com"),
        ("a@e.com", r"a\@e.com"),
        ("1. Teal", r"1\. Teal"),
        ("- Teal", r"\- Teal"),
        ("2.5 mm", "2.5 mm"),
        ("Sea-green", "Sea-green"),
    ],
)
def test_a_label_makes_no_link_and_no_list(name: str, label: str) -> None:
    assert as_label(name) == label


@pytest.mark.browser
def test_no_name_comes_alive_on_any_page(site: "Site") -> None:
    site.open("piece")
    page = site.page
    page.locator("input[type=file]").last.set_input_files(
        {
            "name": "piece.json",
            "mimeType": "application/json",
            "buffer": to_json(named_piece()).encode(),
        }
    )
    page.locator("h1").get_by_text(NAMES[0], exact=True).wait_for()
    site.settle()
    for path in ("colours", "neighbours", "counting", "handing-on", "shelf"):
        # A reload keeps the piece by the mark in the address.
        query = page.url.partition("?")[2]
        site.open(f"{path}?{query}")
        assert page.locator("h1").inner_text() == NAMES[0]
        seen = page.locator("[data-testid=stMain]")
        for alive in ("a[href*='//e'], a[href*='e.com']", ".katex"):
            found = seen.locator(alive)
            assert not any(one.is_visible() for one in found.all()), (path, alive)
        if path == "colours":
            page.get_by_text(f"Change {NAMES[0]}", exact=True).wait_for()
