"""A piece as rules: what they weave, what a change leaves alone, and what a file can hold."""

import json
import resource
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from itertools import pairwise
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from explorer import changes
from explorer.brief import Wearer
from explorer.cautions import Wear
from explorer.changes import Changed, TooShort
from explorer.colouring import Colouring
from explorer.design import Column, Design, motif_profile, of_columns
from explorer.errors import BriefError
from explorer.fit import Repeat
from explorer.layout import strip_scene
from explorer.lift import lift
from explorer.pattern import (
    MOST_COLOURS,
    MOST_EDITS,
    BaseEdit,
    BaseRule,
    ByHand,
    Colour,
    ColourRule,
    Edit,
    Ends,
    Gap,
    Held,
    Hung,
    InsideRule,
    LengthEdit,
    Outline,
    OutlineRule,
    PaintEdit,
    Part,
    Pattern,
    Relative,
    Run,
    TipRule,
    Way,
    Worn,
    places_of_width,
    shown,
)
from explorer.piece import Piece, digest, from_json, to_json
from explorer.profile import Shape
from explorer.sequence_types import MOST_COLOURS as MOST_ORDERED
from explorer.sequence_types import Arrangement
from explorer.thread_path import beads_by_spot, path
from explorer.thread_setup import ThreadSetup
from explorer.weave import forget, places_reached, weave
from palettes.beads import Bead
from palettes.errors import ChartError
from palettes.swatches import Swatch
from tests.bench.bench_pattern import different
from tests.explorer.patterns import (
    CHOOSERS,
    KINDS,
    SWATCHES,
    any_pattern,
    asked_change,
    chance,
    changes_that_there_are,
    ruled,
    small,
    strange,
    taken,
)
from tests.explorer.test_one_truth import counted, spots

seeds = st.integers(0, 2**32 - 1)
patterns = seeds.map(lambda seed: any_pattern(chance(seed)))
designs_of_any_sort = seeds.map(lambda seed: strange(chance(seed)))
SETUP = ThreadSetup()
Spot = tuple[str, int, int, int]


def beads_of(design: Design) -> dict[Spot, Bead]:
    """Every bead by its place: the part, which one, the column, and 0 for the base bead."""
    found = {}
    for place, column in design.columns():
        for row, number in enumerate((column.base, *column.beads)):
            found[place.part.value, place.index, place.column, row] = design.beads[number]
    for end, links in enumerate((design.start_links, design.end_links)):
        found |= {("link", end, row, 0): design.beads[number] for row, number in enumerate(links)}
    return found


def hung(design: Design, slot: int) -> list[list[Bead]]:
    """What hangs in a motif."""
    return [[design.beads[n] for n in column.beads] for column in design.motifs[slot]]


def agree(design: Design) -> None:
    """Counted, drawn and threaded are the same beads, each once."""
    drawn = spots(design, strip_scene(design))
    by_spot = beads_by_spot(design)
    assert set(drawn) == {spot for leg in path(design, SETUP) for spot in leg.visits}
    assert Counter(by_spot[spot] for spot in drawn) == counted(design) == Counter(design.owned())


# Changes.

_BY_HAND = {"motifs", "kept", "repeats", "gaps"}
_COLOURS = {"colours", "next_key"}
_HAND = _COLOURS | _BY_HAND
_PLACES = _BY_HAND | {"order"}
# What a change may touch of a pattern; every other part stays as it is.
NAMED: dict[str, set[str]] = {
    "paint_motif": _HAND | {"inside"},
    "paint_all": _HAND | {"order", "inside"},
    "paint_dangle": _HAND,
    "paint_bead": _HAND,
    "paint_base_bead": _HAND,
    "paint_strip_bead": _HAND,
    "lengthen": _HAND | {"outlines"},
    "outline": _HAND | {"outlines"},
    "alternation": {"outlines"},
    "turn_outlines": {"outlines"},
    "grow": {"outlines"},
    "spread_colours": _HAND | {"inside"},
    "tips": _HAND | {"tip"},
    "divider_beads": _COLOURS | {"divider"},
    "paint_base": _COLOURS | {"base"},
    "links": _COLOURS | {"ends"},
    "arrange": _HAND | {"order", "inside"},
    "in_order": _HAND | {"order", "inside"},
    "two_in_turn": _HAND | {"order", "inside"},
    "recolour": _HAND | {"order", "inside", "tip", "base", "divider"},
    "replace_colour": _COLOURS | {"order", "inside", "tip", "motifs"},
    "restyle": _COLOURS | {"order", "inside", "tip", "motifs"},
    "swap": _PLACES,
    "move": _PLACES,
    "insert": _PLACES | _COLOURS | {"run", "inside"},
    "remove": _PLACES | {"run"},
    "swap_colours": _BY_HAND,
    "lock": _BY_HAND,
    "unlock": _BY_HAND,
    "resize": _BY_HAND | {"worn", "ends", "run"},
    "wear_as": _BY_HAND | {"worn", "run"},
    "for_wearer": _BY_HAND | {"worn", "run"},
    "refit": _BY_HAND | {"hanging", "base", "run", "ends", "worn"},
}
_WHOLE = {"spread_colours", "paint_all", "arrange", "in_order", "two_in_turn", "replace_colour"}
_LENGTHS = {"lengthen", "outline", "alternation", "turn_outlines", "grow"}


def reached(name: str, asked: dict[str, Any], spot: Spot, last: bool) -> bool:
    """Whether a change may reach a bead."""
    part, index, column, row = spot
    motif, hangs = asked.get("motif"), part == "motif" and row > 0
    if name in {"paint_motif", "outline", "spread_colours"} and motif is not None:
        return hangs and index == motif
    if name == "tips":
        return hangs and last and motif in {None, index}
    if name == "paint_dangle" or (name == "lengthen" and not asked["everywhere"]):
        return hangs and (index, column) == (motif, asked["dangle"])
    if name == "paint_bead":
        return spot == ("motif", motif, asked["dangle"], asked["bead"] + 1)
    if name == "paint_base_bead":
        return spot == ("motif", motif, asked["dangle"], 0)
    if name == "paint_strip_bead":
        return row == 0 and part != "link"
    if name == "swap_colours":
        return hangs and index in asked.values()
    if name in _WHOLE | _LENGTHS:
        return hangs
    if name == "divider_beads":
        return part == "divider" and row > 0
    return name not in {"lock", "links"} or (part == "link" and name == "links")


def beside(name: str, asked: dict[str, Any], spot: Spot, before: Pattern) -> bool:
    """Whether a change reaches a bead by what it means to the colours beside it."""
    part, index, _, row = spot
    if part != "motif" or not row or asked.get("motif") is None:
        return False
    if name == "lengthen":
        # A fade goes by the longest dangle of its motif.
        by_hand = before.by_hand(asked["motif"])
        ways = {by_hand.colouring or before.inside.colouring}
        return index == asked["motif"] and ways == {Colouring.FADE}
    # A colour that went alone is given company, wherever colours are spread.
    own = before.own_key(asked["motif"])
    return (
        name == "spread_colours"
        and before.own_key(index) == own
        and before.inside.companion(own) in {own, None}
    )


