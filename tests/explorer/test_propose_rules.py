"""Proposals vary rules in the measure wished; relatives change one rule or two and no other."""

from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from explorer.brief import Brief, HowMuch, Mood
from explorer.cautions import USUAL_DROP_MM, Topic, Wear, cautions
from explorer.changes import (
    alternation,
    divider_beads,
    grow,
    lock,
    paint_bead,
    paint_motif,
    spread_colours,
    tips,
)
from explorer.colouring import Colouring
from explorer.design import Design
from explorer.pattern import Pattern
from explorer.profile_generator import usual_longest
from explorer.propose import Proposal, Proposals, propose
from explorer.relatives import like_of
from explorer.sequence_types import Arrangement
from explorer.weave import weave
from palettes.charts import bead_kinds, palette_names
from palettes.difference import delta_e_2000
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab
from palettes.swatches import Swatch
from tests.bench.bench_propose import brief_of
from tests.explorer.exact_orders import exists, matrix_of, weakest
from tests.explorer.test_proposal_proofs import CLOSE, _puzzle, drawn, proposals_of

KINDS = bead_kinds()


def found(brief: Brief) -> tuple[Proposal, ...]:
    answer = propose(brief)
    assert isinstance(answer, Proposals)
    return answer.proposals


def has(pattern: Pattern, usual: Pattern) -> set[str]:
    """Which rules a pattern has that a plain one has not, by looking at the pattern alone."""
    rule = pattern.outlines
    there = {
        "turns": len(rule.letters) > 1,
        "growth": rule.growth != 0,
        "mirrored": rule.mirrored,
        "tips": pattern.tip.paint is not None or pattern.tip.kind is not None,
        "dividers": len(pattern.divider) != len(usual.divider)
        or any(isinstance(one.paint, int) for one in pattern.divider),
        "base": len(pattern.base.keys) > 1,
    }
    return {name for name, here in there.items() if here}


@pytest.mark.parametrize("palette", ["rockpool", "hush", "lolly-van"])
def test_a_plain_set_has_nothing_of_it_a_little_some_and_more_most(palette: str) -> None:
    usual = found(replace(brief_of(palette), extras=HowMuch.PLAIN))[0].pattern
    many = {}
    for wish in HowMuch:
        pieces = found(replace(brief_of(palette), extras=wish))
        assert len(pieces) == 24
        many[wish] = sum(bool(has(p.pattern, usual)) for p in pieces)
    assert many[HowMuch.PLAIN] == 0
    assert 5 <= many[HowMuch.LITTLE] <= 14
    assert many[HowMuch.MORE] >= 15


def test_every_rule_comes_up() -> None:
    usual = found(replace(brief_of("rockpool"), extras=HowMuch.PLAIN))[0].pattern
    seen: Counter[str] = Counter()
    for palette in palette_names()[:5]:
        for proposal in found(replace(brief_of(palette), extras=HowMuch.MORE)):
            seen.update(has(proposal.pattern, usual))
    assert set(seen) == {"turns", "growth", "mirrored", "tips", "dividers", "base"}


def test_the_same_seed_gives_the_same_and_a_reason_says_what_there_is() -> None:
    asked = replace(brief_of("rockpool"), extras=HowMuch.MORE)
    first = found(asked)
    assert first == found(asked)
    for proposal in first:
        if proposal.pattern.outlines.growth:
            assert "longer toward the middle" in proposal.reason
        if proposal.pattern.tip.kind is not None:
            assert proposal.pattern.tip.kind.name in proposal.reason


