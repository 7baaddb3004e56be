"""``danglewise fit``: from a measurement to base beads and motifs."""

import argparse
from collections.abc import Iterator

from explorer.brief import DEFAULT_HANGING, USUAL_LEAST, USUAL_MOST, Strip
from explorer.commands.answer import Answer, Json
from explorer.commands.making import add_making, making_document, making_echo, making_lines
from explorer.commands.options import (
    add_profile,
    add_size,
    kind,
    profile_of,
    size_echo,
    strip,
    typed,
    wearer,
)
from explorer.crowding import check_width
from explorer.design import Design, build
from explorer.errors import BriefError
from explorer.fit import MEASURING_ERROR_MM, Fit, NoFit
from explorer.lengths import both, millimetres
from explorer.profile import Shape, profile
from palettes.beads import Bead, BeadKind

SUMMARY = "turn a measurement into base beads and motifs"
# The neighbouring fits that the text shows; the document has all. Chosen by us, because they stand
# on a screen with the rest.
_SHOWN = 4


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    add_size(parser)
    add_profile(parser)
    add_making(parser)


def run(options: argparse.Namespace) -> Answer:
    """The fit of a measurement, and what a strip of that length takes to make.

    Raises:
        BriefError: an option is wrong, or not one motif fits.
    """
    lengths = profile_of(options)
    someone, band = wearer(options), strip(options)
    fit = band.fit(someone)
    if isinstance(fit, NoFit):
        raise too_short(fit, options.snug)
    hanging = kind(typed(options.hanging, DEFAULT_HANGING), "hanging")
    check_width(hanging, fit.strip_mm)
    lengths = lengths or profile(Shape.PEAK, fit.repeat.dangles, USUAL_LEAST, USUAL_MOST)
    design = plain_design(band, fit, hanging, lengths)
    echo = {
        **size_echo(someone, band),
        "hanging": hanging.name,
        "profile": list(lengths),
        **making_echo(options),
    }
    return Answer(
        document={"brief": echo, **fit_document(fit), **making_document(design, options)},
        lines=(*fit_lines(fit), "", *making_lines(design, options)),
    )


def plain_design(band: Strip, fit: Fit, hanging: BeadKind, lengths: tuple[int, ...]) -> Design:
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
    """A fit as plain values."""
    quick = fit.quick_rule
    return {
        "motifs": fit.motifs,
        "base_beads": fit.base_beads,
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


def fit_lines(fit: Fit) -> Iterator[str]:
    """A fit for reading."""
    motifs, dangles = fit.motifs, fit.repeat.dangles
    yield (
        f"{motifs} motif{'s' * (motifs > 1)} of {dangles} dangle{'s' * (dangles > 1)}, "
        f"{fit.base_beads} base bead{'s' * (fit.base_beads > 1)}"
    )
    yield f"strip {both(fit.strip_mm)} of at most {both(fit.target_mm)}"
    yield f"left over {millimetres(fit.slack_mm)}; finished {both(fit.finished_mm)} with closure"
    yield f"one more motif needs {both(fit.next_motif_needs_mm)} more"
    yield from borderline_lines(fit)
    if fit.quick_rule_differs:
        quick = fit.quick_rule
        over = f", {millimetres(quick.excess_mm)} too long" if quick.excess_mm else ""
        yield f"the quick rule gives {quick.motifs} motifs, {quick.base_beads} base beads{over}"
    if fit.alternatives:
        yield "neighbouring fits, the least left over first:"
    for other in fit.alternatives[:_SHOWN]:
        yield (
            f"  {other.repeat.dangles} dangles, divider {other.repeat.divider}: "
            f"{other.motifs} motifs, {other.base_beads} base beads, "
            f"left over {millimetres(other.slack_mm)}"
        )
