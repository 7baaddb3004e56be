"""A piece in its saved form: versioned JSON that every later version opens.

The published schema stands in ``explorer/data/piece-1.schema.json``. Columns are written as rows of
bead numbers, the base bead first. Every figure that sizing and counting need is in the file, so a
later change to the bead table changes no saved piece.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, fields, replace

from explorer.brief import MOST_SEED, Wearer
from explorer.cautions import Wear
from explorer.design import Closure, Column, Design
from explorer.errors import BriefError
from explorer.fit import TOLERANCE_MM
from explorer.reading import Json, Reader
from explorer.wearers import usual_wear
from palettes.beads import Bead, BeadKind
from palettes.errors import ChartError
from palettes.finishes import Finish
from palettes.forms import Form

VERSION = 1
VERSION_KEY = "danglewise_piece"
# Chosen by us: longer than any name or note that a maker types, short enough to be harmless.
MOST_NAME = 200
MOST_NOTES = 20_000
# Chosen by us: a strip of 20 000 base beads with long dangles stays below it.
MOST_BYTES = 20_000_000

# What turns a piece of that older version into the next one's form. Version 1 is the first.
MIGRATIONS: Mapping[int, Callable[[Json], Json]] = {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A design with what the maker wants to remember of it.

    Attributes:
        design: the strip, bead by bead.
        name: what the maker calls it.
        wearer: the measurement it was made for, if one is kept.
        wear: what it is worn as, if the maker said so; see ``worn_as``.
        pitch_measured: whether the base pitch was measured over a swatch.
        plain_ends: whether plain base beads at both ends fill what whole motifs leave over, also
            in another size.
        seed: the number its proposal started from, if it was proposed.
        notes: anything.
        origin: the first form of a piece that was resized, to resize from; None for the others.
    """

    design: Design
    name: str = "Unnamed piece"
    wearer: Wearer | None = None
    wear: Wear | None = None
    pitch_measured: bool = False
    plain_ends: bool = False
    seed: int | None = None
    notes: str = ""
    origin: Design | None = None

    @property
    def worn_as(self) -> Wear:
        """What it is worn as: as the maker said, else as the measurement suggests."""
        return self.wear or usual_wear(None if self.wearer is None else self.wearer.snug_mm)

    def __post_init__(self) -> None:
        check_name(self.name)
        check_length("notes", self.notes, MOST_NOTES)


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


def ends_filled(design: Design, wearer: Wearer) -> bool:
    """Whether as many plain base beads at each end leave less than two base beads over."""
    left_mm = wearer.target_mm(design.closure) - design.strip_mm
    alike = len(design.start_margin) == len(design.end_margin)
    return alike and left_mm < 2.0 * design.base_pitch_mm - TOLERANCE_MM


def to_json(piece: Piece) -> str:
    """The piece as text, one line per part, the same text for the same piece."""
    document: Json = {
        VERSION_KEY: VERSION,
        "name": piece.name,
        "notes": piece.notes,
        "seed": piece.seed,
        "wearer": _wearer_document(piece),
        **({} if piece.wear is None else {"wear": piece.wear}),
        "pitch_measured": piece.pitch_measured,
        "plain_ends": piece.plain_ends,
        **_design_document(piece.design),
    }
    if piece.origin is not None:
        document["origin"] = _design_document(piece.origin)
    lines = (f"  {json.dumps(k)}: {json.dumps(v, ensure_ascii=False)}" for k, v in document.items())
    return "{\n" + ",\n".join(lines) + "\n}\n"


def _wearer_document(piece: Piece) -> Json | None:
    """The measurement; a reader of the file finds the closure's length beside it, as ever."""
    if piece.wearer is None:
        return None
    return {**asdict(piece.wearer), "closure_mm": piece.design.closure.length_mm}


def _design_document(design: Design) -> Json:
    kinds = {bead.kind.name: bead.kind for bead in design.beads}
    if len({bead.kind for bead in design.beads}) != len(kinds):
        raise ValueError("two kinds of bead in one design share a name")
    return {
        "base_pitch_mm": design.base_pitch_mm,
        "kinds": [asdict(kinds[name]) for name in sorted(kinds)],
        "beads": [
            {"name": b.name, "kind": b.kind.name, "hex": b.hex, "finish": b.finish}
            for b in design.beads
        ],
        "motifs": [_rows(motif) for motif in design.motifs],
        "dividers": [_rows(divider) for divider in design.dividers],
        "margins": [_rows(design.start_margin), _rows(design.end_margin)],
        "links": [list(design.start_links), list(design.end_links)],
        "closure": asdict(design.closure),
    }


def _rows(columns: tuple[Column, ...]) -> list[list[int]]:
    return [[column.base, *column.beads] for column in columns]


def from_json(text: str, path: str = "the piece") -> Piece:
    """The piece that a text holds.

    Args:
        text: what ``to_json`` wrote, of this version or an older one.
        path: what to call the file in an error.

    Raises:
        ChartError: it is no piece, is damaged, or comes from a newer version.
    """
    document = migrated(_document(text, path), path)
    reader = _PieceReader(path)
    try:
        return reader.piece(document)
    except BriefError as error:
        raise ChartError(path, error.field, f"got {error.got!r}, wanted {error.wanted}") from error
    except ValueError as error:
        raise ChartError(path, "the design", str(error)) from error


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


