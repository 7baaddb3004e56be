"""The files and folders that a maker names on the command line.

Every file that a maker names is read by ``read_bytes`` and by nothing else: a name may stand for a
device without an end, a pipe that nobody writes to, or a file larger than the memory.
"""

import os
import stat
from pathlib import Path

from explorer.errors import BriefError
from explorer.piece import MOST_BYTES, Piece, from_json

# Flags of POSIX and of Windows, each nothing where a system has it not: a pipe is opened without
# waiting for its writer, a terminal does not become ours, no byte is taken for a line end.
_FLAGS = (
    os.O_RDONLY
    | getattr(os, "O_NONBLOCK", 0)
    | getattr(os, "O_NOCTTY", 0)
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_BINARY", 0)
)
# What is read at once. Chosen by us: a small file takes no more memory than it has bytes.
_AT_ONCE = 1_000_000
_OTHER = "Check the name, or name another file."


def read_piece(path: str) -> Piece:
    """The piece in a file.

    Raises:
        BriefError: the file cannot be read.
        ChartError: it holds no piece, or a damaged one.
    """
    return from_json(read_text(path, "piece", MOST_BYTES), path)


def read_text(path: str, field: str, most_bytes: int) -> str:
    """A text file's content; errors as ``read_bytes``, and for what is no UTF-8 text."""
    try:
        # Some editors begin a file with a mark of its encoding.
        return read_bytes(path, field, most_bytes).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BriefError(field, path, "a text file in UTF-8", "Name another file.") from error


def read_bytes(path: str, field: str, most_bytes: int) -> bytes:
    """The content of a file that a maker names; links are followed.

    Args:
        path: the name as it was given.
        field: the option that it was given for.
        most_bytes: no more than one byte more is read, whatever the file says of its size.

    Raises:
        BriefError: there is no such file, it cannot be read, is no regular file (a folder, a pipe,
            a device), is empty, or is too large.
    """
    try:
        # Asked before it is opened too: opening a device may set it going.
        _check(os.stat(path), path, field, most_bytes)  # noqa: PTH116 - a name may hold anything
        handle = os.open(path, _FLAGS)
        try:
            _check(os.fstat(handle), path, field, most_bytes)
            content = _upto(handle, most_bytes + 1)
        finally:
            os.close(handle)
    except (OSError, ValueError) as error:
        # A name with a zero byte in it, or one that the file system cannot spell, is a ValueError.
        told = error.strerror if isinstance(error, OSError) else "no name that a file can have"
        raise BriefError(
            field,
            path,
            f"a file that can be read ({told or error})",
            "Check the name and the folder.",
        ) from error
    if len(content) > most_bytes:
        raise _too_large(path, field, most_bytes)
    if not content:
        raise BriefError(field, path, "a file with something in it; this one is empty", _OTHER)
    return content


def check_kind(mode: int, path: str, field: str) -> None:
    """``BriefError`` for what is no regular file."""
    if stat.S_ISDIR(mode):
        raise BriefError(
            field, path, "a file that can be read (this is a folder)", "Name a file in it."
        )
    if not stat.S_ISREG(mode):
        raise BriefError(
            field, path, "a regular file, no device, pipe or socket", "Save it as a file first."
        )


def _check(found: os.stat_result, path: str, field: str, most_bytes: int) -> None:
    """``BriefError`` for what is no regular file, or for one that says that it is too large."""
    check_kind(found.st_mode, path, field)
    if found.st_size > most_bytes:
        raise _too_large(path, field, most_bytes)


def _too_large(path: str, field: str, most_bytes: int) -> BriefError:
    return BriefError(
        field, path, f"a file of at most {most_bytes // 1_000_000} MB", "Name a smaller file."
    )


def _upto(handle: int, most: int) -> bytes:
    """What a file holds, no more of it than so many bytes."""
    content = bytearray()
    while len(content) < most:
        part = os.read(handle, min(_AT_ONCE, most - len(content)))
        if not part:
            break
        content += part
    return bytes(content)


def folder_of(text: str) -> Path:
    """The folder that a maker named.

    Raises:
        BriefError: nothing was named, or what no folder can be called.
    """
    if not text.strip() or "\0" in text:
        raise BriefError("out", text, "a folder to write to", "Name one with --out.")
    return Path(text)
