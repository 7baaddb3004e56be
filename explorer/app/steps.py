"""The steps a maker can take, each from one state of the work to the next."""

from collections.abc import Callable
from dataclasses import replace
from itertools import chain, count
from math import ceil

from explorer.app.demo import bead_of
from explorer.app.refit import main_base, meant, motif_beads_in_order, refitted, words_of
from explorer.app.sizing import Measured, Sizing, measured, with_repeat
from explorer.app.state import Tray, Work
from explorer.brief import USUAL_EXTRAS, Brief, HowMuch
from explorer.cautions import Wear
from explorer.changes import (
    Changed,
    TooShort,
    arrange,
    paint_base,
    recolour,
    resize,
    restyle,
    swatch_of,
    wear_as,
)
from explorer.colouring import Colouring
from explorer.crowding import usual_hanging
from explorer.errors import BriefError
from explorer.fit import TOLERANCE_MM, Alternative, Fit
from explorer.hexes import parse_colours
from explorer.piece import Piece, worn_by
from explorer.profile_generator import usual_longest
from explorer.propose import Proposal
from explorer.sequence_types import Arrangement
from explorer.sitting import going_round
from explorer.wearers import own_ease
from palettes.charts import bead_kinds
from palettes.difference import DISTINCT_FROM, delta_e_2000
from palettes.names import word_for
from palettes.spaces import hex_to_srgb1, hexes_to_srgb1, srgb1_to_lab
from palettes.swatches import Swatch


def resized(work: Work, sizing: Sizing) -> Work:
    """The work with other boxes; the piece follows where they make sense, else it stays.

    Where only the measurement changed, only the number of motifs does, so that there and back gives
    the same piece; any other change puts it on another strip.
    """
    after = replace(work, sizing=sizing)
    to = measured(sizing)
    if not isinstance(to, Measured):
        return after
    fit = to.strip.fit(to.wearer, to.closure)
    if not isinstance(fit, Fit):
        return after
    pattern = work.piece.pattern
    if sizing.ease != work.sizing.ease:
        own = own_ease(to.wearer, pattern.worn.wear)
        pattern = replace(pattern, worn=replace(pattern.worn, own_ease=own))
    if _same_strip(work.sizing, sizing):
        found = resize(pattern, to.wearer, closure=to.closure, fill=to.strip.plain_ends)
        if isinstance(found, TooShort):
            return after
    else:
        found = refitted(pattern, to, fit, quick=sizing.quick)
    return replace(after, piece=meant(work.piece, found.pattern), told=words_of(found))


def said(work: Work, wear: Wear) -> Work:
    """The work with what the piece is worn as said, so that no other size asks for it."""
    worn = replace(work.piece.pattern.worn, wear=wear)
    return replace(work, piece=meant(work.piece, replace(work.piece.pattern, worn=worn)))


def with_wear(work: Work, wear: Wear, written: Callable[[str], str] = str) -> Work:
    """The work worn elsewhere; an ease that nobody set by hand follows, and so does its box.

    Args:
        work: the work.
        wear: what the piece is worn as from now on.
        written: writes figures as the maker does.
    """
    found = wear_as(work.piece.pattern, wear)
    told = dict.fromkeys((*work.told, *words_of(found)))
    after = replace(work, piece=meant(work.piece, found.pattern), told=tuple(told))
    wearer, old = after.piece.wearer, work.piece.wearer
    if wearer is None or old is None or wearer.ease_mm == old.ease_mm:
        return after
    sizing = replace(work.sizing, ease=written(f"{wearer.ease_mm:g} mm"))
    return replace(after, sizing=sizing)


def with_partner(work: Work, sizing: Sizing) -> Sizing:
    """The boxes after a change, with dangle beads that suit the base if that is another one.

    Beads that the maker chose stay: those that were not the usual ones, and those at hand.
    """
    kinds = bead_kinds()
    old, new = kinds.get(work.sizing.base), kinds.get(sizing.base)
    chosen = work.tray.at_hand or sizing.hanging != work.sizing.hanging
    if old is None or new is None or old == new or chosen:
        return sizing
    if work.sizing.hanging != usual_hanging(old).name:
        return sizing
    return replace(sizing, hanging=usual_hanging(new).name)


