"""Checked reading of JSON documents: every wrong value is named with its place."""

from typing import Any

from palettes.errors import ChartError

Json = dict[str, Any]
# Chosen by us: no length, weight or count of ours comes near it, and a huge integer has no float.
_MOST_NUMBER = 1e9
# Seeds are larger than any count; beyond this a browser's numbers are no longer exact
# (RFC 8259, section 6).
_MOST_WHOLE = 2**53


MEND = "Mend it, or open an older copy."


def shown(got: object) -> str:
    """What was found, in a few words."""
    if got is None:
        return "nothing"
    if isinstance(got, dict):
        return "a table"
    if isinstance(got, list | tuple):
        return f"a list of {len(got)}"
    words = repr(got)
    return words if len(words) <= 60 else words[:60] + "..."


class Reader:
    """Reads values of a known type; each method raises ``ChartError`` for anything else."""

    def __init__(self, path: str) -> None:
        self.path = path

    def fail(self, entry: str, wanted: str, got: object) -> ChartError:
        """The error for a value that is not what is wanted at a place."""
        return ChartError(self.path, entry, f"{wanted} is wanted; got {shown(got)}. {MEND}")

    def table(self, value: object, entry: str) -> Json:
        """A JSON object."""
        if not isinstance(value, dict):
            raise self.fail(entry, "a table", value)
        return value

    def rows(self, value: object, entry: str) -> list[Any]:
        """A JSON array."""
        if not isinstance(value, list):
            raise self.fail(entry, "a list", value)
        return value

    def text(self, table: Json, key: str) -> str:
        """The text under a key."""
        value = table.get(key)
        if not isinstance(value, str):
            raise self.fail(key, "text", value)
        if any("\ud800" <= sign <= "\udfff" for sign in value):
            # Half of a sign: JSON can spell it, no file or page can hold it.
            raise self.fail(key, "text of whole signs", value)
        return value

    def number(self, table: Json, key: str) -> float:
        """The finite number under a key."""
        value = table.get(key)
        if (
            isinstance(value, bool)
            or not isinstance(value, int | float)
            or not abs(value) <= _MOST_NUMBER
        ):
            raise self.fail(key, "a number", value)
        return float(value)

    def whole(self, value: object, entry: str) -> int:
        """A whole number."""
        if isinstance(value, bool) or not isinstance(value, int) or abs(value) > _MOST_WHOLE:
            raise self.fail(entry, "a whole number", value)
        return value

    def flag(self, table: Json, key: str) -> bool:
        """The true or false under a key."""
        value = table.get(key)
        if not isinstance(value, bool):
            raise self.fail(key, "true or false", value)
        return value

    def pair(self, table: Json, key: str) -> tuple[list[Any], list[Any]]:
        """Two arrays, of start and end, under a key."""
        both = self.rows(table.get(key), key)
        if len(both) != 2:
            raise self.fail(key, "a start and an end", both)
        return self.rows(both[0], key), self.rows(both[1], key)
