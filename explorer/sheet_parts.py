"""The parts of a making sheet before the needle is threaded: picture, beads, thread, size."""

from collections.abc import Mapping

from explorer.design import Design, Part, motif_bead
from explorer.layout import strip_scene
from explorer.lengths import both, millimetres
from explorer.links import links_mm
from explorer.sheet_facts import SheetFacts
from explorer.sheet_letters import by_letter, chip
from explorer.sitting import sitting
from explorer.thread_holes import Passing
from explorer.thread_setup import NEEDLES_MM, THREADS_MM
from gallery.page import (
    Block,
    Boxes,
    Facts,
    Head,
    Heading,
    Label,
    Ruler,
    Steps,
    Table,
    Text,
    TrueSize,
)
from gallery.page_ink import Look
from palettes.names import word_for
from palettes.spaces import hex_to_srgb1


def picture_blocks(facts: SheetFacts, number: str = "1") -> list[Block]:
    """The piece at the size of life, with its motifs' numbers and letters."""
    return [
        Heading(number=number, text="The piece at its true size"),
        Text(
            text="Over the motifs stand their numbers and letters, as far as there is room. The "
            "strip begins at the left.",
            quiet=True,
            leads=True,
        ),
        true_size(facts.design, facts.letters),
        Ruler(),
    ]


def true_size(design: Design, named: Mapping[int, str], look: Look = Look.GLASS) -> TrueSize:
    """A strip at the size of life, its motifs labelled with number and letter."""
    edges_mm = design.edges_mm
    labels, breaks = [], []
    starts: dict[tuple[Part, int], int] = {}
    for at, (place, _) in enumerate(design.columns()):
        starts.setdefault((place.part, place.index), at)
    for (part, index), start in starts.items():
        if part is Part.DIVIDER:
            breaks.append(edges_mm[start])
        if part is Part.MOTIF:
            end = start + len(design.motifs[index])
            letter = named.get(motif_bead(design.motifs[index]), "")
            labels.append(
                Label(
                    text=f"{index + 1} {letter}".strip(),
                    left_mm=edges_mm[start],
                    right_mm=edges_mm[end],
                )
            )
            if not design.dividers[index]:
                breaks.append(edges_mm[start])
    return TrueSize(
        scene=strip_scene(design, hang="regular"),
        labels=tuple(labels),
        breaks_mm=tuple(breaks),
        fine_breaks_mm=edges_mm,
        look=look,
    )


def count_blocks(facts: SheetFacts, number: str = "2") -> list[Block]:
    """The beads to count out, by colour, with a box to tick."""
    design = facts.design
    rows = tuple(
        (
            Boxes(),
            chip(design, entries[0].bead, letter),
            _bead_words(design, entries[0].bead),
            str(sum(entry.used for entry in entries)),
            str(sum(entry.spares for entry in entries)),
            str(sum(entry.to_count_out for entry in entries)),
        )
        for letter, entries in by_letter(facts.counts, facts.letters)
    )
    total = (
        "",
        "",
        "All beads",
        str(facts.counts.total),
        str(facts.counts.spares),
        str(facts.counts.total + facts.counts.spares),
    )
    return [
        Heading(number=number, text="Beads to count out"),
        Table(
            heads=(
                Head(text="", share=0.5),
                Head(text="", share=0.8),
                Head(text="bead", share=6.6),
                Head(text="in the piece", share=1.3, right=True),
                Head(text="spare", share=1, right=True),
                Head(text="count out", share=1.3, right=True),
            ),
            rows=(*rows, total),
            bold_last=True,
        ),
    ]


def _bead_words(design: Design, number: int) -> str:
    """A bead as a shop and an eye would call it: a word for a colour alone is not a colour."""
    bead = design.beads[number]
    word = word_for(hex_to_srgb1(bead.hex))
    name = bead.name if bead.name.lower() in (word, bead.hex) else f"{bead.name}, near {word}"
    return f"{name}; {bead.kind.name}, {bead.finish.value} ({bead.hex})"


def thread_blocks(facts: SheetFacts, number: str = "3") -> list[Block]:
    """Thread to cut, needle, and where it gets tight."""
    plan, setup = facts.plan, facts.options.setup
    rows = [
        ("thread", f"{_named(setup.thread_mm, THREADS_MM)}, {setup.thread_mm:g} mm thick"),
        ("needle", f"{_named(setup.needle_mm, NEEDLES_MM, 'size ')}, {setup.needle_mm:g} mm thick"),
        ("in all", f"{plan.length_mm / 1000.0:.2f} m with tails and allowance"),
    ]
    steps = tuple(
        f"Cut piece {at}: {both(round(length))}" for at, length in enumerate(plan.pieces_mm, 1)
    )
    tight = [hole for hole in plan.holes if hole.passing is not Passing.FREE]
    blocks: list[Block] = [
        Heading(number=number, text="Thread and needle"),
        Facts(rows=tuple(rows), leads=True),
        Steps(texts=steps),
    ]
    blocks += [
        Text(text=f"{hole.words} {hole.remedy} (A model, not calibrated: try it on a swatch.)")
        for hole in tight[:3]
    ]
    return blocks


