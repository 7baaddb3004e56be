"""Class kits: rosters of every sort, sums that agree, and fair shares of what is short."""

import itertools
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.brief import Strip
from explorer.cautions import USUAL_DROP_MM, Wear
from explorer.errors import BriefError
from explorer.fit import Repeat
from explorer.kit import Kit, KitBrief, make_kit
from explorer.kit_pages import class_page, labels, sheets
from explorer.kit_roster import Learner, band_learners
from explorer.kit_sharing import share_fairly
from explorer.kit_time import time_plan
from explorer.kit_totals import cost_words
from explorer.kit_tray import Held, held_in
from explorer.layout import strip_scene
from explorer.profile_scores import drop_mm
from explorer.sheet_facts import SheetOptions
from gallery.page import Cards, Table
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.tray import Tray, TrayBead
from palettes.tray_read import parse_tray

KINDS = bead_kinds()
COLOURS = tuple(
    Bead(name=name, kind=KINDS["round 8/0"], hex=colour)
    for name, colour in (
        ("Coral", "#f0694f"),
        ("Sea", "#2fa79b"),
        ("Sun", "#f8cb3f"),
        ("Plum", "#7a2f5c"),
    )
)
NIGHT = Bead(name="Night", kind=KINDS["cube 3"], hex="#1f2c44")


def brief(tray: tuple[Held, ...] = ()) -> KitBrief:
    return KitBrief(
        strip=Strip(base=KINDS["cube 3"]),
        hanging=KINDS["round 8/0"],
        base_bead=NIGHT,
        colours=COLOURS,
        tray=tray,
        ease_mm=10.0,
    )


def tray(coral: int, other: int = 10_000) -> tuple[Held, ...]:
    held = [Held(bead=bead, count=coral if bead.name == "Coral" else other) for bead in COLOURS]
    return (*held, Held(bead=NIGHT, count=other))


TWELVE = tuple(
    Learner(name=f"Learner {n}", least_mm=mm, most_mm=mm, picks=picks)
    for n, (mm, picks) in enumerate(
        [
            (140.0, ("Coral", "Sea")),
            (146.0, ("Coral", "Sun")),
            (151.0, ()),
            (153.5, ("Coral",)),
            (158.0, ("2",)),
            (149.0, ("Sea", "Sun", "Plum")),
            (162.0, ("Coral", "Plum")),
            (155.0, ("4",)),
            (147.0, ("Sun", "Sea")),
            (171.0, ("Coral", "Sea", "Sun")),
            (144.0, ("Plum", "Sun")),
            (152.4, ("Sea", "Coral")),
        ]
    )
)


def kit_of(coral: int) -> Kit:
    return make_kit(TWELVE, brief(tray(coral)))


def test_totals_are_the_sums_of_sheets_and_of_pictures() -> None:
    kit = kit_of(10_000)
    assert len(kit.learners) == 12
    drawn: Counter[tuple[str, str]] = Counter()
    for one in kit.learners:
        for placed in strip_scene(one.piece.design).beads:
            key = "cube 3" if placed.form.value == "cube" else "round 8/0"
            colour = "#" + "".join(f"{round(v * 255):02x}" for v in placed.srgb1)
            drawn[key, colour] += 1
    totals = {(t.bead.kind.name, t.bead.hex): t.used for t in kit.totals}
    assert totals == dict(drawn)
    printed: Counter[str] = Counter()
    for document in sheets(kit, SheetOptions()):
        table = next(block for block in document.blocks if isinstance(block, Table))
        for row in table.rows[:-1]:
            printed[str(row[2]).split(",")[0]] += int(str(row[5]))
    assert printed == Counter({t.bead.name: t.used + t.spares for t in kit.totals})


def test_one_colour_short_is_shared_and_told() -> None:
    enough = kit_of(10_000)
    assert enough.short == ()
    (coral,) = (t for t in enough.totals if t.bead.name == "Coral")
    supply = coral.used // 2
    kit = kit_of(supply)
    assert {lack.bead.name for lack in kit.short} == {"Coral"}
    users = [one for one in kit.learners if COLOURS[0] in one.needs()]
    assert {lack.name for lack in kit.short} == {one.learner.name for one in users}
    # Whoever lacks has as much as every other who lacks, give or take one; all of it is given.
    lacking = [lack for lack in kit.short if lack.lacking]
    assert max(k.given for k in lacking) - min(k.given for k in lacking) <= 1
    given_whole = {lack.name: lack.given for lack in kit.short}
    assert sum(given_whole.values()) == supply
    assert all(lack.spares_lacking == enough_spares(enough, lack.name) for lack in kit.short)
    (total,) = (t for t in kit.totals if t.bead.name == "Coral")
    assert total.to_buy == coral.used + coral.spares - supply


