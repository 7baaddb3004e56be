"""Decimal points or commas in figures that are shown."""

import re
from enum import StrEnum


class Decimal(StrEnum):
    """What stands before tenths."""

    POINT = "point"
    COMMA = "comma"


# A number by itself; parts of names such as v1.2.3 or size1.5 stay as they are.
_FIGURE = re.compile(r"(?<![\w.,])(\d+)\.(\d+)(?![\w,]|\.\d)", re.ASCII)


def written(words: str, decimal: Decimal) -> str:
    """Words with their figures in that writing; they come with points."""
    return _FIGURE.sub(r"\1,\2", words) if decimal is Decimal.COMMA else words


def decimal_from(text: object) -> Decimal | None:
    """The writing that a word names, if it names one."""
    return Decimal(text) if isinstance(text, str) and text in set(Decimal) else None
