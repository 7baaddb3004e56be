"""Options of colour orders that ``order`` and ``propose`` share."""

import argparse

from explorer.brief import whole
from explorer.errors import BriefError
from explorer.hexes import parse_colours
from explorer.sequence_types import MOST_COLOURS, MOST_MOTIFS, Arrangement


def add_order(parser: argparse.ArgumentParser) -> None:
    """Add the options of a colour order."""
    parser.add_argument("--gap", metavar="G", help="a colour not again within G motifs (0)")
    parser.add_argument(
        "--fix", action="append", metavar="PLACE=HEX", help="settle a motif, places from 0"
    )
    parser.add_argument("--arrangement", metavar="NAME", help=", ".join(Arrangement))


def gap_of(options: argparse.Namespace) -> int:
    """The gap asked for; ``BriefError`` for what is none."""
    return 0 if options.gap is None else whole("gap", options.gap, 0, MOST_COLOURS)


def arrangement_of(options: argparse.Namespace) -> Arrangement | None:
    """The arrangement asked for, if one is; ``BriefError`` for what is none."""
    if options.arrangement is None:
        return None
    try:
        return Arrangement(options.arrangement.strip().lower())
    except ValueError:
        wanted = f"one of {', '.join(Arrangement)}"
        raise BriefError(
            "arrangement", options.arrangement, wanted, "Choose from the list."
        ) from None


def fixed_of(options: argparse.Namespace, colours: tuple[str, ...]) -> tuple[tuple[int, int], ...]:
    """Settled motifs as pairs of place and colour, both from 0.

    Raises:
        BriefError: it is not written PLACE=HEX, the colour is not among those given, or a place is
            settled twice.
    """
    found: dict[int, int] = {}
    for text in options.fix or ():
        place_text, equals, hex_text = text.partition("=")
        if not equals:
            raise BriefError("fix", text, "PLACE=HEX such as 0=#1f8a83", "Write it so.")
        place = whole("fix", place_text, 0, MOST_MOTIFS - 1)
        colour = parse_colours((hex_text,), "fix")[0]
        if colour not in colours:
            raise BriefError(
                "fix",
                text,
                f"one of the colours given: {', '.join(colours)}",
                "Choose one of them.",
            )
        if found.get(place, colours.index(colour)) != colours.index(colour):
            raise BriefError("fix", text, "one colour a place", f"Settle place {place} once.")
        found[place] = colours.index(colour)
    return tuple(sorted(found.items()))
