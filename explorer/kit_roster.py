"""A roster of learners, from a CSV file or typed: name, measurement, and what they picked."""

import csv
import io
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace

from explorer.brief import LEAST_BARE_MM, LEAST_SNUG_MM, MOST_EASE_MM, MOST_SNUG_MM
from explorer.errors import BriefError
from explorer.hexes import parse_colours
from explorer.lengths import parse_mm

COLUMNS = ("name", "snug", "ease", "picks", "colours")
# Chosen by us: far more than any teacher's classes in a year; each of them is a file to print.
MOST_LEARNERS = 1000
MOST_BYTES = 2_000_000
_MOST_NAME = 80
_MOST_PICKS = 12
_BAND_SIGNS = ("\N{EN DASH}", "\N{EM DASH}", " to ", " - ", "..")


@dataclass(frozen=True, slots=True, kw_only=True)
class Learner:
    """Someone who makes a piece.

    Attributes:
        name: as it is printed, no two alike.
        least_mm, most_mm: the snug measurement twice, or the ends of a size band.
        ease_mm: of their own; None for the class's.
        picks: names of beads, or one whole number: so many colours, chosen for them.
        colours: hex colours of their own.
    """

    name: str
    least_mm: float
    most_mm: float
    ease_mm: float | None = None
    picks: tuple[str, ...] = ()
    colours: tuple[str, ...] = ()

    @property
    def measured(self) -> bool:
        """Whether they are measured, not only put into a band."""
        return self.least_mm == self.most_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Roster:
    """Learners in order, and what was noticed while reading them."""

    learners: tuple[Learner, ...]
    remarks: tuple[str, ...] = ()


def parse_roster(text: str) -> Roster:
    """The learners in a text: one a line, under a head that names the columns, or without a head.

    Columns are ``name, snug`` and, if wanted, ``ease, picks, colours``, parted by commas,
    semicolons or tabs. Empty lines are passed over; a name that comes again is numbered.

    Args:
        text: the file's text. ``snug`` is a length, or a band such as ``150 - 165`` for a learner
            who is not measured yet.

    Raises:
        BriefError: there is nobody, somebody too many, or a line that cannot be read; the message
            names the line.
    """
    rows = _rows(text)
    head = [cell.strip().lower() for cell in rows[0][1]] if rows else []
    columns: tuple[str, ...] = COLUMNS
    if "name" in head or "snug" in head:
        columns = _columns(head)
        rows = rows[1:]
    if not rows:
        raise _fault("nobody", "a line for every learner: a name and a measurement", "Add a line.")
    if len(rows) > MOST_LEARNERS:
        raise _fault(
            f"{len(rows)} learners", f"at most {MOST_LEARNERS}", "Part the roster into several."
        )
    remarks: list[str] = []
    found = [_learner(line, cells, columns) for line, cells in rows]
    return Roster(learners=tuple(_told_apart(found, remarks)), remarks=tuple(remarks))


def _fault(got: object, wanted: str, remedy: str) -> BriefError:
    return BriefError("roster", got, wanted, remedy)


def _rows(text: str) -> list[tuple[int, list[str]]]:
    """Lines that say something, with their numbers from 1."""
    plain = text.removeprefix("\N{ZERO WIDTH NO-BREAK SPACE}")
    first = next((line for line in plain.splitlines() if line.strip()), "")
    sign = max(",;\t", key=first.count)
    reader = csv.reader(io.StringIO(plain, newline=""), delimiter=sign)
    try:
        lines = [(reader.line_num, cells) for cells in reader]
    except csv.Error as error:
        raise _fault(
            f"line {reader.line_num}", f"lines of CSV ({error})", "Save it as CSV again."
        ) from error
    return [(line, cells) for line, cells in lines if any(cell.strip() for cell in cells)]


def _columns(head: list[str]) -> tuple[str, ...]:
    unknown = [name for name in head if name and name not in COLUMNS]
    missing = [name for name in ("name", "snug") if name not in head]
    if unknown or missing or len({*head}) != len(head):
        raise _fault(
            ", ".join(head),
            f"columns among {', '.join(COLUMNS)}, each once, name and snug always",
            "Mend the first line.",
        )
    return tuple(head)


