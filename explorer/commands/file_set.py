"""Writes the files that a maker names, and tells what was there before.

Files that belong together are all written, or none of them is.
"""

import errno
import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from explorer.commands.files import folder_of
from explorer.errors import BriefError
from explorer.stopping import written
from gallery.files import check_place, write_bytes

# So many replaced files of a set are named. Chosen by us: a line of names that is still read.
_MOST_NAMED = 6


class FileSet:
    """Files that belong together, on their way into one folder.

    Attributes:
        changed: what was there before, told when all are in their places.
    """

    def __init__(self, aside: Path) -> None:
        self._aside = aside
        self.names: dict[str, None] = {}
        self.changed: tuple[str, ...] = ()

    def put(self, name: str, content: bytes) -> None:
        """Put a file into the set; a later one of the same name takes its place."""
        write_bytes(self._aside / name, content)
        self.names[name] = None


def place_to_write(text: str, field: str = "out") -> Path:
    """The file to write, asked for before the work that it is for.

    Raises:
        BriefError: it could not be written; nothing was changed.
    """
    path = Path(text)
    try:
        check_place(path)
    except (OSError, ValueError) as error:
        raise _no_place(field, path, "place", error) from error
    return path


def put(path: Path, content: bytes, *, private: bool = False) -> tuple[str, ...]:
    """Write a file whole or not at all, and tell what was there; a private one is its owner's.

    Raises:
        BriefError: it cannot be written; what stood there before is untouched.
    """
    changed = _changed(path.parent, [path.name])
    try:
        write_bytes(path, content, private=private)
    except (OSError, ValueError) as error:
        raise _no_place("out", path, "place", error) from error
    written.append(f"{path} was written")
    return changed


def _changed(folder: Path, names: Iterable[str]) -> tuple[str, ...]:
    """What writing files of those names into a folder changes there, in words."""
    if not folder.exists():
        return (f"the folder {folder} was made",)
    there = [name for name in names if (folder / name).exists()]
    if len(there) < 2:
        return tuple(f"{folder / name} was there and was replaced" for name in there)
    more = f" and {len(there) - _MOST_NAMED} more" if len(there) > _MOST_NAMED else ""
    named = ", ".join(there[:_MOST_NAMED])
    return (f"{len(there)} files in {folder} were there and were replaced: {named}{more}",)


def check_set(folder: str, *names: str) -> None:
    """Find out whether a set could be written into a folder, before the work that it is for.

    Args:
        folder: the folder that a maker named; it is not made.
        names: files of the set whose names are known by then.

    Raises:
        BriefError: it could not; nothing was changed.
    """
    place = folder_of(folder)
    try:
        for name in names:
            check_place(place / name)
    except (OSError, ValueError) as error:
        raise _no_place("out", place, "folder", error) from error


@contextmanager
def together(folder: str) -> Iterator[FileSet]:
    """A set of files in the folder that a maker named; it is made where it is missing.

    Yields:
        The set. Its files are written into a folder of their own, and appear under their names
        when the set is whole; then it tells what was there before.

    Raises:
        BriefError: the folder cannot be made or written, or the disk is full; nothing of the set
            is there, and what stood there before is untouched.
    """
    place = folder_of(folder)
    try:
        with _all_or_none(place) as files:
            yield files
    except OSError as error:
        raise _no_place("out", place, "folder", error) from error


def _no_place(field: str, path: Path, what: str, error: Exception) -> BriefError:
    why = error.strerror if isinstance(error, OSError) and error.strerror else error
    return BriefError(
        field,
        path,
        f"a {what} that can be written ({why})",
        "Choose another folder, or free some space.",
    )


@contextmanager
def _all_or_none(folder: Path) -> Iterator[FileSet]:
    changed = _changed(folder, ())
    made = _make(folder)
    try:
        # Within the folder, so that moving never goes from one disk to another.
        aside = Path(tempfile.mkdtemp(prefix=".danglewise-", dir=folder))
        try:
            files = FileSet(aside / "new")
            yield files
            changed += _changed(folder, files.names)
            _move(tuple(files.names), aside, folder)
            files.changed = changed
            written.append(f"{len(files.names)} files in {folder} were written")
        finally:
            shutil.rmtree(aside, ignore_errors=True)
    except BaseException:
        for one in made:
            with suppress(OSError):
                one.rmdir()
        raise


def _make(folder: Path) -> list[Path]:
    """Make a folder; those that were missing, the innermost first."""
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    folder.mkdir(parents=True, exist_ok=True)
    return missing


def _move(names: tuple[str, ...], aside: Path, folder: Path) -> None:
    """Move the new files to where they belong; where one cannot be, put all back as it was."""
    new, old = aside / "new", aside / "old"
    old.mkdir()
    done: list[str] = []
    try:
        for name in names:
            _hold(folder / name, old / name)
            done.append(name)
            (new / name).replace(folder / name)
    except BaseException:
        for name in done:
            if (old / name).exists():
                (old / name).replace(folder / name)
            else:
                (folder / name).unlink(missing_ok=True)
        raise


def _hold(path: Path, other: Path) -> None:
    """Keep what stands at a path, if anything does, at another one too."""
    if path.is_dir():
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    if not path.exists():
        return
    try:
        other.hardlink_to(path)
    except OSError:
        # Where files have one name only, it is copied.
        shutil.copy2(path, other)
