"""Writes files that belong together: every one of them, or none."""

import errno
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from explorer.commands.files import folder_of
from explorer.errors import BriefError
from gallery.files import check_place, write_bytes

Put = Callable[[str, bytes], None]


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
        raise _no_folder(place, error) from error


@contextmanager
def together(folder: str) -> Iterator[Put]:
    """A set of files in the folder that a maker named; it is made where it is missing.

    Yields:
        What puts a file of a name into the set. They are written into a folder of their own, and
        appear under their names when the set is whole.

    Raises:
        BriefError: the folder cannot be made or written, or the disk is full; nothing of the set
            is there, and what stood there before is untouched.
    """
    place = folder_of(folder)
    try:
        with _all_or_none(place) as put:
            yield put
    except OSError as error:
        raise _no_folder(place, error) from error


def _no_folder(place: Path, error: Exception) -> BriefError:
    why = error.strerror if isinstance(error, OSError) and error.strerror else error
    return BriefError(
        "out",
        place,
        f"a folder that can be written ({why})",
        "Choose another folder, or free some space.",
    )


@contextmanager
def _all_or_none(folder: Path) -> Iterator[Put]:
    made = _make(folder)
    try:
        # Within the folder, so that moving never goes from one disk to another.
        aside = Path(tempfile.mkdtemp(prefix=".danglewise-", dir=folder))
        try:
            names: dict[str, None] = {}

            def put(name: str, content: bytes) -> None:
                write_bytes(aside / "new" / name, content)
                names[name] = None

            yield put
            _move(tuple(names), aside, folder)
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
