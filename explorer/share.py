"""A piece as one short line of letters, to put into a link or a code to scan.

A code holds the design, bead by bead, and the seed. It holds no piece's name, no notes and no
measurement, unless the maker asks for them. What is read back is checked like any saved piece.
"""

import base64
import binascii
import json
import zlib
from typing import Any

from explorer.piece import VERSION, VERSION_KEY, Piece, from_json, to_json
from palettes.errors import ChartError

MARK = "dw1."
"""How every code of this version begins."""

USUAL_ADDRESS = "danglewise:"
# Chosen by us: more letters than any mailer or browser passes on in one link, and with that a
# bound on the work that a stranger's text can cause.
MOST_LETTERS = 100_000
# Chosen by us: a design of 20 000 base beads stays below it.
_MOST_BYTES = 5_000_000
_PATH = "the link"
_UNNAMED = "Shared piece"

# What most pieces say, so that it need not be said in the code. It belongs to the version: another
# text would read every code of this version wrongly, so it never changes.
_KNOWN = (
    b'"drop""faceted""cylinder""lobster clasp""round 15/0""round 6/0""cube 1.8"'
    b'"lustre"],"pearl"],"dyed"],"rainbow"],"metallic"],"galvanised"],"colour-lined"],'
    b'"silver-lined"],"transparent"],"matte"],"opaque"],'
    b'[["cube 1.8","cube",1.8,1.8,0.8,95.0,1.95],["round 11/0","round",2.1,1.45,0.8,110.0,2.25],'
    b'["cube 3","cube",3.0,3.0,1.0,19.0,3.1],["round 8/0","round",3.0,2.05,1.05,37.0,3.15]],'
    b"],[[6],[6,5]],[[7],[7,6]],[[5],[5,4]],[[4,0],[4,0,0],[4,0,0,0],[4,0,0],[4,0]],"
    b'[5,0,0,0,0],[5,0,0,0,0,0],[0,1,0,2,0,3,0,4,0,5,0,1,0,2],{"s":null,"p":3.1,"k":'
    b'],"b":[["#],"u":[[[],"m":[0,1,2,3,4,5,"d":[0,0,0,0,0,0,0,0],"e":[[],[]],"l":[[],[]],"c":['
)
_KIND_KEYS = (
    "name", "form", "diameter_mm", "pitch_mm", "hole_mm", "beads_per_gram", "ladder_pitch_mm",
)  # fmt: skip
_BEAD_KEYS = ("hex", "kind", "name", "finish")


def to_code(piece: Piece, *, name: bool = False, wearer: bool = False) -> str:
    """The piece as a code of letters, digits, hyphens and underscores.

    Args:
        piece: the piece; its first form, if it was resized, and its notes are left out.
        name: whether the piece's name goes along.
        wearer: whether the measurement that it was made for goes along.
    """
    document = json.loads(to_json(piece))
    body = _packed(document)
    if name:
        body["n"] = document["name"]
    if wearer and document["wearer"] is not None:
        body["w"] = document["wearer"]
    text = json.dumps(body, ensure_ascii=False, separators=(",", ":")).encode()
    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15, 9, zdict=_KNOWN)
    packed = squeeze.compress(text) + squeeze.flush()
    check = zlib.crc32(packed).to_bytes(4, "big")
    return MARK + base64.urlsafe_b64encode(check + packed).decode().rstrip("=")


def link(code: str, address: str = USUAL_ADDRESS) -> str:
    """A link that carries a code.

    Args:
        code: what ``to_code`` gave.
        address: where the app answers, such as ``http://127.0.0.1:8501/?piece=``.
    """
    return address + code


def from_code(text: str) -> Piece:
    """The piece that a code or a link with a code in it rebuilds.

    Raises:
        ChartError: it is no code, was cut short or changed on its way, or holds no piece.
    """
    if len(text) > MOST_LETTERS:
        raise ChartError(_PATH, "its length", f"at most {MOST_LETTERS} letters are read")
    _, mark, letters = text.strip().rpartition(MARK)
    if not mark:
        raise ChartError(_PATH, "its beginning", f"a code begins with {MARK}")
    body = _body(letters.strip())
    try:
        document = _unpacked(body)
    except (KeyError, TypeError, ValueError, IndexError, AttributeError) as error:
        raise ChartError(_PATH, "the piece", f"it is not complete ({error!r})") from error
    return from_json(json.dumps(document), _PATH)


