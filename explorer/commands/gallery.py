"""``danglewise gallery``: draws the example pieces and writes their index page."""

import argparse

from explorer.commands.answer import Answer
from explorer.commands.file_set import together
from explorer.counts import counts
from explorer.example_briefs import EXAMPLES
from explorer.examples import Example, piece_of, proportions, scene_of
from explorer.piece import Piece, to_json
from gallery.files import Pixels, to_png
from gallery.framing import framed
from gallery.raster import draw

SUMMARY = "draw the example pieces and their index page"
INDEX = "index.md"


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--out", metavar="DIR", help="the folder to write to")


def run(options: argparse.Namespace) -> Answer:
    """Write every example's picture and piece, and the index; ``BriefError`` if it cannot be."""
    rows, names = [], []
    with together(options.out or "") as files:
        for example in EXAMPLES:
            piece = piece_of(example)
            files.put(f"{example.stem}.png", to_png(picture(example, piece)))
            files.put(f"{example.stem}.json", to_json(piece).encode("utf-8"))
            rows.append(_row(example, piece))
            names += [f"{example.stem}.png", f"{example.stem}.json"]
        files.put(INDEX, page(rows).encode("utf-8"))
    return Answer(
        changed=files.changed,
        document={"brief": {"out": options.out}, "files": [*names, INDEX]},
        lines=(f"{len(EXAMPLES)} pieces in {options.out}, listed in {INDEX}",),
    )


def picture(example: Example, piece: Piece) -> Pixels:
    """The example's picture."""
    scene = scene_of(example, piece.design)
    exact, px_per_mm = framed(scene, *proportions(example, scene))
    return draw(exact, px_per_mm)


def page(rows: list[str]) -> str:
    """The index page."""
    head = (
        "# Example pieces\n\n"
        "Drawn by `danglewise gallery --out gallery/examples` from briefs of our own; the wearers "
        "are invented. Each picture's piece file opens in the app.\n"
    )
    return "\n".join([head, *rows])


def _row(example: Example, piece: Piece) -> str:
    tally = counts(piece.design)
    motifs = len(piece.design.motifs)
    return (
        f"## {example.title}\n\n"
        f"![{example.title}]({example.stem}.png)\n\n"
        f"{motifs} motifs, {example.outline if isinstance(example.outline, str) else 'own profile'}"
        f", {example.arrangement} order, {example.colouring}; {tally.base_beads} base beads, "
        f"{tally.dangle_beads} dangle beads. [Piece file]({example.stem}.json)\n"
    )
