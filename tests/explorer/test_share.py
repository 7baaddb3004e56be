"""Codes rebuild pieces, say nothing private, and cannot be used against whoever opens them."""

import base64
import json
import zlib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from explorer import share
from explorer.brief import Wearer
from explorer.piece import Piece, from_json, piece_of, to_json
from explorer.share import MARK, MOST_LETTERS, from_code, link, to_code
from palettes.errors import ChartError

KEPT = Path(__file__).parent.parent / "reference"
PIECES = sorted((KEPT / "pieces").glob("*.json"))


def kept(path: Path) -> Piece:
    return from_json(path.read_text("utf-8"))


@pytest.mark.parametrize("path", PIECES, ids=lambda path: path.stem)
def test_a_link_rebuilds_the_piece(path: Path) -> None:
    piece = kept(path)
    code = to_code(piece)
    assert code.startswith(MARK)
    assert set(code.removeprefix(MARK)) <= set(
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
    )
    back = from_code(link(code, "http://127.0.0.1:8501/?piece="))
    assert (back.design, back.seed, back.pitch_measured) == (
        piece.design,
        piece.seed,
        piece.pitch_measured,
    )


def test_codes_given_out_stay_readable() -> None:
    # Codes as version 1 wrote them, beside the piece that each one rebuilds.
    rows = (KEPT / "share-codes.csv").read_text("utf-8").splitlines()
    lines = [row for row in rows if row and not row.startswith("#")]
    assert len(lines) == 2
    for line in lines:
        name, code = line.split(",")
        assert from_code(code).design == kept(KEPT / "pieces" / name).design


def unpacked(code: str) -> str:
    """What a code says, by the standard library alone."""
    letters = code.removeprefix(MARK)
    raw = base64.urlsafe_b64decode(letters + "=" * (-len(letters) % 4))
    return zlib.decompressobj(-15, zdict=share._KNOWN).decompress(raw[4:]).decode()


PRIVATE = piece_of(
    design=kept(PIECES[0]).design,
    name="Wilhelmina",
    notes="allergic to nickel",
    wearer=Wearer(snug_mm=163.7, ease_mm=11.3),
)


def test_a_code_names_nobody_and_no_measurement_unless_asked() -> None:
    plain = unpacked(to_code(PRIVATE))
    for secret in ("Wilhelmina", "allergic", "163.7", "11.3"):
        assert secret not in plain
    back = from_code(to_code(PRIVATE))
    assert (back.wearer, back.notes) == (None, "")
    asked = from_code(to_code(PRIVATE, name=True, wearer=True))
    assert (asked.name, asked.wearer, asked.notes) == ("Wilhelmina", PRIVATE.wearer, "")


def test_the_first_form_of_a_resized_piece_stays_at_home() -> None:
    resized = replace(PRIVATE, origin=kept(PIECES[1]).design)
    assert to_code(resized) == to_code(PRIVATE)


@pytest.mark.parametrize("path", PIECES, ids=lambda path: path.stem)
def test_a_code_is_short_enough_to_scan(path: Path) -> None:
    # ISO/IEC 18004: 1091 bytes are the most of a code of version 23, low correction (from memory).
    assert len(link(to_code(kept(path)))) < 600


def refused(text: str) -> ChartError:
    with pytest.raises(ChartError) as caught:
        from_code(text)
    return caught.value


@given(st.text(max_size=300))
def test_any_text_is_refused_calmly(text: str) -> None:
    refused(text)
    refused(MARK + text)


def packed(text: bytes) -> str:
    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15, 9, zdict=share._KNOWN)
    body = squeeze.compress(text) + squeeze.flush()
    raw = zlib.crc32(body).to_bytes(4, "big") + body
    return MARK + base64.urlsafe_b64encode(raw).decode().rstrip("=")


GOOD = json.loads(unpacked(to_code(kept(PIECES[0]))))
anything = st.recursive(
    st.none() | st.booleans() | st.integers(-5, 10**20) | st.floats() | st.text(max_size=5),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.sampled_from("spkbumdelcyw"), inner, max_size=4)
    ),
    max_leaves=8,
)


@given(st.sampled_from(sorted(GOOD)), anything)
@settings(max_examples=300)
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
    code = to_code(kept(PIECES[0]))
    place = data.draw(st.integers(len(MARK), len(code) - 2))
    refused(code[:place])
    other = "A" if code[place] != "A" else "B"
    refused(code[:place] + other + code[place + 1 :])


def test_a_code_that_swells_is_stopped() -> None:
    error = refused(packed(b" " * 60_000_000))
    assert "more than" in error.why
    spread = {**GOOD, "m": [0] * 400_000, "u": [[[0, *[1] * 150]] * 40]}
    assert "more beads" in refused(packed(json.dumps(spread).encode())).why
    assert "letters" in refused(MARK + "A" * MOST_LETTERS).why


def test_deep_nesting_is_refused() -> None:
    refused(packed(b"[" * 200_000))


def test_four_times_the_motifs_are_four_times_the_comparing() -> None:
    # Counted, not timed; every motif is another one.
    compared = [0]

    class Watched(int):
        def __eq__(self, other: object) -> bool:
            compared[0] += 1
            return int(self) == other

        __hash__ = int.__hash__

    document = json.loads(to_json(kept(PIECES[0])))
    done = []
    for motifs in (100, 400):
        document["motifs"] = [[[Watched(0), Watched(at % motifs)]] for at in range(2 * motifs)]
        compared[0] = 0
        share._packed(document)
        done.append(compared[0])
    assert done[0] > 0
    assert done[1] < 5 * done[0]
