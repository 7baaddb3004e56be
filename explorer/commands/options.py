"""Options that several commands share, and their reading into a brief's parts.

Every option's value arrives as text and is read by us, so that each fault names what was given,
what is allowed and what to do.
"""

import argparse
import re
from collections.abc import Iterator
from typing import Any, NoReturn

from explorer.brief import (
    DEFAULT_BASE,
    DEFAULT_HANGING,
    DEFAULT_REPEAT,
    LEAST_BARE_MM,
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
from explorer.cautions import Wear
from explorer.commands.answer import Json
from explorer.crowding import usual_hanging
from explorer.design import MOST_DANGLE_BEADS, Closure
from explorer.errors import BriefError
from explorer.fit import Repeat, curvature_mm
from explorer.lengths import both, parse_mm
from explorer.profile import check_profile
from explorer.swatch import parse_swatch
from explorer.wearers import Place, place_of, usual_ease_mm, usual_wear
from palettes.beads import BeadKind
from palettes.charts import bead_kinds

# As it is typed without an apostrophe.
_CHILD = ("child", "child's", "childs piece")
# Chosen by us, because it is printed in a line with its length.
_MOST_KIND = 40


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
    add_closing(parser)
    parser.add_argument(
        "--curve", action="store_true", help="add what a thick base needs more round the limb"
    )
    parser.add_argument("--base", metavar="TYPE", help=f"kind of base bead ({DEFAULT_BASE})")
    parser.add_argument("--pitch", metavar="L", help="strip per base bead, as measured")
    parser.add_argument(
        "--swatch", metavar="TEXT", help="or the measuring itself: '20 beads measure 62 mm'"
    )
    parser.add_argument("--dangles", metavar="D", help=f"to a motif ({DEFAULT_REPEAT.dangles})")
    parser.add_argument(
        "--divider", metavar="V", help=f"base beads to a divider ({DEFAULT_REPEAT.divider})"
    )


def add_closing(parser: argparse.ArgumentParser) -> None:
    """Add the options of ease, closure and ends."""
    parser.add_argument(
        "--ease", metavar="L", help="added for comfort (the usual one for where it is worn)"
    )
    parser.add_argument("--closure", metavar="L", help="the closure's length, closed (0)")
    parser.add_argument(
        "--closure-kind", metavar="NAME", help="what it is, such as 'breakaway clasp' (unnamed)"
    )
    parser.add_argument(
        "--closure-adds", action="store_true", help="the closure comes on top of the ease"
    )


def add_plain_ends(parser: argparse.ArgumentParser) -> None:
    """Add the option to do without plain ends, for what takes them of itself."""
    parser.add_argument(
        "--no-plain-ends",
        action="store_true",
        help="leave over what is left over: no plain base beads at both ends",
    )


def closure(options: argparse.Namespace) -> Closure:
    """The fastening that the options give; ``BriefError`` for what is none."""
    named = " ".join(typed(options.closure_kind, "").split())
    if len(named) > _MOST_KIND or not named.isprintable():
        raise BriefError(
            "closure-kind",
            named[:_MOST_KIND],
            f"a word or two of at most {_MOST_KIND} signs",
            "Name the closure, such as 'breakaway clasp'.",
        )
    length_mm = 0.0
    if options.closure is not None:
        length_mm = _length(options.closure, "closure", MOST_CLOSURE_MM)
    return Closure(kind=named, length_mm=length_mm)


def ease_mm(options: argparse.Namespace) -> float | None:
    """The ease that the options give; None where they leave it to what is usual."""
    return None if options.ease is None else _length(options.ease, "ease", MOST_EASE_MM)


def wear(options: argparse.Namespace) -> Wear | None:
    """What the piece is worn as; None where the options do not say.

    Raises:
        BriefError: it is worn as nothing that we know.
    """
    if options.wear is None:
        return None
    said = options.wear.strip().lower()
    try:
        return Wear.CHILD if said in _CHILD else Wear(said)
    except ValueError:
        wanted = f"one of {', '.join(Wear)}"
        raise BriefError("wear", options.wear, wanted, "Choose from the list.") from None


def wearer(options: argparse.Namespace) -> Wearer:
    """The measurement that the options give; ``BriefError`` for what is none."""
    base = kind(typed(options.base, DEFAULT_BASE), "base")
    snug_mm = parse_mm(options.snug, "snug", least_mm=LEAST_SNUG_MM, most_mm=MOST_SNUG_MM)
    given_mm = ease_mm(options)
    place = place_of(wear(options) or usual_wear(snug_mm), snug_mm)
    return Wearer(
        snug_mm=snug_mm,
        ease_mm=usual_ease_mm(place) if given_mm is None else given_mm,
        closure_counted=not options.closure_adds,
        curvature_mm=curvature_mm(base.diameter_mm) if options.curve else 0.0,
    )


def strip(options: argparse.Namespace, *, plain_ends: bool) -> Strip:
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
        return Strip(base=base, measured_pitch_mm=pitch_mm, repeat=repeat, plain_ends=plain_ends)
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
        plain_ends=plain_ends,
    )


def add_profile(parser: argparse.ArgumentParser) -> None:
    """Add the options of what hangs."""
    parser.add_argument(
        "--hanging",
        metavar="TYPE",
        help=f"dangle beads (what suits the base: {DEFAULT_HANGING} on {DEFAULT_BASE})",
    )
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


def hanging_of(options: argparse.Namespace, base: BeadKind) -> BeadKind:
    """The kind of the dangle beads: as asked, else the usual one for the base.

    Raises:
        BriefError: there is no such kind.
    """
    return usual_hanging(base) if options.hanging is None else kind(options.hanging, "hanging")


def size_echo(options: argparse.Namespace, someone: Wearer, band: Strip) -> Json:
    """The measurement and strip as used, defaults included."""
    closes = closure(options)
    return {
        "snug_mm": someone.snug_mm,
        "ease_mm": someone.ease_mm,
        "ease_given": options.ease is not None,
        "closure_mm": closes.length_mm,
        "closure_kind": closes.kind or None,
        "closure_counted": someone.closure_counted,
        "plain_ends": band.plain_ends,
        "curvature_mm": someone.curvature_mm,
        "base": band.base.name,
        "pitch_mm": band.pitch_mm,
        "pitch_measured": band.measured_pitch_mm is not None,
        "pitch_spread": band.pitch_spread,
        "dangles": band.repeat.dangles,
        "divider": band.repeat.divider,
    }


def ease_words(options: argparse.Namespace, someone: Wearer) -> Iterator[str]:
    """The ease that was taken where none was given."""
    if options.ease is None:
        place = place_of(wear(options) or usual_wear(someone.snug_mm), someone.snug_mm)
        article = "an" if place is Place.ANKLE else "a"
        yield f"ease {both(someone.ease_mm)}, usual for {article} {place}; --ease sets your own"


def _length(text: str, field: str, most_mm: float) -> float:
    return parse_mm(text, field, most_mm=most_mm, least_bare_mm=LEAST_BARE_MM)


def _whole(text: str | None, field: str, default: int, least: int, most: int) -> int:
    return default if text is None else whole(field, text, least, most)