def lab(design: Design, bead: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return np.asarray(srgb1_to_lab(hexes_to_srgb1([design.beads[bead].hex]))[0])


@pytest.mark.parametrize("palette", palette_names())
def test_tips_are_told_from_their_dangle_and_dividers_are_no_longer_than_dangles(
    palette: str,
) -> None:
    for proposal in found(replace(brief_of(palette), extras=HowMuch.MORE)):
        design, pattern = proposal.design, proposal.pattern
        for motif in design.motifs:
            beads = {design.beads[n] for column in motif for n in column.beads[-1:]}
            above = [n for column in motif for n in column.beads[:-1]]
            if pattern.tip.paint is None or not above or len(beads) > 1:
                continue
            tip = motif[0].beads[-1]
            if design.beads[tip].hex != design.beads[above[0]].hex:
                assert float(delta_e_2000(lab(design, tip), lab(design, above[0]))) >= 15.0
        hung = [len(column.beads) for divider in design.dividers for column in divider]
        shortest = min(len(m[side].beads) for m in design.motifs for side in (0, -1))
        assert max(hung, default=0) <= max(1, shortest)


def test_a_childs_piece_stays_within_its_usual_drop_and_nothing_ruffles() -> None:
    asked = brief_of("kite-day")
    most = usual_longest(Wear.CHILD, asked.colours[0].kind)
    child = replace(
        asked,
        wearer=replace(asked.wearer, snug_mm=120.0, ease_mm=10.0),
        most_beads=most,
        extras=HowMuch.MORE,
    )
    grown = 0
    for seed in (1, 2, 3):
        for proposal in found(replace(child, seed=seed)):
            grown += proposal.pattern.outlines.growth > 0
            said = cautions(proposal.design, Wear.CHILD)
            assert Topic.DROP not in {one.topic for one in said}, USUAL_DROP_MM
            crowd = [one.words for one in said if one.topic is Topic.CROWDING]
            assert not any("ruffle" in words for words in crowd)
            assert max(len(c.beads) for m in proposal.design.motifs for c in m) <= most
    assert grown


def tray(seed: int, low: int, high: int, extras: HowMuch) -> Brief:
    asked, rng = brief_of("rockpool"), np.random.default_rng(seed)
    beads = tuple(
        replace(asked.colours[0], name=f"bead {i}", hex=f"#{int(colour):06x}")
        for i, colour in enumerate(rng.integers(0, 2**24, size=10))
    )
    stock = tuple(int(n) for n in rng.integers(low, high, size=10))
    # The small bead under dividers is one of the tray too.
    return replace(asked, colours=beads, divider_bead=beads[3], stock=stock, extras=extras)


@pytest.mark.parametrize(("seed", "low", "high"), [(1, 60, 120), (2, 40, 100), (3, 100, 300)])
@pytest.mark.parametrize("extras", HowMuch)
def test_a_tray_is_never_overdrawn_by_any_bead(
    seed: int, low: int, high: int, extras: HowMuch
) -> None:
    asked = tray(seed, low, high, extras)
    at_hand = dict(zip(asked.colours, asked.stock, strict=True))
    for proposal in found(asked):
        design = proposal.design
        used: Counter[int] = Counter()
        for _, column in design.columns():
            used.update((column.base, *column.beads))
        for number, beads in used.items():
            bead = design.beads[number]
            assert beads <= at_hand.get(bead, beads), (proposal.reason, bead.name)
            # Beads of a kind that the tray has are of the tray.
            assert bead.kind != asked.colours[0].kind or bead in at_hand


def test_cards_from_a_tray_of_ten_differ_in_outline_colours_and_what_is_inside() -> None:
    pieces = [p.pattern for p in found(tray(3, 100, 300, HowMuch.LITTLE))]
    assert len(pieces) == 24
    assert len({p.outlines for p in pieces}) >= 12
    assert len({p.inside.colouring for p in pieces}) >= 3
    assert len({tuple(colour.hex for colour in p.colours) for p in pieces}) >= 12


@pytest.mark.parametrize("group", range(2))
def test_no_exact_search_beats_a_proof_told_of_varied_pieces(group: int) -> None:
    proved = 0
    for number in range(group, 60, 2):
        brief = replace(drawn(number), extras=HowMuch.MORE)
        for proposal in proposals_of(brief):
            told = weakest(proposal.design)
            assert (told is None) == (proposal.weakest is None), number
            if told is None or proposal.weakest is None or proposal.strongest is None:
                continue
            assert proposal.weakest == pytest.approx(told, abs=CLOSE), number
            plain = proposal.recipe.arrangement is not Arrangement.RUN
            if not proposal.strongest_proven or not plain:
                continue
            proved += 1
            answer = exists(
                _puzzle(brief, proposal), matrix_of(proposal), proposal.strongest + CLOSE
            )
            assert answer is not True, (number, proposal.reason)
    assert proved > 10


WHITE = Swatch(name="white", hex="#fafafa")
GREY = Swatch(name="grey", hex="#808890")


def by_hand() -> tuple[Brief, Pattern]:
    """A piece with tips, dividers, outlines in turn, growth, a painted and a locked motif."""
    asked = replace(
        brief_of("rockpool"), mood=Mood.AS_IT_COMES, count=24, extras=HowMuch.LITTLE, most_beads=9
    )
    plain = replace(asked, most_beads=5, extras=HowMuch.PLAIN)
    first = next(p for p in found(plain) if p.fit.motifs >= 9)
    pattern = first.pattern
    pattern = alternation(pattern, "AB").pattern
    pattern = grow(pattern, 2).pattern
    pattern = spread_colours(pattern, Colouring.STRIPES).pattern
    pattern = tips(pattern, kind=KINDS["drop 3.4"], swatch=WHITE).pattern
    pattern = divider_beads(pattern, [(GREY, KINDS["round 11/0"])] * 2).pattern
    pattern = paint_motif(pattern, 1, GREY).pattern
    pattern = paint_bead(pattern, 2, 0, 0, WHITE).pattern
    pattern = lock(pattern, 4).pattern
    grey = replace(asked.colours[0], name=GREY.name, hex=GREY.hex, finish=GREY.finish)
    return replace(asked, colours=(*asked.colours, grey)), pattern


def differing(one: Pattern, other: Pattern) -> set[str]:
    """The rules that differ, by looking at two patterns and at nothing that made them."""

    def looks(pattern: Pattern, keys: tuple[int, ...]) -> list[str]:
        return [pattern.colour(key).hex for key in keys]

    def painted(pattern: Pattern, paint: object) -> object:
        return pattern.colour(paint).hex if isinstance(paint, int) else paint

    def rules(pattern: Pattern) -> dict[str, object]:
        rule, motifs = pattern.outlines, pattern.run.motifs
        keys = tuple(pattern.order.key(slot, motifs) for slot in range(motifs))
        return {
            "outlines": rule.outlines,
            "turns": rule.letters,
            "mirrored": rule.mirrored,
            "growth": rule.growth,
            "order": (looks(pattern, keys), pattern.order.arrangement),
            "inside": pattern.inside.colouring,
            "tips": (pattern.tip.kind, painted(pattern, pattern.tip.paint)),
            "dividers": [(one.kind, painted(pattern, one.paint)) for one in pattern.divider],
            "base": (looks(pattern, pattern.base.keys), pattern.base.by_motif),
            "run": pattern.run,
            "ends": pattern.ends,
            "hand": (pattern.motifs, pattern.gaps),
        }

    first, second = rules(one), rules(other)
    names = {name for name in first if first[name] != second[name]}
    if "run" in names:
        names.discard("order")  # a longer row of the same colours
    if {"turns", "outlines"} <= names:
        names.discard("outlines")  # one more outline, or one fewer
    return names


def test_relatives_change_two_rules_at_most_and_leave_what_was_done_by_hand() -> None:
    asked, pattern = by_hand()
    answer = propose(asked, like=like_of(pattern, asked))
    assert isinstance(answer, Proposals)
    assert len(answer.proposals) >= 12
    before, seen = weave(pattern), Counter[str]()
    for proposal in answer.proposals:
        changed = differing(pattern, proposal.pattern)
        assert 1 <= len(changed) <= 2, (proposal.reason, changed)
        assert "hand" not in changed
        seen.update(changed)
        after = proposal.design

        def hung(design: Design, motif: int) -> list[list[object]]:
            return [[design.beads[n] for n in column.beads] for column in design.motifs[motif]]

        assert hung(after, 4) == hung(before, 4)
        main = Counter(one for row in hung(after, 1) for one in row[:-1])
        assert any(getattr(bead, "hex", "") == GREY.hex for bead in main)
        assert getattr(hung(after, 2)[0][0], "hex", "") == WHITE.hex
        assert not proposal.proven
    assert len(seen) >= 5, seen


def test_relatives_of_a_plain_piece_change_every_rule_now_and_then() -> None:
    asked = replace(brief_of("rockpool"), extras=HowMuch.LITTLE)
    plain = next(
        p.pattern
        for p in found(replace(asked, extras=HowMuch.PLAIN, most_beads=4))
        if p.fit.motifs % 2 and p.fit.motifs >= 9 and p.recipe.colouring is Colouring.PLAIN
    )
    seen: Counter[str] = Counter()
    for seed in (1, 2, 3):
        answer = propose(replace(asked, seed=seed), like=like_of(plain, asked))
        assert isinstance(answer, Proposals)
        for proposal in answer.proposals:
            changed = differing(plain, proposal.pattern)
            assert 1 <= len(changed) <= 2, (proposal.reason, changed)
            seen.update(changed)
    wanted = {"outlines", "turns", "growth", "order", "inside", "tips", "dividers", "base", "run"}
    assert wanted <= set(seen), seen
