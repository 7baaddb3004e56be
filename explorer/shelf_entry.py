"""What stands on the shelf beside a piece: its making, and photographs of it finished."""

from dataclasses import dataclass, field
from datetime import date
from unicodedata import category

from explorer.errors import BriefError
from explorer.graphemes import shortened
from explorer.piece import MOST_NAME, MOST_NOTES, check_length, check_name

# Chosen by us: a line, as long as a piece's name may be.
MOST_WHO = MOST_NAME
# Chosen by us: a line for every bead of a tray.
MOST_LOTS = 2000
# Chosen by us: a week of evenings is some 2000 minutes; nobody makes one piece for a year.
MOST_MINUTES = 100_000
# Chosen by us: every side and a few at the wrist.
MOST_PHOTOGRAPHS = 12
# Signs that show nothing: controls and formats (Unicode Standard, general categories).
_UNSEEN = frozenset({"Cc", "Cf"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """How a piece was made.

    Attributes:
        made: the day it was finished, ISO 8601; empty while it is not.
        minutes: how long it took; None where nobody looked at the clock.
        lots: from which lots the beads came, as the maker writes it.
    """

    made: str = ""
    minutes: int | None = None
    lots: str = ""

    def __post_init__(self) -> None:
        if self.made:
            try:
                date.fromisoformat(self.made)
            except ValueError:
                raise BriefError(
                    "made", self.made[:40], "a day such as 2025-03-14", "Write year, month and day."
                ) from None
        if self.minutes is not None and not 0 <= self.minutes <= MOST_MINUTES:
            raise BriefError(
                "minutes", self.minutes, f"0 to {MOST_MINUTES}", "Give the minutes it took."
            )
        check_length("lots", self.lots, MOST_LOTS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Photograph:
    """A photograph of a finished piece.

    Attributes:
        number: its own number on the shelf; 0 for one that does not stand there yet.
        added: when it was put there, UTC, ISO 8601.
        jpeg: the picture.
        damaged: whether it changed on the shelf since it was put there.
    """

    number: int = 0
    added: str = ""
    jpeg: bytes
    damaged: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A piece with all that belongs to it, on its way to or from a shelf.

    Attributes:
        name: what the maker calls it.
        who: who it is for.
        notes: anything.
        saved: when it was put on a shelf, UTC, ISO 8601; empty for now.
        making: how it was made.
        document: the piece as ``explorer.piece.to_json`` wrote it.
        photographs: of the finished piece, the oldest first.
    """

    name: str
    who: str = ""
    notes: str = ""
    saved: str = ""
    making: Making = field(default_factory=Making)
    document: str
    photographs: tuple[Photograph, ...] = ()

    def __post_init__(self) -> None:
        check_words(self.name, self.who, self.notes)


def check_words(name: str, who: str, notes: str = "") -> None:
    """Refuse words that the shelf does not take.

    Raises:
        BriefError: the name is empty, or one of them is too long.
    """
    check_name(name)
    check_length("who", who, MOST_WHO)
    check_length("notes", notes, MOST_NOTES)


def who_for(text: str) -> str:
    """Who a piece is for, as it was written; nothing where nothing of it can be seen.

    >>> who_for("Wren "), who_for(" \N{ZERO WIDTH SPACE} ")
    ('Wren ', '')
    """
    return "" if all(sign.isspace() or category(sign) in _UNSEEN for sign in text) else text


def copied_name(name: str) -> str:
    """What a copy is called: no longer than a name may be."""
    return shortened(f"Copy of {name}", MOST_NAME)
