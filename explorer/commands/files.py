"""The files and folders that a maker names on the command line."""

from pathlib import Path

from explorer.errors import BriefError
from explorer.piece import MOST_BYTES, Piece, from_json


def read_piece(path: str) -> Piece:
    """The piece in a file.

    Raises:
        BriefError: the file cannot be read.
        ChartError: it holds no piece, or a damaged one.
    """
    return from_json(read_text(path, "piece", MOST_BYTES), path)


def read_text(path: str, field: str, most_bytes: int) -> str:
    """A text file's content.

    Raises:
        BriefError: it cannot be read, is too large, or is no UTF-8 text.
    """
    try:
        if Path(path).stat().st_size > most_bytes:
            raise BriefError(
                field, path, f"a file of at most {most_bytes} bytes", "Name another file."
            )
        # Some editors begin a file with a mark of its encoding.
        return Path(path).read_text("utf-8-sig")
    except OSError as error:
        raise BriefError(
            field,
            path,
            f"a file that can be read ({error.strerror or error})",
            "Check the name and the folder.",
        ) from error
    except ValueError as error:
        raise BriefError(field, path, "a text file in UTF-8", "Name another file.") from error


def folder_of(text: str) -> Path:
    """The folder that a maker named.

    Raises:
        BriefError: nothing was named.
    """
    if not text.strip():
        raise BriefError("out", text, "a folder to write to", "Name one with --out.")
    return Path(text)
