"""Text of others stays text on every page and in every file; nothing of ours runs or sends it."""

import ast
import csv
import html
import io
import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from pypdf import PdfReader
from streamlit.testing.v1 import AppTest

from explorer.app import state, stock
from explorer.app.labels import JOINER, as_label
from explorer.app.state import History
from explorer.app.wording import file_stem
from explorer.child_page import Level, child_page
from explorer.customer_page import Offer, PriceRule, customer_page
from explorer.layout import strip_scene
from explorer.piece import Piece, to_json
from explorer.sheet import making_sheet
from explorer.shelf import Shelf, default_path
from explorer.shelf_entry import Making
from gallery.page_html import to_html
from gallery.pdf import to_pdf
from gallery.vector import to_svg
from palettes.charts import bead_kinds
from palettes.tray import Tray, TrayBead
from palettes.tray_write import write_tray

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = ("palettes", "gallery", "explorer")
# Modules and calls that run text as a program, turn bytes into objects, or speak to a network.
NOT_IMPORTED = {
    "pickle", "marshal", "shelve", "dill", "joblib", "subprocess", "code", "codeop", "runpy",
    "urllib", "http", "socket", "ftplib", "smtplib", "requests", "httpx", "webbrowser", "xmlrpc",
}  # fmt: skip
NOT_CALLED = {"eval", "exec", "compile", "__import__", "system", "popen"}
HOSTILE = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "</style><svg onload=alert(1)>",
    "&lt;b&gt;&#60;script&#62;",
    "'-alert(1)-'",
    "=HYPERLINK(\"http://evil\")",
    "]]><x/>",
    "{{7*7}}${7*7}",
    "$\\href{javascript:alert(1)}{x}$ [x](javascript:alert(1)) :material/delete:",
)  # fmt: skip
# What the framework's Markdown would bring to life.
LIVE = (
    "[x](http://evil.example) ![i](http://evil.example/i.png)",
    "$x^2$ :red[x] :smile: :material/delete:",
    "www.evil.example http://evil.example a@evil.example",
    "**b** _u_ `c` ~~s~~ <b> &amp;",
)
HOSTILE_NAMES = (*HOSTILE, *LIVE, "a_b", "*x*", "[x](http://y)", "$1$", "# x", "- x", "1. x", "> x")


def sources() -> Iterator[Path]:
    for package in PACKAGES:
        yield from sorted((ROOT / package).rglob("*.py"))


def test_nothing_runs_text_unpacks_objects_or_speaks_to_a_network() -> None:
    for path in sources():
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            names: list[str] = []
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom):
                names = [node.module or ""]
            # Taking an address apart speaks to nobody.
            roots = {name.split(".")[0] for name in names if name != "urllib.parse"}
            assert not roots & NOT_IMPORTED, (path, names)
            if isinstance(node, ast.Call):
                called = node.func
                name = getattr(called, "id", None) or getattr(called, "attr", "")
                # A pattern is compiled too, and it is no program.
                pattern = name == "compile" and ast.unparse(called) in {
                    "re.compile",
                    "regex.compile",
                }
                assert pattern or name not in NOT_CALLED, (path, node.lineno, name)
                keywords = {keyword.arg for keyword in node.keywords}
                assert not keywords & {"unsafe_allow_html", "unsafe_allow_javascript", "shell"}, (
                    path
                )


def test_pages_have_no_door_for_markup_but_one() -> None:
    """Markdown is read by the framework and could show a name as a link; HTML is escaped by us."""
    doors = {"markdown", "write", "caption", "iframe"}
    for path in sources():
        if "explorer/app" not in path.as_posix():
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
                assert not (node.value.id == "st" and node.attr in doors), (path, node.lineno)


@pytest.mark.parametrize(
    "name", ["Harbour anklet", "Été 2", "a_b", "Blue (matt), 8/0: size #3", "Tom & Jerry"]
)  # fmt: skip
def test_a_usual_name_is_its_own_label(name: str) -> None:
    """So nothing but the name is read to whoever hears the page."""
    assert as_label(name) == name


@pytest.mark.parametrize("name", [*HOSTILE_NAMES])
def test_a_label_shows_a_name_as_it_is(name: str) -> None:
    label = as_label(name)
    # CommonMark 2.4: a backslash before ASCII punctuation makes it stand for itself.
    assert re.sub(r"\\([!-/:-@\[-`{-~])", r"\1", label).replace(JOINER, "") == name
    bare = re.sub(r"\\[!-/:-@\[-`{-~]", "", label)
    assert not re.search(r"\]\(|\]:|[*`$~]|:[\w+-]|www\.|@\w|<[\w/!]", bare), label