def _learner(line: int, cells: list[str], columns: tuple[str, ...]) -> Learner:
    if any(cell.strip() for cell in cells[len(columns) :]):
        raise _fault(
            f"line {line}: {len(cells)} cells",
            f"at most {len(columns)} cells",
            "Put a cell that holds a comma into quotation marks.",
        )
    row = dict(zip(columns, (cell.strip() for cell in cells), strict=False))
    name = _clean(row.get("name", ""))
    if not name or len(name) > _MOST_NAME:
        raise _fault(
            f"line {line}: {name[:40]!r}", f"a name or number of 1 to {_MOST_NAME} signs", "Add it."
        )
    try:
        least, most = band_mm(row.get("snug", ""))
        ease = row.get("ease", "")
        return Learner(
            name=name,
            least_mm=least,
            most_mm=most,
            ease_mm=_ease_mm(ease) if ease else None,
            picks=_picks(row.get("picks", "")),
            colours=_colours(row.get("colours", "")),
        )
    except BriefError as error:
        raise _fault(
            f"line {line}, {name}, {error.field}: {error.got}", error.wanted, error.remedy
        ) from error


def _ease_mm(text: str) -> float:
    return parse_mm(text, "ease", most_mm=MOST_EASE_MM, least_bare_mm=LEAST_BARE_MM)


def _clean(name: str) -> str:
    """A name on one line, without signs that cannot be seen."""
    plain = unicodedata.normalize("NFC", name)
    seen = "".join(" " if unicodedata.category(c) in ("Cc", "Cs", "Zl", "Zp") else c for c in plain)
    return " ".join(seen.split())


def _picks(text: str) -> tuple[str, ...]:
    parts = [part.strip() for part in text.replace("|", ";").replace("/", ";").split(";")]
    if len(parts) == 1 and "," in text:
        parts = [part.strip() for part in text.split(",")]
    found = tuple(dict.fromkeys(part for part in parts if part))
    if len(found) > _MOST_PICKS:
        raise BriefError("picks", text[:60], f"at most {_MOST_PICKS} beads", "Pick fewer.")
    return found


def _colours(text: str) -> tuple[str, ...]:
    parts = [part for part in re.split(r"[;,\s]+", text) if part]
    found = tuple(dict.fromkeys(parse_colours(parts))) if parts else ()
    if len(found) > _MOST_PICKS:
        raise BriefError("colours", text[:60], f"at most {_MOST_PICKS} colours", "Take fewer.")
    return found


def band_mm(text: str) -> tuple[float, float]:
    """Both ends of a measurement: the same twice for a length, two for a band.

    Raises:
        BriefError: it is neither.
    """
    ends = [text]
    for sign in _BAND_SIGNS:
        if sign in text:
            ends = text.split(sign)
            break
    else:
        # A hyphen alone parts a band, but for one within a mixed inch, as in 6-1/2.
        if "-" in text.strip("-") and "/" not in text:
            ends = text.split("-")
    if len(ends) > 2 or not all(end.strip() for end in ends):
        raise BriefError(
            "snug",
            text,
            "a measurement such as 152 mm, or a band such as 150 - 165 mm",
            "Measure, or put the learner into a band.",
        )
    # The unit stands behind the second end only, as a rule: behind the last sign that is a number.
    unit = ends[-1].strip()
    while unit[:1].isnumeric() or unit[:1] in tuple("., /"):
        unit = unit[1:]
    if len(ends) == 2 and ends[0].strip()[-1:].isnumeric():
        ends[0] = f"{ends[0]} {unit}"
    found = [parse_mm(e, "snug", least_mm=LEAST_SNUG_MM, most_mm=MOST_SNUG_MM) for e in ends]
    if found[0] > found[-1]:
        raise BriefError("snug", text, "the smaller end of a band first", "Turn it round.")
    return found[0], found[-1]


def _told_apart(learners: list[Learner], remarks: list[str]) -> Iterator[Learner]:
    taken = {learner.name for learner in learners}
    seen: dict[str, int] = {}
    for learner in learners:
        seen[learner.name] = seen.get(learner.name, 0) + 1
        if seen[learner.name] == 1:
            yield learner
            continue
        number = seen[learner.name]
        while f"{learner.name} ({number})" in taken:
            number += 1
        name = f"{learner.name} ({number})"
        taken.add(name)
        remarks.append(f"{learner.name} stands in the roster again: printed as {name}")
        yield replace(learner, name=name)


def band_learners(least_mm: float, most_mm: float, kits: int) -> tuple[Learner, ...]:
    """So many kits for a size band, for learners who are not known yet.

    Raises:
        BriefError: no kits, or too many.
    """
    if not 1 <= kits <= MOST_LEARNERS:
        raise BriefError("band", kits, f"1 to {MOST_LEARNERS} kits", "Give a whole number.")
    return tuple(
        Learner(
            name=f"{least_mm:g}\N{EN DASH}{most_mm:g} mm, kit {number}",
            least_mm=least_mm,
            most_mm=most_mm,
        )
        for number in range(1, kits + 1)
    )
