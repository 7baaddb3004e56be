"""Photographs of finished pieces, kept on the shelf as JPEG without anything else in the file."""

from collections.abc import Sequence
from datetime import UTC, datetime

from explorer.errors import BriefError
from explorer.shelf import DamagedShelfError, Shelf
from explorer.shelf_entry import MOST_PHOTOGRAPHS, Photograph
from explorer.shelf_rows import PHOTOGRAPHS, Row, insert, read
from gallery.photos import PhotoError, read_photo


def as_jpeg(content: bytes, name: str = "this file") -> bytes:
    """A file's picture as a JPEG: upright, in sRGB, at most 1200 pixels, and nothing but pixels.

    One that we wrote ourselves stays as it is, byte by byte.

    A place, a camera's number and whatever else a phone writes into a photograph stay behind.

    Args:
        content: the file's bytes.
        name: what to call the file in an error.

    Raises:
        BriefError: it cannot be used.
    """
    from gallery.photo_jpeg import is_ours, to_jpeg

    if is_ours(content):
        return content
    try:
        return to_jpeg(read_photo(content, name=name))
    except PhotoError as error:
        raise BriefError("photo", error.got, error.wanted, error.remedy) from error


def add(shelf: Shelf, piece: int, content: bytes, name: str = "this file") -> int | None:
    """Put a photograph with a saved piece; its number, None where there is no such piece.

    Args:
        shelf: where.
        piece: the piece's number.
        content: the file's bytes.
        name: what to call the file in an error.

    Raises:
        BriefError: it is no picture that we take, or the piece has as many as it may have.
        ShelfError: the shelf cannot be used.
    """
    jpeg = as_jpeg(content, name)
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
        return insert(connection, PHOTOGRAPHS, {"piece": piece, "added": now, "jpeg": jpeg})


def take_off(shelf: Shelf, number: int) -> None:
    """Throw a photograph away for good."""
    with shelf.transaction() as connection:
        connection.execute("DELETE FROM photographs WHERE number = ?", (number,))


def of_piece(shelf: Shelf, piece: int) -> tuple[Photograph, ...]:
    """The photographs of a saved piece, the oldest first, damaged ones among them."""
    return of_pieces(shelf, (piece,))[piece]


def of_pieces(shelf: Shelf, pieces: Sequence[int]) -> dict[int, tuple[Photograph, ...]]:
    """The photographs of some pieces, by the pieces' numbers; as ``of_piece``.

    On a damaged shelf they are all that can be found in the file.
    """
    found: dict[int, list[Row]] = {piece: [] for piece in pieces}
    try:
        with shelf.reading() as connection:
            for piece in pieces:
                tail = "WHERE piece = ? ORDER BY number"
                found[piece] = list(read(connection, PHOTOGRAPHS, tail, (piece,)))
    except DamagedShelfError:
        found = {piece: [] for piece in pieces}
        rows = shelf.found_in_pages(PHOTOGRAPHS)
        for row in sorted(rows, key=lambda row: row.number("number")):
            found.setdefault(row.number("piece"), []).append(row)
    return {piece: tuple(map(_photograph, rows)) for piece, rows in found.items()}


def _photograph(row: Row) -> Photograph:
    return Photograph(
        number=row.number("number"),
        added=row.text("added"),
        jpeg=row.blob("jpeg"),
        damaged=not row.whole,
    )