def done(name: str, asked: dict[str, Any], new: Design) -> None:
    """That a change did what it was asked for."""
    if name in {"paint_bead", "paint_base_bead"}:
        bead = beads_of(new)["motif", asked["motif"], asked["dangle"], asked.get("bead", -1) + 1]
        assert looks(bead) == looks(asked["swatch"])
    if name == "paint_strip_bead":
        columns = [column for _, column in new.columns()]
        assert looks(new.beads[columns[asked["bead"]].base]) == looks(asked["swatch"])
    if name == "paint_dangle":
        rows = hung(new, asked["motif"])[asked["dangle"]]
        assert all(looks(bead) == looks(asked["swatch"]) for bead in rows[:-1])
    if name == "lengthen":
        row = motif_profile(new.motifs[asked["motif"]])
        assert row[asked["dangle"]] == asked["length"]


def locked_of(pattern: Pattern) -> list[list[list[Bead]]]:
    """What hangs in the locked motifs, in strip order."""
    design = weave(pattern)
    return [
        hung(design, slot) for slot in range(pattern.run.motifs) if changes.is_locked(pattern, slot)
    ]


def held_to(name: str, asked: dict[str, Any], before: Pattern, after: Pattern) -> None:
    """What has to hold of any change."""
    for part in fields(Pattern):
        if part.name not in NAMED[name]:
            assert getattr(after, part.name) == getattr(before, part.name), (name, part.name)
    old, new = weave(before), weave(after)
    had, has = beads_of(old), beads_of(new)
    ends = {(p, i, c): r for p, i, c, r in (*had, *has)}
    if name not in {"swap", "move", "insert", "remove", "unlock", "resize", "wear_as", "refit",
                    "for_wearer"}:  # fmt: skip
        for spot in had.keys() | has.keys():
            if had.get(spot) != has.get(spot):
                last = ends[spot[:3]] == spot[3]
                assert reached(name, asked, spot, last) or beside(name, asked, spot, before), (
                    name, asked, spot,
                )  # fmt: skip
        if name not in _LENGTHS | {"divider_beads", "links"}:
            assert had.keys() == has.keys()
    done(name, asked, new)
    # A size shows as many motifs as fit; any other change shows what is locked as it was.
    shown_alike = before.run.motifs == after.run.motifs or name in {"insert", "remove"}
    if shown_alike and name not in {"lock", "unlock"}:
        assert locked_of(after) == locked_of(before)


def looks(one: Any) -> tuple[str, str, str]:
    """What a bead and a swatch share."""
    return one.name, one.hex, one.finish.value


# Chosen by us: so many runs of fifty changes reach each change some twenty times.
RUNS = 17


def test_fifty_changes_of_every_kind_leave_a_piece_whole() -> None:
    assert set(CHOOSERS) == changes_that_there_are() == set(NAMED)
    asks, takes = Counter[str](), Counter[str]()
    for seed in range(RUNS):
        rng = chance(seed)
        pattern = any_pattern(rng)
        for _ in range(50):
            name = rng.choice(sorted(CHOOSERS))
            asked = asked_change(rng, pattern, name)
            asks[name] += 1
            before = weave(pattern)
            try:
                found = taken(pattern, name, asked)
            except BriefError as error:
                told = error.as_dict()
                assert all(told[part] for part in ("field", "wanted", "remedy")), (name, told)
                assert weave(pattern) == before
                continue
            if isinstance(found, TooShort):
                assert found.needs_mm > found.target_mm
                continue
            takes[name] += 1
            held_to(name, asked, pattern, found.pattern)
            assert all(words.endswith((".", "?")) for words in (*found.gave_up, *found.asks))
            pattern = small(found.pattern)
            agree(weave(pattern))
            piece = Piece(pattern=pattern)
            assert from_json(to_json(piece)) == piece
    assert takes.total() >= 0.8 * asks.total()
    assert set(takes) == set(CHOOSERS)
    assert min(takes.values()) >= 10, takes


# Rules, each told from the beads alone.


def simple(**parts: Any) -> Pattern:
    """Seven motifs of three dangles, and what is named."""
    rng = chance(1)
    colours = replace(ruled(rng)).colours
    while len(colours) < 4:
        colours = ruled(rng).colours
    plain = Pattern(
        colours=colours,
        next_key=len(colours) + 1,
        hanging=KINDS[0],
        base=BaseRule(kind=KINDS[1], pitch_mm=2.0, keys=(1,)),
        run=Run(motifs=7, width=3, divider=1),
        outlines=OutlineRule(outlines=(Outline(lengths=(1, 4, 2)),)),
        order=ColourRule(keys=(2,)),
    )
    return replace(plain, **parts)


def rows(pattern: Pattern) -> list[tuple[int, ...]]:
    return [motif_profile(motif) for motif in weave(pattern).motifs]


def key_of(pattern: Pattern, bead: Bead) -> int:
    return next(c.key for c in pattern.colours if looks(c) == looks(bead))


def keys_hung(pattern: Pattern, slot: int) -> list[list[int]]:
    return [[key_of(pattern, b) for b in dangle] for dangle in hung(weave(pattern), slot)]


def own_colours(pattern: Pattern) -> list[int]:
    """The colour at the head of each motif's first dangle."""
    return [keys_hung(pattern, slot)[0][0] for slot in range(pattern.run.motifs)]


motif_numbers = st.integers(1, 12)
short_rows = st.lists(st.integers(1, 9), min_size=3, max_size=3).map(tuple)


