"""Lengths: a maker's text to millimetres and back. Nothing else in the project reads units."""

import math
import re
from dataclasses import dataclass
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

# A bare number may have been meant in two units: both are named where the length is at most so many
# times more or less than the middle of what makes sense. Chosen by us, because round a limb 14 is
# then in centimetres or inches, 21.5 in centimetres only and 9.25 in inches only.
_FAR = 2.0

ALLOWED = 'a length such as 152, 152 mm, 15.2 cm, 6 in or 6 1/2"'


def parse_mm(
    text: str,
    field: str,
    *,
    least_mm: float = 0.0,
    most_mm: float = math.inf,
    least_bare_mm: float = 0.0,
) -> float:
    """A length in millimetres from what a maker types.

    A number alone is in millimetres. A fraction alone asks for its unit, as millimetres are written
    in decimals; so does a number alone that makes no sense in millimetres.

    Args:
        text: a decimal with point or comma, or a fraction, and a unit.
        field: the option's or box's name, for the error.
        least_mm: the smallest length that makes sense there, inclusive.
        most_mm: the largest.
        least_bare_mm: what is above 0 and below this is believed with its unit only.

    Raises:
        BriefError: no length, no unit where one is needed, an unknown unit, negative, or outside
            the range.
    """
    typed = _read(text, field)
    if typed.number < 0:
        raise BriefError(
            field, text, f"a length of {least_mm:g} mm or more", "Leave out the minus sign."
        )
    value_mm = float(typed.number * _UNITS[typed.unit or "mm"])
    if not typed.unit and value_mm:
        believed = max(least_mm, least_bare_mm) <= value_mm <= most_mm
        if typed.fraction or not believed:
            _ask_for_unit(text, field, typed, (least_mm, most_mm, least_bare_mm))
    return checked_mm(value_mm, text, field, least_mm=least_mm, most_mm=most_mm)


def _ask_for_unit(
    text: str, field: str, typed: "_Typed", limits: tuple[float, float, float]
) -> None:
    """Refuse a bare number, naming the units that may have been meant, where there are any."""
    least_mm, most_mm, least_bare_mm = limits
    number = float(typed.number)
    why = "a fraction needs its unit" if typed.fraction else "a number alone is in millimetres"
    if math.isinf(most_mm):
        # With no range to judge by, no unit is likelier than another.
        remedy = f"Write the unit behind it: mm, cm, m or in, such as {text.strip()} in."
        raise BriefError(field, text, f"{ALLOWED}; {why}", remedy)
    # Rulers with fractions are in inches; nobody writes a fraction of a centimetre.
    units = ("in",) if typed.fraction else ("in", "cm")
    lengths = {f"{text.strip()} {unit}": number * float(_UNITS[unit]) for unit in units}
    if typed.fraction and number >= least_bare_mm:
        lengths[f"{number:.6g} mm"] = number
    possible = [words for words, mm in lengths.items() if least_mm <= mm <= most_mm]
    low_mm = max(least_mm, least_bare_mm)
    if low_mm > 0.0:
        possible = _likeliest(possible, lengths, math.sqrt(low_mm * most_mm))
    if not possible:
        return
    meant = "whichever was meant" if len(possible) > 1 else "if that was meant"
    comma = "," if len(possible) > 1 else ""
    raise BriefError(
        field,
        text,
        f"{both(least_mm)} to {both(most_mm)}; {why}",
        f"Write {' or '.join(possible)}{comma} {meant}.",
    )


def _likeliest(possible: list[str], lengths: dict[str, float], middle_mm: float) -> list[str]:
    """The length nearest to the middle of the range by its ratio, and others not far from it."""

    def off(words: str) -> float:
        return abs(math.log(lengths[words] / middle_mm))

    ranked = sorted(possible, key=off)
    return ranked[:1] + [words for words in ranked[1:] if off(words) <= math.log(_FAR)]


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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Typed:
    """A number as it was typed, with its unit; none where it has none."""

    number: Fraction
    unit: str
    fraction: bool


def _read(text: str, field: str) -> _Typed:
    plain = text.strip().lower().translate(_QUOTES)
    for sign, digits in _VULGAR.items():
        plain = plain.replace(sign, f" {digits}")
    found = _NUMBER.fullmatch(plain.strip())
    if not found:
        raise BriefError(field, text, ALLOWED, "Type a number and its unit.")
    unit = found["unit"] or ""
    if unit and unit not in _UNITS:
        raise BriefError(field, text, "mm, cm or in as the unit", f"Replace {unit!r}.")
    number = _number(found, text, field)
    return _Typed(number=number, unit=unit, fraction=found["over"] is not None)


def _number(found: re.Match[str], text: str, field: str) -> Fraction:
    if found["decimal"]:
        value = Fraction("0" + found["decimal"].replace(",", ".").rstrip("."))
    elif int(found["under"]) == 0:
        raise BriefError(field, text, ALLOWED, "Write 1 or more below the fraction's line.")
    elif found["whole"] and int(found["over"]) >= int(found["under"]):
        raise BriefError(field, text, ALLOWED, "Write a fraction of less than one after the whole.")
    else:
        value = int(found["whole"] or 0) + Fraction(int(found["over"]), int(found["under"]))
    return -value if found["sign"] == "-" else value


# What a tenth of a millimetre shows of a length. Chosen by us, because no ruler reads less.
_SHOWN_MM = 0.05


def millimetres(value_mm: float) -> str:
    """A length for reading, to a tenth of a millimetre where it has one: ``218.5 mm``."""
    return f"{value_mm:.1f}".removesuffix(".0") + " mm"


def inches(value_mm: float, parts: int = 16) -> str:
    """A length in inches to the nearest sixteenth, as rulers show it: ``8 5/8 in``."""
    count = round(abs(value_mm) / float(MM_PER_INCH) * parts)
    if count == 0 and abs(value_mm) >= _SHOWN_MM:
        return f"under 1/{parts} in"
    whole, rest = divmod(count, parts)
    fraction = str(Fraction(rest, parts)) if rest else ""
    text = " ".join(filter(None, [str(whole) if whole or not rest else "", fraction]))
    return f"{'-' if value_mm < 0 and count else ''}{text} in"


def at_least(value_mm: float) -> str:
    """A length that is needed, in both units, neither rounded below it."""
    tenths = math.ceil(value_mm * 10.0 - 1e-6) / 10.0
    parts = math.ceil(value_mm / float(MM_PER_INCH) * 16.0 - 1e-6)
    return f"{millimetres(tenths)} ({inches(parts * float(MM_PER_INCH) / 16.0)})"


def both(value_mm: float) -> str:
    """A length in both units: ``218.5 mm (8 5/8 in)``."""
    if math.isinf(value_mm):
        return "no limit"
    return f"{millimetres(value_mm)} ({inches(value_mm)})"
