"""Every door through which something from outside comes in, with what is thrown at it.

A door's ``call`` does what the program does with an input: it reads it and, where it is taken,
works with it, so that a value which is taken and breaks something later is found too.
"""

import json
import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from explorer.app.areas import area_numbers
from explorer.app.events import applied, read_events
from explorer.app.kept import from_text, to_text
from explorer.app.parts.choices import read_presses
from explorer.app.parts.photo import tap_place
from explorer.app.sizing import Sizing, measured
from explorer.app.strokes import read_strokes
from explorer.brief import whole
from explorer.counts import counts
from explorer.errors import BriefError
from explorer.hexes import parse_colours
from explorer.kit_roster import parse_roster
from explorer.layout import rows_scene, strip_scene
from explorer.lengths import parse_mm
from explorer.piece import Piece, from_json, to_json
from explorer.share import from_code, to_code
from explorer.swatch import parse_swatch
from explorer.thread import thread_plan
from explorer.weave import weave
from gallery.photos import PhotoError, read_photo
from palettes.charts import palette, parse_palette
from palettes.errors import ChartError
from palettes.palette_files import parse_palette_text, to_gpl, to_toml
from palettes.swatches import Palette, Swatch
from palettes.tray_read import parse_tray
from palettes.tray_write import write_tray
from tests.fuzz.nasty import NUMBERS, TEXTS, VALUES, broken, broken_document, broken_text
from tests.fuzz.pictures import samples as pictures

PIECES = Path(__file__).parents[1] / "reference" / "pieces"
# What may come out: the maker's fault or a file's. Reading a photograph has an error of its own,
# which the page turns into the maker's.
OURS = (BriefError, ChartError, PhotoError)


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """A door.

    Attributes:
        name: what comes in there.
        inputs: what is thrown at it.
        call: what the program does with an input.
        weight: its share of all inputs.
    """

    name: str
    inputs: st.SearchStrategy[Any]
    call: Callable[[Any], object]
    weight: int = 1


@cache
def pieces() -> tuple[str, ...]:
    """Kept pieces, each as the first version saved it and as this one does."""
    first = [path.read_text("utf-8") for path in sorted(PIECES.glob("*.json"))]
    return (*first, *(to_json(from_json(text)) for text in first))