def migrated(
    document: Json,
    path: str,
    *,
    version: int = VERSION,
    migrations: Mapping[int, Callable[[Json], Json]] = MIGRATIONS,
) -> Json:
    """The document in the form of ``version``, brought there step by step if it is older.

    Raises:
        ChartError: it is newer, or of no version that ever was.
    """
    found = document[VERSION_KEY]
    if isinstance(found, bool) or not isinstance(found, int):
        raise ChartError(path, VERSION_KEY, f"a whole number is wanted; got {found!r}")
    if found > version:
        raise ChartError(
            path,
            VERSION_KEY,
            f"this piece was saved by a newer Danglewise (piece version {found}; this one reads up "
            f"to {version}). Update Danglewise to open it; the file is untouched",
        )
    while found < version:
        if found not in migrations:
            raise ChartError(path, VERSION_KEY, f"there is no piece version {found}")
        document = migrations[found](document)
        found += 1
    return {**document, VERSION_KEY: version}


class _PieceReader(Reader):
    """The parts of a piece, from the inside out."""

    def columns(self, value: object, entry: str) -> tuple[Column, ...]:
        found = []
        for row in self.rows(value, entry):
            numbers = [self.whole(n, entry) for n in self.rows(row, entry)]
            if not numbers:
                raise self.fail(entry, "a base bead in every column", row)
            found.append(Column(base=numbers[0], beads=tuple(numbers[1:])))
        return tuple(found)

    def kind(self, value: object) -> BeadKind:
        table = self.table(value, "kinds")
        figures = {
            f.name: self.number(table, f.name)
            for f in fields(BeadKind)
            if f.type in (float, "float")
        }
        try:
            form = Form(self.text(table, "form"))
        except ValueError:
            raise self.fail("form", f"one of {', '.join(Form)}", table["form"]) from None
        return BeadKind(name=self.text(table, "name"), form=form, **figures)

    def bead(self, value: object, kinds: Mapping[str, BeadKind]) -> Bead:
        table = self.table(value, "beads")
        kind = kinds.get(self.text(table, "kind"))
        if kind is None:
            raise self.fail("beads", "a kind that the file describes", table["kind"])
        try:
            finish = Finish(self.text(table, "finish"))
        except ValueError:
            raise self.fail("finish", f"one of {', '.join(Finish)}", table["finish"]) from None
        return Bead(
            name=self.text(table, "name"), kind=kind, hex=self.text(table, "hex"), finish=finish
        )

    def wearer(self, value: object) -> Wearer | None:
        if value is None:
            return None
        table = self.table(value, "wearer")
        return Wearer(
            snug_mm=self.number(table, "snug_mm"),
            ease_mm=self.number(table, "ease_mm"),
            closure_counted=self.flag(table, "closure_counted"),
            curvature_mm=self.number(table, "curvature_mm") if "curvature_mm" in table else 0.0,
        )

    def wear(self, value: object) -> Wear | None:
        if value is None:
            return None
        try:
            return Wear(str(value))
        except ValueError:
            raise self.fail("wear", f"one of {', '.join(Wear)}", value) from None

    def closure(self, value: object) -> Closure:
        table = self.table(value, "closure")
        return Closure(
            kind=self.text(table, "kind"),
            length_mm=self.number(table, "length_mm"),
            extender_mm=self.number(table, "extender_mm"),
        )

    def design(self, document: Json) -> Design:
        kinds = {k.name: k for k in map(self.kind, self.rows(document.get("kinds"), "kinds"))}
        beads = self.rows(document.get("beads"), "beads")
        margins = self.pair(document, "margins")
        links = self.pair(document, "links")
        return Design(
            beads=tuple(self.bead(bead, kinds) for bead in beads),
            base_pitch_mm=self.number(document, "base_pitch_mm"),
            motifs=self.groups(document, "motifs"),
            dividers=self.groups(document, "dividers"),
            start_margin=self.columns(margins[0], "margins"),
            end_margin=self.columns(margins[1], "margins"),
            start_links=tuple(self.whole(n, "links") for n in links[0]),
            end_links=tuple(self.whole(n, "links") for n in links[1]),
            closure=self.closure(document.get("closure")),
        )

    def closed(self, design: Design, wearer: object) -> Design:
        """The design with the closure that its measurement was taken for.

        Files before 0.2 could tell one length beside the measurement and another, or none, with the
        strip, under a kind that nobody had named.
        """
        if wearer is None:
            return design
        length_mm = self.number(self.table(wearer, "wearer"), "closure_mm")
        if design.closure.length_mm == length_mm:
            return design
        kind = design.closure.kind if design.closure.length_mm else ""
        return replace(design, closure=replace(design.closure, kind=kind, length_mm=length_mm))

    def seed(self, value: object) -> int:
        found = self.whole(value, "seed")
        if not 0 <= found <= MOST_SEED:
            raise self.fail("seed", f"a number from 0 to {MOST_SEED}", found)
        return found

    def groups(self, document: Json, key: str) -> tuple[tuple[Column, ...], ...]:
        rows = self.rows(document.get(key), key)
        return tuple(self.columns(row, f"{key}, number {i}") for i, row in enumerate(rows))

    def piece(self, document: Json) -> Piece:
        seed = document.get("seed")
        origin = document.get("origin")
        design = self.closed(self.design(document), document.get("wearer"))
        wearer = self.wearer(document.get("wearer"))
        # Files before 0.2 do not say: then it is as it looks.
        filled = wearer is not None and ends_filled(design, wearer)
        return Piece(
            design=design,
            name=self.text(document, "name"),
            wearer=wearer,
            plain_ends=self.flag({"plain_ends": filled, **document}, "plain_ends"),
            wear=self.wear(document.get("wear")),
            pitch_measured=self.flag(document, "pitch_measured"),
            seed=None if seed is None else self.seed(seed),
            notes=self.text(document, "notes"),
            origin=None if origin is None else self.design(self.table(origin, "origin")),
        )
