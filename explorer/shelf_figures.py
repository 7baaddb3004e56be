"""Small documents of the maker's own that belong to no piece, such as the rule for prices."""

from explorer.shelf import Shelf, ShelfError
from explorer.shelf_rows import FIGURES, insert, read


def keep(shelf: Shelf, name: str, document: str) -> None:
    """Remember a document under a name, instead of what was there before."""
    with shelf.transaction() as connection:
        insert(connection, FIGURES, {"name": name, "document": document})


def kept(shelf: Shelf, name: str) -> str | None:
    """The document under a name; None where nothing was ever kept.

    Raises:
        ShelfError: the shelf cannot be used, or the document is damaged.
    """
    with shelf.transaction() as connection:
        row = next(iter(read(connection, FIGURES, "WHERE name = ?", (name,))), None)
    if row is not None and not row.whole:
        raise ShelfError(f"the figures named {name} are damaged: their checksum does not fit")
    return None if row is None else row.text("document")
