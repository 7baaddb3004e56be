"""``danglewise sheet``: a saved piece as a making sheet to print."""

import argparse
from dataclasses import replace

from explorer.commands.answer import Answer
from explorer.commands.file_set import place_to_write, put
from explorer.commands.files import read_piece
from explorer.commands.making import (
    add_making,
    caution_lines,
    cautions_document,
    counts_document,
    making_echo,
)
from explorer.commands.options import wear
from explorer.commands.printing import (
    add_printing,
    lacking_lines,
    paper_of,
    sheet_options,
)
from explorer.commands.progress import show_progress
from explorer.share import link, to_code
from explorer.sheet import sheet_of
from explorer.sheet_facts import sheet_facts

SUMMARY = "print a saved piece's making sheet as PDF"


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("piece", metavar="PIECE.json", help="a saved piece")
    parser.add_argument("--out", required=True, metavar="F.pdf", help="the file to write")
    add_printing(parser)
    parser.add_argument("--no-code", action="store_true", help="leave the code to scan out")
    add_making(parser)


def run(options: argparse.Namespace) -> Answer:
    """Write the sheet; ``BriefError`` or ``ChartError`` for what cannot be."""
    # Reportlab is asked for only where something is printed.
    from gallery.pdf import to_pdf

    piece = read_piece(options.piece)
    out = place_to_write(options.out)
    asked = sheet_options(options, wear(options) or piece.worn_as)
    shared = "" if options.no_code else link(to_code(piece))
    facts = sheet_facts(piece, replace(asked, link=shared))
    paper = paper_of(options)
    printed = to_pdf(sheet_of(facts), paper, progress=show_progress)
    changed = put(out, printed.pdf)
    return Answer(
        changed=changed,
        document={
            "brief": {
                "piece": options.piece,
                "dated": asked.dated,
                **making_echo(options, asked.wear),
            },
            "file": options.out,
            "paper": paper.name,
            "pages": printed.pages,
            "lacking": list(printed.lacking),
            "link": shared or None,
            "counts": counts_document(piece.design, facts.counts),
            "cautions": cautions_document(facts.cautions),
        },
        lines=(
            f"{printed.pages} pages of {paper.name} in {options.out}",
            *lacking_lines(printed.lacking),
            *caution_lines(facts.cautions),
        ),
    )
