"""A piece as one short line of letters, to put into a link or a code to scan.

A code holds the pattern and the seed. It holds no piece's name, no notes and no measurement, unless
the maker asks for them. What is read back is checked like any saved piece.
"""

import base64
import binascii
import json
import re
import zlib
from dataclasses import replace
from typing import Any

from explorer import share_version_1
from explorer.pattern import Pattern, Worn
from explorer.piece import VERSION, VERSION_KEY, Piece, from_json, to_document
from explorer.share_known import KNOWN
from palettes.errors import ChartError

MARK = f"dw{VERSION}."
"""How every code of this version begins."""

USUAL_ADDRESS = "danglewise:"
# Chosen by us: more letters than any mailer or browser passes on in one link, and with that a
# bound on the work that a stranger's text can cause.
MOST_LETTERS = 100_000
# Chosen by us: a pattern with every motif of a long strip done by hand stays below it.
_MOST_BYTES = 5_000_000
_PATH = "the link"
_UNNAMED = "Shared piece"
_COLOUR = ("name", "hex", "finish")
_MARKS = re.compile(r"dw([1-9]\d{0,2})\.", re.ASCII)


def to_code(piece: Piece, *, name: bool = False, wearer: bool = False) -> str:
    """The piece as a code of letters, digits, hyphens and underscores.

    Args:
        piece: the piece; its notes are left out.
        name: whether the piece's name goes along.
        wearer: whether the measurement that it was made for goes along.
    """
    worn = piece.pattern.worn if wearer else Worn(wear=piece.worn_as)
    body = _packed(replace(piece.pattern, worn=worn))
    if piece.seed is not None:
        body["seed"] = piece.seed
    if name:
        body["name"] = piece.name
    text = json.dumps(body, ensure_ascii=False, separators=(",", ":")).encode()
    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15, 9, zdict=KNOWN)
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
    """The piece that a code or a link with a code in it rebuilds, of this version or an older one.

    Raises:
        ChartError: it is no code, was cut short or changed on its way, comes from a newer version,
            or holds no piece.
    """
    if len(text) > MOST_LETTERS:
        raise ChartError(_PATH, "its length", f"at most {MOST_LETTERS} letters are read")
    marks = list(_MARKS.finditer(text))
    if not marks:
        raise ChartError(_PATH, "its beginning", f"a code begins with {MARK!r}; copy it whole")
    version, letters = int(marks[-1][1]), text[marks[-1].end() :].strip()
    if version > VERSION:
        why = (
            f"this code was made by a newer Danglewise (it begins with {marks[-1][0]}; this one "
            f"reads up to {MARK}). Update Danglewise to open it"
        )
        raise ChartError(_PATH, "its beginning", why)
    body = _body(letters, share_version_1.KNOWN if version == 1 else KNOWN)
    try:
        document = share_version_1.unpacked(body, _UNNAMED) if version == 1 else _unpacked(body)
    except (KeyError, TypeError, ValueError, IndexError, AttributeError) as error:
        raise ChartError(_PATH, "the piece", f"it is not complete ({error!r})") from error
    return from_json(json.dumps(document), _PATH)


def _body(letters: str, known: bytes) -> dict[str, Any]:
    try:
        raw = base64.b64decode(letters + "=" * (-len(letters) % 4), b"-_", validate=True)
    except (binascii.Error, ValueError) as error:
        raise ChartError(_PATH, "its letters", "some letters do not belong to a code") from error
    check, packed = raw[:4], raw[4:]
    if len(check) < 4 or zlib.crc32(packed).to_bytes(4, "big") != check:
        raise ChartError(_PATH, "its letters", "it was cut short or changed; copy it whole")
    loosen = zlib.decompressobj(-15, zdict=known)
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


def _packed(pattern: Pattern) -> dict[str, Any]:
    """The pattern as plain values, without what most patterns have alike.

    That is: colours counted from 1, everything kept that is on the strip, and link beads for its
    length. Colours come last, so that what comes before is often word for word as in ``KNOWN``.
    """
    body = to_document(pattern)
    colours, next_key = body.pop("colours"), body.pop("next_key")
    keys = [colour.pop("key") for colour in colours]
    if [*keys, next_key] != list(range(1, len(keys) + 2)):
        body["keys"] = [*keys, next_key]
    if pattern.kept == pattern.run.motifs:
        del body["kept"]
    else:
        body["kept"] = pattern.kept
    if pattern.ends.for_motifs == pattern.run.motifs:
        del body["ends"]["for_motifs"]
    else:
        body.setdefault("ends", {})["for_motifs"] = pattern.ends.for_motifs
    if not body["ends"]:
        del body["ends"]
    body["colours"] = [list(colour.values()) for colour in colours]
    return body


def _unpacked(body: dict[str, Any]) -> dict[str, Any]:
    """The document of a saved piece; whatever is wrong in it is found where pieces are read."""
    rows, motifs = body["colours"], body["run"]["motifs"]
    *keys, next_key = body.pop("keys", range(1, len(rows) + 2))
    colours = [
        {"key": key, **dict(zip(_COLOUR[: len(row)], row, strict=True))}
        for key, row in zip(keys, rows, strict=True)
    ]
    return {
        "name": _UNNAMED,
        "seed": None,
        "kept": motifs,
        **body,
        VERSION_KEY: VERSION,
        "notes": "",
        "ends": {"for_motifs": motifs, **body.get("ends", {})},
        "colours": colours,
        "next_key": next_key,
    }
