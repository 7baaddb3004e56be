"""``danglewise shelf``: throws pieces away, brings them back, takes them out, rescues a shelf."""

import argparse
from collections.abc import Callable
from pathlib import Path

from explorer.brief import whole
from explorer.commands.answer import Answer
from explorer.commands.printing import place_to_write
from explorer.errors import BriefError
from explorer.shelf import Shelf
from explorer.shelf_copies import copies
from explorer.shelf_rescue import rescue
from explorer.shelf_saved import Apart, Thrown

# Who throws a piece away here: nobody signs in, so more than this is not known.
BY = "command line"
# Whole numbers are exact in JSON up to there (RFC 8259, section 6).
_MOST_NUMBER = 2**53
_INSTEAD = (
    "To use the new file, close the app, move the old one and the files beside it that begin with "
    "its full name elsewhere, and give the new one its name."
)


def numbers_of(options: argparse.Namespace) -> tuple[int, ...]:
    """The numbers of pieces that were named."""
    return tuple(whole("number", text, 1, _MOST_NUMBER) for text in options.what)


def apart_words(one: Apart) -> str:
    """A piece that is set apart, in a line."""
    return f"{one.number:>5}  {' '.join(one.name.split())}: {one.why}"


def thrown_words(thrown: Thrown | None) -> str:
    """When and where a piece was thrown away, as far as that is known."""
    if thrown is None:
        return ""
    day = f" {thrown.at[:10]}" if thrown.at else ""
    # What the app writes down of a tab tells a reader nothing.
    where = {"": "", BY: " on the command line"}.get(thrown.by, " in the app")
    return f"thrown away{day}{where}"


def throw_away(shelf: Shelf, options: argparse.Namespace) -> Answer:
    """Put pieces to those thrown away."""
    numbers = _there(shelf, options, thrown=False)
    return _done("thrown away", numbers, lambda number: shelf.throw_away(number, by=BY))


def bring_back(shelf: Shelf, options: argparse.Namespace) -> Answer:
    """Bring back pieces that were thrown away."""
    return _done("brought back", _there(shelf, options, thrown=True), shelf.bring_back)


def take_out(shelf: Shelf, options: argparse.Namespace) -> Answer:
    """Take pieces that were thrown away out for good."""
    numbers = _there(shelf, options, thrown=True)
    return _done("taken out for good", numbers, shelf.take_out)


def _there(shelf: Shelf, options: argparse.Namespace, *, thrown: bool) -> tuple[int, ...]:
    """The numbers that were named, all of which are where they must be."""
    numbers = numbers_of(options)
    there = shelf.standing(thrown=thrown).numbers
    missing = [str(number) for number in numbers if number not in there]
    if missing or not numbers:
        raise BriefError(
            "number",
            ", ".join(missing),
            "numbers of pieces thrown away" if thrown else "numbers of pieces on the shelf",
            f"See `shelf list{' --thrown-away' * thrown}`; nothing was changed.",
        )
    return numbers


def _done(words: str, numbers: tuple[int, ...], act: Callable[[int], bool]) -> Answer:
    """Do it to each; one that somebody else was quicker with is not counted."""
    done = [number for number in dict.fromkeys(numbers) if act(number)]
    count = len(done)
    return Answer(
        document={"numbers": done},
        lines=(f"{count} piece{'s' * (count != 1)} {words}",),
    )


def is_file(path: Path) -> bool:
    """Whether a file is there; a name that is too long for the system is none's."""
    try:
        return path.is_file()
    except OSError:
        return False


def save(options: argparse.Namespace) -> Answer:
    """Save what is whole on a shelf into a new one."""
    named = [*options.what, *([options.shelf] if options.shelf else [])]
    if len(named) != 1:
        raise BriefError("shelf", ", ".join(named), "one damaged shelf's file", "Name one.")
    path = Path(named[0])
    if not is_file(path):
        raise BriefError("shelf", path, "a shelf's file that is there", "Check the name.")
    if not options.out:
        raise BriefError("out", "", "the name of a new file", "Name one with --out.")
    done = rescue(path, place_to_write(options.out))
    beside = [str(copy) for copy in copies(path)]
    return Answer(
        document={
            "shelf": str(path),
            "file": options.out,
            "damage": done.damage or None,
            "pieces": done.pieces,
            "photographs": done.photographs,
            "apart": [
                {"number": one.number, "name": one.name, "why": one.why} for one in done.apart
            ],
            "lost": list(done.lost),
            "copies": beside,
        },
        lines=(
            *((f"what is wrong with {path}: {done.damage}",) if done.damage else ()),
            f"{done.pieces} whole pieces and {done.photographs} photographs in {options.out}",
            f"{path} is as it was",
            _INSTEAD,
            *(f"{apart_words(one)}; set apart, as far as it can be read" for one in done.apart),
            *done.lost,
            *((f"copies of earlier days: {', '.join(beside)}",) if beside else ()),
        ),
    )