@given(
    st.sampled_from(["A", "AB", "ABCB", "AABC"]),
    st.lists(short_rows, min_size=3, max_size=3),
    motif_numbers,
    st.booleans(),
)
def test_outlines_take_turns_from_both_ends(
    letters: str, lengths: list[tuple[int, ...]], motifs: int, mirrored: bool
) -> None:
    rule = OutlineRule(
        outlines=tuple(Outline(lengths=row) for row in lengths[: len(set(letters))]),
        letters=letters,
        mirrored=mirrored,
    )
    found = rows(simple(outlines=rule, run=Run(motifs=motifs, width=3)))
    middle = (motifs + 1) // 2
    plain = (letters * motifs)[:middle]
    assert found[:middle] == [lengths["ABC".index(letter)] for letter in plain]
    second = found[: motifs // 2][::-1]
    assert found[middle:] == [row[::-1] if mirrored else row for row in second]


@given(st.integers(-60, 60), motif_numbers, short_rows)
def test_dangles_grow_toward_the_middle(growth: int, motifs: int, row: tuple[int, ...]) -> None:
    rule = OutlineRule(outlines=(Outline(lengths=row),), growth=growth)
    found = rows(simple(outlines=rule, run=Run(motifs=motifs, width=3)))
    assert found == found[::-1]
    assert found[0] == row
    sign = 1 if growth > 0 else -1
    for one, other in pairwise(found[: (motifs + 1) // 2]):
        assert all(sign * (b - a) >= 0 for a, b in zip(one, other, strict=True))
    if motifs > 2:
        assert found[(motifs - 1) // 2] == tuple(max(1, length + growth) for length in row)


@given(st.lists(st.integers(1, 3), min_size=1, max_size=9), motif_numbers)
def test_an_order_goes_on_in_its_way(keys: list[int], motifs: int) -> None:
    count = len(keys)
    colours = {
        way: own_colours(
            simple(order=ColourRule(keys=tuple(keys), way=way), run=Run(motifs=motifs, width=1))
        )
        for way in Way
    }
    assert colours[Way.CYCLE] == (keys * motifs)[:motifs]
    if motifs == count:
        assert all(found == keys for found in colours.values())
    mirror = colours[Way.MIRROR]
    half = min((motifs + 1) // 2, (count + 1) // 2)
    assert mirror[:half] == keys[:half]
    if motifs > 1 and half <= motifs // 2:
        assert mirror[-half:] == keys[-half:]
    # A palindrome stays one.
    both = keys + keys[::-1]
    order = ColourRule(keys=tuple(both), way=Way.MIRROR)
    found = own_colours(simple(order=order, run=Run(motifs=motifs, width=1)))
    assert found == found[::-1]


@given(st.integers(1, 20), st.integers(1, 20))
def test_a_spread_row_keeps_its_order_and_shares_alike(kept: int, motifs: int) -> None:
    found = [shown(Way.SPREAD, slot, motifs, kept) for slot in range(motifs)]
    assert found == sorted(found)
    # The same from the other end, but for a middle that falls between two of the row.
    for slot, place in enumerate(found):
        if (2 * slot + 1) * kept % (2 * motifs):
            assert found[motifs - 1 - slot] == kept - 1 - place
    if motifs >= kept:
        times = Counter(found)
        assert set(times) == set(range(kept))
        assert max(times.values()) - min(times.values()) <= 1


@given(st.sampled_from(Way), st.integers(1, 30), st.integers(0, 30))
def test_a_row_carried_on_and_cut_again_is_the_same_row(way: Way, kept: int, more: int) -> None:
    longer = [shown(way, slot, kept + more, kept) for slot in range(kept + more)]
    again = [longer[shown(way, slot, kept, kept + more)] for slot in range(kept)]
    assert again == list(range(kept))
    # What is shown of a row that was cut is shown once.
    cut = [shown(way, slot, kept, kept + more) for slot in range(kept)]
    assert len(set(cut)) == kept


def painted(lengths: tuple[int, ...], colouring: Colouring) -> list[list[int]]:
    """A motif of own colour 2 with 3 beside, in words of its own."""
    width, longest = len(lengths), max(lengths)
    found = []
    for across, length in enumerate(lengths):
        edge = min(across, width - 1 - across)
        row = {
            Colouring.PLAIN: [2] * length,
            Colouring.TIPS: [2] * (length - 1) + [3],
            Colouring.BANDS: ([2, 2, 3, 3] * length)[:length],
            Colouring.STRIPES: [3 if edge % 2 else 2] * length,
            Colouring.FADE: [2 if 2 * along < longest else 3 for along in range(length)],
            Colouring.HEART: [3] * length if edge == 0 else [2] * (length - 1) + [3],
        }
        found.append(row[colouring])
    return found


@given(st.sampled_from(Colouring), st.lists(st.integers(1, 7), min_size=1, max_size=7).map(tuple))
def test_colours_are_spread_inside_motifs(colouring: Colouring, lengths: tuple[int, ...]) -> None:
    pattern = simple(
        run=Run(motifs=2, width=len(lengths)),
        outlines=OutlineRule(outlines=(Outline(lengths=lengths),)),
        inside=InsideRule(colouring=colouring, beside=((2, 3),)),
    )
    assert keys_hung(pattern, 0) == keys_hung(pattern, 1) == painted(lengths, colouring)
    # One motif in a way of its own.
    by_hand = replace(pattern, kept=2, motifs=((1, ByHand(colouring=Colouring.BANDS)),))
    assert keys_hung(by_hand, 0) == painted(lengths, colouring)
    assert keys_hung(by_hand, 1) == painted(lengths, Colouring.BANDS)


def test_turning_beads_have_a_kind_and_a_colour_of_their_own() -> None:
    pattern = simple(tip=TipRule(kind=KINDS[2], paint=3))
    for slot in range(7):
        for dangle in hung(weave(pattern), slot):
            assert (dangle[-1].kind, key_of(pattern, dangle[-1])) == (KINDS[2], 3)
            assert {(b.kind, key_of(pattern, b)) for b in dangle[:-1]} <= {(KINDS[0], 2)}
    for paint, key in ((Relative.OWN, 2), (Relative.BASE, 1), (Relative.BESIDE, 4)):
        found = simple(tip=TipRule(paint=paint), inside=InsideRule(beside=((2, 4),)))
        assert all(row[-1] == key for slot in range(7) for row in keys_hung(found, slot))
    own = replace(pattern, kept=7, motifs=((2, ByHand(tip=TipRule(paint=4))),))
    assert [row[-1] for row in keys_hung(own, 2)] == [4] * 3
    assert {dangle[-1].kind for dangle in hung(weave(own), 2)} == {KINDS[0]}


def test_dividers_margins_and_links_stand_where_they_are_said_to() -> None:
    run = Run(motifs=3, width=2, divider=2, last_divider=1, margins=(3, 4))
    small_beads = (Hung(paint=3), Hung(paint=Relative.BASE, kind=KINDS[3]))
    link = Hung(paint=4, kind=KINDS[2])
    ends = Ends(start=(link,), end=(link, link), for_motifs=3)
    pattern = simple(run=run, divider=small_beads, ends=ends)
    design = weave(pattern)
    assert [len(row) for row in design.dividers] == [2, 2, 2, 1]
    for column in (column for row in design.dividers for column in row):
        beads = [design.beads[n] for n in column.beads]
        assert [(key_of(pattern, b), b.kind) for b in beads] == [(3, KINDS[0]), (1, KINDS[3])]
    margins = design.start_margin, design.end_margin
    assert [len(row) for row in margins] == [3, 4]
    assert not any(column.beads for row in margins for column in row)
    assert (len(design.start_links), len(design.end_links)) == (1, 2)
    assert {design.beads[n].kind for n in design.start_links + design.end_links} == {KINDS[2]}
    for motifs in (2, 4):
        other = weave(replace(pattern, run=replace(run, motifs=motifs)))
        assert not other.start_links
        assert not other.end_links


@given(st.lists(st.integers(1, 3), min_size=1, max_size=5).map(tuple), st.booleans())
def test_the_base_goes_by_bead_or_by_motif(keys: tuple[int, ...], by_motif: bool) -> None:
    base = BaseRule(kind=KINDS[1], pitch_mm=2.0, keys=keys, by_motif=by_motif)
    pattern = simple(base=base, run=Run(motifs=5, width=2, divider=1, margins=(1, 2)))
    design = weave(pattern)
    for number, (place, column) in enumerate(design.columns()):
        turn = number
        if by_motif:
            turn = place.index if place.part.value == "motif" else 0
        assert key_of(pattern, design.beads[column.base]) == keys[turn % len(keys)]
        assert design.beads[column.base].kind == KINDS[1]


def with_edits(*edits: Edit, **parts: Any) -> Pattern:
    return simple(kept=7, motifs=((2, ByHand(edits=edits)),), **parts)


def test_a_bead_by_hand_goes_over_its_dangle_and_stays_at_its_end() -> None:
    bead = PaintEdit(across=1, width=3, paint=4, along=1)
    tip = PaintEdit(across=1, width=3, paint=1, along=0, from_tip=True)
    dangle = PaintEdit(across=1, width=3, paint=3)
    for edits in ((bead, tip, dangle), (dangle, bead, tip)):
        assert keys_hung(with_edits(*edits), 2) == [[2], [3, 4, 3, 1], [2, 2]]
    longer = with_edits(bead, tip, dangle, LengthEdit(across=1, width=3, length=6))
    assert keys_hung(longer, 2)[1] == [3, 4, 3, 3, 3, 1]
    # Turning beads with a colour of their own keep it under a dangle's, not under their own.
    tipped = replace(with_edits(dangle), tip=TipRule(paint=4))
    assert keys_hung(tipped, 2)[1] == [3, 3, 3, 4]
    assert keys_hung(replace(with_edits(dangle, tip), tip=TipRule(paint=4)), 2)[1][-1] == 1
    assert keys_hung(with_edits(bead), 3) == [[2], [2] * 4, [2] * 2]
    asleep = with_edits(bead, LengthEdit(across=1, width=3, length=1))
    assert keys_hung(asleep, 2) == [[2], [2], [2, 2]]


def test_an_edit_maps_to_another_width_as_lengths_do() -> None:
    edits = [PaintEdit(across=across, width=3, paint=across + 1) for across in range(3)]
    for width in range(1, 9):
        pattern = with_edits(*edits, run=Run(motifs=7, width=width))
        lengths = [len(row) for row in keys_hung(pattern, 2)]
        # The dangles of the middle hang four deep, those at the edges one and two.
        wanted = {1: 1, 4: 2, 2: 3}
        assert [row[0] for row in keys_hung(pattern, 2)] == [wanted[n] for n in lengths]
    base = with_edits(BaseEdit(across=2, width=3, base=3))
    design = weave(base)
    assert [key_of(base, design.beads[c.base]) for c in design.motifs[2]] == [1, 1, 3]


def test_a_motif_by_hand_goes_over_the_order_and_what_is_held_over_all() -> None:
    held = (Held(base=4, beads=(Hung(paint=3), Hung(paint=1, kind=KINDS[2]))),)
    pattern = simple(
        kept=7,
        motifs=(
            (1, ByHand(colour=3, width=2, outline=Outline(lengths=(2, 1)))),
            (4, ByHand(colour=3, held=held)),
            (5, ByHand(held=held, locked=held + held)),
        ),
        tip=TipRule(paint=2),
    )
    design = weave(pattern)
    assert keys_hung(pattern, 1) == [[3, 2], [2]]
    assert keys_hung(pattern, 4) == [[3, 1]]
    assert hung(design, 4)[0][1].kind == KINDS[2]
    assert keys_hung(pattern, 5) == [[3, 1], [3, 1]]
    assert [key_of(pattern, design.beads[c.base]) for c in design.motifs[5]] == [4, 4]


# Lifting.


def spelled(design: Design) -> tuple[object, ...]:
    return beads_of(design), design.base_pitch_mm, design.closure


@given(designs_of_any_sort)
def test_any_design_comes_back_from_its_pattern(design: Design) -> None:
    assert spelled(weave(lift(design))) == spelled(design)


@given(patterns)
def test_what_was_woven_is_woven_again_from_its_beads(pattern: Pattern) -> None:
    design = weave(pattern)
    again = weave(lift(design))
    assert spelled(again) == spelled(design)
    assert digest(again) == digest(design)


@given(seeds)
@settings(max_examples=30)
def test_what_changes_made_is_woven_again_from_its_beads(seed: int) -> None:
    rng = chance(seed)
    pattern = any_pattern(rng)
    for _ in range(12):
        name = rng.choice(sorted(CHOOSERS.keys() - {"arrange"}))
        try:
            found = taken(pattern, name, asked_change(rng, pattern, name))
        except BriefError:
            continue
        pattern = small(found.pattern) if isinstance(found, Changed) else pattern
    assert spelled(weave(lift(weave(pattern)))) == spelled(weave(pattern))


TWO_COLOURS = ColourRule(keys=(2, 3))
AB = OutlineRule(outlines=(Outline(lengths=(2, 4, 2)), Outline(lengths=(3, 1, 3))), letters="AB")


@pytest.mark.parametrize(
    "parts",
    [
        {},
        {"order": TWO_COLOURS},
        {"order": TWO_COLOURS, "tip": TipRule(kind=KINDS[2])},
        {"order": TWO_COLOURS, "tip": TipRule(paint=4)},
        {"order": TWO_COLOURS, "outlines": AB},
        {"outlines": OutlineRule(outlines=(Outline(lengths=(1, 3, 5)),), mirrored=True)},
        {"divider": (Hung(paint=Relative.BASE, kind=KINDS[2]),)},
        {"base": BaseRule(kind=KINDS[1], pitch_mm=2.0, keys=(1, 4, 3))},
        {"base": BaseRule(kind=KINDS[1], pitch_mm=2.0, keys=(1, 4), by_motif=True)},
        {
            "base": BaseRule(kind=KINDS[1], pitch_mm=2.0, keys=(4, 1, 1)),
            "divider": (Hung(paint=Relative.BASE, kind=KINDS[2]),),
        },
        *(
            {
                "order": TWO_COLOURS, "inside": InsideRule(colouring=way, beside=((2, 4), (3, 4))),
                "run": Run(motifs=7, width=5, divider=1),
                "outlines": OutlineRule(outlines=(Outline(lengths=(2, 7, 5, 7, 2)),)),
            }
            for way in Colouring
        ),
    ],
)  # fmt: skip
def test_lifting_finds_the_rule_again(parts: dict[str, Any]) -> None:
    pattern = simple(**parts)
    found = lift(weave(pattern))
    assert found.motifs == ()
    assert found.gaps == ()
    assert {n: getattr(found.base, n) for n in ("kind", "pitch_mm", "by_motif")} == {
        n: getattr(pattern.base, n) for n in ("kind", "pitch_mm", "by_motif")
    }
    assert len(found.base.keys) == len(pattern.base.keys)
    assert found.run == replace(pattern.run, last_divider=None)
    assert found.outlines.letters == pattern.outlines.letters
    assert found.outlines.mirrored == pattern.outlines.mirrored
    assert found.tip.kind == pattern.tip.kind
    if "inside" not in parts:
        assert (found.tip.paint is None) == (pattern.tip.paint is None)
    # One accent at every tip is as well the colour of all turning beads.
    as_tips = pattern.inside.colouring is Colouring.TIPS and found.tip.paint is not None
    assert found.inside.colouring is (Colouring.PLAIN if as_tips else pattern.inside.colouring)


def test_lifting_finds_the_touches_of_a_hand() -> None:
    pattern = simple(
        order=TWO_COLOURS, kept=7,
        motifs=(
            (1, ByHand(colour=4)),
            (2, ByHand(edits=(LengthEdit(across=0, width=3, length=5),))),
            (3, ByHand(edits=(PaintEdit(across=1, width=3, paint=4, along=2),))),
            (4, ByHand(edits=(BaseEdit(across=1, width=3, base=4),))),
            (5, ByHand(tip=TipRule(kind=KINDS[2]))),
        ),
    )  # fmt: skip
    found = lift(weave(pattern))
    assert not any(one.as_it_is for _, one in found.motifs)
    assert [place for place, _ in found.motifs] == [2, 3, 4, 5]


# Another size and back, and changes that undo each other.


def at_size(pattern: Pattern, snug_mm: float) -> Pattern:
    found = changes.resize(pattern, Wearer(snug_mm=snug_mm, ease_mm=10.0))
    assert isinstance(found, Changed)
    return found.pattern


def sized(way: Way, rng: Random) -> Pattern:
    pattern = ruled(rng)
    pattern = replace(
        pattern,
        run=replace(pattern.run, width=rng.randint(1, 4), fill=rng.random() < 0.5),
        order=replace(pattern.order, way=way),
    )
    return at_size(pattern, rng.uniform(80.0, 120.0))


def edited(pattern: Pattern, rng: Random) -> tuple[Pattern, int, int]:
    """One bead of the pattern painted, its motif and its dangle."""
    slot = rng.randrange(pattern.run.motifs)
    dangle = rng.randrange(pattern.width(slot))
    return changes.paint_bead(pattern, slot, dangle, 0, SWATCHES[9]).pattern, slot, dangle


@given(seeds, st.sampled_from(Way))
def test_another_size_and_back_is_the_same_piece(seed: int, way: Way) -> None:
    rng = chance(seed)
    first = sized(way, rng)
    wearer = first.worn.wearer
    assert wearer is not None
    other = at_size(first, rng.uniform(80.0, 200.0))
    assert at_size(other, wearer.snug_mm) == first
    touched, slot, dangle = edited(first, rng)
    there = at_size(touched, rng.uniform(80.0, 200.0))
    assert at_size(there, wearer.snug_mm) == touched
    # A touch at the other size stays there, and so does the first one.
    twice, second, across = edited(there, rng)
    back = at_size(twice, wearer.snug_mm)
    assert keys_hung(back, slot)[dangle][0] == key_of(back, Bead(
        name="rose", kind=KINDS[0], hex="#d98aa0"
    ))  # fmt: skip
    assert there.worn.wearer is not None
    again = at_size(back, there.worn.wearer.snug_mm)
    assert weave(again) == weave(twice)
    assert keys_hung(again, second)[across][0] == keys_hung(twice, second)[across][0]
    if twice.run.motifs > first.run.motifs:
        changed = {s for s in range(first.run.motifs) if hung(weave(back), s) != hung(
            weave(touched), s)}  # fmt: skip
        assert len(changed) <= 1


@given(patterns, seeds)
def test_changes_that_undo_each_other(pattern: Pattern, seed: int) -> None:
    rng = chance(seed)
    # Filled ends take up what a motif more or less leaves, from whatever they were.
    pattern = replace(pattern, run=replace(pattern.run, fill=False))
    motifs = pattern.run.motifs
    one, other = rng.randrange(motifs), rng.randrange(motifs)
    before = spelled(weave(pattern))
    grown = changes.insert(pattern, one, rng.choice([None, SWATCHES[3]])).pattern
    pairs = {
        "insert": changes.remove(grown, one + 1),
        "swap": changes.swap(changes.swap(pattern, one, other).pattern, one, other),
        "move": changes.move(changes.move(pattern, one, other).pattern, other, one),
        "lock": changes.unlock(changes.lock(pattern, one).pattern, one),
        "colours": changes.swap_colours(
            changes.swap_colours(pattern, one, other).pattern, one, other
        ),
    }
    for name, found in pairs.items():
        assert spelled(weave(found.pattern)) == before, name


def test_a_copy_is_like_its_motif() -> None:
    pattern = changes.lock(simple(order=TWO_COLOURS), 2).pattern
    pattern = changes.recolour(pattern, SWATCHES[5:7], SWATCHES[0]).pattern
    copied = changes.insert(pattern, 2).pattern
    assert hung(weave(copied), 3) == hung(weave(copied), 2)
    assert changes.is_locked(copied, 2)
    assert not changes.is_locked(copied, 3)


# What a maker means by a change.


def test_an_ease_of_nothing_is_an_ease() -> None:
    found = changes.for_wearer(simple(), 150.0, ease_mm=0.0)
    assert isinstance(found, Changed)
    assert found.pattern.worn.wearer == Wearer(snug_mm=150.0, ease_mm=0.0)


def test_one_colour_for_all_leaves_the_rest_where_it_was() -> None:
    # Nine motifs in a mirror, shown as five: what stands at the far end stays there.
    mirror = ColourRule(keys=(2, 3, 4, 3, 2), way=Way.MIRROR)
    pattern = simple(order=mirror, run=Run(motifs=9, width=3))
    pattern = changes.lengthen(pattern, 8, 0, 6).pattern
    pattern = changes.with_motifs(pattern, 5)
    assert rows(pattern)[4][0] == 6
    after = changes.paint_all(pattern, SWATCHES[4]).pattern
    assert rows(after) == rows(pattern)


def test_a_recoloured_piece_has_its_new_colours_in_every_size() -> None:
    pattern = simple(order=ColourRule(keys=(2, 3, 4, 2, 3, 4, 4)), run=Run(motifs=1, width=3))
    after = changes.recolour(pattern, SWATCHES[5:7], SWATCHES[0]).pattern
    longer = weave(changes.with_motifs(after, 7))
    assert {looks(b) for slot in range(7) for d in hung(longer, slot) for b in d} <= {
        looks(swatch) for swatch in SWATCHES[5:7]
    }


def test_a_motif_kept_bead_by_bead_is_edited_at_the_width_that_it_has() -> None:
    held = tuple(Held(base=4, beads=(Hung(paint=3),) * n) for n in (1, 2, 3))
    pattern = simple(kept=7, motifs=((1, ByHand(held=held, width=5)),))
    assert [len(row) for row in keys_hung(pattern, 1)] == [1, 2, 2, 2, 3]
    after = changes.paint_bead(pattern, 1, 4, 2, SWATCHES[9]).pattern
    assert keys_hung(after, 1)[:4] == keys_hung(pattern, 1)[:4]
    assert keys_hung(after, 1)[4][:2] == [3, 3]
    assert keys_hung(after, 1)[4][2] != 3
    # Painted as a whole it goes by the rules again, and its base beads stay.
    whole = changes.paint_motif(pattern, 1, SWATCHES[9]).pattern
    design = weave(whole)
    assert [key_of(whole, design.beads[c.base]) for c in design.motifs[1]] == [4] * 5
    assert rows(whole)[1] == (1, 2, 2, 2, 3)


def test_a_dangle_painted_after_its_beads_is_all_of_that_colour() -> None:
    pattern = with_edits(PaintEdit(across=1, width=3, paint=4, along=1))
    wider = replace(pattern, run=Run(motifs=7, width=5))
    touched = [n for n, row in enumerate(keys_hung(wider, 2)) if 4 in row]
    assert len(touched) > 1
    after = changes.paint_dangle(wider, 2, touched[0], SWATCHES[9]).pattern
    assert len(set(keys_hung(after, 2)[touched[0]])) == 1
    assert [n for n, row in enumerate(keys_hung(after, 2)) if 4 in row] == touched[1:]


def test_a_dangle_lengthened_everywhere_is_so_long_where_it_was_asked() -> None:
    grown = OutlineRule(outlines=(Outline(lengths=(3, 3, 3)),), growth=5)
    after = changes.lengthen(simple(outlines=grown), 3, 1, 2, everywhere=True).pattern
    assert rows(after)[3] == (8, 2, 8)
    shrunk = OutlineRule(outlines=(Outline(lengths=(90, 90, 90)),), growth=-60)
    after = changes.lengthen(simple(outlines=shrunk), 3, 1, 190, everywhere=True).pattern
    assert rows(after)[3] == (30, 190, 30)
    mirrored = OutlineRule(outlines=(Outline(lengths=(3, 3, 3)),), mirrored=True)
    pattern = changes.lengthen(simple(outlines=mirrored), 6, 2, 5).pattern
    after = changes.lengthen(pattern, 0, 0, 7, everywhere=True).pattern
    assert rows(after)[0] == (7, 3, 3)
    assert rows(after)[6] == (3, 3, 7)


def test_a_lock_is_no_loss_and_a_lost_place_is_told() -> None:
    pattern = with_edits(
        PaintEdit(across=1, width=3, paint=4, along=1), PaintEdit(across=0, width=3, paint=4)
    )
    assert changes.lock(pattern, 2).asleep == ()
    shorter = changes.lengthen(pattern, 2, 1, 1)
    assert shorter.asleep == ("A touch by hand in motif 3 now has no place.",)
    assert changes.lengthen(shorter.pattern, 2, 1, 4).asleep == ()


def test_a_colour_that_comes_changes_no_other_motif() -> None:
    for colouring in Colouring:
        pattern = simple(inside=InsideRule(colouring=colouring))
        pattern = changes.spread_colours(pattern, colouring).pattern
        after = changes.paint_motif(pattern, 3, SWATCHES[0]).pattern
        assert [hung(weave(after), n) for n in (0, 6)] == [hung(weave(pattern), n) for n in (0, 6)]


@pytest.mark.parametrize("way", Way)
def test_what_waits_for_a_longer_strip_waits_on_in_any_order(way: Way) -> None:
    order = ColourRule(keys=(2, 3, 4, 3, 2), way=way)
    pattern = simple(order=order, run=Run(motifs=9, width=3, divider=1))
    for slot in range(9):
        pattern = changes.lengthen(pattern, slot, 0, 11 + slot).pattern
    pattern = changes.paint_strip_bead(pattern, 4, SWATCHES[9]).pattern
    small = changes.with_motifs(pattern, 5)
    for found in (
        changes.paint_all(small, SWATCHES[4]),
        changes.arrange(small, Arrangement.MIRROR),
        changes.arrange(small, Arrangement.BLOCKS),
        changes.two_in_turn(small),
        changes.swap(small, 0, 1),
    ):
        assert not any("given up" in words for words in found.gave_up)
        seen = [row[0] for row in rows(found.pattern)]
        assert sorted(seen) == sorted(row[0] for row in rows(small))
        grown = rows(changes.with_motifs(found.pattern, 9))
        assert sorted(row[0] for row in grown) == [*range(11, 20)]
        assert len(found.pattern.gaps) == 1
    # And what waits has the colour again that it had.
    again = changes.swap(changes.swap(small, 0, 1).pattern, 0, 1).pattern
    colours = {row[0]: own for row, own in zip(rows(pattern), own_colours(pattern), strict=True)}
    longer = changes.with_motifs(again, 9)
    waits = {*range(11, 20)} - {row[0] for row in rows(small)}
    for row, own in zip(rows(longer), own_colours(longer), strict=True):
        assert row[0] not in waits or own == colours[row[0]]


def test_a_motif_that_goes_in_and_out_again_leaves_no_outline_by_hand() -> None:
    peaks = (Outline(lengths=(1, 3, 1)), Outline(lengths=(3, 1, 3)))
    pattern = simple(outlines=OutlineRule(outlines=peaks, letters="AB"))
    for slot in range(7):
        longer = changes.insert(pattern, slot)
        back = changes.remove(longer.pattern, slot + 1).pattern
        assert (back.motifs, weave(back)) == ((), weave(pattern)), slot
    # What a maker shaped otherwise than the rule stays shaped.
    own = changes.outline(pattern, Outline(lengths=(5, 5, 5)), motif=1).pattern
    back = changes.remove(changes.insert(own, 2).pattern, 3).pattern
    assert [place for place, one in back.motifs if one.outline] == [1]


def test_an_order_says_where_a_motif_by_hand_that_waits_comes_back() -> None:
    pattern = changes.paint_motif(simple(), 6, SWATCHES[4]).pattern
    small = changes.with_motifs(pattern, 4)
    found = changes.arrange(small, Arrangement.MIRROR)
    wakes = changes.with_motifs(found.pattern, 7)
    (at,) = [slot for slot in range(7) if wakes.by_hand(slot).colour]
    words = (
        f"1 motif done by hand waits; in this order, of 7 motifs, it comes back as motif {at + 1}."
    )
    assert words in found.gave_up
    assert not any("waits" in words for words in changes.arrange(small, Arrangement.FREE).gave_up)


def test_a_single_touch_goes_to_one_dangle_of_a_wider_motif_and_back() -> None:
    pattern = changes.paint_dangle(simple(run=Run(motifs=3, width=5)), 1, 1, SWATCHES[9]).pattern

    def touched(one: Pattern) -> list[int]:
        plain = keys_hung(replace(one, motifs=()), 1)
        return [at for at, row in enumerate(keys_hung(one, 1)) if row != plain[at]]

    def wide(one: Pattern, width: int) -> Pattern:
        return changes.refit(
            one,
            Wearer(snug_mm=100.0),
            repeat=Repeat(dangles=width, divider=0),
            motifs=3,
            base=one.base.kind,
            pitch_mm=one.base.pitch_mm,
            measured=False,
            hanging=one.hanging,
            closure=one.ends.closure,
            fill=False,
        ).pattern

    for width in range(6, 15):
        wider = wide(pattern, width)
        assert len(touched(wider)) == 1, width
        assert touched(wide(wider, 5)) == [1], width
    # Touches side by side fill the wider motif as they filled the other.
    for dangle in (0, 2, 3, 4):
        pattern = changes.paint_dangle(pattern, 1, dangle, SWATCHES[9]).pattern
    assert touched(wide(pattern, 9)) == [*range(9)]


@pytest.mark.parametrize("way", Way)
def test_what_was_done_to_one_motif_is_done_to_no_other_in_any_size(way: Way) -> None:
    order = ColourRule(keys=(2, 3, 4, 3, 2), way=way)
    pattern = at_size(simple(order=order), 40.0)
    assert pattern.run.motifs == 6
    pattern = changes.lengthen(pattern, 1, 0, 15).pattern
    pattern = changes.lock(pattern, 2).pattern
    pattern = changes.paint_motif(pattern, 5, SWATCHES[9]).pattern
    pattern = changes.paint_strip_bead(pattern, 4, SWATCHES[9]).pattern
    sizes = (pattern, replace(pattern, repeats=True))
    for size in sizes:
        first = size
        for snug in (60.0, 110.0, 250.0, 85.0):
            first = at_size(first, snug)
            assert first.run.motifs > 6
            assert [row[0] for row in rows(first)].count(15) == 1
            locked = [n for n in range(first.run.motifs) if changes.is_locked(first, n)]
            assert len(locked) == 1
            painted = [n for n in range(first.run.motifs) if first.by_hand(n).colour]
            assert len(painted) == 1
            woven = weave(first)
            bases = [looks(woven.beads[column.base]) for _, column in woven.columns()]
            assert bases.count(looks(SWATCHES[9])) == 1
            assert weave(at_size(first, 40.0)) == weave(pattern)
    # A file of before that repeats goes on doing so until it is changed.
    longer = changes.with_motifs(replace(pattern, repeats=True), 9)
    assert [row[0] for row in rows(longer)].count(15) > 1
    kept = changes.grow(longer, 0).pattern
    assert weave(kept) == weave(longer)


def test_a_palette_takes_no_more_than_it_holds() -> None:
    colours = tuple(Colour(key=n, name=str(n), hex="#000000") for n in range(1, MOST_COLOURS + 1))
    pattern = simple(colours=colours, next_key=MOST_COLOURS + 1)
    with pytest.raises(BriefError, match="at most"):
        changes.paint_motif(pattern, 0, SWATCHES[0])


def test_what_cannot_be_is_refused_and_no_slip_of_ours() -> None:
    pattern = simple()
    touches = (PaintEdit(across=0, width=3, paint=3),) * MOST_EDITS
    full = simple(kept=7, motifs=((0, ByHand(edits=touches)),))
    many = [Swatch(name=str(n), hex=f"#{n:06x}") for n in range(MOST_ORDERED + 1)]
    refusals: list[Callable[[], object]] = [
        lambda: changes.paint_bead(full, 0, 1, 0, SWATCHES[0]),
        lambda: changes.paint_base_bead(full, 0, 1, SWATCHES[0]),
        lambda: changes.lengthen(full, 0, 1, 4),
        lambda: changes.in_order(pattern, SWATCHES[:2], []),
        lambda: changes.in_order(pattern, SWATCHES[:2], [0, 2]),
        lambda: changes.arrange(pattern, Arrangement.FREE, many),
        lambda: changes.arrange(pattern, Arrangement.BLOCKS, SWATCHES[:2], length=-1),
    ]
    for refused in refusals:
        with pytest.raises(BriefError):
            refused()


def test_more_touches_than_one_motif_keeps_are_kept_bead_by_bead() -> None:
    rng = chance(1)
    beads = tuple(Bead(name=str(n), kind=KINDS[0], hex=f"#00000{n}") for n in range(3))
    for hangs, bases in ((30, [0]), (1, [0, 1, 2])):
        wide = tuple(
            Column(
                base=rng.choice(bases), beads=tuple(rng.choices((0, 1), (6, 4), k=hangs))
            )
            for _ in range(3_500 if hangs == 1 else 200)
        )  # fmt: skip
        design = of_columns(beads=beads, base_pitch_mm=2.0, motifs=(wide,), dividers=((), ()))
        assert spelled(weave(lift(design))) == spelled(design)


# Files.


def document() -> dict[str, Any]:
    """A piece with something in every part, as plain values."""
    held = (Held(base=2, beads=(Hung(paint=Relative.OWN, kind=KINDS[2]),)),)
    pattern = simple(
        run=Run(motifs=9, width=3, divider=1, last_divider=2, margins=(1, 2), fill=True),
        outlines=replace(AB, mirrored=True, growth=2, outlines=(
            Outline(shape=Shape.PEAK, least=2, most=4), Outline(lengths=(1, 2, 3)),
        )),
        order=ColourRule(keys=(2, 3), way=Way.MIRROR, gap=1,
                                 arrangement=Arrangement.MIRROR),
        inside=InsideRule(colouring=Colouring.TIPS, beside=((2, 3),)),
        tip=TipRule(kind=KINDS[2], paint=3),
        divider=(Hung(paint=Relative.BASE, kind=KINDS[3]),),
        ends=Ends(start=(Hung(paint=2),), end=(Hung(paint=3),), for_motifs=9),
        worn=Worn(wearer=Wearer(snug_mm=200.0, ease_mm=10.0, curvature_mm=2.0), own_ease=True,
                  wear=Wear.ANKLET),
        kept=9,
        motifs=(
            (1, ByHand(colour=2, width=4, outline=Outline(lengths=(1, 2)), tip=TipRule(paint=2),
                       colouring=Colouring.BANDS, edits=(
                           PaintEdit(across=1, width=4, paint=3, along=1, from_tip=True),
                           LengthEdit(across=1, width=4, length=5),
                           BaseEdit(across=0, width=4, base=3),
                       ))),
            (2, ByHand(held=held)),
            (3, ByHand(locked=held)),
        ),
        listed=((2, KINDS[0].name),),
    )  # fmt: skip
    pattern = replace(pattern, gaps=(Gap(at=2, held=held), Gap(at=Part.LAST, held=held + held)))
    found: dict[str, Any] = json.loads(to_json(Piece(pattern=pattern, seed=4, notes="n")))
    del found["woven"]
    return found


def places(value: Any, where: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every part of a document, from the outside in."""
    if not isinstance(value, dict | list):
        return
    for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
        yield (*where, key)
        yield from places(inner, (*where, key))


def at(value: Any, where: tuple[Any, ...]) -> Any:
    for key in where:
        value = value[key]
    return value


BAD: tuple[Any, ...] = (
    None, True, -1, 0, 1e999, 10**30, 10**400, 20_000, "x" * 30, "\ud800", [], {}, [[]], [{}], -0.5,
    [1] * 300, {"x": 1}, [[2, 3]] * 50, "own", ["own", 99],
)  # fmt: skip


def opened(document_: Any) -> Piece | ChartError:
    text = document_ if isinstance(document_, str) else json.dumps(document_)
    try:
        return from_json(text, "it.json")
    except ChartError as error:
        found = error
    assert found.path == "it.json"
    assert found.entry
    assert found.why
    return found


def test_a_document_with_something_in_every_part_opens() -> None:
    assert isinstance(opened(document()), Piece)


def test_any_part_of_a_file_missing_or_wrong_is_told_by_its_place() -> None:
    whole = document()
    kept = told = 0
    for number, where in enumerate(places(whole)):
        # Half of what is wrong in each place, and the other half in the next.
        for bad in (*BAD[number % 2 :: 2], ...):
            broken = json.loads(json.dumps(whole))
            holder = at(broken, where[:-1])
            if bad is ...:
                del holder[where[-1]]
            else:
                holder[where[-1]] = bad
            found = opened(broken)
            kept += isinstance(found, Piece)
            told += isinstance(found, ChartError)
            if isinstance(found, Piece):
                # What was read is a piece like any other.
                assert from_json(to_json(found)) == found
    assert told > 4 * kept


def test_a_part_that_nobody_knows_is_told_by_its_place() -> None:
    whole = document()
    tables = [(), *(w for w in places(whole) if isinstance(at(whole, w), dict))]
    for where in tables:
        broken = json.loads(json.dumps(whole))
        at(broken, where)["unheard_of"] = 1
        found = opened(broken)
        assert isinstance(found, ChartError), where
        assert "unheard_of" in found.entry, (where, found)


@pytest.mark.parametrize("depth", [10, 200, 300, 400, 500, 700, 900, 940, 960, 980, 990, 100_000])
def test_lists_in_lists_are_no_piece(depth: int) -> None:
    nested = "[" * depth + "]" * depth
    text = json.dumps(document())[:-1] + f', "kept": {nested}}}'
    assert isinstance(opened(text), ChartError)


def bombs() -> dict[str, dict[str, Any]]:
    """Small files that ask for a huge piece, or for much work on a small one."""
    plain = json.loads(to_json(Piece(pattern=simple())))
    del plain["woven"]
    long = {"lengths": [200]}
    edits = [{"across": 0, "width": 1, "paint": 3}] * 120
    spread = [{"across": n, "width": 19_000 - n, "paint": 3} for n in range(120)]
    far = [{"across": 0, "width": n + 1, "length": 200} for n in range(120)]
    held = [{"beads": [{"paint": 2}] * 150}]

    def run(motifs: int, width: int) -> dict[str, int]:
        return {"motifs": motifs, "width": width, "divider": 0}

    def made(run_: dict[str, int], by_hand: dict[str, Any] | None, shape: Any) -> dict[str, Any]:
        hand = {} if by_hand is None else {"kept": 1, "motifs": [[0, by_hand]]}
        return {**plain, "run": run_, "outlines": {"outlines": [shape]}, "kept": 0, **hand}

    return {
        "every dangle long": made(run(20_000, 1), None, long),
        "one wide motif": made(run(1, 20_000), None, long),
        "edits of all": made(run(1, 20_000), {"edits": edits}, long),
        "edits everywhere": made(run(20_000, 1), {"edits": edits}, {"lengths": [1]}),
        "edits of other widths": made(run(1, 20_000), {"edits": spread}, {"lengths": [1]}),
        "lengths of other widths": made(run(2_000, 10), {"edits": far}, {"lengths": [1]}),
        "held and wide": made(run(1, 1), {"held": held, "width": 20_000}, {"lengths": [1]}),
        "held everywhere": made(run(20_000, 1), {"held": held}, {"lengths": [1]}),
        "small beads": {**plain, "run": {**run(6_600, 1), "divider": 2},
                        "divider": [{"paint": 1}] * 3},
    }  # fmt: skip


# What each comes to: whether it opens, or asks for more than a piece holds.
OPENS = {"edits of other widths", "small beads"}


@pytest.mark.parametrize("name", bombs())
def test_a_small_file_asks_for_little(name: str) -> None:
    asked = bombs()[name]
    assert len(json.dumps(asked)) < 12_000
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    found = opened(asked)
    grown_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    forget()
    # Kilobytes, on the systems that tests run on.
    assert grown_kb < 100_000
    if name in OPENS:
        assert isinstance(found, Piece)
    else:
        assert isinstance(found, ChartError)
        assert "a piece holds at most" in found.why


def test_one_edit_reaches_the_places_that_its_own_maps_to() -> None:
    for width in range(1, 32):
        for here in range(1, 32):
            at_width = places_of_width(width, here)
            for across in range(width):
                wanted = [place for place, old in enumerate(at_width) if old == across]
                assert list(places_reached(across, width, here)) == wanted


# Speed, as a ratio of two sizes in one run; ``tests/bench/bench_pattern.py`` has the figures.


def calls(work: Callable[[], object]) -> int:
    """Functions that a piece of work calls, ours and built in: the same on every machine."""
    found = 0

    def count(_frame: object, event: str, _arg: object) -> None:
        nonlocal found
        found += event in {"call", "c_call"}

    before = sys.getprofile()
    sys.setprofile(count)
    try:
        work()
    finally:
        sys.setprofile(before)
    return found


def test_lifting_and_weaving_grow_in_proportion() -> None:
    few, many = different(50), different(200)
    for design in (few, many):
        forget()
        lift(design)
    figures = []
    for design in (few, many):
        forget()
        lifted = calls(lambda d=design: lift(d))  # type: ignore[misc]
        pattern = lift(design)
        forget()
        figures.append((lifted, calls(lambda p=pattern: weave(p))))  # type: ignore[misc]
    for one, four in zip(*figures, strict=True):
        assert four < 5 * one
