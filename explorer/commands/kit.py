"""``danglewise kit``: a roster of learners as sheets, labels and one list for all."""

import argparse
import json
import math
import re
from collections.abc import Iterator
from dataclasses import replace

from explorer.brief import DEFAULT_BASE, whole
from explorer.cautions import Wear
from explorer.commands.answer import Answer, Json
from explorer.commands.file_set import FileSet, check_set, together
from explorer.commands.files import read_text
from explorer.commands.kit_document import kit_document
from explorer.commands.making import add_making, setup_of, spares_of
from explorer.commands.options import (
    add_closing,
    add_plain_ends,
    add_profile,
    closure,
    ease_mm,
    hanging_of,
    profile_of,
    strip,
    typed,
    wear,
)
from explorer.commands.palette_choice import as_divider, bead, beads, best_base, swatches
from explorer.commands.printing import add_printing, dated_of, lacking_lines, paper_of
from explorer.commands.progress import show_progress
from explorer.commands.tray_choice import tray_in
from explorer.errors import BriefError
from explorer.fit_words import beads_words
from explorer.kit import CHILD_SPARES, Kit, KitBrief, make_kit
from explorer.kit_pages import class_page, labels, own_cautions, sheets
from explorer.kit_roster import (
    MOST_BYTES,
    MOST_LEARNERS,
    Learner,
    Roster,
    band_learners,
    band_mm,
    parse_roster,
)
from explorer.kit_tray import held_in
from explorer.lengths import both
from explorer.sheet_facts import SheetOptions
from explorer.sitting import finished_words, short_words
from explorer.wearers import Place, usual_ease_mm
from palettes.beads import Bead, BeadKind

SUMMARY = "a class kit: everyone's sheet, bag labels, and what to buy"
# Chosen by us: bright and far apart, as children like them.
DEFAULT_PALETTE = "kite-day"
_AT = {Place.WRIST: "a wrist", Place.ANKLE: "an ankle"}
# The files of a kit beside its sheets.
_CLASS, _LABELS, _DOCUMENT = "class.pdf", "labels.pdf", "kit.json"
_BAND = re.compile(r"(?P<band>.+?)\s*[:=]\s*(?P<kits>\d{1,4})", re.ASCII)


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "roster", metavar="ROSTER.csv", help="columns name, snug and ease, picks, colours if wanted"
    )
    parser.add_argument("--tray", metavar="CSV", help="the beads at hand")
    parser.add_argument("--out", required=True, metavar="DIR", help="the folder to write into")
    parser.add_argument("--palette", metavar="NAME", help=f"colours ({DEFAULT_PALETTE})")
    parser.add_argument(
        "--band", action="append", metavar="L-L:N", help="N kits more for a size band"
    )
    parser.add_argument("--colours-each", metavar="K", help="for whoever picked none (3)")
    add_closing(parser)
    add_plain_ends(parser)
    parser.add_argument("--base", metavar="TYPE", help=f"kind of base bead ({DEFAULT_BASE})")
    parser.add_argument("--pitch", metavar="L", help="strip per base bead, as measured")
    parser.add_argument("--swatch", metavar="TEXT", help="or: '20 beads measure 62 mm'")
    parser.add_argument("--dangles", metavar="D", help="to a motif (5)")
    parser.add_argument("--divider", metavar="V", help="base beads to a divider (1)")
    add_profile(parser)
    add_making(parser, spares_told=f"10; {CHILD_SPARES.percent:g} for children's pieces")
    add_printing(parser)


def run(options: argparse.Namespace) -> Answer:
    """Write the kit; ``BriefError`` or ``ChartError`` for what cannot be."""
    roster = parse_roster(read_text(options.roster, "roster", MOST_BYTES))
    learners = (*roster.learners, *_bands(options))
    if len(learners) > MOST_LEARNERS:
        raise BriefError(
            "band", f"{len(learners)} learners", f"at most {MOST_LEARNERS}", "Make fewer kits."
        )
    brief = brief_of(options)
    check_set(options.out, _CLASS, _LABELS, _DOCUMENT)
    kit = make_kit(learners, brief)
    document = kit_document(kit, roster.remarks)
    # Every file has a name of ours.
    with together(options.out) as files:
        lacking = _write(kit, document, options, files)
    lines = tuple(_lines(kit, roster, options, lacking))
    return Answer(document=document, lines=lines, changed=files.changed)


def _bands(options: argparse.Namespace) -> Iterator[Learner]:
    for text in options.band or ():
        found = _BAND.fullmatch(text.strip())
        if not found:
            raise BriefError("band", text, "L-L:N such as 150-165:4", "Write it so.")
        yield from band_learners(*band_mm(found["band"]), int(found["kits"]))


