"""``danglewise shelf``: lists what stands on the maker's shelf, takes it along, brings it back."""

import argparse
import contextlib
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

from explorer.commands.answer import Answer, Json
from explorer.commands.file_set import place_to_write, put
from explorer.commands.files import check_kind, read_bytes
from explorer.commands.shelf_care import (
    apart_words,
    as_it_stands,
    bring_back,
    copy_first,
    numbers_of,
    save,
    take_out,
    throw_away,
    thrown_words,
)
from explorer.errors import BriefError
from explorer.piece import from_json
from explorer.shelf import Saved, Shelf, ShelfError, default_path
from explorer.shelf_archive import MOST_ARCHIVE_BYTES, NOT_TAKEN, not_taken_words, to_archive
from explorer.shelf_entry import Entry
from explorer.shelf_import import Imported, all_entries, entries_in, put_new
from explorer.shelf_json import to_text
from explorer.shelf_saved import Apart
from explorer.stopping import written
from palettes.errors import ChartError

SUMMARY = "list, export, import, throw away, bring back or rescue the pieces on the shelf"
_AGAIN = (
    "Mend what is said there, or export those pieces anew, and import the file again: what stands "
    "on the shelf just so is not put there a second time."
)
_SEE_TO_IT = (
    "See to the pieces that are named there, on the app's page Shelf, say; where the file itself "
    "is damaged, `danglewise shelf rescue FILE --out NEW` saves what is whole."
)
_Act = Callable[[Shelf, argparse.Namespace], Answer]


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    # It may be missing, so that we say what is.
    parser.add_argument("act", nargs="?", default="", metavar="|".join(acts()), help="what to do")
    parser.add_argument(
        "what",
        nargs="*",
        metavar="WHAT",
        help="list: words to search for; export: numbers of pieces (all); import: files; "
        "throw-away, bring-back, take-out (for good): numbers of pieces; rescue: a damaged shelf",
    )
    parser.add_argument(
        "--out",
        metavar="FILE",
        help="export: one piece as .json, or any as .zip with photographs; rescue: a new shelf",
    )
    parser.add_argument(
        "--thrown-away", action="store_true", help="list: the pieces thrown away instead"
    )
    parser.add_argument("--shelf", metavar="FILE", help="another shelf than your own")


def acts() -> tuple[str, ...]:
    """All that can be done with a shelf."""
    return (*_ACTS, "rescue")


def run(options: argparse.Namespace) -> Answer:
    """Do it; ``BriefError`` or ``ChartError`` for what cannot be."""
    if options.act not in acts():
        # What is missing altogether is told as such.
        remedy = "Say what to do, such as `shelf list`; `shelf --help` tells what each does."
        raise BriefError("act", options.act or "nothing", f"one of {', '.join(acts())}", remedy)
    if options.out is not None and options.act not in ("export", "rescue"):
        raise BriefError("out", options.out, "--out with export or rescue only", "Leave it out.")
    if options.thrown_away and options.act != "list":
        raise BriefError("thrown-away", options.act, "it with list only", "Leave it out.")
    if options.act == "rescue":
        named = [*options.what, *([options.shelf] if options.shelf else [])]
        if len(named) != 1:
            raise BriefError("shelf", ", ".join(named), "one damaged shelf's file", "Name one.")
        return save(_there(named[0]), options.out)
    shelf = _shelf(options)
    try:
        if options.act not in ("list", "export"):
            written.append("`danglewise shelf list` tells what was done by then")
        return _ACTS[options.act](shelf, options)
    except ShelfError as error:
        raise BriefError(
            "shelf", shelf.path, f"a shelf that can be used ({error.why})", error.remedy
        ) from error


def _shelf(options: argparse.Namespace) -> Shelf:
    if options.shelf is None:
        return Shelf(default_path())
    if options.act == "import" and options.shelf.strip() and _found(options.shelf) is None:
        return Shelf(place_to_write(options.shelf, "shelf"))
    # A name with a slip in it must not make an empty shelf.
    return Shelf(_there(options.shelf))


def _there(name: str) -> Path:
    """The shelf's file of a name; ``BriefError`` where none is there."""
    found = _found(name)
    if found is None:
        beside = default_path().parent
        raise BriefError(
            "shelf",
            name,
            f"a shelf's file that is there, or the name of one in {beside}",
            "Check the name.",
        )
    return found


def _found(name: str) -> Path | None:
    """What is there of a name; one without a folder may stand beside the maker's own shelf."""
    if not name.strip():
        # For Python it is the folder that one stands in.
        return None
    places = [Path(name)]
    if name and name == places[0].name:
        places.append(default_path().parent / name)
    for place in places:
        try:
            mode = place.stat().st_mode
        except (OSError, ValueError):
            # Not there, no name that a file can have, or not for us.
            continue
        check_kind(mode, str(place), "shelf")
        return place
    return None


