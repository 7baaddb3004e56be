"""What the printing commands share: the paper, the date and the sheet's options."""

import argparse
from datetime import datetime

from explorer.cautions import Wear
from explorer.commands.making import setup_of, spares_of
from explorer.errors import BriefError
from explorer.sheet_facts import SheetOptions
from gallery.page import A4, LETTER, Paper

# Chosen by us, because the longest date in words is shorter.
_MOST_DATE = 60


def add_printing(parser: argparse.ArgumentParser) -> None:
    """Add the options of printed pages."""
    parser.add_argument("--letter", action="store_true", help="US Letter instead of A4")
    parser.add_argument("--large", action="store_true", help="large type")
    parser.add_argument("--dated", metavar="TEXT", help="the date to print (today); '' for none")


def paper_of(options: argparse.Namespace) -> Paper:
    """The paper asked for."""
    return LETTER if options.letter else A4


def dated_of(options: argparse.Namespace) -> str:
    """The date to print; ``BriefError`` for one that is no line of text."""
    if options.dated is None:
        return datetime.now().astimezone().date().isoformat()
    text = str(options.dated).strip()
    if len(text) > _MOST_DATE or not text.isprintable():
        raise BriefError(
            "dated", text[:40], f"a line of at most {_MOST_DATE} signs", "Write a date."
        )
    return text


def lacking_lines(lacking: tuple[str, ...]) -> tuple[str, ...]:
    """What to say of characters that our fonts lack; nothing if there are none."""
    if not lacking:
        return ()
    named = ", ".join(f"{c} (U+{ord(c):04X})" for c in lacking[:12])
    more = f" and {len(lacking) - 12} more" if len(lacking) > 12 else ""
    return (f"our font lacks {named}{more}: printed as a lozenge",)


def sheet_options(options: argparse.Namespace, worn_as: Wear) -> SheetOptions:
    """The sheet's options as the command line gives them, without a link."""
    return SheetOptions(
        dated=dated_of(options),
        wear=worn_as,
        spares=spares_of(options),
        setup=setup_of(options),
        large=options.large,
    )