def brief_of(options: argparse.Namespace) -> KitBrief:
    """What is the same for everyone; ``BriefError`` for what cannot be."""
    lengths = profile_of(options)
    band = strip(options, plain_ends=not options.no_plain_ends)
    hanging = hanging_of(options, band.base)
    worn_as = wear(options)
    spares = spares_of(options)
    if options.spares is None and worn_as in (None, Wear.CHILD):
        spares = replace(spares, percent=CHILD_SPARES.percent)
    usual = KitBrief(
        strip=band,
        hanging=hanging,
        base_bead=Bead(name="base", kind=band.base, hex="#8d8a84"),
        colours=(),
        ease_mm=ease_mm(options),
        closure=closure(options),
        closure_counted=not options.closure_adds,
        profile=lengths or (),
        colours_each=whole("colours-each", typed(options.colours_each, "3"), 1, 12),
        wear=worn_as,
        spares=spares,
        setup=setup_of(options),
    )
    return _with_beads(usual, options, hanging)


def _with_beads(brief: KitBrief, options: argparse.Namespace, hanging: BeadKind) -> KitBrief:
    """The brief with its beads: from the tray where it has the kind, else from a palette."""
    chosen, bases = swatches(typed(options.palette, DEFAULT_PALETTE), None)
    base = bead(best_base(chosen, bases), brief.strip.base)
    if options.tray is None:
        return replace(
            brief,
            colours=beads(chosen, hanging),
            base_bead=base,
            divider_bead=as_divider(base, hanging) if brief.strip.repeat.divider else None,
        )
    held = held_in(tray_in(options.tray, keep_good=False))
    own = tuple(entry.bead for entry in held if entry.bead.kind == hanging)
    bases_held = [entry for entry in held if entry.bead.kind == brief.strip.base]
    if not own and options.palette is None:
        raise BriefError(
            "tray",
            options.tray,
            f"beads of the kind {hanging.name}",
            "Choose another kind with --hanging, or name a --palette.",
        )
    if bases_held and hanging != brief.strip.base:
        # The base takes the most beads, so it is made of what there is most of.
        base = max(bases_held, key=lambda entry: entry.count or 0).bead
    return replace(brief, colours=own or beads(chosen, hanging), base_bead=base, tray=held)


def _write(
    kit: Kit, document: Json, options: argparse.Namespace, files: FileSet
) -> tuple[str, ...]:
    """Write one sheet after the other, and what belongs to them; what our fonts lack."""
    from gallery.pdf import to_pdf

    paper = paper_of(options)
    asked = SheetOptions(dated=dated_of(options), large=options.large)
    lacking: dict[str, None] = {}
    for number, sheet in enumerate(sheets(kit, asked), 1):
        name = f"sheet-{number:04d}.pdf"
        printed = to_pdf(sheet, paper)
        files.put(name, printed.pdf)
        document["learners"][number - 1]["sheet"] = name
        lacking |= dict.fromkeys(printed.lacking)
        show_progress(number, len(kit.learners))
    for name, page in ((_CLASS, class_page(kit, asked)), (_LABELS, labels(kit))):
        printed = to_pdf(page, paper)
        files.put(name, printed.pdf)
        lacking |= dict.fromkeys(printed.lacking)
    document["files"] = {"class": _CLASS, "labels": _LABELS}
    document["lacking"] = list(lacking)
    text = json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1) + "\n"
    files.put(_DOCUMENT, text.encode())
    return tuple(lacking)


def _lines(
    kit: Kit, roster: Roster, options: argparse.Namespace, lacking: tuple[str, ...]
) -> Iterator[str]:
    learners = len(kit.learners)
    made = f"{learners} sheet{'s' * (learners > 1)}, class.pdf, labels.pdf and kit.json"
    yield f"{made} in {options.out}"
    yield from roster.remarks
    if options.ease is None:
        usual = ", ".join(f"{usual_ease_mm(place):g} mm at {_AT[place]}" for place in Place)
        yield f"ease where the roster gives none: {usual}; --ease sets your own"
    for each in kit.learners:
        yield (
            f"{each.learner.name}: {beads_words(each.fit)}, {finished_words(each.sitting)}, "
            f"{both(each.sitting.ease_mm)} of ease"
        )
        if each.sitting.short_by_mm:
            yield f"{each.learner.name}: {short_words(each.sitting)}"
    for words, names in own_cautions(kit):
        yield f"{', '.join(names) if len(names) < learners else 'everyone'}: {words}"
    for one in kit.unfit:
        least = math.ceil(one.needs_mm)
        yield f"{one.learner.name}: too short for one motif, at least {least} mm snug"
    for total in kit.totals:
        count = total.used + total.spares
        packs = " + ".join(f"{pack.weight_g:g} g" for pack in total.packs)
        buy = f", {total.to_buy} to buy: {packs}" if total.to_buy else ""
        yield f"  {count} {total.bead.name} ({total.bead.kind.name}){buy}"
    for lack in kit.short:
        yield (
            f"{lack.name} lacks {lack.lacking} {lack.bead.name} ({lack.bead.kind.name}) and "
            f"{lack.spares_lacking} spares of it"
        )
    yield from lacking_lines(lacking)
