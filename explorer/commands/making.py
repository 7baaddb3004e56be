"""What a design takes to make, as a document and as lines: beads, packs, thread, cautions, time."""

import argparse
from collections.abc import Iterator
from dataclasses import replace

from explorer.brief import whole
from explorer.buying import Purchase, buying
from explorer.cautions import Caution, Wear, cautions
from explorer.commands.answer import Json
from explorer.counts import Counts, Spares, counts
from explorer.crowding import crowding
from explorer.design import Design, motif_profile
from explorer.lengths import millimetres, parse_mm
from explorer.piece import Piece
from explorer.profile_scores import scores
from explorer.thread import GUESSED_PACE_S, ThreadPlan, thread_plan, weaving_time_s
from explorer.thread_holes import HoleFit, spot_words
from explorer.thread_setup import ThreadSetup

# Chosen by us, because ten times a piece's beads are a shop's stock, not spares.
MOST_PERCENT, MOST_SPARES = 1000, 1000


def add_making(parser: argparse.ArgumentParser, *, spares_told: str = "") -> None:
    """Add the options of thread, spares and use.

    Args:
        parser: the command's.
        spares_told: the usual percentage in words, where it is another.
    """
    usual, spares = ThreadSetup(), Spares()
    parser.add_argument(
        "--thread", metavar="L", help=f"the thread's diameter ({usual.thread_mm:g} mm)"
    )
    parser.add_argument(
        "--needle", metavar="L", help=f"the needle's diameter ({usual.needle_mm:g} mm)"
    )
    parser.add_argument(
        "--working-length", metavar="L", help=f"one piece of thread ({usual.working_mm:g} mm)"
    )
    parser.add_argument(
        "--spares", metavar="PERCENT", help=f"spare beads ({spares_told or f'{spares.percent:g}'})"
    )
    parser.add_argument(
        "--spares-least", metavar="N", help=f"of every bead, at least ({spares.least})"
    )
    parser.add_argument("--wear", metavar="AS", help="bracelet, anklet or child's piece (by size)")


def setup_of(options: argparse.Namespace) -> ThreadSetup:
    """Thread and needle as the options give them; ``BriefError`` for what cannot be."""
    usual = ThreadSetup()
    return replace(
        usual,
        thread_mm=_mm(options.thread, "thread", usual.thread_mm),
        needle_mm=_mm(options.needle, "needle", usual.needle_mm),
        working_mm=_mm(options.working_length, "working-length", usual.working_mm),
    )


def _mm(text: str | None, field: str, usual_mm: float) -> float:
    return usual_mm if text is None else parse_mm(text, field)


def spares_of(options: argparse.Namespace) -> Spares:
    """The rule for spares that the options give; ``BriefError`` for what cannot be."""
    usual = Spares()
    percent = options.spares
    least = options.spares_least
    return Spares(
        percent=usual.percent if percent is None else whole("spares", percent, 0, MOST_PERCENT),
        least=usual.least if least is None else whole("spares-least", least, 0, MOST_SPARES),
    )


def making_echo(options: argparse.Namespace, worn_as: Wear) -> Json:
    """The making options as used, defaults included."""
    setup, spares = setup_of(options), spares_of(options)
    return {
        "thread_mm": setup.thread_mm,
        "needle_mm": setup.needle_mm,
        "working_mm": setup.working_mm,
        "spares_percent": spares.percent,
        "spares_least": spares.least,
        "wear": worn_as.value,
    }


def making_document(piece: Piece, options: argparse.Namespace) -> Json:
    """Counts, scores, crowding, thread, shopping and cautions of a piece as plain values."""
    design = piece.design
    tally = counts(design, spares_of(options))
    plan = thread_plan(design, setup_of(options))
    close = crowding(design)
    return {
        "counts": counts_document(design, tally),
        "profile_scores": profile_document(design),
        "crowding": {
            "ratio": close.ratio,
            "touch": close.touch.value,
            "columns": None if close.columns is None else list(close.columns),
        },
        "thread": thread_document(plan, design),
        "buy": [purchase_document(line) for line in buying(design, tally)],
        "cautions": cautions_document(cautions(design, piece.worn_as, piece.wearer)),
        "weaving_minutes": weaving_time_s(tally.total) / 60.0,
        "pace_s_a_bead": GUESSED_PACE_S,
    }


