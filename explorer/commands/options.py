"""Options that several commands share, and their reading into a brief's parts.

Every option's value arrives as text and is read by us, so that each fault names what was given,
what is allowed and what to do.
"""

import argparse
import re
from typing import Any, NoReturn

from explorer.brief import (
    DEFAULT_BASE,
    DEFAULT_HANGING,
    DEFAULT_REPEAT,
    LEAST_PITCH_MM,
    LEAST_SNUG_MM,
    MOST_CLOSURE_MM,
    MOST_DANGLES,
    MOST_DIVIDER,
    MOST_EASE_MM,
    MOST_PITCH_MM,
    MOST_SNUG_MM,
    Strip,
    Wearer,
    whole,
)
from explorer.commands.answer import Json
from explorer.design import MOST_DANGLE_BEADS
from explorer.errors import BriefError
from explorer.fit import Repeat, curvature_mm
from explorer.lengths import parse_mm
from explorer.profile import check_profile
from explorer.swatch import parse_swatch
from palettes.beads import BeadKind
from palettes.charts import bead_kinds


class Parser(argparse.ArgumentParser):
    """An argument parser whose complaints are ours, and whose options are written out."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **{"allow_abbrev": False, **options})

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:
        """Read the arguments; ``--option=--`` has no value, whatever the library makes of it."""
        for argument in args or ():
            if argument == "--":
                break
            if found := re.fullmatch(r"--([a-z-]+)=--", argument):
                raise BriefError(
                    found[1],
                    "--",
                    "a value after the equals sign",
                    f"Write one, or leave out --{found[1]}.",
                )
        return super().parse_known_args(args, namespace)

    def error(self, message: str) -> NoReturn:
        """Raise the parser's complaint as a ``BriefError`` that names the option."""
        found = re.search(r"--([a-z-]+)", message)
        raise BriefError(
            found[1] if found else "command",
            message,
            "a command and options as its --help shows",
            f"Run `{self.prog} --help`.",
        )


def join_negatives(arguments: list[str]) -> list[str]:
    """Arguments with a value such as ``-3in`` tied to its option, so that we can refuse it well."""
    joined: list[str] = []
    for argument in arguments:
        previous = joined[-1] if joined else ""
        if re.match(r"-[\d.,]", argument) and re.fullmatch(r"--[a-z-]+", previous):
            joined[-1] = f"{previous}={argument}"
        else:
            joined.append(argument)
    return joined


def typed(value: str | None, usual: str) -> str:
    """What was typed, be it nothing at all, so that it is refused; the usual where it was not."""
    return usual if value is None else value


def add_size(parser: argparse.ArgumentParser) -> None:
    """Add the options of a measurement and a strip."""
    parser.add_argument("--snug", required=True, metavar="L", help="round the limb, tape touching")
    parser.add_argument("--ease", metavar="L", help="added for comfort (0)")
    parser.add_argument("--closure", metavar="L", help="the closure, if the ease allows for it (0)")
    parser.add_argument(
        "--closure-adds", action="store_true", help="the closure comes on top of the ease"
    )
    parser.add_argument(
        "--curve", action="store_true", help="add what a thick base needs more round the limb"
    )
    parser.add_argument("--base", metavar="TYPE", help=f"kind of base bead ({DEFAULT_BASE})")
    parser.add_argument("--pitch", metavar="L", help="strip per base bead, as measured")
    parser.add_argument(
        "--swatch", metavar="TEXT", help="or the measuring itself: '20 beads measure 39.5 mm'"
    )
    parser.add_argument("--dangles", metavar="D", help=f"to a motif ({DEFAULT_REPEAT.dangles})")
    parser.add_argument(
        "--divider", metavar="V", help=f"base beads to a divider ({DEFAULT_REPEAT.divider})"
    )


