"""``danglewise propose``: a spread of different pieces, with pictures and piece files."""

import argparse
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from explorer.brief import (
    MOST_COUNT,
    MOST_SEED,
    USUAL_EXTRAS,
    USUAL_LEAST,
    USUAL_MOST,
    Brief,
    HowMuch,
    Mood,
    whole,
)
from explorer.commands.answer import Answer, Json
from explorer.commands.file_set import check_set, together
from explorer.commands.files import read_piece
from explorer.commands.fit import fit_document, fit_lines, too_short
from explorer.commands.making import add_making, making_document, making_echo
from explorer.commands.options import (
    add_plain_ends,
    add_profile,
    add_size,
    closure,
    ease_words,
    hanging_of,
    profile_of,
    size_echo,
    strip,
    typed,
    wear,
    wearer,
)
from explorer.commands.order_options import add_order, arrangement_of, fixed_of, gap_of
from explorer.commands.palette_choice import as_divider, bead, beads, best_base, swatches
from explorer.commands.tray_choice import add_tray, tray_asked, tray_of
from explorer.contrast_words import LOOKS, possible_words, repeating_words, tenths
from explorer.design import motif_profile
from explorer.errors import BriefError
from explorer.fit import NoFit
from explorer.lengths import millimetres, parse_mm
from explorer.pattern import Pattern, Worn
from explorer.piece import Piece
from explorer.profile_generator import ProfileRules, usual_longest, within_drop
from explorer.propose import Proposal, Proposals, propose
from explorer.relatives import like_of, motif_beads_of
from explorer.wearers import own_ease, usual_wear
from palettes.beads import Bead, BeadKind
from palettes.difference import DISTINCT_FROM, verdict
from palettes.swatches import Swatch

if TYPE_CHECKING:
    from explorer.commands.pictures import Writer

SUMMARY = "propose different pieces for a measurement and a palette"
_DOCUMENT = "proposals.json"
_EARLIER = re.compile(r"proposal-\d{2,}\.(png|json)", re.ASCII)
# So many files of an earlier run are named. Chosen by us: a line of names that is still read.
_MOST_LEFT = 6


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    add_size(parser)
    add_plain_ends(parser)
    parser.add_argument("--palette", metavar="NAME", help="one of our palettes")
    parser.add_argument("--colours", metavar="HEX,HEX,...", help="or colours of your own")
    add_tray(parser)
    add_profile(parser)
    add_making(parser)
    parser.add_argument("--shortest", metavar="BEADS", help=f"shortest dangle ({USUAL_LEAST})")
    parser.add_argument(
        "--longest", metavar="BEADS", help=f"longest dangle (usual, up to {USUAL_MOST})"
    )
    parser.add_argument("--drop", metavar="L", help="no dangle hangs lower than this")
    add_order(parser)
    parser.add_argument(
        "--alternate", action="store_true", help="let two profiles take turns along the strip"
    )
    parser.add_argument(
        "--extras",
        metavar="HOW",
        help="how much besides outline and colours varies - tips, dividers, base, outlines in "
        f"turn, growth: {', '.join(HowMuch)} ({USUAL_EXTRAS})",
    )
    parser.add_argument("--mood", metavar="MOOD", help=", ".join(Mood))
    parser.add_argument("--like", metavar="PIECE.json", help="relatives of a saved piece")
    parser.add_argument("--count", metavar="N", help="how many (24)")
    parser.add_argument("--seed", metavar="S", help="the number that chance starts from (1)")
    parser.add_argument("--out", metavar="DIR", help="write pictures and piece files there")


def brief_of(options: argparse.Namespace, like: Pattern | None) -> Brief:
    """The brief that the options give; ``BriefError`` for what cannot be."""
    lengths = profile_of(options)
    band = strip(options, plain_ends=not options.no_plain_ends)
    colours, base, stock = _colours(options, like, band.base)
    someone = wearer(options)
    least, most = _reach(options, colours[0].kind, someone.snug_mm)
    arrangement = arrangement_of(options)
    return Brief(
        wearer=someone,
        closure=closure(options),
        strip=band,
        repeats=() if options.dangles is None and options.divider is None else (band.repeat,),
        colours=colours,
        stock=stock,
        profiles=() if lengths is None else (lengths,),
        base_bead=base,
        divider_bead=as_divider(base, colours[0].kind),
        arrangements=() if arrangement is None else (arrangement,),
        alternate=options.alternate,
        gap=gap_of(options),
        fixed=fixed_of(options, tuple(bead.hex for bead in colours)),
        mood=_mood(options.mood),
        extras=_extras(options.extras),
        least_beads=least,
        most_beads=most,
        count=whole("count", typed(options.count, "24"), 1, MOST_COUNT),
        seed=whole("seed", typed(options.seed, "1"), 0, MOST_SEED),
    )


