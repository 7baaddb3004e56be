"""``danglewise fit``: from a measurement to base beads and motifs."""

import argparse
import math
from collections.abc import Iterator, Sequence

from explorer.brief import USUAL_LEAST, Strip, Wearer
from explorer.commands.answer import Answer, Json
from explorer.commands.making import add_making, making_document, making_echo, making_lines
from explorer.commands.options import (
    add_profile,
    add_size,
    closure,
    ease_words,
    hanging_of,
    profile_of,
    size_echo,
    strip,
    wear,
    wearer,
)
from explorer.crowding import check_width
from explorer.design import Closure, Design, build
from explorer.errors import BriefError
from explorer.fit import MEASURING_ERROR_MM, Fit, NoFit, with_plain_ends
from explorer.fit_words import beads_words, each_end_words, quick_words, swatch_doubt
from explorer.lengths import at_least, both, millimetres
from explorer.links import Links, best_links
from explorer.piece import piece_of
from explorer.profile import Shape, profile
from explorer.profile_generator import usual_longest
from explorer.sitting import finished_words, fit_sitting, going_round, short_words
from explorer.wearers import usual_wear
from palettes.beads import Bead, BeadKind

SUMMARY = "turn a measurement into base beads and motifs"
# The neighbouring fits that the text shows; the document has all. Chosen by us, because they stand
# on a screen with the rest.
_SHOWN = 4


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    add_size(parser)
    parser.add_argument(
        "--plain-ends",
        action="store_true",
        help="fill what is left over with plain base beads at both ends, as proposals do",
    )
    add_profile(parser)
    add_making(parser)


def run(options: argparse.Namespace) -> Answer:
    """The fit of a measurement, and what a strip of that length takes to make.

    Raises:
        BriefError: an option is wrong, or not one motif fits.
    """
    lengths = profile_of(options)
    someone, closes = wearer(options), closure(options)
    band = strip(options, plain_ends=options.plain_ends)
    fit = band.fit(someone, closes)
    if isinstance(fit, NoFit):
        raise too_short(fit, options.snug)
    hanging = hanging_of(options, band.base)
    check_width(hanging, fit.strip_mm)
    most = usual_longest(wear(options) or usual_wear(someone.snug_mm), hanging)
    lengths = lengths or profile(Shape.PEAK, fit.repeat.dangles, USUAL_LEAST, most)
    piece = piece_of(
        design=plain_design(band, fit, hanging, lengths, closes),
        wearer=someone,
        wear=wear(options),
        pitch_measured=band.measured_pitch_mm is not None,
    )
    echo = {
        **size_echo(options, someone, band),
        "hanging": hanging.name,
        "profile": list(lengths),
        **making_echo(options, piece.worn_as),
    }
    near = going_round(someone, band, closes)
    tried = (hanging, band.base)
    links = best_links(fit.slack_mm, [kind.pitch_mm for kind in tried])
    return Answer(
        document={
            "brief": echo,
            **fit_document(fit),
            "goes_round": _round_document(near),
            "link_beads": _links_document(links, tried),
            **making_document(piece, options),
        },
        lines=(
            *fit_lines(fit, (*ease_words(options, someone), *filter(None, (swatch_doubt(band),)))),
            *_round_lines(fit, near),
            *_links_lines(links, tried),
            *neighbour_lines(fit),
            "",
            *making_lines(piece, options),
        ),
    )


def _round_document(near: tuple[Wearer, Fit] | None) -> Json | None:
    if near is None:
        return None
    someone, fit = near
    return {"ease_mm": round(someone.ease_mm, 6), **fit_document(fit)}


def _round_lines(fit: Fit, near: tuple[Wearer, Fit] | None) -> Iterator[str]:
    """The nearest that goes round, where the fit does not."""
    if not fit.short_mm or near is None:
        return
    someone, other = near
    sits = f"{beads_words(other)}, {both(other.finished_ease_mm)} of ease"
    asked = fit.target_mm - other.target_mm
    ask = f" (--ease '{math.ceil(someone.ease_mm * 10.0 - 1e-6) / 10.0:g} mm')" if asked else ""
    yield f"goes round{ask}: {sits}"


def _links_document(links: Links, tried: Sequence[BeadKind]) -> Json:
    return {
        "kind": tried[links.bead].name,
        "each_end": links.each_end,
        "length_mm": round(links.length_mm, 6),
        "slack_mm": round(links.slack_mm, 6),
    }


def _links_lines(links: Links, tried: Sequence[BeadKind]) -> Iterator[str]:
    """Link beads for what is still left over, where any fit."""
    if links.each_end:
        kind = tried[links.bead].name
        yield (
            f"{links.each_end} {kind} link bead{'s' * (links.each_end > 1)} more at each end would "
            f"leave {millimetres(links.slack_mm)}"
        )


