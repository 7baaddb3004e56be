"""``danglewise judge``: how well neighbours stand apart, for whom, in which light, from how far."""

import argparse
from collections.abc import Iterator, Sequence

from explorer.commands.answer import Answer, Json
from explorer.commands.files import read_piece
from explorer.commands.options import typed
from explorer.contrast import TYPICAL_MOTIF_MM, Judgement, PairJudgement, judge_colours, looks_of
from explorer.contrast_compare import Apart
from explorer.contrast_piece import Neighbours, PieceJudgement, judge_piece
from explorer.contrast_words import (
    MEASURE,
    details,
    reach,
    reach_sentence,
    sentence,
    summary,
    tenths,
    who,
)
from explorer.errors import BriefError
from explorer.hexes import parse_colours
from explorer.lengths import parse_mm
from explorer.pattern import Pattern
from explorer.suggest import Suggestion, in_words, suggest
from explorer.weave import weave
from palettes.finishes import Finish
from palettes.spaces import parse_hex
from palettes.viewing import Condition

SUMMARY = "say how well neighbouring colours stand apart"


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("piece", nargs="?", metavar="PIECE.json", help="a saved piece")
    parser.add_argument("--colours", metavar="HEX,HEX,...", help="or colours in strip order")
    parser.add_argument(
        "--see",
        metavar="WHO,...",
        help="typical, protan, deutan, tritan, grey, each with a severity if wanted: deutan:0.6",
    )
    parser.add_argument(
        "--light", metavar="LIGHT,...", help="daylight, lamplight, fluorescent, led"
    )
    parser.add_argument("--distance", metavar="L", help="one more distance, such as 2.5 m")
    parser.add_argument(
        "--motif-width", metavar="L", help=f"of plain colours ({TYPICAL_MOTIF_MM:g} mm)"
    )
    parser.add_argument("--backing", metavar="HEX", help="what lies behind the beads")
    parser.add_argument(
        "--finishes", metavar="NAME,...", help="one for all colours or one each (opaque)"
    )


def run(options: argparse.Namespace) -> Answer:
    """The judgement of a row of colours or of a saved piece; ``BriefError`` for what is none."""
    if (options.piece is None) == (options.colours is None):
        raise BriefError(
            "colours",
            "neither" if options.piece is None else "both",
            "either --colours or a saved piece",
            "List hex colours, or name one file.",
        )
    looks = looks_of(typed(options.see, "typical"), typed(options.light, "daylight"))
    distance_m = _distance_m(options.distance)
    backing = _backing(options.backing)
    echo: Json = {
        "see": typed(options.see, "typical"),
        "light": typed(options.light, "daylight"),
        "distance_m": distance_m,
        "backing": backing,
    }
    if options.piece is not None:
        if options.motif_width is not None:
            raise BriefError(
                "motif-width",
                options.motif_width,
                "no width beside a saved piece, which has its own",
                "Leave out --motif-width.",
            )
        pattern = read_piece(options.piece).pattern
        return _piece_answer(pattern, looks, backing, distance_m, {"piece": options.piece, **echo})
    colours = parse_colours(options.colours)
    width_mm = (
        TYPICAL_MOTIF_MM
        if options.motif_width is None
        else parse_mm(options.motif_width, "motif-width")
    )
    finishes = _finishes(options.finishes, len(colours))
    judgement = judge_colours(
        colours,
        looks=looks,
        finishes=finishes,
        backing=backing,
        motif_width_mm=width_mm,
        distance_m=distance_m,
    )
    echo = {
        "colours": list(colours),
        "finishes": [finish.value for finish in finishes],
        **echo,
        "motif_width_mm": width_mm,
    }
    return Answer(
        document={"brief": echo, **judgement_document(judgement)},
        lines=tuple(judgement_lines(judgement, colours)),
    )


def _distance_m(text: str | None) -> float | None:
    return None if text is None else parse_mm(text, "distance") / 1000.0


def _backing(text: str | None) -> str | None:
    if text is None:
        return None
    try:
        return parse_hex(text)
    except ValueError as error:
        raise BriefError("backing", text, "a hex colour", f"Mend this: {error}.") from error


def _finishes(text: str | None, colours: int) -> tuple[Finish, ...]:
    if text is None:
        return (Finish.OPAQUE,) * colours
    wanted = f"one of {', '.join(Finish)}"
    found = []
    for part in text.split(","):
        try:
            found.append(Finish(part.strip().lower()))
        except ValueError:
            raise BriefError("finishes", part, wanted, "Choose from the list.") from None
    if len(found) not in (1, colours):
        raise BriefError(
            "finishes", text, f"one finish, or {colours}, as many as colours", "Count them again."
        )
    return tuple(found) if len(found) == colours else tuple(found) * colours


def judgement_document(judgement: Judgement) -> Json:
    """A judgement of colours as plain values."""
    closure = judgement.closure_pair
    look = judgement.worst_look
    return {
        "pairs": [pair_document(pair) for pair in judgement.pairs],
        "weakest": judgement.weakest,
        "weakest_pair": None if judgement.weakest_pair is None else list(judgement.weakest_pair),
        "worst": judgement.worst,
        "worst_pair": None if judgement.worst_pair is None else list(judgement.worst_pair),
        "worst_view": None if look is None else str(look),
        "closure_pair": None if closure is None else pair_document(closure),
    }


def pair_document(pair: PairJudgement) -> Json:
    """Two neighbours as plain values."""
    return {"i": pair.i, "j": pair.j, **_apart_document(pair)}


