"""Single cells of a tray's table: numbers as spreadsheets write them, and text made harmless."""

import re
import unicodedata
from collections.abc import Iterable

# Cells that a spreadsheet may run as a formula begin so (OWASP, CSV Injection).
_FORMULA = ("=", "+", "-", "@", "\t", "\r")
# Marks between thousands besides comma and point: space, no-break space, narrow one, apostrophes.
_SPACES = " \u00a0\u202f'\u2019"


def harmless(text: str) -> str:
    """Text that no spreadsheet runs as a formula: an apostrophe is set before what could be one."""
    bare = text.removeprefix("'")
    if re.fullmatch(r"[-+]?[\d.,]+", bare, re.ASCII):
        return text
    return f"'{text}" if bare.startswith(_FORMULA) else text


def unquoted(text: str) -> str:
    """The text that ``harmless`` was given."""
    return text[1:] if text.startswith("'") and harmless(text[1:]) == text else text


def plain(text: str) -> str:
    """Text for a screen or a page: what cannot be printed or turns writing round becomes a space.

    Control characters can move a terminal's cursor, and direction marks can make a name read as
    another; markup is left as it is, since only who writes a page knows its language.
    """
    unsafe = ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")
    spaced = "".join(" " if unicodedata.category(c) in unsafe else c for c in text)
    return " ".join(spaced.split())


def decimal_mark(texts: Iterable[str]) -> str | None:
    """The decimal mark that a table uses, ``.`` or ``,``, or None where no number tells."""
    found = {mark for text in texts if (mark := _told(_bare(text))) is not None}
    return found.pop() if len(found) == 1 else None


def number(text: str, mark: str | None) -> float | None:
    """A number as spreadsheets write it, or None where it is none or could be two.

    Args:
        text: such as ``12``, ``12.5``, ``12,5``, ``1.234,5``, ``1 234.50``, ``12 g`` or with the
            sign of a currency.
        mark: the table's decimal mark if known; it decides cells such as ``1,234``.
    """
    bare = _bare(text)
    if not re.fullmatch(r"-?\d[\d.,]*|-?[.,]\d+", bare, re.ASCII):
        return None
    mark = _told(bare) or mark
    if mark is None:
        return float(bare) if bare.lstrip("-").isdigit() else None
    other = "," if mark == "." else "."
    whole, _, part = bare.partition(mark)
    groups = whole.lstrip("-").split(other)
    badly_grouped = len(groups) > 1 and (
        not 1 <= len(groups[0]) <= 3 or any(len(group) != 3 for group in groups[1:])
    )
    if badly_grouped or (part and not part.isdigit()):
        return None
    return float(f"{whole.replace(other, '')}.{part or '0'}")


def in_marks(value: float, mark: str | None) -> str:
    """A number as a table with that decimal mark writes it, without loss."""
    text = str(int(value)) if float(value).is_integer() else repr(float(value))
    return text.replace(".", mark or ".")


def _bare(text: str) -> str:
    """A number's text without currency, unit and blanks between thousands."""
    kept = "".join(c for c in text.strip() if unicodedata.category(c) != "Sc").strip()
    kept = re.sub(r"\s*(?:g|gr|grams?)$", "", kept, flags=re.IGNORECASE)
    return re.sub(rf"(?<=\d)[{re.escape(_SPACES)}](?=\d{{3}}(?!\d))", "", kept)


def _told(bare: str) -> str | None:
    """The decimal mark that a number gives away by itself."""
    points, commas = bare.count("."), bare.count(",")
    if points and commas:
        return "." if bare.rfind(".") > bare.rfind(",") else ","
    if points + commas == 0:
        return None
    mark = "." if points else ","
    if points + commas > 1:
        # Said more than once it parts thousands.
        return "," if mark == "." else "."
    whole, _, part = bare.partition(mark)
    ambiguous = len(part) == 3 and 1 <= len(whole.lstrip("-")) <= 3 and whole.lstrip("-") != "0"
    return None if ambiguous else mark