def use(piece: Piece) -> None:
    """Work with a piece that was taken: everything derived from it is a finite number."""
    design = piece.design
    tally = counts(design)
    assert 0 < tally.total < 10_000_000
    assert math.isfinite(thread_plan(design).length_mm)
    for scene in (strip_scene(design), rows_scene(design, rows=3)):
        finite(scene.left_mm, scene.top_mm, scene.width_mm, scene.height_mm)
        assert 0.0 < scene.width_mm < 1e7
        for bead in scene.beads[:: max(1, len(scene.beads) // 50)]:
            finite(bead.x_mm, bead.y_mm, bead.across_mm, bead.along_mm, *bead.srgb1)
            assert min(bead.across_mm, bead.along_mm) > 0.0
    text = to_json(piece)
    assert from_json(text) == piece
    text.encode("utf-8")


def finite(*values: float) -> None:
    """Every value is a finite number."""
    assert all(math.isfinite(value) for value in values), values


def _length(text: str) -> None:
    value = parse_mm(text, "snug", least_mm=40.0, most_mm=1000.0)
    assert 40.0 <= value <= 1000.0


def _whole(value: object) -> None:
    assert 0 <= whole("count", value, 0, 10_000) <= 10_000


def _sizing(parts: tuple[str, ...]) -> None:
    snug, ease, closure, length, reading, extender = parts
    found = measured(
        Sizing(
            snug=snug, ease=ease, closure=closure, swatch_length=length, reading=reading,
            extender=extender,
        )
    )  # fmt: skip
    if isinstance(found, tuple):
        assert found
        assert all(isinstance(error, BriefError) for error in found)
        return
    fit = found.strip.fit(found.wearer, found.closure)
    finite(fit.target_mm)


def _swatch(text: str) -> None:
    finite(parse_swatch(text).pitch_mm, parse_swatch(text).spread)


def _piece_document(document: Any) -> None:
    use(from_json(json.dumps(document)))


def _piece_text(text: str) -> None:
    use(from_json(text))


def _code(text: str) -> None:
    use(from_code(text))


def _packed(document: Any) -> None:
    """A link whose check and packing are right, and whose piece is not."""
    use(from_code(packed(document)))


def packed(body: Any) -> str:
    """A code of a body, as ``explorer.share`` packs it."""
    import base64
    import zlib

    from explorer import share, share_known

    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15, 9, zdict=share_known.KNOWN)
    inside = squeeze.compress(json.dumps(body).encode()) + squeeze.flush()
    check = zlib.crc32(inside).to_bytes(4, "big")
    return share.MARK + base64.urlsafe_b64encode(check + inside).decode().rstrip("=")


@cache
def bodies() -> tuple[Any, ...]:
    """What stands inside the codes of the kept pieces."""
    from explorer import share, share_known

    codes = [to_code(from_json(text)).removeprefix(share.MARK) for text in pieces()]
    return tuple(share._body(code, share_known.KNOWN) for code in codes)


def _tray(content: bytes) -> None:
    reading = parse_tray(content)
    for bead in reading.tray.beads:
        finite(bead.grams or 0.0, bead.price or 0.0, float(bead.stock or 0))
    again = parse_tray(write_tray(reading.tray, reading))
    assert again.tray == reading.tray


def _roster(text: str) -> None:
    for learner in parse_roster(text).learners:
        assert 40.0 <= learner.least_mm <= learner.most_mm <= 1000.0
        learner.name.encode("utf-8")


def _palette(text: str) -> None:
    _write(parse_palette(text, "a palette"))


def _palette_text(text: str) -> None:
    _write(parse_palette_text(text, "a palette"))


def _write(found: Palette) -> None:
    assert parse_palette_text(to_toml(found), "a palette").swatches == found.swatches
    to_gpl(found).encode("utf-8")


def _table(text: str) -> None:
    work, stitch = from_text(text)
    assert stitch >= 0
    use(work.piece)
    measured(work.sizing)


@cache
def tables() -> tuple[Any, ...]:
    """A table as the shelf keeps it."""
    from explorer.app.demo import demo

    return (json.loads(to_text(demo(), 3)),)


def _table_document(document: Any) -> None:
    _table(json.dumps(document))


def _picture(content: bytes) -> None:
    pixels = read_photo(content)
    assert pixels.ndim == 3
    assert pixels.shape[2] in (3, 4)
    assert max(pixels.shape) <= 2048 or min(pixels.shape[:2]) < 1024


def _events(sent: object) -> None:
    pattern = from_json(pieces()[0]).pattern
    base_beads = weave(pattern).base_beads
    swatches = (Swatch(name="a", hex="#102030"), Swatch(name="b", hex="#405060"))
    events = read_events(sent, epoch="e", done=0)
    for event in events:
        after = applied(pattern, event, swatches, everywhere=True)
        pattern = pattern if after is None else after.pattern
        assert counts(weave(pattern)).base_beads == pattern.base_beads == base_beads
    read_strokes(sent, epoch="e", done=0)
    read_presses(sent, frozenset(("m0", "a")), epoch="e", done=0)
    tap_place(sent)
    tap_place({"tap": sent})


def _area(text: str) -> None:
    try:
        assert all(number >= 0 for number in area_numbers(text))
    except ValueError:
        # What the reader of events expects of a text that names no area.
        return


_event: st.SearchStrategy[dict[str, Any]] = st.fixed_dictionaries(
    {},
    optional={
        "n": st.integers(-2, 9) | st.sampled_from(VALUES),
        "epoch": st.sampled_from(("e", "e", "e", "x", None, 1)),
        "act": st.sampled_from(("paint", "length", "", None, [])),
        "id": st.sampled_from(("m0", "m0d1", "m2d0b1", "m99d9", "m-1", *TEXTS)),
        "value": st.integers(-2, 60) | st.sampled_from(VALUES),
        "stroke": st.integers(0, 3) | st.sampled_from(VALUES),
        "target": st.sampled_from(("A", "m1", "m99999", "", None)),
        "place": st.integers(-1, 9) | st.sampled_from(VALUES),
        "mirror": st.sampled_from((True, False, None, 1)),
        "x": st.floats() | st.sampled_from(VALUES),
        "y": st.floats() | st.sampled_from(VALUES),
    },
)
_sent = st.lists(_event, max_size=6) | st.sampled_from(VALUES) | _event
_LENGTHS = (
    "152", "152 mm", "15,2 cm", '6 1/2"', "6½ in", "8 5/8 inches", "1e2", "0x10", "..5", "1/2/3",
)  # fmt: skip
_BEADS = (
    b"name,kind,colour,finish,grams,count,price,lot,kept\r\n"
    b"Ember,round 8/0,#d7263d,opaque,12.5,46,0.12,A1,tin\r\nDeep,cube 3,#1b998b,matte,,,,,\r\n"
)
_TRAY = (
    _BEADS,
    "\ufeffname;kind;colour;grams\nBlau;round 11/0;#203040;1.234,5\n".encode(),
    "name\tkind\tcolour\nx\tround 8/0\t#fff\n".encode("utf-16"),
)
_ROSTER = (
    "name,snug,ease,picks,colours\nWren,152 mm,10 mm,,\nIda,6 in,,a;b,#fff #000000\n",
    "Wren;150 - 165 mm\nWren;16,5 cm\n",
    "Number 3\t6-1/2 in\n",
)
_PALETTES = (
    "GIMP Palette\nName: x\n#\n215  38  61\tEmber\n 27 153 139\tUntitled\n",
    "JASC-PAL\n0100\n2\n1 2 3\n4 5 6\n",
    "body { color: #1f8a83; background: #fff }",
)


def doors() -> tuple[Door, ...]:
    """All of them."""
    tomls = tuple(to_toml(palette(name)) for name in ("rockpool",))
    documents = tuple(json.loads(text) for text in pieces())
    typed = broken_text(_LENGTHS)
    numbers = st.sampled_from(NUMBERS) | st.floats() | st.integers() | typed
    codes = tuple(to_code(from_json(text)) for text in pieces())
    return (
        Door(name="lengths", inputs=typed, call=_length, weight=4),
        Door(name="whole numbers", inputs=numbers, call=_whole, weight=4),
        Door(name="size boxes", inputs=st.tuples(*[typed] * 6), call=_sizing, weight=2),
        Door(
            name="measured swatches",
            inputs=broken_text(("20 beads measure 39.5 mm", "20 = 39.5")),
            call=_swatch,
            weight=3,
        ),
        Door(
            name="lists of colours",
            inputs=broken_text(("#1f8a83,#fff", "d7263d, 1b998b")),
            call=parse_colours,
            weight=3,
        ),
        Door(name="trays", inputs=broken(_TRAY), call=_tray, weight=3),
        Door(name="rosters", inputs=broken_text(_ROSTER), call=_roster, weight=3),
        Door(name="palettes", inputs=broken_text(tomls), call=_palette, weight=2),
        Door(
            name="pasted palettes",
            inputs=broken_text((*_PALETTES, *tomls)),
            call=_palette_text,
            weight=2,
        ),
        Door(name="pieces", inputs=broken_document(documents), call=_piece_document, weight=3),
        Door(name="pieces as text", inputs=broken_text(pieces()), call=_piece_text, weight=2),
        Door(name="links", inputs=broken_text(codes), call=_code, weight=2),
        Door(name="well packed links", inputs=broken_document(bodies()), call=_packed, weight=2),
        Door(name="tables", inputs=broken_document(tables()), call=_table_document, weight=2),
        Door(name="pictures", inputs=broken(pictures()), call=_picture, weight=2),
        Door(name="component events", inputs=_sent, call=_events, weight=4),
        Door(name="areas", inputs=broken_text(("m0", "m0d1", "m2d0b1")), call=_area, weight=2),
    )