def _reach(options: argparse.Namespace, hanging: BeadKind, snug_mm: float) -> tuple[int, int]:
    """The beads of the shortest and the longest dangle; ``BriefError`` for what cannot be."""
    least = whole("shortest", typed(options.shortest, str(USUAL_LEAST)), 1, 60)
    worn_as = wear(options) or usual_wear(snug_mm)
    usual = max(usual_longest(worn_as, hanging), least)
    most = whole("longest", typed(options.longest, str(usual)), least, 60)
    if options.drop is None:
        return least, most
    rules = ProfileRules(width=1, least=least, most=most)
    return least, within_drop(rules, parse_mm(options.drop, "drop"), hanging).most


def _colours(
    options: argparse.Namespace, like: Pattern | None, base_kind: BeadKind
) -> tuple[tuple[Bead, ...], Bead, tuple[int, ...]]:
    """The beads to choose from, the base bead, and how many of each are at hand, if that counts."""
    if tray_asked(options):
        if options.palette is not None or options.colours is not None or like is not None:
            raise BriefError(
                "tray",
                options.tray or "starter",
                "a tray alone",
                "Leave out --palette, --colours and --like.",
            )
        tray = tray_of(options, options.hanging, "hanging", base_kind)
        found = tuple(held.bead for held in tray.beads)
        own = tuple(Swatch(name=b.name, hex=b.hex, finish=b.finish) for b in found)
        return found, bead(best_base(own, ()), base_kind), tray.stocks
    if like is not None and options.palette is None and options.colours is None:
        base = like.colour(like.base.keys[0])
        worn = Bead(name=base.name, kind=like.base.kind, hex=base.hex, finish=base.finish)
        return motif_beads_of(like, like.hanging), worn, ()
    chosen, bases = swatches(options.palette, options.colours)
    hanging = hanging_of(options, base_kind)
    return beads(chosen, hanging), bead(best_base(chosen, bases), base_kind), ()


def _mood(text: str | None) -> Mood:
    try:
        return Mood(typed(text, Mood.AS_IT_COMES).strip().lower())
    except ValueError:
        wanted = f"one of {', '.join(Mood)}"
        raise BriefError("mood", text, wanted, "Choose from the list.") from None


def _extras(text: str | None) -> HowMuch:
    try:
        return HowMuch(typed(text, USUAL_EXTRAS).strip().lower())
    except ValueError:
        wanted = f"one of {', '.join(HowMuch)}"
        raise BriefError("extras", text, wanted, "Choose from the list.") from None


def run(options: argparse.Namespace) -> Answer:
    """The proposals; files are written where ``--out`` asks for them.

    Raises:
        BriefError: an option is wrong, nothing fits, or the folder cannot be written.
    """
    like = None if options.like is None else read_piece(options.like).pattern
    if like is not None:
        _as_the_piece(options, like)
    brief = brief_of(options, like)
    if options.out is not None:
        check_set(options.out, _DOCUMENT)
    found = propose(brief, like=None if like is None else like_of(like, brief))
    if isinstance(found, NoFit):
        raise too_short(found, options.snug)
    pieces = [_piece(found, number, options) for number in range(len(found.proposals))]
    documents = [
        proposal_document(proposal, piece, options)
        for proposal, piece in zip(found.proposals, pieces, strict=True)
    ]
    document: Json = {
        "brief": {
            **echo(options, brief),
            **making_echo(options, wear(options) or usual_wear(brief.wearer.snug_mm)),
            "like": options.like,
        },
        "seed": brief.seed,
        "fit": fit_document(found.fit),
        "proposals": documents,
    }
    changed = () if options.out is None else _write(found, pieces, document, options.out)
    lines = (
        *fit_lines(found.fit, tuple(ease_words(options, brief.wearer))),
        "",
        *proposal_lines(found.proposals),
    )
    return Answer(document=document, lines=lines, changed=changed)


def _as_the_piece(options: argparse.Namespace, like: Pattern) -> None:
    """Take ease and closure from the piece that relatives are of, where the options do not say."""
    worn, closure = like.worn, like.ends.closure
    if options.ease is None and worn.wearer is not None and worn.own_ease:
        options.ease = f"{worn.wearer.ease_mm:.6f} mm"
    if options.closure is None and options.closure_kind is None:
        options.closure_kind = closure.kind or None
        options.closure = f"{closure.length_mm:.6f} mm" if closure.length_mm else None
    if options.wear is None and worn.wear is not None:
        options.wear = worn.wear.value


def _piece(found: Proposals, number: int, options: argparse.Namespace) -> Piece:
    """A proposal as a piece to save."""
    proposal = found.proposals[number]
    worn = Worn(
        wearer=found.brief.wearer,
        wear=wear(options),
        own_ease=own_ease(found.brief.wearer, wear(options)),
    )
    return Piece(
        pattern=replace(proposal.pattern, worn=worn),
        name=f"Proposal {number + 1}",
        seed=found.brief.seed,
        notes=proposal.reason,
    )