def _same_strip(old: Sizing, new: Sizing) -> bool:
    """Whether two sizings differ in nothing but the measurement, and follow the exact fit."""
    if old.quick or new.quick:
        return False
    return new == replace(
        old,
        snug=new.snug,
        ease=new.ease,
        closure=new.closure,
        closure_counted=new.closure_counted,
        curvature=new.curvature,
        fastening=new.fastening,
        extender=new.extender,
        reading=new.reading,
    )


def with_alternative(work: Work, other: Alternative | Fit) -> Work:
    """The work on a neighbouring fit."""
    return resized(work, with_repeat(work.sizing, other.repeat))


def that_goes_round(work: Work) -> Work | None:
    """The work with the least more ease with which the piece goes round; None where none does."""
    to = measured(work.sizing)
    found = going_round(to.wearer, to.strip, to.closure) if isinstance(to, Measured) else None
    if found is None:
        return None
    # Up to the tenth that a box shows.
    ease_mm = ceil(found[0].ease_mm * 10.0 - TOLERANCE_MM) / 10.0
    return resized(work, replace(work.sizing, ease=f"{ease_mm:g} mm", plain_ends=True, quick=False))


def with_tray(work: Work, tray: Tray) -> Work:
    """The piece in the colours of another tray, put in the order that stands apart best.

    What was coloured by hand stays where it is, in one of the new colours.
    """
    found = recolour(work.piece.pattern, tray.swatches, tray.base)
    free = found.pattern.order.arrangement is Arrangement.FREE
    if free and found.pattern.inside.colouring is Colouring.PLAIN:
        found = reordered(found, tray.swatches)
    piece = meant(work.piece, found.pattern)
    told = dict.fromkeys((*work.told, *words_of(found)))
    return replace(work, tray=tray, piece=piece, told=tuple(told))


def reordered(found: Changed, swatches: tuple[Swatch, ...]) -> Changed:
    """The change with all the swatches in the order that stands apart best, where there is one."""
    try:
        laid = arrange(found.pattern, Arrangement.FREE, swatches)
    except BriefError:
        return found
    # They took colours of the new palette like everything else.
    words = [
        told.replace("what was coloured by hand", "what was coloured by hand, in the new colours")
        for told in laid.gave_up
    ]
    return replace(laid, gave_up=tuple(dict.fromkeys((*found.gave_up, *words))))


def own_tray(text: str, base: Swatch) -> Tray:
    """A tray of colours typed as hex.

    Raises:
        BriefError: one of them is none.
    """
    hexes = tuple(dict.fromkeys(parse_colours(_parts(text))))
    return Tray(swatches=tuple(Swatch(name=h, hex=h) for h in hexes), base=base)


def _parts(text: str) -> list[str]:
    return [part for part in text.replace(",", " ").replace(";", " ").split() if part] or [""]


def with_swatch(work: Work, place: int, hex_: str) -> Work:
    """One colour of the tray changed by hand, and with it every bead of that colour."""
    old = work.tray.swatches[place]
    others = (*work.tray.swatches[:place], *work.tray.swatches[place + 1 :])
    new = by_hand(old, hex_, others)
    swatches = (*work.tray.swatches[:place], new, *work.tray.swatches[place + 1 :])
    return replace(
        work,
        tray=replace(work.tray, swatches=swatches),
        piece=meant(work.piece, restyle(work.piece.pattern, old, new).pattern),
    )


def by_hand(old: Swatch, hex_: str, others: tuple[Swatch, ...] = ()) -> Swatch:
    """A swatch in a colour chosen by hand; a plainly other colour has another name.

    Args:
        old: the swatch before.
        hex_: the colour.
        others: swatches whose names are taken.
    """
    before, after = srgb1_to_lab(hexes_to_srgb1([old.hex, hex_]))
    if float(delta_e_2000(before, after)) < DISTINCT_FROM:
        return replace(old, hex=hex_)
    word = word_for(hex_to_srgb1(hex_))
    taken = {swatch.name for swatch in others}
    names = chain([word], (f"{word} {number}" for number in count(2)))
    name = next(name for name in names if name not in taken)
    return replace(old, name=name, hex=hex_)