def profile_document(design: Design) -> Json:
    """The scores of the first motif's profile as plain values."""
    motif = design.motifs[0]
    hang = design.beads[motif[0].beads[0]].kind
    tip = design.beads[motif[0].beads[-1]].kind
    found = scores(motif_profile(motif), hang, tip)
    return {
        "drop_mm": found.drop_mm,
        "beads": found.beads,
        "smoothness": found.smoothness,
        "lean": found.lean,
    }


def counts_document(design: Design, tally: Counts) -> Json:
    """A design's counts as plain values."""
    return {
        "base_beads": tally.base_beads,
        "dangle_beads": tally.dangle_beads,
        "dividers": tally.dividers,
        "divider_beads": tally.divider_beads,
        "link_beads": tally.link_beads,
        "total": tally.total,
        "per_motif": [motif.beads for motif in tally.by_motif],
        "by_bead": [
            {
                "name": bead.name,
                "kind": bead.kind.name,
                "hex": bead.hex,
                "used": count.used,
                "spares": count.spares,
                "to_count_out": count.to_count_out,
            }
            for bead, count in zip(design.beads, tally.by_bead, strict=True)
        ],
    }


def thread_document(plan: ThreadPlan, design: Design) -> Json:
    """A thread plan as plain values."""
    return {
        "length_mm": plan.length_mm,
        "in_the_piece_mm": plan.path_mm,
        "parts": {step.value: length for step, length in plan.parts},
        "pieces_mm": list(plan.pieces_mm),
        "joins": plan.joins,
        "most_passes": plan.most_passes,
        "tightest": _hole_document(plan.tightest, design),
    }


def _hole_document(hole: HoleFit, design: Design) -> Json:
    return {
        "bead": design.beads[hole.bead].name,
        "kind": design.beads[hole.bead].kind.name,
        "where": spot_words(hole.spot, design.base_beads),
        "passes": hole.passes,
        "hole_mm": hole.hole_mm,
        "needed_mm": hole.needed_mm,
        "passing": hole.passing.value,
        "remedy": hole.remedy,
    }


def purchase_document(line: Purchase) -> Json:
    """A line of the shopping list as plain values."""
    return {
        "name": line.bead.name,
        "kind": line.bead.kind.name,
        "hex": line.bead.hex,
        "beads": line.missing,
        "weight_g": line.weight_g,
        "least_g": line.least_g,
        "most_g": line.most_g,
        "packs_g": [pack.weight_g for pack in line.packs],
    }


def making_lines(piece: Piece, options: argparse.Namespace) -> Iterator[str]:
    """What a piece takes to make, for reading."""
    design = piece.design
    tally = counts(design, spares_of(options))
    plan = thread_plan(design, setup_of(options))
    yield f"to count out, spares included ({tally.total} beads in the piece):"
    for line in buying(design, tally):
        packs = " + ".join(f"{pack.weight_g:g} g" for pack in line.packs)
        yield (
            f"  {line.used + line.spares} {line.bead.name} ({line.bead.kind.name}): "
            f"{line.least_g:.1f} to {line.most_g:.1f} g, buy {packs}"
        )
    pieces = ", ".join(millimetres(round(piece)) for piece in plan.pieces_mm)
    yield f"thread {plan.length_mm / 1000.0:.2f} m with tails and allowance, in pieces of {pieces}"
    tight = plan.tightest
    yield (
        f"tightest: {spot_words(tight.spot, design.base_beads)}, {tight.passes} passes, needs "
        f"{tight.needed_mm:.2f} mm of a {tight.hole_mm:.2f} mm hole: {tight.passing} "
        "(a model, not calibrated)"
    )
    minutes = weaving_time_s(tally.total) / 60.0
    yield f"about {minutes:.0f} minutes at {GUESSED_PACE_S:g} seconds a bead (a guess: time yours)"
    yield from caution_lines(cautions(design, piece.worn_as, piece.wearer))


def cautions_document(found: tuple[Caution, ...]) -> list[Json]:
    """Cautions as plain values."""
    return [{"topic": c.topic.value, "words": c.words, "remedy": c.remedy} for c in found]


def caution_lines(found: tuple[Caution, ...]) -> Iterator[str]:
    """Cautions for reading."""
    for caution in found:
        yield f"{caution.topic}: {caution.words} {caution.remedy}"
