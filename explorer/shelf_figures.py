"""Small documents of the maker's own that belong to no piece, such as the rule for prices."""

from collections.abc import Callable

from explorer.shelf import Shelf, ShelfError
from explorer.shelf_rows import FIGURES, insert, read


def keep(shelf: Shelf, name: str, document: str) -> None:
    """Remember a document under a name, instead of what was there before."""
    alter(shelf, name, lambda _: document)


def alter(shelf: Shelf, name: str, how: Callable[[str | None], str]) -> None:
    """Change the document under a name, as it stands there now and not as somebody saw it once.

    Args:
        shelf: where.
        name: the document's.
        how: the new document from the one that stands there; None where there is none, or a damaged
            one.

    Raises:
        ShelfError: the shelf cannot be used.
    """
    with shelf.transaction() as connection:
        row = next(iter(read(connection, FIGURES, "WHERE name = ?", (name,))), None)
        held = row.text("document") if row is not None and row.whole else None
        insert(connection, FIGURES, {"name": name, "document": how(held)})


def kept(shelf: Shelf, name: str) -> str | None:
    """The document under a name; None where nothing was ever kept.

    Raises:
        ShelfError: the shelf cannot be used, or the document is damaged.
    """
    with shelf.reading() as connection:
        row = next(iter(read(connection, FIGURES, "WHERE name = ?", (name,))), None)
    if row is not None and not row.whole:
        raise ShelfError(f"the figures named {name} are damaged: their checksum does not fit")
    return None if row is None else row.text("document")