def _body(letters: str) -> dict[str, Any]:
    try:
        raw = base64.b64decode(letters + "=" * (-len(letters) % 4), b"-_", validate=True)
    except (binascii.Error, ValueError) as error:
        raise ChartError(_PATH, "its letters", "some letters do not belong to a code") from error
    check, packed = raw[:4], raw[4:]
    if len(check) < 4 or zlib.crc32(packed).to_bytes(4, "big") != check:
        raise ChartError(_PATH, "its letters", "it was cut short or changed; copy it whole")
    loosen = zlib.decompressobj(-15, zdict=_KNOWN)
    try:
        plain = loosen.decompress(packed, _MOST_BYTES)
    except zlib.error as error:
        raise ChartError(_PATH, "the piece", "it cannot be unpacked") from error
    if loosen.unconsumed_tail or not loosen.eof:
        raise ChartError(_PATH, "the piece", f"it holds more than {_MOST_BYTES} bytes, or too few")
    try:
        body = json.loads(plain)
    except (ValueError, RecursionError) as error:
        raise ChartError(_PATH, "the piece", "it is no piece") from error
    if not isinstance(body, dict):
        raise ChartError(_PATH, "the piece", "it is no piece")
    return body


def _packed(document: dict[str, Any]) -> dict[str, Any]:
    """The document with every group of columns written once and keys of one letter."""
    places: dict[tuple[tuple[int, ...], ...], int] = {}

    def place(columns: list[list[int]]) -> int:
        return places.setdefault(tuple(map(tuple, columns)), len(places))

    names = [kind["name"] for kind in document["kinds"]]
    motifs = [place(columns) for columns in document["motifs"]]
    dividers = [place(columns) for columns in document["dividers"]]
    closure = document["closure"]
    return {
        "s": document["seed"],
        "p": document["base_pitch_mm"],
        "k": [[kind[key] for key in _KIND_KEYS] for kind in document["kinds"]],
        "b": [
            [bead["hex"], names.index(bead["kind"]), bead["name"], bead["finish"]]
            for bead in document["beads"]
        ],
        "u": list(places),
        "m": motifs,
        "d": dividers,
        "e": document["margins"],
        "l": document["links"],
        "c": [closure["kind"], closure["length_mm"], closure["extender_mm"]],
        **({"y": 1} if document["pitch_measured"] else {}),
        **({"r": document["wear"]} if "wear" in document else {}),
        **({"f": 1} if document["plain_ends"] else {}),
    }


def _unpacked(body: dict[str, Any]) -> dict[str, Any]:
    """The document of a saved piece; whatever is wrong in it is found where pieces are read."""
    groups = body["u"]
    kinds = [dict(zip(_KIND_KEYS, kind, strict=True)) for kind in body["k"]]
    beads = [dict(zip(_BEAD_KEYS, bead, strict=True)) for bead in body["b"]]
    for bead in beads:
        bead["kind"] = kinds[_place(bead["kind"])]["name"]
    return {
        VERSION_KEY: VERSION,
        "name": body.get("n", _UNNAMED),
        "notes": "",
        "seed": body["s"],
        "wearer": body.get("w"),
        "wear": body.get("r"),
        # Codes before 0.2 do not say; without a measurement there is nothing to tell it from.
        "plain_ends": body.get("f") == 1,
        "pitch_measured": body.get("y") == 1,
        "base_pitch_mm": body["p"],
        "kinds": kinds,
        "beads": beads,
        "motifs": _spread(groups, body["m"]),
        "dividers": _spread(groups, body["d"]),
        "margins": body["e"],
        "links": body["l"],
        "closure": dict(zip(("kind", "length_mm", "extender_mm"), body["c"], strict=True)),
    }


def _place(number: object) -> int:
    if isinstance(number, bool) or not isinstance(number, int) or number < 0:
        raise ValueError(f"a place is a whole number from 0; got {number!r}")
    return number


def _spread(groups: list[Any], places: list[Any]) -> list[Any]:
    """Every group written out; bounded, since a few letters could ask for very many beads."""
    found, beads = [], 0
    for number in places:
        group = groups[_place(number)]
        beads += sum(len(column) for column in group)
        if beads > _MOST_BYTES:
            raise ValueError("more beads than any strip has")
        found.append(group)
    return found
