"""A piece in its saved form: versioned JSON that every later version opens.

What is saved is what was meant, a ``Pattern``, with a digest of the beads that it weaves. Every
figure that sizing and counting need is in the file, so a later change to the bead table changes no
saved piece. The published schema stands in ``explorer/data/piece-2.schema.json``. Version 1 kept
the beads themselves; see ``explorer.piece_version_1``.
"""

import hashlib
import json
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from explorer import piece_version_1
from explorer.brief import MOST_SEED, Wearer
from explorer.cautions import Wear
from explorer.design import Design
from explorer.errors import BriefError
from explorer.lift import lift
from explorer.pattern import Pattern, Worn
from explorer.piece_faults import fault, misspelt
from explorer.reading import MEND, Json, Reader
from explorer.wearers import own_ease, usual_wear
from explorer.weave import weave
from palettes.errors import ChartError, quoted

if TYPE_CHECKING:
    from pydantic import TypeAdapter

VERSION = 2  # by definition: one more than that of the form before
VERSION_KEY = "danglewise_piece"
SHELF_KEY = "shelf"
"""Where a piece that stood on a shelf says what the shelf knows of it (``explorer.shelf_json``)."""
# Chosen by us: longer than any name or note that a maker types, short enough to be harmless.
MOST_NAME = 200
MOST_NOTES = 20_000
# Chosen by us: a strip of 20 000 base beads with long dangles, bead by bead, stays below it.
MOST_BYTES = 20_000_000
_WORDS = (VERSION_KEY, SHELF_KEY, "name", "notes", "seed", "woven")


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A pattern with what the maker wants to remember of it.

    Attributes:
        pattern: what was meant.
        name: what the maker calls it.
        seed: the number its proposal started from, if it was proposed.
        notes: anything.
    """

    pattern: Pattern
    name: str = "Unnamed piece"
    seed: int | None = None
    notes: str = ""

    def __post_init__(self) -> None:
        check_name(self.name)
        check_length("notes", self.notes, MOST_NOTES)
        # A pattern that cannot be woven makes no piece.
        weave(self.pattern)

    @property
    def design(self) -> Design:
        """The strip, bead by bead."""
        return weave(self.pattern)

    @property
    def wearer(self) -> Wearer | None:
        """The measurement it was made for, if one is kept."""
        return self.pattern.worn.wearer

    @property
    def wear(self) -> Wear | None:
        """What it is worn as, if the maker said so; see ``worn_as``."""
        return self.pattern.worn.wear

    @property
    def pitch_measured(self) -> bool:
        """Whether the base pitch was measured over a swatch."""
        return self.pattern.base.measured

    @property
    def plain_ends(self) -> bool:
        """Whether plain base beads at both ends fill what whole motifs leave over."""
        return self.pattern.run.fill

    @property
    def worn_as(self) -> Wear:
        """What it is worn as: as the maker said, else as the measurement suggests."""
        return self.wear or usual_wear(None if self.wearer is None else self.wearer.snug_mm)


def piece_of(
    design: Design,
    *,
    name: str = "Unnamed piece",
    wearer: Wearer | None = None,
    wear: Wear | None = None,
    pitch_measured: bool = False,
    plain_ends: bool = False,
    seed: int | None = None,
    notes: str = "",
) -> Piece:
    """A piece of which only the beads are known: its rules are read off them (``lift``)."""
    own = own_ease(wearer, wear)
    pattern = lift(
        design,
        worn=Worn(wearer=wearer, wear=wear, own_ease=own),
        fill=plain_ends,
        measured=pitch_measured,
    )
    return Piece(pattern=pattern, name=name, seed=seed, notes=notes)


def worn_by(piece: Piece, wearer: Wearer | None) -> Piece:
    """The piece with another measurement beside it, its beads as they are."""
    worn = replace(piece.pattern.worn, wearer=wearer)
    return replace(piece, pattern=replace(piece.pattern, worn=worn))


def worn_as(piece: Piece, wear: Wear) -> Piece:
    """The piece with what it is worn as beside it, its beads as they are."""
    worn = replace(piece.pattern.worn, wear=wear)
    return replace(piece, pattern=replace(piece.pattern, worn=worn))


def check_name(name: str) -> None:
    """``BriefError`` where a piece cannot be called so."""
    if not name.strip():
        raise BriefError("name", name[:40], f"1 to {MOST_NAME} characters", "Give it a name.")
    check_length("name", name, MOST_NAME)


def check_length(field: str, text: str, most: int) -> None:
    """``BriefError`` where a text is longer than it may be."""
    if len(text) > most:
        got, wanted = f"{len(text)} characters", f"at most {most} characters"
        raise BriefError(field, got, wanted, "Shorten it.")


@lru_cache(maxsize=1)
def _codec() -> "TypeAdapter[Pattern]":
    from pydantic import TypeAdapter

    return TypeAdapter(Pattern)


@lru_cache(maxsize=1)
def _names() -> frozenset[str]:
    """All names that parts of a piece have."""
    schema = _codec().json_schema()
    parts = [schema, *schema.get("$defs", {}).values()]
    return frozenset(name for part in parts for name in part.get("properties", {}))


def digest(design: Design) -> str:
    """A mark of a piece's beads, column by column, however they are numbered."""
    beads = [
        f"{bead.name}|{bead.hex}|{bead.finish.value}|{bead.kind.name}" for bead in design.beads
    ]
    rows: list[object] = [
        [place.part.value, *(beads[n] for n in (column.base, *column.beads))]
        for place, column in design.columns()
    ]
    rows += [[beads[n] for n in side] for side in (design.start_links, design.end_links)]
    rows += [repr(design.base_pitch_mm), repr(design.closure)]
    return hashlib.sha256(json.dumps(rows).encode()).hexdigest()[:16]


