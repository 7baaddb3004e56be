"""Codes rebuild pieces, say nothing private, and cannot be used against whoever opens them."""

import base64
import hashlib
import json
import zlib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer import share, share_known, share_version_1
from explorer.brief import Wearer
from explorer.cautions import Wear
from explorer.pattern import Worn
from explorer.piece import Piece, from_json, piece_of, worn_by
from explorer.share import MARK, MOST_LETTERS, from_code, link, to_code
from palettes.errors import ChartError
from tests.reference.add_woven import entries
from tests.reference.version_1 import kept, opened

KEPT = Path(__file__).parent.parent / "reference"
PIECES = sorted((KEPT / "pieces").glob("*.json"))
# A few dozen at a time, so that two runners share them.
PARTS = range(0, 515, 103)
LETTERS = set("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_")


def read(path: Path) -> Piece:
    return from_json(path.read_text("utf-8"))


def shared(piece: Piece) -> Piece:
    """A piece as it comes out of a code that tells nothing of its wearer."""
    pattern = replace(piece.pattern, worn=Worn(wear=piece.worn_as))
    return replace(piece, pattern=pattern, name="Shared piece", notes="")


@pytest.mark.parametrize("first", PARTS)
def test_a_link_rebuilds_the_piece_in_fewer_letters_than_version_1_took(first: int) -> None:
    """Half of the codes are of 106 letters or fewer, 95 % of 223; before, 304 and 427."""
    letters = []
    for one in kept()[first : first + PARTS.step]:
        piece = opened(one)
        code = to_code(piece)
        assert code.startswith(MARK)
        assert set(code.removeprefix(MARK)) <= LETTERS
        back = from_code(link(code, "http://127.0.0.1:8501/?piece="))
        assert back == shared(piece)
        assert back.design == piece.design
        if one.letters:
            assert len(code) < one.letters
            letters.append((len(code), one.letters))
    now, before = (sorted(row)[len(row) // 2] for row in zip(*letters, strict=True))
    assert now < 0.6 * before


@pytest.mark.parametrize("name", entries())
def test_a_link_rebuilds_whatever_rules_there_are(name: str) -> None:
    piece = from_json(json.dumps(entries()[name]["saved"]))
    assert from_code(to_code(piece)) == shared(piece)
    assert from_code(to_code(piece, name=True, wearer=True)) == piece


def test_codes_given_out_stay_readable() -> None:
    # Codes as both versions wrote them, beside the piece that each one rebuilds.
    rows = (KEPT / "share-codes.csv").read_text("utf-8").splitlines()
    lines = [row.split(",") for row in rows if row and not row.startswith("#")]
    assert len(lines) == 4
    assert {code[:4] for _, code in lines} == {"dw1.", MARK}
    for name, code in lines:
        found = from_code(code)
        assert found.design == read(KEPT / "pieces" / name).design


def test_codes_that_version_1_gave_out_open_by_their_rules() -> None:
    given_out = [one for one in kept() if one.code]
    assert len(given_out) == 39
    for one in given_out:
        piece, found = opened(one), from_code(one.code)
        assert found.design == piece.design
        assert (found.seed, found.wear, found.pitch_measured, found.plain_ends) == (
            piece.seed,
            piece.wear,
            piece.pitch_measured,
            piece.plain_ends,
        )
        assert all(by_hand.held is None for _, by_hand in found.pattern.motifs)


def test_what_codes_leave_unsaid_never_changes() -> None:
    marks = [
        hashlib.sha256(known).hexdigest()[:16]
        for known in (share_version_1.KNOWN, share_known.KNOWN)
    ]
    assert marks == ["2dbbbb46edc6bc84", "f5c9666b1694fdac"]


def unpacked(code: str) -> str:
    """What a code says, by the standard library alone."""
    letters = code.removeprefix(MARK)
    raw = base64.urlsafe_b64decode(letters + "=" * (-len(letters) % 4))
    return zlib.decompressobj(-15, zdict=share_known.KNOWN).decompress(raw[4:]).decode()


PRIVATE = piece_of(
    design=read(PIECES[0]).design,
    name="Wilhelmina",
    notes="allergic to nickel",
    wearer=Wearer(snug_mm=163.7, ease_mm=11.3),
    wear=Wear.BRACELET,
)


def test_a_code_names_nobody_and_no_measurement_unless_asked() -> None:
    plain = unpacked(to_code(PRIVATE))
    for secret in ("Wilhelmina", "allergic", "163.7", "11.3", "wearer", "ease"):
        assert secret not in plain
    back = from_code(to_code(PRIVATE))
    assert (back.wearer, back.wear, back.notes) == (None, Wear.BRACELET, "")
    asked = from_code(to_code(PRIVATE, name=True, wearer=True))
    assert (asked.name, asked.wearer, asked.notes) == ("Wilhelmina", PRIVATE.wearer, "")
    other = worn_by(PRIVATE, Wearer(snug_mm=70.0))
    assert to_code(replace(other, name="Otto", notes="")) == to_code(PRIVATE)


def test_a_code_cannot_bring_notes_or_be_of_another_version() -> None:
    body = {**GOOD, "notes": "buy this", "danglewise_piece": 1}
    assert from_code(packed(json.dumps(body).encode())) == from_code(to_code(PRIVATE))


@pytest.mark.parametrize("path", PIECES, ids=lambda path: path.stem)
def test_a_code_is_short_enough_to_scan(path: Path) -> None:
    # ISO/IEC 18004: 1091 bytes are the most of a code of version 23, low correction (from memory).
    assert len(link(to_code(read(path)))) < 450


def refused(text: str) -> ChartError:
    with pytest.raises(ChartError) as caught:
        from_code(text)
    return caught.value


@given(st.text(max_size=300))
def test_any_text_is_refused_calmly(text: str) -> None:
    refused(text)
    refused(MARK + text)


def packed(text: bytes) -> str:
    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15, 9, zdict=share_known.KNOWN)
    body = squeeze.compress(text) + squeeze.flush()
    raw = zlib.crc32(body).to_bytes(4, "big") + body
    return MARK + base64.urlsafe_b64encode(raw).decode().rstrip("=")


GOOD = json.loads(unpacked(to_code(PRIVATE)))
anything = st.recursive(
    st.none() | st.booleans() | st.integers(-5, 10**20) | st.floats() | st.text(max_size=5),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(
            st.sampled_from(["motifs", "keys", "kind", "held", "paint"]), inner, max_size=4
        )
    ),
    max_leaves=8,
)


