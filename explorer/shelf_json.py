"""One piece off the shelf as a file of its own: the saved piece with what the shelf knows of it.

The file is a saved piece that every command and page opens; the shelf's own words stand beside it
under the key ``shelf``. Photographs travel in an archive, see ``explorer.shelf_archive``.
"""

import json
from typing import Any

from explorer.errors import BriefError
from explorer.piece import SHELF_KEY, from_json, to_json
from explorer.reading import Reader
from explorer.shelf import Saved
from explorer.shelf_entry import Entry, Making, Photograph
from palettes.errors import ChartError, quoted


def entry_of(saved: Saved, photographs: tuple[Photograph, ...] = ()) -> Entry:
    """A saved piece, ready to go."""
    return Entry(
        name=saved.name,
        who=saved.who,
        notes=saved.notes,
        saved=saved.saved,
        making=saved.making,
        document=saved.document,
        photographs=photographs,
    )


def to_text(entry: Entry) -> str:
    """The piece as JSON, without its photographs.

    Raises:
        ChartError: what stands on the shelf is no piece that can be read.
    """
    plain = to_json(from_json(entry.document, entry.name))
    making = entry.making
    own = {
        "name": entry.name,
        "who": entry.who,
        "notes": entry.notes,
        "saved": entry.saved,
        "made": making.made,
        "minutes": making.minutes,
        "lots": making.lots,
    }
    line = f"  {json.dumps(SHELF_KEY)}: {json.dumps(own, ensure_ascii=False)}"
    return plain.removesuffix("\n}\n") + f",\n{line}\n}}\n"


def from_text(text: str, path: str, photographs: tuple[Photograph, ...] = ()) -> Entry:
    """The piece that a text holds; one that never stood on a shelf has its own name and notes.

    Args:
        text: what ``to_text`` or ``explorer.piece.to_json`` wrote.
        path: what to call the file in an error.
        photographs: that belong to it.

    Raises:
        ChartError: it is no piece, is damaged, or comes from a newer version.
    """
    piece = from_json(text, path)
    reader = Reader(path)
    own: dict[str, Any] = {"name": piece.name, "notes": piece.notes}
    try:
        found = json.loads(text).get(SHELF_KEY)
        own = own if found is None else reader.table(found, SHELF_KEY)
        minutes = own.get("minutes")
        entry = Entry(
            name=reader.text(own, "name"),
            who=_words(reader, own, "who"),
            notes=_words(reader, own, "notes"),
            saved=_moment(reader, own),
            making=Making(
                made=_words(reader, own, "made"),
                minutes=None if minutes is None else reader.whole(minutes, "minutes"),
                lots=_words(reader, own, "lots"),
            ),
            document=to_json(piece),
            photographs=photographs,
        )
        # Half a character, which JSON can spell, is no text that can be kept.
        f"{entry.name}{entry.who}{entry.notes}{entry.making.lots}{entry.document}".encode()
    except BriefError as error:
        why = f"got {quoted(error.got)}, wanted {error.wanted}"
        raise ChartError(path, error.field, why) from error
    except UnicodeEncodeError as error:
        raise ChartError(path, "the text", "it holds a broken character") from error
    return entry


def _words(reader: Reader, table: dict[str, Any], key: str) -> str:
    return reader.text(table, key) if key in table else ""


def _moment(reader: Reader, table: dict[str, Any]) -> str:
    """When it was put on a shelf; nothing where that is no moment."""
    from datetime import UTC, datetime

    text = _words(reader, table, "saved")
    try:
        # In one zone and one form, so that moments sort as texts do.
        moment = datetime.fromisoformat(text)
        return moment.astimezone(UTC).isoformat(timespec="microseconds") if moment.tzinfo else ""
    except (ValueError, OverflowError):
        return ""