def wearer(options: argparse.Namespace) -> Wearer:
    """The measurement that the options give; ``BriefError`` for what is none."""
    base = kind(typed(options.base, DEFAULT_BASE), "base")
    return Wearer(
        snug_mm=parse_mm(options.snug, "snug", least_mm=LEAST_SNUG_MM, most_mm=MOST_SNUG_MM),
        ease_mm=_length(options.ease, "ease", MOST_EASE_MM),
        closure_mm=_length(options.closure, "closure", MOST_CLOSURE_MM),
        closure_counted=not options.closure_adds,
        curvature_mm=curvature_mm(base.diameter_mm) if options.curve else 0.0,
    )


def strip(options: argparse.Namespace) -> Strip:
    """The strip that the options give; ``BriefError`` for what is none."""
    repeat = Repeat(
        dangles=_whole(options.dangles, "dangles", DEFAULT_REPEAT.dangles, 1, MOST_DANGLES),
        divider=_whole(options.divider, "divider", DEFAULT_REPEAT.divider, 0, MOST_DIVIDER),
    )
    base = kind(typed(options.base, DEFAULT_BASE), "base")
    if options.swatch is None:
        pitch_mm = (
            None
            if options.pitch is None
            else parse_mm(options.pitch, "pitch", least_mm=LEAST_PITCH_MM, most_mm=MOST_PITCH_MM)
        )
        return Strip(base=base, measured_pitch_mm=pitch_mm, repeat=repeat)
    if options.pitch is not None:
        raise BriefError(
            "swatch", options.swatch, "no swatch beside a pitch", "Leave out one of the two."
        )
    measured = parse_swatch(options.swatch)
    return Strip(
        base=base,
        measured_pitch_mm=measured.pitch_mm,
        measured_spread=measured.spread,
        repeat=repeat,
    )


def add_profile(parser: argparse.ArgumentParser) -> None:
    """Add the options of what hangs."""
    parser.add_argument("--hanging", metavar="TYPE", help=f"dangle beads ({DEFAULT_HANGING})")
    parser.add_argument(
        "--profile", metavar="N,N,...", help="the dangles of a motif in beads, such as 2,4,5,4,2"
    )


def profile_of(options: argparse.Namespace) -> tuple[int, ...] | None:
    """The profile that is asked for, if one is; ``--dangles`` is then its width.

    Raises:
        BriefError: it is no profile, or of another width than ``--dangles``.
    """
    if options.profile is None:
        return None
    lengths = [
        whole("profile", part, 1, MOST_DANGLE_BEADS) for part in str(options.profile).split(",")
    ]
    width = len(check_profile(lengths))
    if options.dangles is not None and whole("dangles", options.dangles, 1, MOST_DANGLES) != width:
        raise BriefError(
            "dangles",
            options.dangles,
            f"{width}, as many as the profile has",
            "Leave out --dangles, or change the profile.",
        )
    options.dangles = str(width)
    return tuple(lengths)


def kind(name: str, field: str) -> BeadKind:
    """The bead kind of that name.

    Raises:
        BriefError: there is none.
    """
    kinds = bead_kinds()
    spelled = " ".join(name.lower().split())
    if spelled not in kinds:
        raise BriefError(field, name, f"one of {', '.join(kinds)}", "Choose a kind from the list.")
    return kinds[spelled]


def size_echo(someone: Wearer, band: Strip) -> Json:
    """The measurement and strip as used, defaults included."""
    return {
        "snug_mm": someone.snug_mm,
        "ease_mm": someone.ease_mm,
        "closure_mm": someone.closure_mm,
        "closure_counted": someone.closure_counted,
        "curvature_mm": someone.curvature_mm,
        "base": band.base.name,
        "pitch_mm": band.pitch_mm,
        "pitch_measured": band.measured_pitch_mm is not None,
        "pitch_spread": band.pitch_spread,
        "dangles": band.repeat.dangles,
        "divider": band.repeat.divider,
    }


def _length(text: str | None, field: str, most_mm: float) -> float:
    return 0.0 if text is None else parse_mm(text, field, least_mm=0.0, most_mm=most_mm)


def _whole(text: str | None, field: str, default: int, least: int, most: int) -> int:
    return default if text is None else whole(field, text, least, most)