def enough_spares(kit: Kit, name: str) -> int:
    one = next(one for one in kit.learners if one.learner.name == name)
    return one.needs()[COLOURS[0]][1]


def test_enough_for_the_pieces_but_not_for_spares() -> None:
    (coral,) = (t for t in kit_of(10_000).totals if t.bead.name == "Coral")
    kit = kit_of(coral.used + 3)
    assert all(lack.lacking == 0 for lack in kit.short)
    assert sum(lack.spares_lacking for lack in kit.short) == coral.spares - 3


def test_a_tray_that_does_not_know_a_kind_leaves_it_to_be_bought() -> None:
    only = tuple(entry for entry in tray(10_000) if entry.bead != NIGHT)
    kit = make_kit(TWELVE, brief(only))
    assert kit.short == ()
    (night,) = (t for t in kit.totals if t.bead == NIGHT)
    assert night.in_tray is None
    assert night.to_buy == night.used + night.spares


def test_an_uncounted_box_limits_nothing_and_is_not_bought() -> None:
    held = (*tray(0)[1:], Held(bead=COLOURS[0], count=None))
    kit = make_kit(TWELVE, brief(held))
    (coral,) = (t for t in kit.totals if t.bead.name == "Coral")
    assert (coral.in_tray, coral.to_buy, kit.short) == (None, 0, ())


def test_the_tray_s_prices_tell_what_buying_costs_and_what_that_leaves_out() -> None:
    held = tuple(replace(entry, gram_price=0.5) for entry in tray(3))
    kit = make_kit(TWELVE, brief(held))
    (coral,) = (total for total in kit.totals if total.packs)
    grams = sum(pack.weight_g for pack in coral.packs)
    words = cost_words(kit.totals)
    assert f"The packs cost {0.5 * grams:.2f}." in words
    assert "nor is what comes out of the tray" in words
    assert words in str(class_page(kit, SheetOptions()))
    # Free beads are named, beads without a price leave no sum.
    free = make_kit(TWELVE, brief(tuple(replace(entry, gram_price=0.0) for entry in held)))
    assert "At a price of 0: Coral." in cost_words(free.totals)
    assert cost_words(make_kit(TWELVE, brief(tray(3))).totals) == ""


def test_of_several_prices_the_dearest_counts() -> None:
    box = TrayBead(name="Sea", kind=KINDS["round 8/0"], hex="#2fa79b", price=0.4, count=10)
    lots = (box, replace(box, lot="2", price=0.7), replace(box, lot="3", price=None))
    (one,) = held_in(Tray(beads=lots))
    assert (one.count, one.gram_price) == (30, 0.7)


needs = st.lists(st.integers(0, 30), min_size=1, max_size=8)


@given(needs, st.integers(0, 200))
def test_shares_are_fair(wanted: list[int], supply: int) -> None:
    given_out = share_fairly(wanted, supply)
    assert sum(given_out) == min(supply, sum(wanted))
    assert all(0 <= g <= w for g, w in zip(given_out, wanted, strict=True))
    # Nobody could have one more without somebody with no more having one less.
    for (g, w), (other, _) in itertools.permutations(zip(given_out, wanted, strict=True), 2):
        if g < w:
            assert other <= g + 1


@given(st.lists(st.integers(0, 4), min_size=1, max_size=4), st.integers(0, 12))
def test_shares_against_every_way_of_sharing(wanted: list[int], supply: int) -> None:
    supply = min(supply, sum(wanted))
    ways = itertools.product(*(range(w + 1) for w in wanted))
    # Max-min fair (Bertsekas and Gallager, Data Networks, 6.5.2, from memory): the sorted shares
    # are the largest in dictionary order.
    best = max(sorted(way) for way in ways if sum(way) == supply)
    assert sorted(share_fairly(wanted, supply)) == best


def test_shares_of_less_than_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="-1"):
        share_fairly([1], -1)


def test_a_band_has_beads_for_its_upper_end() -> None:
    kit = make_kit(band_learners(140.0, 170.0, 3), brief())
    top = make_kit([Learner(name="x", least_mm=170.0, most_mm=170.0)], brief())
    for one in kit.learners:
        assert one.fit == top.learners[0].fit
        assert one.least_motifs < one.fit.motifs
        assert not one.learner.measured


