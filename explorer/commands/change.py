"""``danglewise change``: a saved piece with one thing changed, or what its rules are."""

import argparse
import json
import shlex
from collections.abc import Iterator
from pathlib import Path

from explorer.cautions import Topic, cautions
from explorer.changes import Changed
from explorer.changes_asked import CHANGES, WEARS, Argument, change_of
from explorer.commands.answer import Answer, Json
from explorer.commands.file_set import place_to_write, put
from explorer.commands.files import read_piece
from explorer.commands.options import Parser
from explorer.counts import counts
from explorer.errors import BriefError
from explorer.fit import TOLERANCE_MM
from explorer.lengths import both, millimetres
from explorer.links import links_mm
from explorer.pattern import Pattern
from explorer.pattern_words import by_hand, rules, sleeping
from explorer.piece import Piece, to_json
from explorer.sitting import finished_words, short_words, sitting

SUMMARY = "change a saved piece, or tell its rules and what was done by hand"


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options, and its changes with theirs."""
    parser.add_argument("piece", metavar="PIECE.json", help="a saved piece")
    # It may be missing: then the piece is told as it is.
    changes = parser.add_subparsers(dest="change", metavar="CHANGE", parser_class=Parser)
    for asked in CHANGES:
        change = changes.add_parser(asked.word, help=asked.help, description=asked.help)
        for argument in asked.arguments:
            _add(change, argument)
        change.add_argument("--out", metavar="F.json", help="where the changed piece goes")
        # A document may be asked for before the change's word, too.
        change.add_argument(
            "--json", action="store_true", default=argparse.SUPPRESS, help="print a document"
        )


def _add(parser: argparse.ArgumentParser, argument: Argument) -> None:
    if not argument.sign:
        parser.add_argument(
            f"--{argument.name}", dest=argument.name, action="store_true", help=argument.help
        )
    elif argument.named:
        parser.add_argument(
            f"--{argument.name}",
            dest=argument.name,
            metavar=argument.sign,
            required=argument.needed,
            help=argument.help,
        )
    else:
        nargs = "*" if argument.many else None if argument.needed else "?"
        parser.add_argument(argument.name, metavar=argument.sign, nargs=nargs, help=argument.help)


def run(options: argparse.Namespace) -> Answer:
    """Change the piece, or tell it; ``BriefError`` or ``ChartError`` for what cannot be."""
    if options.change is None:
        return _told(options)
    asked = change_of(options.change)
    piece = read_piece(options.piece)
    if options.out is None and not options.json:
        raise BriefError(
            "out",
            "nothing",
            "a file for the changed piece; the one that was named stays as it is",
            "Name one with --out, or print the piece with --json.",
        )
    out = None if options.out is None else _place(options.out, options.piece)
    told = {one.name: getattr(options, one.name) for one in asked.arguments}
    changed = asked.change(piece.pattern, told)
    after = Piece(pattern=changed.pattern, name=piece.name, seed=piece.seed, notes=piece.notes)
    text = to_json(after)
    replaced = () if out is None else put(out, text.encode(), private=True)
    now, was = _difference(piece.pattern, changed)
    had, has = (_cautioned(one) for one in (piece, after))
    care = tuple(words for words in has if words not in had)
    return Answer(
        changed=replaced,
        document={
            "brief": {"piece": options.piece, "change": asked.word, **told},
            "file": options.out,
            "piece": json.loads(text) if out is None else None,
            "now": list(now),
            "was": list(was),
            "gave_up": list(changed.gave_up),
            "asleep": list(changed.asleep),
            "asks": list(changed.asks),
            "cautions": list(care),
            "figures": _figures(after),
        },
        lines=(
            *_lines(changed, now, was),
            *(f"care: {words}" for words in care),
            *_answers(piece, after, changed.asks),
            *_figure_lines(after),
            f"{asked.word}: {options.out}",
        ),
    )


def _place(name: str, piece: str) -> Path:
    """Where the changed piece goes, asked for before the work."""
    if Path(name).suffix.lower() != ".json":
        raise BriefError("out", name, "a name that ends in .json", "Name it so.")
    out = place_to_write(name)
    if out.exists() and out.samefile(piece):
        raise BriefError(
            "out", name, "another file than the piece's own", "Name a new file, so both are there."
        )
    return out


def _told(options: argparse.Namespace) -> Answer:
    """The piece as it is."""
    piece = read_piece(options.piece)
    ruled, done, asleep = (tell(piece.pattern) for tell in (rules, by_hand, sleeping))
    return Answer(
        document={
            "brief": {"piece": options.piece, "change": None},
            "rules": list(ruled),
            "by_hand": list(done),
            "asleep": list(asleep),
            "figures": _figures(piece),
        },
        lines=(
            *ruled,
            *(f"by hand: {words}" for words in done or ("nothing.",)),
            *(f"asleep: {words}" for words in asleep),
            *_figure_lines(piece),
        ),
    )


def _cautioned(piece: Piece) -> tuple[str, ...]:
    """What to know of the piece before weaving it, as its pattern sheet tells it."""
    found = cautions(piece.design, piece.worn_as, piece.wearer)
    # That it does not go round is told with its figures.
    return tuple(f"{one.words} {one.remedy}" for one in found if one.topic is not Topic.SIZE)


def _difference(before: Pattern, changed: Changed) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is so now and was not, told once, and what was so and is not any more."""
    old, new = ((*rules(one), *by_hand(one)) for one in (before, changed.pattern))
    known = {*old, *changed.asleep}
    return tuple(w for w in new if w not in known), tuple(w for w in old if w not in new)


