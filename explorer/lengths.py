"""Lengths: a maker's text to millimetres and back. Nothing else in the project reads units."""

import math
import re
from fractions import Fraction

from explorer.errors import BriefError

# The international yard and pound agreement of 1959: an inch is 25.4 mm exactly.
MM_PER_INCH = Fraction(127, 5)

# By definition of each unit; the inch as above.
_UNITS: dict[str, Fraction] = {
    "mm": Fraction(1),
    "millimetre": Fraction(1),
    "millimetres": Fraction(1),
    "millimeter": Fraction(1),
    "millimeters": Fraction(1),
    "cm": Fraction(10),
    "centimetre": Fraction(10),
    "centimetres": Fraction(10),
    "centimeter": Fraction(10),
    "centimeters": Fraction(10),
    "m": Fraction(1000),
    "in": MM_PER_INCH,
    "inch": MM_PER_INCH,
    "inches": MM_PER_INCH,
    '"': MM_PER_INCH,
    "''": MM_PER_INCH,
}
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip
_QUOTES = str.maketrans(
    {
        "\N{DOUBLE PRIME}": '"',
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{PRIME}": "'",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{FRACTION SLASH}": "/",
        "\N{MINUS SIGN}": "-",
    }
)
_NUMBER = re.compile(
    r"(?P<sign>[+-]?)\s*"
    r"(?:(?:(?P<whole>\d{1,9})(?:\s+|\s*-\s*))?(?P<over>\d{1,6})\s*/\s*(?P<under>\d{1,6})"
    r"|(?P<decimal>\d{1,9}(?:[.,]\d{0,12})?|[.,]\d{1,12}))"
    r"\s*(?P<unit>[a-z\"']*)\.?",
    re.ASCII,
)

ALLOWED = 'a length such as 152, 152 mm, 15.2 cm, 6 in or 6 1/2"'


def parse_mm(text: str, field: str, *, least_mm: float = 0.0, most_mm: float = math.inf) -> float:
    """A length in millimetres from what a maker types.

    Args:
        text: a decimal with point or comma, or a fraction, and a unit; no unit means mm.
        field: the option's or box's name, for the error.
        least_mm: the smallest length that makes sense there, inclusive.
        most_mm: the largest.

    Raises:
        BriefError: no length, an unknown unit, negative, or outside the range.
    """
    value = _to_fraction(text, field)
    if value < 0:
        raise BriefError(
            field, text, f"a length of {least_mm:g} mm or more", "Leave out the minus sign."
        )
    value_mm = float(value)
    if not least_mm <= value_mm <= most_mm and _bare(text):
        for unit, per_unit in (("cm", 10.0), ("in", float(MM_PER_INCH))):
            if least_mm <= value_mm * per_unit <= most_mm:
                raise BriefError(
                    field,
                    text,
                    f"{both(least_mm)} to {both(most_mm)}; a number alone is in millimetres",
                    f"Write {text.strip()} {unit} if that was meant.",
                )
    return checked_mm(value_mm, text, field, least_mm=least_mm, most_mm=most_mm)


def _bare(text: str) -> bool:
    """Whether no unit was typed."""
    return not any(letter.isalpha() or letter in "\"'" for letter in text)


def checked_mm(
    value_mm: float, got: object, field: str, *, least_mm: float, most_mm: float
) -> float:
    """The value itself if it lies in the range.

    Raises:
        BriefError: it does not, or is no finite number.
    """
    if not math.isfinite(value_mm) or not least_mm <= value_mm <= most_mm:
        raise BriefError(
            field,
            got,
            f"{both(least_mm)} to {both(most_mm)}",
            "Measure again, and check whether millimetres, centimetres or inches were meant.",
        )
    return value_mm


def _to_fraction(text: str, field: str) -> Fraction:
    plain = text.strip().lower().translate(_QUOTES)
    for sign, digits in _VULGAR.items():
        plain = plain.replace(sign, f" {digits}")
    found = _NUMBER.fullmatch(plain.strip())
    if not found:
        raise BriefError(field, text, ALLOWED, "Type a number and its unit.")
    unit = found["unit"] or "mm"
    if unit not in _UNITS:
        raise BriefError(field, text, "mm, cm or in as the unit", f"Replace {unit!r}.")
    return _number(found, text, field) * _UNITS[unit]


def _number(found: re.Match[str], text: str, field: str) -> Fraction:
    if found["decimal"]:
        value = Fraction("0" + found["decimal"].replace(",", ".").rstrip("."))
    elif int(found["under"]) == 0:
        raise BriefError(field, text, ALLOWED, "Write 1 or more below the fraction's line.")
    else:
        value = int(found["whole"] or 0) + Fraction(int(found["over"]), int(found["under"]))
    return -value if found["sign"] == "-" else value


def millimetres(value_mm: float) -> str:
    """A length for reading, to a tenth of a millimetre where it has one: ``218.5 mm``."""
    return f"{value_mm:.1f}".removesuffix(".0") + " mm"


def inches(value_mm: float, parts: int = 16) -> str:
    """A length in inches to the nearest sixteenth, as rulers show it: ``8 5/8 in``."""
    count = round(abs(value_mm) / float(MM_PER_INCH) * parts)
    whole, rest = divmod(count, parts)
    fraction = str(Fraction(rest, parts)) if rest else ""
    text = " ".join(filter(None, [str(whole) if whole or not rest else "", fraction]))
    return f"{'-' if value_mm < 0 and count else ''}{text} in"


def both(value_mm: float) -> str:
    """A length in both units: ``218.5 mm (8 5/8 in)``."""
    if math.isinf(value_mm):
        return "no limit"
    return f"{millimetres(value_mm)} ({inches(value_mm)})"
