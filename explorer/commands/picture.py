"""``danglewise picture``: a saved piece as a picture, for a screen, to show around or to print."""

import argparse
from enum import StrEnum
from pathlib import Path
from typing import TypeVar

from explorer.brief import LEAST_SNUG_MM, MOST_SNUG_MM
from explorer.commands.answer import Answer
from explorer.commands.file_set import place_to_write, put
from explorer.commands.files import read_piece
from explorer.commands.progress import show_progress
from explorer.errors import BriefError
from explorer.lengths import parse_mm
from explorer.picture_files import (
    LEAST_PX,
    MIDDLE_SKIN,
    MOST_PX,
    USUAL_PX,
    PictureAsk,
    Use,
    View,
    check_ask,
    ending_of,
    picture_file,
    printed_size,
)
from explorer.piece import Piece
from gallery.scene import Ground
from palettes.spaces import parse_hex

SUMMARY = "draw a saved piece to a picture file"
_MOST_CAPTION = 200  # chosen by us, because a longer line is not read under a picture

Word = TypeVar("Word", bound=StrEnum)


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("piece", metavar="PIECE.json", help="a saved piece")
    parser.add_argument("--out", required=True, metavar="FILE", help="the file to write")
    parser.add_argument("--view", default="strip", help=f"{_words(View)} (strip)")
    parser.add_argument("--use", default="screen", help=f"{_words(Use)} (screen)")
    parser.add_argument("--ground", default="paper", help=f"{_words(Ground)} (paper)")
    parser.add_argument("--skin", default=MIDDLE_SKIN, metavar="HEX", help="the skin's colour")
    parser.add_argument("--girth", metavar="L", help="round the limb (as the piece was measured)")
    parser.add_argument("--caption", default="", metavar="TEXT", help="under a picture to show")
    parser.add_argument(
        "--longer", default=str(USUAL_PX), metavar="PX", help=f"the longer side ({USUAL_PX})"
    )
    parser.add_argument("--alike", action="store_true", help="draw every bead alike")


def run(options: argparse.Namespace) -> Answer:
    """Write the picture; ``BriefError`` or ``ChartError`` for what cannot be."""
    ask = _ask(options, read_piece(options.piece))
    check_ask(ask)
    ending = ending_of(ask.use)
    if Path(options.out).suffix.lower() != f".{ending}":
        raise BriefError("out", options.out, f"a name that ends in .{ending}", "Name it so.")
    out = place_to_write(options.out)
    _, content = picture_file(ask, progress=show_progress)
    changed = put(out, content)
    size = f"; {printed_size(content)}" if ask.use is Use.TRUE_SIZE else ""
    return Answer(
        changed=changed,
        document={
            "brief": {
                "piece": options.piece,
                "view": ask.view.value,
                "use": ask.use.value,
                "ground": ask.ground.value,
                "skin": ask.skin,
                "girth_mm": ask.girth_mm,
                "caption": ask.caption,
                "longer_px": ask.longer_px,
                "alike": ask.alike,
            },
            "file": options.out,
            "bytes": len(content),
        },
        lines=(f"{ask.view}, for {ask.use}: {options.out}{size}",),
    )


def _ask(options: argparse.Namespace, piece: Piece) -> PictureAsk:
    girth = None if piece.wearer is None else piece.wearer.snug_mm
    if options.girth is not None:
        girth = parse_mm(options.girth, "girth", least_mm=LEAST_SNUG_MM, most_mm=MOST_SNUG_MM)
    caption = str(options.caption)
    if len(caption) > _MOST_CAPTION:
        raise BriefError(
            "caption", f"{len(caption)} signs", f"up to {_MOST_CAPTION} signs", "Shorten it."
        )
    longer = str(options.longer)
    if not (longer.isascii() and longer.isdigit() and LEAST_PX <= int(longer[:9]) <= MOST_PX):
        raise BriefError(
            "longer", longer[:40], f"{LEAST_PX} to {MOST_PX} pixels", "Choose another size."
        )
    try:
        skin = parse_hex(options.skin)
    except ValueError as error:
        raise BriefError("skin", options.skin, str(error), "Write a hex colour.") from None
    return PictureAsk(
        design=piece.design,
        girth_mm=girth,
        view=_word("view", options.view, View),
        use=_word("use", options.use, Use),
        ground=_word("ground", options.ground, Ground),
        skin=skin,
        alike=options.alike,
        caption=caption,
        longer_px=int(longer),
    )


def _words(kind: type[StrEnum]) -> str:
    return ", ".join(one.value for one in kind)


def _word(field: str, text: str, kind: type[Word]) -> Word:
    try:
        return kind(text)
    except ValueError:
        raise BriefError(field, text, f"one of {_words(kind)}", "Choose one of them.") from None
