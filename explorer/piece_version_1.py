"""Pieces of version 1, which kept beads: read, and lifted to the rules that they came from.

Columns are rows of bead numbers, the base bead first. The published schema stands in
``explorer/data/piece-1.schema.json``.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

from explorer.bead_numbers import tidied
from explorer.brief import MOST_SEED, Wearer
from explorer.cautions import Wear
from explorer.design import Closure, Column, Design, of_columns
from explorer.fit import TOLERANCE_MM
from explorer.lift import lift
from explorer.pattern import Pattern, Worn
from explorer.reading import Json, Reader
from explorer.wearers import own_ease
from explorer.weave import weave
from palettes.beads import Bead, BeadKind
from palettes.finishes import Finish
from palettes.forms import Form


@dataclass(frozen=True, slots=True, kw_only=True)
class First:
    """What a file of version 1 holds."""

    pattern: Pattern
    name: str
    notes: str
    seed: int | None


def read(document: Json, path: str) -> First:
    """The piece in a document of version 1.

    Raises:
        ChartError, BriefError, ValueError: it is damaged, or holds no piece.
    """
    return _PieceReader(path).piece(document)


def ends_filled(design: Design, wearer: Wearer) -> bool:
    """Whether as many plain base beads at each end leave less than two base beads over."""
    left_mm = wearer.target_mm(design.closure) - design.strip_mm
    alike = len(design.start_margin) == len(design.end_margin)
    return alike and left_mm < 2.0 * design.base_pitch_mm - TOLERANCE_MM


def _lifted(
    design: Design, origin: Design | None, worn: Worn, *, fill: bool, measured: bool
) -> Pattern:
    """The pattern of a piece; a resized one goes on from its first form where that gives it."""
    if origin is not None:
        margins = len(design.start_margin), len(design.end_margin)
        # Outlines in turn were cut off where a strip was shortened, and began anew where it grew;
        # where the rule for outlines in turn differs from that, every motif has its own.
        for one_outline in (False, True):
            first = lift(origin, worn=worn, fill=fill, measured=measured, one_outline=one_outline)
            run = replace(first.run, motifs=len(design.motifs), margins=margins)
            ends = replace(first.ends, closure=design.closure)
            pattern = replace(first, run=run, ends=ends)
            if same_beads(weave(pattern), design):
                return pattern
    return lift(design, worn=worn, fill=fill, measured=measured)


def same_beads(one: Design, other: Design) -> bool:
    """Whether two designs are the same piece, however their beads are numbered."""
    return _spelled(one) == _spelled(other)


def _spelled(design: Design) -> tuple[object, ...]:
    beads = design.beads
    columns = [
        (place, tuple(beads[n] for n in (column.base, *column.beads)))
        for place, column in design.columns()
    ]
    links = [tuple(beads[n] for n in side) for side in (design.start_links, design.end_links)]
    return design.base_pitch_mm, columns, links, design.closure


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
        return of_columns(
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

    def piece(self, document: Json) -> First:
        seed = document.get("seed")
        origin = document.get("origin")
        design = self.closed(self.design(document), document.get("wearer"))
        wearer = self.wearer(document.get("wearer"))
        wear = self.wear(document.get("wear"))
        # Files before 0.2 do not say: then it is as it looks.
        filled = wearer is not None and ends_filled(design, wearer)
        pattern = _lifted(
            tidied(design),
            None if origin is None else self.design(self.table(origin, "origin")),
            Worn(wearer=wearer, wear=wear, own_ease=own_ease(wearer, wear)),
            fill=self.flag({"plain_ends": filled, **document}, "plain_ends"),
            measured=self.flag(document, "pitch_measured"),
        )
        return First(
            pattern=pattern,
            name=self.text(document, "name"),
            seed=None if seed is None else self.seed(seed),
            notes=self.text(document, "notes"),
        )
