"""``danglewise shelf``: throws pieces away, brings them back, takes them out, rescues a shelf."""

import argparse
from collections.abc import Callable, Collection
from contextlib import suppress
from pathlib import Path

from explorer.commands.answer import Answer
from explorer.commands.file_set import place_to_write
from explorer.errors import BriefError
from explorer.shelf import Shelf, ShelfError
from explorer.shelf_copies import copies, keep_for_the_day, start_copy
from explorer.shelf_rescue import rescue
from explorer.shelf_saved import Apart, Thrown

# Who throws a piece away here: nobody signs in, so more than this is not known.
BY = "command line"
_INSTEAD = (
    "To use the new file, close the app, move the old one and the files beside it that begin with "
    "its full name elsewhere, and give the new one its name."
)

_LOOK = "What could be saved is in the new file; look for the rest on copies of the shelf."


def numbers_of(
    options: argparse.Namespace, there: Collection[int], *, thrown: bool = False
) -> tuple[int, ...]:
    """The numbers that were named, each of a piece that is there.

    Args:
        options: the command's.
        there: the numbers of all pieces that can be named.
        thrown: whether those are the pieces thrown away.

    Raises:
        BriefError: one is no number, or there is no such piece.
    """
    texts = [text.strip() for text in options.what]
    # Digits only: nobody means a piece by 1e3. A longer number than any that is there stays text.
    known = {str(number): number for number in there}
    missing = [text for text in texts if (text.lstrip("0") or text) not in known]
    if missing:
        where = "thrown away" if thrown else "on the shelf"
        wanted = f"numbers of pieces {where}; "
        raise BriefError(
            "number",
            ", ".join(missing),
            wanted + (f"the highest is {max(there)}" if there else "there is none"),
            f"See `shelf list{' --thrown-away' * thrown}`; nothing was changed.",
        )
    return tuple(known[text.lstrip("0") or text] for text in texts)


def apart_words(one: Apart) -> str:
    """A piece that is set apart, in a line."""
    return f"{one.number:>5}  {' '.join(one.name.split())}: {one.why}"


def as_it_stands(one: Apart) -> str:
    """The command that gives what can be read of a piece that is set apart."""
    return f"`danglewise shelf export {one.number} --out FILE.json` gives what can be read of it"


def thrown_words(thrown: Thrown | None) -> str:
    """When and where a piece was thrown away, as far as that is known."""
    if thrown is None:
        return ""
    day = f" {thrown.at[:10]}" if thrown.at else ""
    # What the app writes down of a tab tells a reader nothing.
    where = {"": "", BY: " on the command line"}.get(thrown.by, " in the app")
    return f"thrown away{day}{where}"


def copy_first(shelf: Shelf) -> None:
    """Once a day the shelf is copied before it is changed; what is damaged is told by the act."""
    with suppress(ShelfError):
        keep_for_the_day(shelf.path)


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
    """The numbers that were named, one or more; then the shelf may be changed."""
    numbers = numbers_of(options, shelf.standing(thrown=thrown).numbers, thrown=thrown)
    if not numbers:
        raise BriefError(
            "number",
            "nothing",
            "one number of a piece or more",
            f"See `shelf list{' --thrown-away' * thrown}`, and name them.",
        )
    copy_first(shelf)
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


def save(path: Path, to: str | None) -> Answer:
    """Save what is whole on a shelf into a new one."""
    if not to:
        raise BriefError("out", "", "the name of a new file", "Name one with --out.")
    done = rescue(path, place_to_write(to))
    pieces = f"{done.pieces} whole piece{'s' * (done.pieces != 1)}"
    whole = f"{pieces} and {done.photographs} photograph{'s' * (done.photographs != 1)}"
    count = len(done.apart)
    apart = f", and {count} piece{'s' * (count > 1)} set apart" if count else ""
    beside = [str(copy) for copy in (*copies(path), start_copy(path)) if is_file(copy)]
    told = done.missing
    if done.damage:
        told = (*told, "the file is damaged: more may have stood there than was found in it")
    if done.damage and not beside:
        told = (*told, "copies may stand beside the shelf where it was used: NAME-copy-*.sqlite3")
    return Answer(
        document={
            "shelf": str(path),
            "file": to,
            "damage": done.damage or None,
            "pieces": done.pieces,
            "photographs": done.photographs,
            "apart": [
                {"number": one.number, "name": one.name, "why": one.why} for one in done.apart
            ],
            "lost": list(done.lost),
            "missing": list(told),
            "copies": beside,
        },
        lines=(
            *((f"what is wrong with {path}: {done.damage}",) if done.damage else ()),
            f"{whole} in {to}{apart}",
            f"{path} is as it was",
            _INSTEAD,
            *(f"{apart_words(one)}; set apart, as far as it can be read" for one in done.apart),
            *done.lost,
            *told,
            *((f"copies of it that may hold more: {', '.join(beside)}",) if beside else ()),
        ),
        fault=BriefError("shelf", path, "a shelf of which nothing is missing or set apart", _LOOK)
        if done.apart or done.lost or done.missing
        else None,
    )
