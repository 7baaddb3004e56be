"""What somebody types about a saved piece, until it is written to the shelf or taken back."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from explorer.shelf import Saved
from explorer.shelf_entry import who_for
from explorer.shelf_saved import WORDS, mixed

_PARTS = ("seen", "filled", "typed")
Texts = dict[str, str]


def texts(saved: Saved) -> Texts:
    """A piece's words as they stand in the boxes."""
    return {one: "" if value is None else str(value) for one, value in saved.words.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """What somebody types about a saved piece; it stays until it is written or taken back.

    Attributes:
        seen: the piece with the words that may be written over: those it had when the boxes were
            filled first, and those that the maker was asked about since.
        filled: what the page put into the boxes last.
        typed: what stands in them.
    """

    seen: Saved
    filled: Texts
    typed: Texts

    @property
    def wanted(self) -> Texts:
        """What was typed and is not written yet."""
        return {
            one: text for one, text in _trimmed(self.typed).items()
            if self.filled[one] not in (self.typed[one], text)
        }  # fmt: skip

    def beside(self, saved: Saved) -> "Draft":
        """The boxes with what was changed elsewhere, while nobody has typed anything in them.

        Once somebody has, nothing is put under their hands. ``seen`` stays in any case: a text that
        has just come into a box may not be on the screen yet when that box is typed into.

        Args:
            saved: the piece as it is now.
        """
        if self.wanted:
            return self
        return replace(self, filled=texts(saved), typed=texts(saved))

    def clashing(self, saved: Saved) -> tuple[str, ...]:
        """Words that were changed both here and elsewhere, each to something else."""
        now, seen, wanted = texts(saved), texts(self.seen), self.wanted
        return tuple(one for one in wanted if now[one] not in (seen[one], wanted[one]))

    def elsewhere(self, saved: Saved) -> tuple[str, ...]:
        """Words that were changed elsewhere alone, and stand otherwise in the boxes."""
        now, wanted = texts(saved), self.wanted
        return tuple(one for one in WORDS if one not in wanted and now[one] != self.filled[one])

    def shown(self, saved: Saved, words: tuple[str, ...]) -> "Draft":
        """The draft once the maker knows how some words stand on the shelf."""
        return replace(self, seen=mixed(self.seen, {one: saved.words[one] for one in words}))

    def taken(self, saved: Saved, words: tuple[str, ...]) -> "Draft":
        """The draft with some words as they stand on the shelf."""
        now = {one: texts(saved)[one] for one in words}
        after = self.shown(saved, words)
        return replace(after, filled={**self.filled, **now}, typed={**self.typed, **now})


def fresh(saved: Saved) -> Draft:
    """Boxes filled from the shelf."""
    return Draft(seen=saved, filled=texts(saved), typed=texts(saved))


def _trimmed(typed: Texts) -> Texts:
    made, minutes = typed["made"].strip(), typed["minutes"].strip()
    return {**typed, "who": who_for(typed["who"]), "made": made, "minutes": minutes}


def joined(one: Iterable[Draft], other: Iterable[Draft]) -> tuple[Draft, ...]:
    """What is typed in either; of what is typed about one piece in both, the first one's."""
    return tuple({draft.seen.number: draft for draft in (*other, *one)}.values())


def to_plain(drafts: tuple[Draft, ...]) -> list[dict[str, object]]:
    """What is typed as plain values, to be kept with a table."""
    return [
        {
            "number": one.seen.number,
            "revision": one.seen.revision,
            "seen": one.seen.words,
            "filled": one.filled,
            "typed": one.typed,
        }
        for one in drafts
    ]


def from_plain(rows: object) -> tuple[Draft, ...]:
    """What ``to_plain`` gave; nothing where it makes no sense.

    Damage here never stands in the way of what lies on the table.
    """
    try:
        return tuple(_draft(row) for row in rows) if isinstance(rows, list) else ()
    except (LookupError, TypeError, ValueError):
        return ()


def _draft(row: dict[str, Any]) -> Draft:
    seen, filled, typed = ({one: row[key][one] for one in WORDS} for key in _PARTS)
    saved = Saved(
        number=int(row["number"]), revision=int(row["revision"]),
        name="", who="", notes="", saved="", document="",
    )  # fmt: skip
    return Draft(
        seen=mixed(saved, seen),
        filled={one: str(text) for one, text in filled.items()},
        typed={one: str(text) for one, text in typed.items()},
    )