def test_whoever_is_measured_too_short_is_told_and_the_others_go_on() -> None:
    # Thirteen dangles and two dividers take 15 * 3.1 = 46.5 mm.
    wide = replace(brief(), strip=Strip(base=KINDS["cube 3"], repeat=Repeat(dangles=13, divider=1)))
    doll = Learner(name="Doll", least_mm=42.0, most_mm=42.0, ease_mm=0.0)
    kit = make_kit([TWELVE[0], doll, TWELVE[1]], wide)
    assert [one.learner.name for one in kit.learners] == ["Learner 0", "Learner 1"]
    (unfit,) = kit.unfit
    assert unfit.learner.name == "Doll"
    assert unfit.needs_mm == pytest.approx(46.5)
    with pytest.raises(BriefError, match="47 mm"):
        make_kit([doll], wide)


def test_a_pick_that_is_not_there_is_told() -> None:
    nobody = Learner(name="Mia", least_mm=150.0, most_mm=150.0, picks=("Gold",))
    with pytest.raises(BriefError, match="Coral"):
        make_kit([nobody], brief())
    with pytest.raises(BriefError, match="1 to 4"):
        make_kit([Learner(name="Mia", least_mm=150.0, most_mm=150.0, picks=("9",))], brief())


def test_dangles_hang_no_lower_than_is_usual_for_children() -> None:
    lengths = brief().lengths
    assert drop_mm(max(lengths), KINDS["round 8/0"]) <= USUAL_DROP_MM[Wear.CHILD]


def test_progress_can_stop_the_work() -> None:
    seen: list[tuple[int, int]] = []

    def three(done: int, total: int) -> bool:
        seen.append((done, total))
        return done < 3

    kit = make_kit(TWELVE, brief(), three)
    assert seen == [(1, 12), (2, 12), (3, 12)]
    assert len(kit.learners) == 3


def test_the_plan_of_time_adds_up_and_parts_sessions() -> None:
    kit = kit_of(10_000)
    stages = time_plan(kit.learners, pace_s=15.0, session_min=30.0)
    most = max(one.counts.base_beads for one in kit.learners)
    assert stages[2].slowest_min == pytest.approx(most * 15.0 / 60.0)
    assert [stage.session for stage in stages] == sorted(stage.session for stage in stages)
    whole = sum(stage.slowest_min for stage in stages)
    assert stages[-1].session == -(-int(whole) // 30)
    assert all(stage.quickest_min <= stage.slowest_min for stage in stages)


def test_labels_and_class_page_name_everybody() -> None:
    kit = kit_of(50)
    (cards,) = (block for block in labels(kit).blocks if isinstance(block, Cards))
    assert [card.title for card in cards.cards] == [one.learner.name for one in kit.learners]
    lacking = {(lack.name, lack.bead.name): lack for lack in kit.short}
    for one, card in zip(kit.learners, cards.cards, strict=True):
        for _, words, figure in card.rows:
            name = words.split(",")[0]
            used, spares = next(n for bead, n in one.needs().items() if bead.name == name)
            lack = lacking.get((one.learner.name, name))
            held = used + spares - (lack.lacking + lack.spares_lacking if lack else 0)
            assert figure == str(held)
    everyone, short, *_ = (
        b for b in class_page(kit, SheetOptions()).blocks if isinstance(b, Table)
    )
    assert [row[1] for row in everyone.rows] == [one.learner.name for one in kit.learners]
    assert len(short.rows) == len(kit.short)


def test_colours_of_their_own_come_before_picks() -> None:
    mia = Learner(
        name="Mia", least_mm=150.0, most_mm=150.0, picks=("Sea",), colours=("#123456", "#f0694f")
    )
    kit = make_kit([mia], brief())
    used = {bead.hex: bead for bead in kit.learners[0].needs()}
    # A colour that is a bead of the class is that bead; any other is a bead of its own.
    assert set(used) == {"#123456", "#f0694f", "#2fa79b", NIGHT.hex}
    assert used["#f0694f"] == COLOURS[0]
    assert used["#123456"].kind == KINDS["round 8/0"]


def test_lots_of_one_bead_are_added_up() -> None:
    text = (
        "name,kind,colour,count,lot\nCoral,round 8/0,#f0694f,40,1\nCoral,round 8/0,#f0694f,50,2\n"
        "Sea,round 8/0,#2fa79b,,\n"
    )
    held = held_in(parse_tray(text).tray)
    assert [(entry.bead.name, entry.count) for entry in held] == [("Coral", 90), ("Sea", None)]
