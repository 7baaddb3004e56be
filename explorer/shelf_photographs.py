"""Photographs of finished pieces, kept on the shelf as JPEG without anything else in the file."""

from datetime import UTC, datetime

from explorer.errors import BriefError
from explorer.shelf import Shelf
from explorer.shelf_entry import MOST_PHOTOGRAPHS, Photograph
from gallery.photos import PhotoError, read_photo


def as_jpeg(content: bytes) -> bytes:
    """A file's picture as a JPEG: upright, in sRGB, at most 1200 pixels, and nothing but pixels.

    One that we wrote ourselves stays as it is, byte by byte.

    A place, a camera's number and whatever else a phone writes into a photograph stay behind.

    Raises:
        BriefError: it cannot be used.
    """
    from gallery.photo_jpeg import is_ours, to_jpeg

    if is_ours(content):
        return content
    try:
        return to_jpeg(read_photo(content))
    except PhotoError as error:
        raise BriefError("photo", error.got, error.wanted, error.remedy) from error


def add(shelf: Shelf, piece: int, content: bytes) -> int | None:
    """Put a photograph with a saved piece; its number, None where there is no such piece.

    Raises:
        BriefError: it is no picture that we take, or the piece has as many as it may have.
        ShelfError: the shelf cannot be used.
    """
    jpeg = as_jpeg(content)
    with shelf.transaction() as connection:
        if connection.execute("SELECT 1 FROM pieces WHERE number = ?", (piece,)).fetchone() is None:
            return None
        (held,) = connection.execute(
            "SELECT count(*) FROM photographs WHERE piece = ?", (piece,)
        ).fetchone()
        if held >= MOST_PHOTOGRAPHS:
            raise BriefError(
                "photo",
                f"{held + 1} photographs",
                f"at most {MOST_PHOTOGRAPHS} of a piece",
                "Take one off first.",
            )
        now = datetime.now(UTC).isoformat(timespec="microseconds")
        cursor = connection.execute(
            "INSERT INTO photographs (piece, added, jpeg) VALUES (?, ?, ?)", (piece, now, jpeg)
        )
        return int(cursor.lastrowid or 0)


def take_off(shelf: Shelf, number: int) -> None:
    """Throw a photograph away for good."""
    with shelf.transaction() as connection:
        connection.execute("DELETE FROM photographs WHERE number = ?", (number,))


def of_piece(shelf: Shelf, piece: int) -> tuple[Photograph, ...]:
    """The photographs of a saved piece, the oldest first."""
    with shelf.transaction() as connection:
        rows = connection.execute(
            "SELECT number, added, jpeg FROM photographs WHERE piece = ? ORDER BY number", (piece,)
        ).fetchall()
    return tuple(Photograph(number=number, added=added, jpeg=jpeg) for number, added, jpeg in rows)