class _Tags(HTMLParser):
    """What a browser would see in a text of HTML: tags, handlers, addresses."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.handlers: list[str] = []
        self.addresses: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        for name, value in attrs:
            if name.startswith("on"):
                self.handlers.append(name)
            if name in ("src", "href", "action", "data"):
                self.addresses.append(value or "")


def harmless(text: str) -> None:
    """No tag, handler or address of the hostile names has come alive."""
    seen = _Tags()
    seen.feed(text)
    assert not seen.tags & {"script", "img-x", "x", "iframe", "object", "embed", "form"}, seen.tags
    assert seen.handlers == []
    assert not [a for a in seen.addresses if a.startswith(("javascript:", "http:", "x"))]


def hostile_piece(text: str) -> Piece:
    from explorer.app.demo import demo

    piece = demo().piece
    pattern = piece.pattern
    colours = tuple(replace(colour, name=f"{text} {i}") for i, colour in enumerate(pattern.colours))
    ends = replace(pattern.ends, closure=replace(pattern.ends.closure, kind=text))
    return replace(
        piece, pattern=replace(pattern, colours=colours, ends=ends), name=text, notes=text
    )


@pytest.mark.parametrize("text", HOSTILE)
def test_printed_pages_and_pictures_keep_names_as_text(text: str) -> None:
    piece = hostile_piece(text)
    offers = (Offer(piece=piece, materials=Decimal(9), hours=Decimal(2)),)
    rule = PriceRule(hourly=Decimal(15), currency=text[:8])
    documents = [
        making_sheet(piece),
        child_page(piece, Level.EASIER),
        customer_page(offers, rule, to_whom=text, dated=text),
    ]
    for document in documents:
        page = to_html(document)
        harmless(page)
        pdf = to_pdf(document).pdf
        assert pdf.startswith(b"%PDF")
        read = PdfReader(io.BytesIO(pdf))
        assert not {"/OpenAction", "/AA", "/Names"} & set(read.root_object)
        assert not any("/Annots" in page or "/AA" in page for page in read.pages)
    svg = to_svg(strip_scene(piece.design))
    ET.fromstring(svg)  # noqa: S314 - our own text
    harmless(svg)


@pytest.mark.parametrize("text", HOSTILE)
def test_a_table_of_beads_runs_no_formula(text: str) -> None:
    bead = TrayBead(
        name=text, kind=bead_kinds()["round 8/0"], hex="#102030", lot="+1-A1", kept="@SUM(A1)"
    )
    rows = list(csv.reader(io.StringIO(write_tray(Tray(beads=(bead,))).decode("utf-8-sig"))))
    for cell in rows[1]:
        assert not cell.startswith(("=", "+", "-", "@", "\t", "\r")), cell


@pytest.mark.parametrize(
    "name",
    [*HOSTILE, "../../etc/passwd", "C:\\x", "con", "NUL", "lpt1", "a" * 400, ".", "..", "", "🧶",
     "a\x00b", "a\nb", "-rf", "name.exe\u202egpj", "\ud800"],
)  # fmt: skip
def test_a_file_name_made_of_a_piece_is_a_plain_one(name: str) -> None:
    stem = file_stem(name)
    assert re.fullmatch(r"[\w][\w-]{0,63}", stem), stem
    assert len(f"{stem}-making-sheet.html".encode()) < 255
    # Windows keeps these for devices, whatever the ending.
    assert not re.fullmatch(r"con|prn|aux|nul|com\d|lpt\d", stem)


def strings(value: Any, place: str = "") -> Iterator[tuple[str, str]]:
    """Every text in what is sent to a browser for one element, with its place."""
    if isinstance(value, str):
        yield place, value
    elif hasattr(value, "ListFields"):
        for field, inside in value.ListFields():
            yield from strings(inside, f"{place}.{field.name}")
    elif not isinstance(value, bytes) and hasattr(value, "__iter__"):
        for one in value:
            yield from strings(one, place)


def elements(node: Any) -> Iterator[Any]:
    yield node
    for child in getattr(node, "children", {}).values():
        yield from elements(child)


# Where the framework shows a text as it is: boxes, lists to choose from, our own components and
# pages, which escape it. ``tests/app/test_labels.py`` looks at all of them in a browser.
AS_IT_IS = re.compile(
    r"Html\.body|BidiComponent\.json|Text(Area|Input)\.(default|value)|"
    r"(Selectbox|MultiSelect)\.(options|raw_value)|\w+\.id"
)


def hostile_shelf(text: str) -> None:
    """A shelf and beads at hand that bear the name in every field."""
    shelf, piece = Shelf(default_path()), hostile_piece(text)
    number = shelf.put(text, to_json(piece), who=text, notes=text)
    making = Making(made="2026-01-02", minutes=3, lots=text)
    seen = shelf.get(number)
    assert seen is not None
    shelf.change(seen, {**seen.words, "made": making.made, "minutes": making.minutes, "lots": text})
    kinds = ("round 8/0", "round 8/0", "cube 3")
    beads = tuple(
        TrayBead(
            name=f"{text} {at}", kind=bead_kinds()[kind], hex=f"#10{at}0d0", lot=text, kept=text,
            count=90,
        )
        for at, kind in enumerate(kinds)
    )  # fmt: skip
    shelf.keep_tray(stock.with_new(stock.Boxes(), beads).content)


VIEWS = (
    "size", "colours", "proposals", "shape", "piece", "neighbours", "counting", "making",
    "handing_on", "together", "shelf", "beads",
)  # fmt: skip


def page_of(view: str) -> AppTest:
    script = (
        "from explorer.app import session\n"
        f"from explorer.app.views import {view}\n"
        "session.begin()\n"
        f"{view}.view()\n"
    )
    return AppTest.from_string(script, default_timeout=90).run()


def named(app: AppTest, text: str) -> None:
    """The page with that name in every field of what lies on the table."""
    held = app.session_state[state.HISTORY]
    swatches = tuple(replace(s, name=f"{text}{i}") for i, s in enumerate(held.now.tray.swatches))
    base = replace(held.now.tray.base, name=text)
    tray = replace(held.now.tray, swatches=swatches, base=base, palette=text)
    work = replace(held.now, piece=hostile_piece(text), tray=tray)
    app.session_state[state.HISTORY] = History(now=work)
    app.run()
    assert not app.exception, app.exception


# Writing from right to left, turned round and set apart.
TURNING = "Har\u202ebour\u2067 \u200f\u05d0"


@pytest.mark.parametrize("view", VIEWS)
def test_every_page_keeps_names_as_text(
    view: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))
    # Every card of a page of proposals is made by the same lines; a few of them have all names.
    monkeypatch.setattr("explorer.app.views.proposals._COUNT", 4)
    for text in (*HOSTILE[:3], *LIVE):
        hostile_shelf(text)
    app = page_of(view)
    seen = 0
    for text in (*HOSTILE[:3], *LIVE):
        named(app, text)
        bodies = [element.proto.body for element in app.get("html")]
        assert bodies
        for body in bodies:
            harmless(re.sub(r"<style>.*?</style>", "", body, flags=re.DOTALL))
            seen += html.escape(text) in body
        for element in elements(app._tree):
            proto = getattr(element, "proto", None)
            for place, found in strings(proto):
                if not AS_IT_IS.fullmatch(f"{type(proto).__name__}{place}"):
                    assert text not in found.replace(as_label(text), ""), (place, found)
                    seen += as_label(text) in found
    assert seen


@pytest.mark.parametrize("view", VIEWS)
def test_a_name_turns_no_words_round_on_any_page(
    view: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))
    hostile_shelf(TURNING)
    app = page_of(view)
    named(app, TURNING)
    for element in app.get("html"):
        body = re.sub(r"<bdi>[^<]*</bdi>", "", element.proto.body)
        assert not re.search(r"[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]", body), body
        # What is written from right to left is set apart, too, but not in what only is read out.
        told = re.sub(r"<[^>]*>", "", body)
        assert "\u05d0" not in told, body
    for element in elements(app._tree):
        proto = getattr(element, "proto", None)
        for place, found in strings(proto):
            if not AS_IT_IS.fullmatch(f"{type(proto).__name__}{place}"):
                apart = re.sub(r"\u2068[^\u2066-\u2069]*\u2069", "", found)
                assert not re.search(r"[\u202a-\u202e\u2066-\u2069\u05d0]", apart), (place, found)