def with_base(work: Work, base: Swatch, old: Swatch | None = None) -> Work:
    """The base beads of one colour, if none is named the tray's, in another; the others stay."""
    pattern, own = work.piece.pattern, work.tray.base
    old = old or own
    held = tuple(swatch_of(pattern, key) for key in pattern.base.keys)
    now = tuple(base if one == old else one for one in held)
    now = (base,) if now == held else now
    pattern = paint_base(pattern, now, by_motif=pattern.base.by_motif).pattern
    tray = replace(work.tray, base=own if own in now else base)
    return replace(work, tray=tray, piece=meant(work.piece, pattern))


def usual_most(work: Work, to: Measured) -> int:
    """The longest dangle, in beads, that hangs no lower than is usual for how the piece is worn."""
    return usual_longest(worn_by(work.piece, to.wearer).worn_as, to.hanging)


def brief_of(
    work: Work, *, seed: int, count: int, extras: HowMuch = USUAL_EXTRAS
) -> Brief | tuple[BriefError, ...]:
    """What proposals for this work are asked for, or what is wrong with its boxes."""
    to = measured(work.sizing)
    if not isinstance(to, Measured):
        return to
    try:
        return Brief(
            wearer=to.wearer,
            strip=to.strip,
            colours=tuple(bead_of(swatch, to) for swatch in work.tray.swatches),
            base_bead=bead_of(work.tray.base, to, base=True),
            closure=to.closure,
            most_beads=usual_most(work, to),
            extras=extras,
            count=count,
            seed=seed,
        )
    except BriefError as error:
        return (error,)


def on_table(work: Work, proposal: Proposal, seed: int) -> Work:
    """The work with a proposal on the table; its name and notes stay."""
    to = measured(work.sizing)
    worn = work.piece.pattern.worn
    pattern = proposal.pattern
    if isinstance(to, Measured):
        pattern = replace(
            pattern,
            base=replace(pattern.base, measured=to.strip.measured_pitch_mm is not None),
            run=replace(pattern.run, fill=to.strip.plain_ends),
        )
        worn = replace(worn, wearer=to.wearer)
    piece = replace(work.piece, pattern=replace(pattern, worn=worn), seed=seed)
    return replace(work, piece=piece, sizing=with_repeat(work.sizing, proposal.fit.repeat))


def opened(work: Work, piece: Piece) -> Work:
    """The work with a saved piece on the table; boxes and tray are filled from it."""
    design = piece.design
    seen = motif_beads_in_order(design)
    swatches = tuple(
        dict.fromkeys(
            Swatch(name=b.name or b.hex, hex=b.hex, finish=b.finish)
            for b in (design.beads[number] for number in seen)
        )
    )
    base_bead = design.beads[main_base(design)]
    base = Swatch(name=base_bead.name or base_bead.hex, hex=base_bead.hex, finish=base_bead.finish)
    sizing = replace(
        work.sizing,
        base=base_bead.kind.name,
        hanging=design.beads[seen[0]].kind.name,
        dangles=len(design.motifs[0]),
        divider=len(design.dividers[0]),
        quick=False,
        swatch_length="",
        plain_ends=piece.plain_ends,
        margin=min(len(design.start_margin), len(design.end_margin)),
        fastening=design.closure.kind,
        extender=f"{design.closure.extender_mm:.6g} mm" if design.closure.extender_mm else "",
    )
    if piece.pitch_measured:
        beads = sizing.swatch_beads
        sizing = replace(sizing, swatch_length=f"{design.base_pitch_mm * beads:.6g} mm")
    if piece.wearer is not None:
        sizing = replace(
            sizing,
            snug=f"{piece.wearer.snug_mm:.6g} mm",
            ease=f"{piece.wearer.ease_mm:.6g} mm",
            closure=f"{design.closure.length_mm:.6g} mm",
            closure_counted=piece.wearer.closure_counted,
            curvature=piece.wearer.curvature_mm > 0.0,
        )
    return replace(work, piece=piece, sizing=sizing, tray=Tray(swatches=swatches, base=base))