def _lines(changed: Changed, now: tuple[str, ...], was: tuple[str, ...]) -> Iterator[str]:
    if not now and not was:
        yield "Nothing is changed: it was so already."
    for title, told in (
        ("now", now),
        ("was", was),
        ("note", changed.gave_up),
        ("asleep", changed.asleep),
        ("asks", changed.asks),
    ):
        yield from (f"{title}: {words}" for words in told)


def _answers(before: Piece, after: Piece, asks: tuple[str, ...]) -> Iterator[str]:
    """The changes that answer what was asked."""
    if not asks:
        return
    if after.wear is None and before.worn_as is not after.worn_as:
        word = next(word for word, wear in WEARS.items() if wear is before.worn_as)
        yield f"answer with another change: `for --wear {shlex.quote(word)}`"
    if after.pattern.worn.own_ease:
        yield "answer with another change: `for --ease usual`, or `for --ease` and your own"


def _figures(piece: Piece) -> Json:
    design, wearer = piece.design, piece.wearer
    tally = counts(design)
    sits = None if wearer is None else sitting(design, wearer)
    return {
        "motifs": len(design.motifs),
        "base_beads": tally.base_beads,
        "dangle_beads": tally.dangle_beads,
        "divider_beads": tally.divider_beads,
        "link_beads": tally.link_beads,
        "strip_mm": round(design.strip_mm, 6),
        "snug_mm": None if wearer is None else wearer.snug_mm,
        "ease_mm": None if wearer is None else wearer.ease_mm,
        "finished_mm": None if sits is None else round(sits.finished_mm, 6),
        "finished_ease_mm": None if sits is None else round(sits.ease_mm, 6),
        "short_by_mm": None if sits is None else round(sits.short_by_mm, 6),
    }


def _figure_lines(piece: Piece) -> Iterator[str]:
    design, tally = piece.design, counts(piece.design)
    motifs = len(design.motifs)
    yield (
        f"{motifs} motif{'s' * (motifs > 1)}, {tally.base_beads} base beads, "
        f"{tally.dangle_beads} beads in dangles; strip {both(design.strip_mm)}"
    )
    if piece.wearer is not None:
        sits = sitting(design, piece.wearer)
        yield finished_words(sits)
        long_mm = design.strip_mm + links_mm(design) - piece.wearer.target_mm(design.closure)
        if long_mm > TOLERANCE_MM:
            yield f"{millimetres(long_mm)} too long for the measurement and its ease"
        if short := short_words(sits):
            yield short
