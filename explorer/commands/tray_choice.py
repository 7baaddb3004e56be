"""From ``--tray`` or ``--starter`` to the beads of one kind that a maker has."""

import argparse

from explorer.commands.files import read_bytes
from explorer.commands.options import kind
from explorer.crowding import fits_beside_itself
from explorer.errors import BriefError
from palettes.beads import BeadKind
from palettes.tray import Tray
from palettes.tray_files import starter_tray
from palettes.tray_read import parse_tray, whole_tray
from palettes.tray_sheet import MOST_BYTES


def add_tray(parser: argparse.ArgumentParser) -> None:
    """Add the options of a tray."""
    parser.add_argument("--tray", metavar="CSV", help="take only beads of this tray")
    parser.add_argument("--starter", action="store_true", help="or of the tray that comes along")
    parser.add_argument(
        "--keep-good", action="store_true", help="use a tray's good rows where others are wrong"
    )


def tray_asked(options: argparse.Namespace) -> bool:
    """Whether a tray is asked for.

    Raises:
        BriefError: two are.
    """
    if options.tray is not None and options.starter:
        raise BriefError("tray", "both", "either --tray or --starter", "Leave out one of them.")
    return options.tray is not None or options.starter


def tray_of(
    options: argparse.Namespace, wanted: str | None, field: str, base: BeadKind | None = None
) -> Tray:
    """The tray's beads of the kind that is wanted, or of its most frequent one.

    Args:
        options: the parsed command line.
        wanted: the kind's name, if one is asked for.
        field: the option that asks for it.
        base: the base that they shall hang on without crowding, if the tray has such.

    Raises:
        BriefError: the tray is empty, has no such kind, or its file cannot be read.
        ChartError: its file is no tray.
    """
    everything = (
        starter_tray() if options.starter else tray_in(options.tray, keep_good=options.keep_good)
    )
    chosen = _most_frequent(everything, base) if wanted is None else kind(wanted, field)
    tray = everything.of_kind(chosen)
    if not tray.beads:
        raise BriefError(
            field, chosen.name, "a kind that the tray has", "Choose another kind or tray."
        )
    return tray


def tray_in(path: str, *, keep_good: bool) -> Tray:
    """The tray in a CSV file.

    Raises:
        BriefError: the file cannot be read.
        ChartError: it is no tray, or has faults and nobody said that the good rows shall do.
    """
    return whole_tray(
        parse_tray(read_bytes(path, "tray", MOST_BYTES), path), path, keep_good=keep_good
    )


def _most_frequent(tray: Tray, base: BeadKind | None) -> BeadKind:
    kinds = [bead.kind for bead in tray.beads]
    if not kinds:
        raise BriefError("tray", "no beads", "a tray with beads", "Add rows to it.")
    if base is not None:
        kinds = [kind for kind in kinds if fits_beside_itself(kind, base)] or kinds
    return max(kinds, key=kinds.count)
