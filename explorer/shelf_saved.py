"""A saved piece as the shelf knows it, and what is set apart because it cannot be used as it is."""

from dataclasses import dataclass, field, replace

from explorer.errors import BriefError
from explorer.shelf_entry import Making, check_words, who_for
from explorer.shelf_rows import Row, Value

# The words of a saved piece that a maker changes.
WORDS = ("name", "who", "notes", "made", "minutes", "lots")
Words = dict[str, str | int | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Thrown:
    """That a piece was thrown away.

    Attributes:
        turn: the first thrown away has 1, each later one more.
        by: who did it, as far as it is known: ``command line``, a tab's sign, or nothing.
        at: when, UTC, ISO 8601, by the clock of the machine; empty where it was not written down.
    """

    turn: int
    by: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """A piece on the shelf.

    Attributes:
        number: its number on this shelf; a later piece has a higher one.
        name: what the maker calls it.
        who: who it is for.
        notes: anything.
        saved: when it was put there, UTC, ISO 8601.
        document: the piece as ``explorer.piece.to_json`` wrote it.
        making: how it was made.
        revision: how often its words were written, from 1.
        thrown: that it was thrown away; None while it stands on the shelf.
    """

    number: int
    name: str
    who: str
    notes: str
    saved: str
    document: str
    making: Making = field(default_factory=Making)
    revision: int = 1
    thrown: Thrown | None = None

    @property
    def words(self) -> Words:
        """What a maker changes of it, by the names in ``WORDS``."""
        made = self.making
        return {
            "name": self.name, "who": self.who, "notes": self.notes,
            "made": made.made, "minutes": made.minutes, "lots": made.lots,
        }  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """A piece that is set apart, as it stands in the file, because it cannot be used.

    Attributes:
        number: its number on the shelf.
        name: as far as it can be read.
        why: what is wrong with it.
        saved: as much of it as can be read.
        damaged: whether it changed since it was written; otherwise only its words do not fit.
    """

    number: int
    name: str
    why: str
    saved: Saved
    damaged: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What stands on a shelf.

    Attributes:
        pieces: that are whole, the newest first.
        apart: that are set apart.
        trouble: what is wrong with the whole file; empty for nothing. Then nothing can be saved.
    """

    pieces: tuple[Saved, ...]
    apart: tuple[Apart, ...] = ()
    trouble: str = ""

    @property
    def numbers(self) -> frozenset[int]:
        """Of all of them."""
        return frozenset(one.number for one in self.pieces) | {one.number for one in self.apart}


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """What was done elsewhere to a piece since it was seen; nothing was written.

    Attributes:
        words: which, by the names in ``WORDS``; none where the piece was thrown away.
        theirs: the piece as it stands now.
    """

    words: tuple[str, ...]
    theirs: Saved


def read_row(row: Row) -> Saved | Apart:
    """A row as a saved piece, or set apart with the reason."""
    making, why = Making(), ""
    try:
        making = Making(
            made=row.text("made"), minutes=_minutes(row.values["minutes"]), lots=row.text("lots")
        )
        check_words(row.text("name"), row.text("who"), row.text("notes"))
    except BriefError as error:
        why = f"the shelf takes another {error.field}: {error.wanted}"
    damaged = not row.whole
    thrown = row.number("thrown_away")
    saved = Saved(
        number=row.number("number"),
        name=row.text("name"),
        who=who_for(row.text("who")),
        notes=row.text("notes"),
        saved=row.text("saved"),
        document=row.text("document"),
        making=making,
        revision=row.number("revision"),
        thrown=Thrown(turn=thrown, by=row.text("thrown_by"), at=row.text("thrown_at"))
        if thrown
        else None,
    )
    if damaged:
        why = "it was damaged since it was written, and its checksum does not fit"
    if not why:
        return saved
    return Apart(number=saved.number, name=saved.name, why=why, saved=saved, damaged=damaged)


def _minutes(value: Value) -> int | None:
    return value if isinstance(value, int) else None


def with_words(saved: Saved, words: Words) -> Saved:
    """The piece with some of its words changed.

    Raises:
        BriefError: the shelf does not take them.
    """
    after = mixed(saved, words)
    check_words(after.name, after.who, after.notes)
    return after


def mixed(saved: Saved, words: Words) -> Saved:
    """As ``with_words``, but name, wearer and notes may be such as the shelf does not take."""
    all_words = {**saved.words, **words}
    minutes = all_words["minutes"]
    name, who, notes, made, lots = (
        str(all_words[one]) for one in ("name", "who", "notes", "made", "lots")
    )
    making = Making(made=made, minutes=None if minutes is None else int(minutes), lots=lots)
    return replace(saved, name=name, who=who, notes=notes, making=making)