def _apart_document(apart: Apart) -> Json:
    return {
        "delta_e_2000": apart.delta_e_2000,
        "verdict": apart.verdict.value,
        "hyab": apart.hyab,
        "by_view": dict(apart.by_view),
        "worst": apart.worst,
        "worst_view": str(apart.worst_look),
        "worst_verdict": apart.worst_verdict.value,
        "reads_apart_to_m": apart.reads_apart_to_m,
        "beyond_the_tested_range": apart.beyond_tested,
        "noticeable_steps": [
            {"distance_m": distance, "steps": steps} for distance, steps in apart.steps
        ],
        "uncertainty": apart.uncertainty,
        "range": None if apart.spread is None else list(apart.spread),
    }


def judgement_lines(judgement: Judgement, colours: tuple[str, ...]) -> Iterator[str]:
    """A judgement of colours for reading, the weakest first."""
    if not judgement.pairs:
        yield "one colour alone has no neighbour"
    for pair in sorted(judgement.pairs, key=lambda pair: pair.worst):
        yield _line(pair, colours)
    if judgement.closure_pair is not None:
        yield "over the closure: " + _line(judgement.closure_pair, colours)


def _line(pair: PairJudgement, colours: tuple[str, ...]) -> str:
    line = (
        f"{pair.i} {colours[pair.i]} and {pair.j} {colours[pair.j]}: {pair.verdict} "
        f"(difference {tenths(pair.delta_e_2000)}), {reach(pair)}"
    )
    if len(pair.by_view) > 1:
        line += f"; least for {pair.worst_look}: {pair.worst_verdict} ({tenths(pair.worst)})"
    return line


def _piece_answer(
    pattern: Pattern,
    looks: Sequence[Condition],
    backing: str | None,
    distance_m: float | None,
    echo: Json,
) -> Answer:
    judgement = judge_piece(weave(pattern), looks=looks, backing=backing, distance_m=distance_m)
    changes = suggest(pattern, looks=looks, backing=backing)
    return Answer(
        document={"brief": echo, **piece_document(judgement, changes)},
        lines=tuple(piece_lines(judgement, changes)),
    )


def piece_document(judgement: PieceJudgement, changes: Sequence[Suggestion]) -> Json:
    """A judged piece as plain values; ``pairs`` in strip order, all other rows weakest first.

    ``weakest`` is of typical eyes in daylight, ``worst`` of all eyes and lights that were asked
    for, both of neighbouring motifs as seen, without those in ``repeats``.
    """
    pairs = sorted(judgement.motifs, key=lambda row: row.i)
    judged = (row for row in pairs if not row.alike_by_choice)
    plain = min(judged, key=lambda row: row.delta_e_2000, default=None)
    worst = judgement.weakest
    return {
        "summary": summary(judgement),
        "pairs": [_row_document(row) for row in pairs],
        "weakest": None if plain is None else plain.delta_e_2000,
        "weakest_pair": None if plain is None else [plain.i, plain.j],
        "worst": None if worst is None else worst.worst,
        "worst_pair": None if worst is None else [worst.i, worst.j],
        "worst_view": None if worst is None else str(worst.worst_look),
        "repeats": [list(pair) for pair in judgement.repeats],
        "details": list(details(judgement)),
        "closure_pair": None if judgement.closure is None else _row_document(judgement.closure),
        "dangles": [_row_document(row) for row in judgement.dangles],
        "within": [_row_document(row) for row in judgement.within],
        "base": [_row_document(row) for row in judgement.base],
        "backing": [_row_document(row) for row in judgement.backing],
        "suggestions": [
            {
                "change": change.change.value,
                "motifs": list(change.motifs),
                "words": in_words(change),
                "pair_from": change.pair_from,
                "pair_to": change.pair_to,
                "weakest_from": change.weakest_from,
                "weakest_to": change.weakest_to,
            }
            for change in changes
        ],
    }


def _row_document(row: Neighbours) -> Json:
    return {
        "i": row.i,
        "j": row.j,
        "columns": None if row.columns is None else list(row.columns),
        "colours": [row.left_hex, row.right_hex],
        "alike_by_choice": row.alike_by_choice,
        **_apart_document(row),
    }


# How many of the weakest neighbours the text shows; the document has all. Chosen by us, because
# they stand on a screen with the rest.
_SHOWN = 5


def piece_lines(judgement: PieceJudgement, changes: Sequence[Suggestion]) -> Iterator[str]:
    """A judged piece for reading: the neighbouring motifs first, then all else in detail."""
    yield summary(judgement)
    judged = [row for row in judgement.motifs if not row.alike_by_choice]
    rows = judged[:_SHOWN]
    for row in rows:
        yield f"  {sentence(row)} {reach_sentence(row)} (difference {tenths(row.worst)})"
    for people in dict.fromkeys(who(row.worst_look) for row in rows):
        if people:
            yield f"  {people}"
    if len(judged) > len(rows):
        yield f"  and {len(judged) - len(rows)} more pairs, farther apart"
    if rows:
        yield f"  {MEASURE}"
    if judgement.closure is not None:
        yield f"over the closure: {sentence(judgement.closure)}"
    for words in details(judgement):
        if not words.startswith("Over the closure"):
            yield f"also: {words}"
    yield from _change_lines(judgement, changes)


def _change_lines(judgement: PieceJudgement, changes: Sequence[Suggestion]) -> Iterator[str]:
    """Suggestions that help the whole piece; the document has those for their own pair alone."""
    pair = judgement.weakest
    meant = "" if pair is None else f" (motifs {pair.i + 1} and {pair.j + 1})"
    for change in changes:
        told = tenths(change.weakest_from), tenths(change.weakest_to)
        if told[0] != told[1]:
            yield f"try: {in_words(change)}{meant}; the weakest neighbours from {' to '.join(told)}"