def plain_design(
    band: Strip, fit: Fit, hanging: BeadKind, lengths: tuple[int, ...], closes: Closure
) -> Design:
    """A strip in three plain beads, to count with before any colour is chosen."""
    return build(
        beads=(
            Bead(name="base bead", kind=band.base, hex="#8d8a84"),
            Bead(name="dangle bead", kind=hanging, hex="#e9e0cf"),
        ),
        base=0,
        base_pitch_mm=fit.pitch_mm,
        profiles=(lengths,),
        order=(1,) * fit.motifs,
        divider_base_beads=fit.repeat.divider,
        divider_hangs=(1,),
        margins=(fit.repeat.margins // 2, fit.repeat.margins - fit.repeat.margins // 2),
        closure=closes,
    )


def too_short(fit: NoFit, got: object) -> BriefError:
    """The maker's error for a strip that is too short for one motif."""
    return BriefError(
        "snug",
        got,
        f"at least {both(fit.snug_needs_mm)} for one motif of {fit.repeat.dangles} dangles",
        "Measure again, or take fewer dangles, a smaller base bead or more ease.",
    )


def fit_document(fit: Fit) -> Json:
    """A fit as plain values.

    ``base_beads`` are all of the strip, ``plain_base_beads`` those among them that stand plain at
    both ends; ``plain_ends`` is the same strip with as many of them as there is room for.
    """
    quick = fit.quick_rule
    full = with_plain_ends(fit, fit.plain_ends)
    return {
        "motifs": fit.motifs,
        "base_beads": fit.base_beads,
        "plain_base_beads": fit.repeat.margins,
        "dangles": fit.repeat.dangles,
        "divider": fit.repeat.divider,
        "dividers": fit.motifs + 1 if fit.repeat.divider else 0,
        "pitch_mm": fit.pitch_mm,
        "pitch_spread": fit.pitch_spread,
        "target_mm": round(fit.target_mm, 6),
        "strip_mm": round(fit.strip_mm, 6),
        "slack_mm": round(fit.slack_mm, 6),
        "finished_mm": round(fit.finished_mm, 6),
        "finished_ease_mm": round(fit.finished_ease_mm, 6),
        "short_by_mm": round(fit.short_mm, 6),
        "closure_mm": round(fit.closure_mm, 6),
        "plain_ends": {
            "each_end": fit.plain_ends,
            "base_beads": full.base_beads,
            "strip_mm": round(full.strip_mm, 6),
            "slack_mm": round(full.slack_mm, 6),
            "finished_mm": round(full.finished_mm, 6),
            "finished_ease_mm": round(full.finished_ease_mm, 6),
        },
        "next_motif_needs_mm": round(fit.next_motif_needs_mm, 6),
        "borderline": fit.borderline,
        "motifs_if_measured_off": list(fit.if_measured_off),
        "motifs_if_pitch_off": list(fit.if_pitch_off),
        "quick_rule": {
            "motifs": quick.motifs,
            "base_beads": quick.base_beads,
            "strip_mm": round(quick.strip_mm, 6),
            "excess_mm": round(quick.excess_mm, 6),
        },
        "alternatives": [
            {
                "dangles": other.repeat.dangles,
                "divider": other.repeat.divider,
                "motifs": other.motifs,
                "base_beads": other.base_beads,
                "strip_mm": round(other.strip_mm, 6),
                "slack_mm": round(other.slack_mm, 6),
            }
            for other in fit.alternatives
        ],
    }


def borderline_lines(fit: Fit) -> Iterator[str]:
    """What a small error would change, if anything."""
    for low_high, cause in (
        (fit.if_measured_off, f"the measurement is {MEASURING_ERROR_MM:g} mm off"),
        (fit.if_pitch_off, f"the pitch is {fit.pitch_spread:.0%} off: weave a swatch first"),
    ):
        if set(low_high) != {fit.motifs}:
            yield f"borderline: {low_high[0]} to {low_high[1]} motifs if {cause}"


def fit_lines(fit: Fit, more: tuple[str, ...] = ()) -> Iterator[str]:
    """A fit for reading.

    Args:
        fit: the fit.
        more: what else there is to say of the size.
    """
    yield beads_words(fit)
    yield from more
    yield f"strip {both(fit.strip_mm)} of at most {both(fit.target_mm)}"
    yield from _left_over_lines(fit)
    sits = fit_sitting(fit)
    yield short_words(sits) or f"{finished_words(sits)}, {both(sits.ease_mm)} of ease"
    yield f"one more motif needs {at_least(fit.next_motif_needs_mm)} more"
    yield from borderline_lines(fit)
    yield from filter(None, (quick_words(fit),))


def _left_over_lines(fit: Fit) -> Iterator[str]:
    """What is left over, with and without plain ends, which are the simplest closer fit."""
    full, bare = with_plain_ends(fit, fit.plain_ends), with_plain_ends(fit, 0)
    if fit.repeat.margins:
        yield (
            f"left over {millimetres(fit.slack_mm)}; without {each_end_words(fit.plain_ends)} "
            f"{millimetres(bare.slack_mm)}"
        )
        return
    yield f"left over {millimetres(fit.slack_mm)}"
    if fit.plain_ends:
        sits = f"{both(full.finished_ease_mm)} of ease" if not full.short_mm else "still short"
        yield (
            f"closer: {each_end_words(fit.plain_ends)}, {fit.repeat_base_beads} + "
            f"{full.repeat.margins} plain, left over {millimetres(full.slack_mm)}, {sits} "
            "(proposals and kits take them)"
        )


def neighbour_lines(fit: Fit) -> Iterator[str]:
    """Other fits for reading."""
    if fit.alternatives:
        yield "neighbouring fits without plain ends, the least left over first:"
    for other in fit.alternatives[:_SHOWN]:
        yield (
            f"  {other.repeat.dangles} dangles, divider {other.repeat.divider}: "
            f"{other.motifs} motifs, {other.base_beads} base beads, "
            f"left over {millimetres(other.slack_mm)}"
        )
