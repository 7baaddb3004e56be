"""What is wrong with a spoilt piece, in plain words: what was found, what is wanted, what to do."""

from collections.abc import Iterable, Mapping, Sequence
from difflib import get_close_matches
from typing import Any

from explorer.reading import MEND, shown

# What is wanted where the validator found another type. Its names of types are those of
# https://docs.pydantic.dev/latest/errors/validation_errors.
_WANTED = {
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "float_type": "a number",
    "finite_number": "a number that is finite",
    "string_type": "text",
    "bool_type": "true or false",
    "tuple_type": "a list",
    "dataclass_type": "a table",
    "missing": "a value",
}


def fault(
    document: Any, errors: Sequence[Mapping[str, Any]], names: Iterable[str]
) -> tuple[str, str]:
    """The place of the first fault, and what is wrong there.

    Args:
        document: what the piece's file holds.
        errors: what the validator found.
        names: all names that parts of a piece have.
    """
    for error in errors:
        if error["type"] == "missing" and isinstance(error["input"], dict):
            others = [key for key in error["input"] if key not in {*names}]
            close = get_close_matches(str(error["loc"][-1]), others, 1)
            if close:
                place = _place(document, (*error["loc"][:-1], close[0]))
                return place, misspelt(close[0], str(error["loc"][-1]))
    first = errors[0]
    place = _place(document, first["loc"]) or "the pattern"
    if first["type"] == "value_error":
        why, _, got = str(first["ctx"]["error"]).partition("; got ")
        # What a whole table came to is no short answer.
        return place, f"{why}{f'; got {got}' if got and '(' not in got else ''}. {MEND}"
    if first["type"] == "missing":
        place = ".".join(filter(None, (place, str(first["loc"][-1]))))
        return place, f"a value is wanted; got nothing. {MEND}"
    # One thing may be of several types: what any of them wants.
    same = [one for one in errors if _place(document, one["loc"]) == place]
    wanted = dict.fromkeys(map(_wanted, same))
    return place, f"{' or '.join(wanted)} is wanted; got {shown(first['input'])}. {MEND}"


def misspelt(name: str, meant: str | None) -> str:
    """That a piece has no part of a name, and which was meant if that is known."""
    wanted = f"; wanted {meant!r}" if meant else ""
    return f"there is no such part as {name!r} in a piece of this version{wanted}. {MEND}"


def _wanted(error: Mapping[str, Any]) -> str:
    if error["type"] == "enum":
        return f"one of {error['ctx']['expected']}"
    return _WANTED.get(error["type"], "another value")


def _place(document: Any, place: Iterable[str | int]) -> str:
    """A place of the document; the validator also names the types that it tried there."""
    found, here = [], document
    for part in place:
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            continue
        found.append(str(part))
    return ".".join(found)