def _write(found: Proposals, pieces: list[Piece], document: Json, folder: str) -> tuple[str, ...]:
    """Write every proposal's files, and name them in the document; what was there before."""
    from explorer.commands.pictures import Writer

    with together(folder) as files:
        _write_all(found, pieces, document, Writer(files))
    left = sorted(
        one.name for one in Path(folder).glob("proposal-*.*")
        if _EARLIER.fullmatch(one.name) and one.name not in files.names
    )  # fmt: skip
    if not left:
        return files.changed
    named = ", ".join(left[:_MOST_LEFT])
    more = f" and {len(left) - _MOST_LEFT} more" if len(left) > _MOST_LEFT else ""
    return (*files.changed, f"of an earlier run are left in {folder}: {named}{more}")


def _write_all(found: Proposals, pieces: list[Piece], document: Json, writer: "Writer") -> None:
    for number, (proposal, piece) in enumerate(zip(found.proposals, pieces, strict=True)):
        picture, file = writer.write(
            piece, f"proposal-{number + 1:02d}", f"{number + 1}. {proposal.reason}"
        )
        document["proposals"][number] |= {"picture": picture, "piece": file}
    writer.contact_sheet()
    writer.text(_DOCUMENT, json.dumps(document, ensure_ascii=False, indent=1) + "\n")


def echo(options: argparse.Namespace, brief: Brief) -> Json:
    """The brief as used, defaults included."""
    return {
        **size_echo(options, brief.wearer, brief.strip),
        "colours": [bead.hex for bead in brief.colours],
        "hanging": brief.colours[0].kind.name,
        "stock": list(brief.stock) or None,
        "base_colour": brief.base_bead.hex,
        "profile": [list(lengths) for lengths in brief.profiles] or None,
        "shortest": brief.least_beads,
        "longest": brief.most_beads,
        "alternate": brief.alternate,
        "gap": brief.gap,
        "fix": [list(pair) for pair in brief.fixed],
        "arrangement": [way.value for way in brief.arrangements] or None,
        "mood": brief.mood.value,
        "extras": brief.extras.value,
        "count": brief.count,
        "seed": brief.seed,
    }


def proposal_document(proposal: Proposal, piece: Piece, options: argparse.Namespace) -> Json:
    """A proposal as plain values, without its files."""
    recipe, pattern = proposal.recipe, proposal.pattern
    places = range(len(recipe.palette))
    keys = [pattern.order.key(recipe.order.index(place), len(recipe.order)) for place in places]
    colours = [pattern.colour(key) for key in keys]
    return {
        "reason": proposal.reason,
        "outline": recipe.outline,
        "profile": list(recipe.profile),
        "second_profile": list(recipe.second) or None,
        "lengths": [list(motif_profile(motif)) for motif in proposal.design.motifs],
        "palette": [colour.hex for colour in colours],
        "names": [colour.name for colour in colours],
        "order": list(recipe.order),
        "arrangement": recipe.arrangement.value,
        "colouring": recipe.colouring.value,
        "extras": list(recipe.rules.words),
        "fit": fit_document(proposal.fit),
        "weakest": proposal.weakest,
        "weakest_pair": None if proposal.weakest_pair is None else list(proposal.weakest_pair),
        "proven": proposal.proven,
        "strongest": proposal.strongest,
        "strongest_proven": proposal.strongest_proven,
        "gave_up_for": proposal.gave_up_for or None,
        "repeats": [list(pair) for pair in proposal.repeats],
        "mean": proposal.mean,
        "harmony": proposal.harmony,
        "unbeaten": proposal.unbeaten,
        "drop_mm": proposal.outline.drop_mm,
        "weight_g": proposal.weight_g,
        "reads_apart_to_m": proposal.reads_apart_to_m,
        **making_document(piece, options),
    }


def proposal_lines(proposals: tuple[Proposal, ...]) -> Iterator[str]:
    """Proposals for reading, one line each."""
    for number, proposal in enumerate(proposals, start=1):
        short = proposal.fit.short_mm
        yield (
            f"{number:3d}  {proposal.reason}; {proposal.fit.motifs} motifs, "
            f"{proposal.beads} dangle beads, {_weakest_words(proposal)}"
            f"{f', {millimetres(short)} shorter than the limb' if short else ''}"
        )


def _weakest_words(proposal: Proposal) -> str:
    if proposal.weakest is None:
        return "one motif" if len(proposal.recipe.order) == 1 else "all neighbours repeat"
    possible = possible_words(proposal.weakest, proposal.strongest, proposal.gave_up_for)
    words = f"weakest {tenths(proposal.weakest)}{f' ({possible})' if possible else ''}"
    alike = LOOKS[verdict(proposal.weakest)] if proposal.weakest < DISTINCT_FROM else ""
    return ", ".join(filter(None, (words, alike, repeating_words(len(proposal.repeats)))))
