"""Small documents of the maker's own that belong to no piece, such as the rule for prices."""

from explorer.shelf import Shelf


def keep(shelf: Shelf, name: str, document: str) -> None:
    """Remember a document under a name, instead of what was there before."""
    with shelf.transaction() as connection:
        connection.execute(
            "INSERT INTO figures (name, document) VALUES (?, ?) ON CONFLICT (name) "
            "DO UPDATE SET document = excluded.document",
            (name, document),
        )


def kept(shelf: Shelf, name: str) -> str | None:
    """The document under a name; None where nothing was ever kept."""
    with shelf.transaction() as connection:
        row = connection.execute("SELECT document FROM figures WHERE name = ?", (name,)).fetchone()
    return None if row is None else str(row[0])
