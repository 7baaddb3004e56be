"""Fields of a parsed TOML table, each checked as it is taken; faults become ``ChartError``."""

import tomllib
from typing import TypeVar, cast

from palettes.errors import ChartError

Table = dict[str, object]
T = TypeVar("T")


def parse_toml(text: str, path: str) -> Table:
    """The document in a TOML text; ``ChartError`` where it is none."""
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        # Besides its own error, the reader stumbles over numbers of thousands of digits and over
        # thousands of brackets within brackets.
        raise ChartError(path, "the file", f"it is not valid TOML: {error}") from error


def take(table: Table, key: str, kind: type[T], path: str, entry: str) -> T:
    """The value under a key, of the wanted type; ``ChartError`` where it is missing or another."""
    value = table.get(key)
    if not isinstance(value, kind):
        got = "nothing" if value is None else repr(value)
        raise ChartError(path, entry, f"{key} is a {kind.__name__}; got {got}")
    return value


def take_number(table: Table, key: str, path: str, entry: str) -> float:
    """The number under a key; ``ChartError`` where it is missing, a truth value or a text."""
    value = table.get(key)
    if isinstance(value, bool) or not isinstance(value, int | float):
        got = "nothing" if value is None else repr(value)
        raise ChartError(path, entry, f"{key} is a number; got {got}")
    return float(value)


def take_texts(table: Table, key: str, path: str, entry: str) -> tuple[str, ...]:
    """The list of texts under a key, empty where there is none."""
    values = table.get(key, [])
    if not (isinstance(values, list) and all(isinstance(value, str) for value in values)):
        raise ChartError(path, entry, f"{key} is a list of texts; got {values!r}")
    return tuple(cast("list[str]", values))


def take_tables(table: Table, key: str, path: str) -> list[Table]:
    """The tables under ``[[key]]`` headings, empty where there is none."""
    rows = table.get(key, [])
    if not (isinstance(rows, list) and all(isinstance(row, dict) for row in rows)):
        raise ChartError(path, key, f"write each entry under its own [[{key}]] heading")
    return cast("list[Table]", rows)