def _list(shelf: Shelf, options: argparse.Namespace) -> Answer:
    standing = shelf.standing(" ".join(options.what), thrown=options.thrown_away)
    lines = tuple(_line(saved) for saved in standing.pieces)
    told = tuple(
        f"{apart_words(one)}; it is set apart as it is"
        + ("" if options.thrown_away else f", and {as_it_stands(one)}")
        for one in standing.apart
    )
    trouble = (standing.trouble,) if standing.trouble else ()
    return Answer(
        document={
            "shelf": str(shelf.path),
            "pieces": [_document(saved) for saved in standing.pieces],
            "apart": [
                {"number": one.number, "name": one.name, "why": one.why} for one in standing.apart
            ],
            "trouble": standing.trouble or None,
            "closed": shelf.closed or None,
        },
        lines=(*(lines or ("Nothing stands there.",)), *told, *trouble, *_closed(shelf)),
        fault=_not_whole(shelf) if standing.apart or standing.trouble else None,
    )


def _closed(shelf: Shelf) -> tuple[str, ...]:
    """That nothing can be saved there, where that is so."""
    told = f"{shelf.path} was only read, for nothing can be saved there now: {shelf.closed}"
    return (told,) if shelf.closed else ()


def _not_whole(shelf: Shelf) -> BriefError:
    """The fault of an answer without all that should stand on a shelf."""
    return BriefError("shelf", shelf.path, "a shelf of which all can be read", _SEE_TO_IT)


def _document(saved: Saved) -> Json:
    making = saved.making
    return {
        "number": saved.number,
        "name": saved.name,
        "who": saved.who,
        "notes": saved.notes,
        "saved": saved.saved,
        "made": making.made or None,
        "minutes": making.minutes,
        "lots": making.lots,
        "motifs": _motifs(saved),
        "thrown_away": None
        if saved.thrown is None
        else {"by": saved.thrown.by or None, "at": saved.thrown.at or None},
    }


def _motifs(saved: Saved) -> int | None:
    """How many motifs; None for a piece that cannot be read."""
    try:
        return len(from_json(saved.document, saved.name).design.motifs)
    except ChartError:
        return None


def _line(saved: Saved) -> str:
    motifs = _motifs(saved)
    parts = (
        f"for {saved.who}" if saved.who else "",
        "cannot be read" if motifs is None else f"{motifs} motif{'s' * (motifs > 1)}",
        f"saved {saved.saved[:10]}",
        f"made {saved.making.made}" if saved.making.made else "",
        "" if saved.making.minutes is None else f"{saved.making.minutes} minutes",
        thrown_words(saved.thrown),
    )
    # A name is printed on one line, whatever is in it.
    name = " ".join(saved.name.split())
    return f"{saved.number:>5}  {name}: {', '.join(part for part in parts if part)}"


def _export(shelf: Shelf, options: argparse.Namespace) -> Answer:
    if not options.out:
        raise BriefError("out", "", "a file that ends in .json or .zip", "Name one with --out.")
    out = _place(options.out)
    standing = shelf.standing()
    numbers = numbers_of(options, standing.numbers)
    apart = [one for one in standing.apart if numbers == (one.number,)]
    if apart and out.suffix.lower() == ".json":
        return _as_it_is(apart[0], options.out)
    good, faults = all_entries(shelf, numbers)
    if not good:
        _refuse_empty(shelf, apart, faults)
    if out.suffix.lower() == ".json":
        if len(good) != 1 or (faults and not numbers):
            raise BriefError(
                "out", options.out, "one piece in a .json file", "Name one number, or a .zip file."
            )
        changed = put(out, to_text(good[0]).encode(), private=True)
        photographs, behind = 0, len(good[0].photographs)
    else:
        _keep_fuller(out, len(good))
        changed = put(out, to_archive(good), private=True)
        photographs, behind = sum(len(entry.photographs) for entry in good), 0
    left_out = [str(error) for error in faults]
    pieces = f"{len(good)} piece{'s' * (len(good) > 1)}"
    pictures = f"{photographs} photograph{'s' * (photographs != 1)}"
    without = f"{behind} photograph{'s' * (behind != 1)} of the piece"
    return Answer(
        changed=changed,
        document={
            "file": options.out,
            "pieces": len(good),
            "photographs": photographs,
            "left_out": left_out,
            "not_taken": [*([without] if behind else []), *(() if numbers else NOT_TAKEN)],
            "closed": shelf.closed or None,
        },
        lines=(
            f"{pieces} in {options.out}; not in it: {without}, for only a .zip file takes them"
            if behind
            else f"{pieces} and {pictures} in {options.out}",
            *(() if numbers else (not_taken_words(shelf.path),)),
            *(f"left out: {words}" for words in left_out),
            *_closed(shelf),
        ),
        fault=_not_whole(shelf) if left_out else None,
    )