def _named(size_mm: float, table: tuple[tuple[str, float], ...], before: str = "") -> str:
    names = [f"{before}{name}" for name, mm in table if abs(mm - size_mm) < 1e-9]
    return " or ".join(names) if names else "your own"


def size_blocks(facts: SheetFacts, number: str = "4") -> list[Block]:
    """The size worked out, as a sum that can be checked with pencil and paper."""
    return [
        Heading(number=number, text="The size worked out"),
        Facts(rows=(*_wish_rows(facts), *strip_rows(facts.design), *_sitting_rows(facts))),
    ]


def _wish_rows(facts: SheetFacts) -> tuple[tuple[str, str], ...]:
    wearer = facts.piece.wearer
    if wearer is None:
        return ()
    terms = [f"{wearer.snug_mm:g} snug"]
    if wearer.ease_mm:
        terms.append(f"+ {wearer.ease_mm:g} ease")
    if wearer.curvature_mm:
        terms.append(f"+ {wearer.curvature_mm:.1f} for a thick base")
    closure = facts.design.closure
    if closure.length_mm and wearer.closure_counted:
        terms.append(f"\N{MINUS SIGN} {closure.length_mm:g} closure")
    return (("longest strip", f"{' '.join(terms)} = {both(wearer.target_mm(closure))}"),)


def strip_rows(design: Design) -> tuple[tuple[str, str], ...]:
    """Base beads and strip, worked out from motifs, dividers and margins."""
    widths, gaps = {len(m) for m in design.motifs}, {len(d) for d in design.dividers}
    motifs, dividers = len(design.motifs), sum(1 for d in design.dividers if d)
    in_motifs, in_dividers = sum(map(len, design.motifs)), sum(map(len, design.dividers))
    terms = [
        f"{motifs} motifs \N{MULTIPLICATION SIGN} {widths.pop()}"
        if len(widths) == 1
        else f"{in_motifs} in motifs",
    ]
    if in_dividers and gaps != {0}:
        terms.append(
            f"{dividers} dividers \N{MULTIPLICATION SIGN} {gaps.pop()}"
            if len(gaps) == 1
            else f"{in_dividers} in dividers"
        )
    plain = len(design.start_margin) + len(design.end_margin)
    if plain:
        terms.append(f"{plain} plain at the ends")
    pitch = design.base_pitch_mm
    return (
        ("base beads", f"{' + '.join(terms)} = {design.base_beads}"),
        (
            "strip",
            (
                f"{design.base_beads} base beads \N{MULTIPLICATION SIGN} {pitch:.4g} mm "
                f"= {both(design.strip_mm)}"
            ),
        ),
    )


def _sitting_rows(facts: SheetFacts) -> tuple[tuple[str, str], ...]:
    design, wearer = facts.design, facts.piece.wearer
    links, closure = links_mm(design), design.closure
    rows = []
    if links:
        rows.append(("link beads", f"{millimetres(links)} at both ends together"))
    if closure.length_mm:
        finished = both(design.strip_mm + links + closure.length_mm)
        rows.append(
            ("with closure", f"{finished}, the {closure.name} of {closure.length_mm:g} mm closed")
        )
    elif wearer is not None:
        rows.append(("closure", "none counted: one makes the piece longer than is said here"))
    if design.closure.extender_mm:
        rows.append(("extender", f"up to {both(design.closure.extender_mm)} more"))
    if wearer is not None:
        left = wearer.target_mm(closure) - design.strip_mm - links
        rows.append(
            ("left over", millimetres(left))
            if left >= -1e-6
            else ("too long by", millimetres(-left))
        )
        sits = sitting(design, wearer)
        rows.append(
            ("shorter than the limb", f"by {millimetres(sits.short_by_mm)}: it does not go round")
            if sits.short_by_mm
            else ("ease when closed", both(sits.ease_mm))
        )
    spread = (
        "measured"
        if facts.piece.pitch_measured
        else "from a table: weave a swatch, it may be 5 % off"
    )
    rows.append(("pitch", f"{design.base_pitch_mm:.4g} mm a base bead, {spread}"))
    return tuple(rows)
