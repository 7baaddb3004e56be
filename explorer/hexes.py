"""Hex colours as a maker types them: the only reader of lists of colours."""

from collections.abc import Sequence

from explorer.errors import BriefError
from palettes.spaces import parse_hex


def parse_colours(text: str | Sequence[str], field: str = "colours") -> tuple[str, ...]:
    """Colours, each in its one spelling, lowercase ``#rrggbb``.

    Args:
        text: hex colours with commas between, or one a part.
        field: the option's or box's name, for the error.

    Raises:
        BriefError: there is none, or one of them is no colour; it names the place from 0.
    """
    parts = text.split(",") if isinstance(text, str) else list(text)
    if not any(part.strip() for part in parts):
        raise BriefError(field, "", "at least one hex colour", "Name a colour such as #1f8a83.")
    found = []
    for place, part in enumerate(parts):
        try:
            found.append(parse_hex(part))
        except ValueError as error:
            raise BriefError(
                field,
                part.strip(),
                "hex colours, six digits 0-9 a-f each, with commas between",
                f"Write the colour at place {place} (counted from 0) such as #1f8a83.",
            ) from error
    return tuple(found)