def _keep_fuller(out: Path, count: int) -> None:
    """Refuse to replace an archive that holds more whole pieces: it may be the only one left."""
    there = 0
    # What is no archive of a shelf's holds none.
    with contextlib.suppress(BriefError, ChartError):
        if out.exists():
            there = len(entries_in(read_bytes(str(out), "out", MOST_ARCHIVE_BYTES), str(out), []))
    if there > count:
        raise BriefError(
            "out",
            out,
            f"a new name, or an archive of at most {count} whole piece{'s' * (count > 1)}, as many "
            f"as would be in it now; that one holds {there}",
            "Name another file with --out; nothing was written.",
        )


def _place(name: str) -> Path:
    """Where to export to, asked for before anything is packed."""
    out = Path(name)
    if out.suffix.lower() not in (".json", ".zip"):
        raise BriefError("out", name, "a file that ends in .json or .zip", "Name it so.")
    place_to_write(name)
    if out.is_symlink():
        # Replacing it would leave what it leads to as it was, and the link would be gone.
        raise BriefError(
            "out", name, "a regular file or a new name, no link", "Name the file that it leads to."
        )
    return out


def _as_it_is(one: Apart, name: str) -> Answer:
    """What stands on the shelf of a piece that is set apart, in a file of its own."""
    changed = put(Path(name), one.saved.document.encode(), private=True)
    return Answer(
        changed=changed,
        document={
            "file": name,
            "pieces": 0,
            "photographs": 0,
            "left_out": [apart_words(one)],
            "not_taken": [],
        },
        lines=(f"{apart_words(one)}; what can be read of it stands in {name}",),
        fault=_whole_wanted(one, "See what the file holds; only a part of it may open."),
    )


def _whole_wanted(one: Apart, remedy: str) -> BriefError:
    return BriefError("number", one.number, f"a piece that is whole ({one.why})", remedy)


def _refuse_empty(shelf: Shelf, apart: list[Apart], faults: tuple[ChartError, ...]) -> NoReturn:
    if apart:
        raise _whole_wanted(apart[0], f"{as_it_stands(apart[0])}.")
    if faults:
        raise faults[0]
    raise BriefError("shelf", shelf.path, "a piece to export", "Put a piece on the shelf first.")


def _import(shelf: Shelf, options: argparse.Namespace) -> Answer:
    names: list[str] = options.what
    if not names:
        raise BriefError("files", "", "one file or more", "Name .json or .zip files.")
    there = shelf.path.exists()
    files: list[tuple[Entry, ...]] = []
    faults: list[ChartError] = []
    came_in: list[str] = []
    wrong: list[str] = []
    for name in names:
        try:
            content = read_bytes(name, "files", MOST_ARCHIVE_BYTES)
            files.append(entries_in(content, name, faults))
            came_in.append(name)
        except (BriefError, ChartError) as error:
            # One that is wrong stops no other; where it is alone, its own words are enough.
            if len(names) == 1:
                raise
            wrong.append(f"{name}: {error}" if isinstance(error, BriefError) else str(error))
    # A shelf that nothing comes to is not made.
    if files:
        copy_first(shelf)
    done = put_new(shelf, *files) if files else Imported(numbers=(), already=0)
    left_out = [*wrong, *(str(error) for error in (*faults, *done.left_out))]
    made = f"there was no shelf there; a new one was made at {shelf.path}"
    which = f"came in: {', '.join(came_in)}" if came_in else "none came in"
    return Answer(
        changed=() if there or not shelf.path.exists() else (made,),
        document={
            "shelf": str(shelf.path),
            "files": names,
            "came_in": came_in,
            "numbers": list(done.numbers),
            "already": done.already,
            "again": done.again,
            "photographs_added": done.photographs,
            "left_out": left_out,
        },
        lines=(
            done.words,
            *([which] if wrong else []),
            *(f"left out: {words}" for words in left_out),
        ),
        fault=BriefError("files", ", ".join(names), "files of which nothing is left out", _AGAIN)
        if left_out
        else None,
    )


_ACTS: dict[str, _Act] = {
    "list": _list,
    "export": _export,
    "import": _import,
    "throw-away": throw_away,
    "bring-back": bring_back,
    "take-out": take_out,
}