@given(st.sampled_from(sorted(GOOD)), anything)
def test_a_well_packed_code_with_anything_in_it_is_a_piece_or_refused(
    key: str, value: object
) -> None:
    body = {**GOOD, key: value}
    try:
        found = from_code(packed(json.dumps(body).encode()))
    except ChartError:
        return
    assert isinstance(found, Piece)


@given(anything)
def test_any_document_is_refused(value: object) -> None:
    refused(packed(json.dumps(value).encode()))


@given(st.data())
def test_a_code_changed_or_cut_on_its_way_is_refused(data: st.DataObject) -> None:
    code = to_code(PRIVATE)
    place = data.draw(st.integers(len(MARK), len(code) - 2))
    refused(code[:place])
    other = "A" if code[place] != "A" else "B"
    refused(code[:place] + other + code[place + 1 :])


def first(body: object) -> str:
    """A code as version 1 packed it."""
    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15, 9, zdict=share_version_1.KNOWN)
    inside = squeeze.compress(json.dumps(body).encode()) + squeeze.flush()
    raw = zlib.crc32(inside).to_bytes(4, "big") + inside
    return "dw1." + base64.urlsafe_b64encode(raw).decode().rstrip("=")


FIRST = share._body(
    next(one.code for one in kept() if one.code).removeprefix("dw1."),
    share_version_1.KNOWN,
)


@given(st.sampled_from(sorted(FIRST)), anything)
def test_a_code_of_version_1_with_anything_in_it_is_a_piece_or_refused(
    key: str, value: object
) -> None:
    try:
        found = from_code(first({**FIRST, key: value}))
    except ChartError:
        return
    assert isinstance(found, Piece)


def test_a_code_that_swells_is_stopped() -> None:
    error = refused(packed(b" " * 60_000_000))
    assert "more than" in error.why
    spread = {**FIRST, "m": [0] * 400_000, "u": [[[0, *[1] * 150]] * 40]}
    assert "more beads" in refused(first(spread)).why
    assert "letters" in refused(MARK + "A" * MOST_LETTERS).why
    endless = {**GOOD, "run": {**GOOD["run"], "motifs": 20_000, "width": 1_000}}
    assert "20000" in refused(packed(json.dumps(endless).encode())).why


def test_deep_nesting_is_refused() -> None:
    refused(packed(b"[" * 200_000))


@pytest.mark.parametrize(
    ("text", "entry", "why"),
    [
        ("", "its beginning", "begins with 'dw2.';"),
        ("dw0.AAAA", "its beginning", "begins with 'dw2.';"),
        ("dw3.AAAA", "its beginning", "newer Danglewise"),
        ("http://x/?piece=dw17.AAAA", "its beginning", "newer Danglewise"),
        ("dw2.", "its letters", "cut short"),
        ("dw1.AAAA", "its letters", "cut short"),
        ("dw2.a b", "its letters", "do not belong"),
        (to_code(PRIVATE)[:-3], "its letters", "cut short"),
        # Letters of one version under the mark of the other are whole, and yet no piece.
        (f"dw1.{to_code(PRIVATE).removeprefix(MARK)}", "the piece", ""),
    ],
)
def test_what_is_wrong_with_a_code_is_told(text: str, entry: str, why: str) -> None:
    error = refused(text)
    assert (error.path, error.entry) == ("the link", entry)
    assert why in error.why