def to_document(pattern: Pattern) -> Json:
    """A pattern as plain values, without what is as usual."""
    found: Json = _codec().dump_python(pattern, mode="json", exclude_defaults=True)
    return found


def to_json(piece: Piece) -> str:
    """The piece as text, one line per part, the same text for the same piece."""
    document: Json = {
        VERSION_KEY: VERSION,
        "name": piece.name,
        "notes": piece.notes,
        "seed": piece.seed,
        **to_document(piece.pattern),
        "woven": digest(piece.design),
    }
    lines = (f"  {json.dumps(k)}: {json.dumps(v, ensure_ascii=False)}" for k, v in document.items())
    return "{\n" + ",\n".join(lines) + "\n}\n"


def from_json(text: str, path: str = "the piece") -> Piece:
    """The piece that a text holds.

    Args:
        text: what ``to_json`` wrote, of this version or an older one.
        path: what to call the file in an error.

    Raises:
        ChartError: it is no piece, is damaged, or comes from a newer version.
    """
    document = _document(text, path)
    try:
        if _version(document, path) == 1:
            first = piece_version_1.read(document, path)
            return Piece(pattern=first.pattern, name=first.name, seed=first.seed, notes=first.notes)
        return _piece(document, path)
    except BriefError as error:
        why = f"got {quoted(error.got)}, wanted {error.wanted}. {MEND}"
        raise ChartError(path, error.field, why) from error
    except ValueError as error:
        raise ChartError(path, "the design", f"{error}. {MEND}") from error
    except RecursionError as error:
        why = "it holds lists in lists without end; open an older copy of it"
        raise ChartError(path, "the file", why) from error


def _document(text: str, path: str) -> Json:
    if len(text) > MOST_BYTES:
        raise ChartError(path, "the file", f"a piece is at most {MOST_BYTES} characters long")
    try:
        document = json.loads(text, parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        where = f"from line {error.lineno}, column {error.colno}"
        raise ChartError(
            path, "the file", f"it is not whole JSON {where}; open an older copy of it"
        ) from error
    except (ValueError, RecursionError) as error:
        why = "a number that is none or far too long, or lists in lists without end"
        raise ChartError(path, "the file", f"it holds {why}; open an older copy of it") from error
    if not isinstance(document, dict) or VERSION_KEY not in document:
        raise ChartError(path, "the file", f"it is no piece: {VERSION_KEY!r} is missing")
    return document


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is no number of ours")


def _version(document: Json, path: str) -> int:
    found = document[VERSION_KEY]
    if isinstance(found, bool) or not isinstance(found, int):
        raise ChartError(path, VERSION_KEY, f"a whole number is wanted; got {found!r}")
    if found > VERSION:
        raise ChartError(
            path,
            VERSION_KEY,
            f"this piece was saved by a newer Danglewise (piece version {found}; this one reads up "
            f"to {VERSION}). Update Danglewise to open it; the file is untouched",
        )
    if found < 1:
        raise ChartError(path, VERSION_KEY, f"there is no piece version {found}")
    return found


def _piece(document: Json, path: str) -> Piece:
    reader = Reader(path)
    seed = document.get("seed")
    if seed is not None and not 0 <= reader.whole(seed, "seed") <= MOST_SEED:
        raise reader.fail("seed", f"a number from 0 to {MOST_SEED}", seed)
    pattern = pattern_of({key: value for key, value in document.items() if key not in _WORDS}, path)
    piece = Piece(
        pattern=pattern,
        name=reader.text(document, "name"),
        seed=seed,
        notes=reader.text(document, "notes"),
    )
    woven = document.get("woven")
    if woven is not None and woven != digest(piece.design):
        raise ChartError(
            path,
            "woven",
            "its rules weave other beads, colours or names of colours than those it was saved "
            "with, so it was changed since. Open an older copy of it, and change that in the app "
            'or with `danglewise change`; or take out the line "woven" to open it as it is now',
        )
    return piece


def pattern_of(document: Json, path: str) -> Pattern:
    """The pattern in plain values, as ``to_document`` gives them.

    Raises:
        ChartError: something in them is not as it should be; it is named with its place.
    """
    from pydantic import ValidationError

    try:
        pattern = _codec().validate_json(json.dumps(document), strict=True)
    except ValidationError as error:
        where, why = fault(document, error.errors(include_url=False), _names())
        raise ChartError(path, where, why) from error
    unknown = _unknown(document, _codec().dump_python(pattern, mode="json"), "")
    if unknown:
        name = unknown.rpartition(".")[2]
        close = get_close_matches(name, _names(), 1)
        raise ChartError(path, unknown, misspelt(name, close[0] if close else None))
    return pattern


def _unknown(given: Any, known: Any, where: str) -> str:
    """The first part of a document that is no part of what was read from it; empty for none."""
    if isinstance(given, dict) and isinstance(known, dict):
        for key, value in given.items():
            place = f"{where}.{key}" if where else key
            if key not in known:
                return place
            deeper = _unknown(value, known[key], place)
            if deeper:
                return deeper
    if isinstance(given, list) and isinstance(known, list):
        for number, (value, other) in enumerate(zip(given, known, strict=False)):
            deeper = _unknown(value, other, f"{where}.{number}")
            if deeper:
                return deeper
    return ""
