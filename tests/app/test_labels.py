"""Names that hold signs of Markdown stand as they are on buttons and beside boxes."""

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from streamlit.testing.v1 import AppTest

from explorer.app import state, steps
from explorer.app.demo import demo
from explorer.app.labels import JOINER, as_label
from explorer.app.state import History, Work
from explorer.piece import Piece, piece_of, to_json
from tests.app.conftest import running
from tests.explorer.columns import with_columns

if TYPE_CHECKING:
    from tests.app.conftest import Site, Windows

NAMES = ("**[x](http://e)** :smile:", "$a$ https://e.com", ":red[x]", "www.e.com", "a@e.com")
# Everything that the framework is known to make something else of, and what looks like it.
ODD = (
    "Blue (matt), 8/0: size #3", "[x](http://e.com)", "![i](http://e.com/i.png)",
    "[x]: http://e.com", "[x][y]", "[^1] note", "[x] done", "<http://e.com>", "www.e.com",
    "http://e.com", "HTTPS://E.com/a", "a@e.com", "mailto:a@e.com", "$a$", "$$x^2$$", "$5 and $6",
    "$", ":red[x]", ":red-background[x]", ":a[x]{b=c}", "::x[y]", ":smile:", ":+1:",
    ":material/delete:", ":material_delete:", ":streamlit:", "10:30:00",
    "**b** *i* _u_ a_b __z__", "*", "_", "~s~ ~~t~~", "`c` ``d``", "`", "<b>b</b>", "<!-- x -->",
    "&amp; &#60;", "Tom & Jerry", "a -> b", "a <- b <-> c -- d >= e <= f ~= g", "-- x", "# head",
    "##", "- item", "+ item", "1. one", "2) two", "> quote", "===", "---", "***", "a | b",
    "\\*x\\*", "\\[x\\](http://e.com)", "back\\slash", "line\n\n# two", "3 < 4 > 2", "<3",
    "{{7*7}}${7*7}", "$\\href{javascript:alert(1)}{x}$ [x](javascript:alert(1))", "日本語",
)  # fmt: skip
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
    whole = with_columns(design, beads=(*design.beads, *extra), motifs=motifs)
    return piece_of(whole, name=NAMES[0], wearer=piece.wearer)


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
        assert not re.search(r"[*$]|@e|\]\(|:red|www\.", bare), label


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
        ("www.e.com", f"www{JOINER}.e.com"),
        ("a@e.com", f"a@{JOINER}e.com"),
        ("1. Teal", f"{JOINER}1. Teal"),
        ("- Teal", f"{JOINER}- Teal"),
        (":smile:", f":{JOINER}smile:"),
        ("[x](y)", f"[x]{JOINER}(y)"),
        ("2.5 mm", "2.5 mm"),
        ("Sea-green", "Sea-green"),
        ("Blue (matt): no. 3 [of 7]!", "Blue (matt): no. 3 [of 7]!"),
        ("two\nlines", "two lines"),
    ],
)
def test_a_label_makes_no_link_and_no_list(name: str, label: str) -> None:
    assert as_label(name) == label


_LABELS = f"""
import sys
import streamlit as st
from explorer.app.labels import JOINER, as_label
from explorer.app.start import start
from explorer.app.views import together

def view():
    for place, name in enumerate({ODD!r}):
        label = as_label(name)
        with st.container(key=f"odd_{{place}}"):
            st.title(label, anchor=False)
            st.subheader(label, anchor=False)
            st.button(label, key=f"button_{{place}}")
            st.text_input(label, key=f"text_{{place}}")
            st.checkbox(label, key=f"check_{{place}}")
            st.color_picker(label, key=f"colour_{{place}}")
            with st.expander(label):
                st.text("x")

together.view = view
sys.exit(start(int(sys.argv[1]), False))
"""
_PARTS = ("h1", "h2, h3", "button p", ".stTextInput label p", ".stCheckbox label p",
          ".stColorPicker label p", "summary p")  # fmt: skip
_ALIVE = "a[href], img, code, em, strong, del, .katex, [data-testid=stIconMaterial], span[style]"


@pytest.mark.browser
def test_the_framework_shows_every_label_as_it_is_written(
    windows: "Windows", tmp_path: Path
) -> None:
    """Its own reading of Markdown, with all that it makes of plain text afterwards."""
    with running(tmp_path, _LABELS) as address, windows.page() as page:
        page.goto(f"{address}/together")
        page.locator(f".st-key-odd_{len(ODD) - 1} summary p").wait_for()
        # What shows emoji is loaded when it is first needed.
        page.locator("[data-testid=stSkeleton]").first.wait_for(state="detached")
        for place, name in enumerate(ODD):
            box = page.locator(f".st-key-odd_{place}")
            for part in _PARTS:
                found = box.locator(part).first
                shown = (found.text_content() or "").replace(JOINER, "")
                assert " ".join(shown.split()) == " ".join(name.split()), (name, part, shown)
                assert found.locator(_ALIVE).count() == 0, (name, part)


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
    for path in ("size", "colours", "proposals", "shape", "piece", "neighbours", "counting",
                 "making", "handing-on", "together", "shelf", "beads"):  # fmt: skip
        # A reload keeps the piece by the mark in the address.
        query = page.url.partition("?")[2]
        site.open(f"{path}?{query}")
        # It can be copied: no sign of ours is in it.
        assert page.locator("h1").inner_text() == NAMES[0]
        seen = page.locator("[data-testid=stMain]")
        for alive in ("a[href*='//e'], a[href*='e.com']", ".katex", "[role=img]:text('😄')"):
            found = seen.locator(alive)
            assert not any(one.is_visible() for one in found.all()), (path, alive)
        if path == "colours":
            words = f"Change {as_label(NAMES[0])}".replace("\\", "")
            page.get_by_text(words, exact=True).wait_for()
