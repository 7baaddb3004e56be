"""``danglewise change``: every change once, looked at bead by bead in the file that it writes."""

import itertools
import json
import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest

from explorer.__main__ import main
from explorer.brief import Wearer
from explorer.cautions import Wear
from explorer.changes import with_motifs
from explorer.changes_asked import CHANGES
from explorer.design import Column, Design, build
from explorer.pattern import TipRule, with_by_hand
from explorer.pattern_words import by_hand, rules
from explorer.piece import Piece, from_json, piece_of, to_json
from explorer.weave import weave
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab

Asked = Callable[..., dict[str, Any]]
Refused = Callable[..., dict[str, str]]
_Bead = tuple[str, str]

CUBE, ROUND, SMALL, DROP = "cube 3", "round 8/0", "round 11/0", "drop 3.4"
CHALK, BRICK, SEA, MOSS, DEW = "#eeeeee", "#aa2222", "#2222aa", "#228822", "#88aacc"
LENGTHS = (2, 4, 5, 4, 3)
REFERENCE = Path(__file__).parent.parent / "reference" / "pieces"


@dataclass(frozen=True)
class Look:
    """A written piece as one sees it: beads as hex and kind, nothing of how they came about."""

    motifs: list[list[list[_Bead]]]
    bases: list[list[str]]
    dividers: list[list[list[_Bead]]]
    ends: tuple[int, int]
    links: tuple[list[_Bead], list[_Bead]]

    @property
    def lengths(self) -> list[tuple[int, ...]]:
        return [tuple(map(len, motif)) for motif in self.motifs]

    @property
    def colours(self) -> list[str]:
        """Of each motif the colour of its first dangle's first bead."""
        return [motif[0][0][0] for motif in self.motifs]

    @property
    def tips(self) -> list[set[_Bead]]:
        return [{dangle[-1] for dangle in motif} for motif in self.motifs]

    @property
    def bodies(self) -> list[set[_Bead]]:
        return [{bead for dangle in motif for bead in dangle[:-1]} for motif in self.motifs]


def look(design: Design) -> Look:
    def bead(number: int) -> _Bead:
        return design.beads[number].hex, design.beads[number].kind.name

    def hung(columns: tuple[Column, ...]) -> list[list[_Bead]]:
        return [[*map(bead, column.beads)] for column in columns]

    return Look(
        motifs=[hung(motif) for motif in design.motifs],
        bases=[[design.beads[c.base].hex for c in motif] for motif in design.motifs],
        dividers=[hung(divider) for divider in design.dividers],
        ends=(len(design.start_margin), len(design.end_margin)),
        links=([*map(bead, design.start_links)], [*map(bead, design.end_links)]),
    )


def seen(path: Path) -> Look:
    return look(from_json(path.read_text("utf-8"), str(path)).design)


def plain(snug_mm: float = 135.0, ease_mm: float = 11.0) -> Piece:
    """Seven motifs of three colours in turn: 43 base beads of 3.1 mm for 146 mm."""
    kinds = bead_kinds()
    design = build(
        beads=(
            Bead(name="Chalk", kind=kinds[CUBE], hex=CHALK),
            Bead(name="Brick", kind=kinds[ROUND], hex=BRICK),
            Bead(name="Sea", kind=kinds[ROUND], hex=SEA),
            Bead(name="Moss", kind=kinds[ROUND], hex=MOSS),
            Bead(name="Dew", kind=kinds[SMALL], hex=DEW),
        ),
        base=0,
        base_pitch_mm=3.1,
        profiles=(LENGTHS,),
        order=(1, 2, 3, 1, 2, 3, 1),
        divider_base_beads=1,
        divider_hangs=(4,),
    )
    return piece_of(design, name="Seven", wearer=Wearer(snug_mm=snug_mm, ease_mm=ease_mm))


BEFORE = look(plain().design)


class Bench:
    """Changes a piece step by step, each into a file of its own."""

    def __init__(self, folder: Path, asked: Asked, piece: Piece) -> None:
        self._folder, self._asked, self._steps = folder, asked, itertools.count()
        self.path = self._new()
        self.path.write_text(to_json(piece), "utf-8")
        self.told: dict[str, Any] = {}

    def _new(self) -> Path:
        return self._folder / f"piece-{next(self._steps)}.json"

    def __call__(self, *change: str) -> Look:
        out, before = self._new(), self.path.read_bytes()
        self.told = self._asked("change", str(self.path), *change, "--out", str(out))
        assert self.path.read_bytes() == before
        self.path = out
        return seen(out)


@pytest.fixture
def bench(tmp_path: Path, asked: Asked) -> Bench:
    return Bench(tmp_path, asked, plain())


def all_but(rows: list[Any], *places: int) -> list[Any]:
    return [row for place, row in enumerate(rows) if place not in places]


def in_colour(motif: list[list[_Bead]], hex_: str) -> bool:
    return {bead for dangle in motif for bead in dangle} == {(hex_, ROUND)}


def grown(*more: int) -> list[tuple[int, ...]]:
    return [tuple(length + beads for length in LENGTHS) for beads in more]


# By word: the line, and whether what it wrote is what was asked, worked out by hand.
EFFECTS: dict[str, tuple[list[str], Callable[[Look], bool]]] = {
    "colour": (
        ["moss", "--motif", "1"],
        lambda now: in_colour(now.motifs[0], MOSS)
        and all_but(now.motifs, 0) == all_but(BEFORE.motifs, 0),
    ),
    "base": (
        ["Brick,Soot 101010"],
        # From bead to bead over the 43 of the strip, the first of which is a divider's.
        lambda now: now.bases[0] == ["#101010", BRICK, "#101010", BRICK, "#101010"]
        and now.motifs == BEFORE.motifs,
    ),
    "length": (
        ["7", "--motif", "2", "--dangle", "3"],
        lambda now: now.lengths[1] == (2, 4, 7, 4, 3)
        and all_but(now.motifs, 1) == all_but(BEFORE.motifs, 1),
    ),
    "outline": (["1,2,3,2,1"], lambda now: now.lengths == [(1, 2, 3, 2, 1)] * 7),
    "turns": (
        ["AB", "2,4,5,4,3", "1,1,1,1,1"],
        lambda now: now.lengths == [LENGTHS, *[(1,) * 5, LENGTHS] * 3],
    ),
    "mirror-outlines": ([], lambda now: now.lengths == [LENGTHS] * 4 + [LENGTHS[::-1]] * 3),
    # Two beads over three steps from the end to the middle: 0, 2/3, 4/3 and 2, rounded.
    "grow": (["2"], lambda now: now.lengths == grown(0, 1, 1, 2, 1, 1, 0)),
    "inside": (
        ["tips"],
        # Moss is the lightest of the three and goes to every tip but its own, where sea does.
        lambda now: [{hex_ for hex_, _ in tip} for tip in now.tips]
        == [{MOSS}, {MOSS}, {SEA}, {MOSS}, {MOSS}, {SEA}, {MOSS}],
    ),
    "tips": (
        ["--kind", DROP, "--colour", "dew"],
        lambda now: now.tips == [{(DEW, DROP)}] * 7 and now.bodies == BEFORE.bodies,
    ),
    "divider": (
        ["round 11/0 in Dew", "brick"],
        lambda now: now.dividers == [[[(DEW, SMALL), (BRICK, ROUND)]]] * 8,
    ),
    "links": (["2", "--bead", "brick"], lambda now: now.links == ([(BRICK, ROUND)] * 2,) * 2),
    "order": (
        ["mirror"],
        lambda now: now.colours == now.colours[::-1] and {*now.colours} == {BRICK, SEA, MOSS},
    ),
    "swap": (
        ["1", "2"],
        lambda now: now.motifs == [BEFORE.motifs[n] for n in (1, 0, 2, 3, 4, 5, 6)],
    ),
    "move": (
        ["1", "3"],
        lambda now: now.motifs == [BEFORE.motifs[n] for n in (1, 2, 0, 3, 4, 5, 6)],
    ),
    "insert": (
        ["2", "--colour", "fff"],
        lambda now: len(now.motifs) == 8
        and in_colour(now.motifs[2], "#ffffff")
        and all_but(now.motifs, 2) == BEFORE.motifs,
    ),
    "remove": (["2"], lambda now: now.motifs == all_but(BEFORE.motifs, 1)),
    "lock": (["1"], lambda now: now == BEFORE),
    "unlock": (["1"], lambda now: now == BEFORE),
    "swap-colours": (
        ["1", "2"],
        lambda now: now.colours == [SEA, BRICK, MOSS, BRICK, SEA, MOSS, BRICK]
        and now.lengths == BEFORE.lengths,
    ),
    "another-colour": (
        ["brick", "Straw e7c66b"],
        lambda now: now.colours == [{BRICK: "#e7c66b"}.get(one, one) for one in BEFORE.colours]
        and now.dividers == BEFORE.dividers,
    ),
    "recolour": (
        ["111111,222222", "--base", "333333"],
        # Brick takes the first, sea the second, moss the first again.
        lambda now: now.colours == [f"#{n}{n}{n}{n}{n}{n}" for n in (1, 2, 1, 1, 2, 1, 1)]
        and {hex_ for row in now.bases for hex_ in row} == {"#333333"},
    ),
    # An ankle's ease is 32 mm: 167 mm hold 53 base beads, so 8 motifs of 49.
    "wear": (["anklet"], lambda now: len(now.motifs) == 8),
    # 170 and 11 mm hold 58 base beads, so 9 motifs of 55; the colours begin anew after seven.
    "for": (["17 cm"], lambda now: now.colours == [*BEFORE.colours, BRICK, SEA]),
    # 146 less 20 mm hold 40 base beads, so 6 motifs of 37.
    "closure": (["2 cm", "--kind", "toggle clasp"], lambda now: now.motifs == BEFORE.motifs[:6]),
    # 12.7 mm are left over, so two base beads at each end.
    "plain-ends": ([], lambda now: now.ends == (2, 2) and now.motifs == BEFORE.motifs),
    # 146 mm hold 47 base beads, so 9 motifs of four dangles and a divider.
    "strip": (
        ["--dangles", "4", "--hanging", SMALL],
        lambda now: [len(motif) for motif in now.motifs] == [4] * 9
        and {kind for motif in now.bodies for _, kind in motif} == {SMALL},
    ),
}  # fmt: skip


def test_every_change_has_a_word_that_is_tried_here() -> None:
    assert sorted(EFFECTS) == sorted(one.word for one in CHANGES)


@pytest.mark.parametrize("word", EFFECTS)
def test_a_change_does_what_its_word_says_and_tells_it(bench: Bench, word: str) -> None:
    change, is_so = EFFECTS[word]
    if word == "unlock":
        bench("lock", "1")
    assert is_so(bench(word, *change))
    told = bench.told
    assert told["brief"]["change"] == word
    assert told["file"] == str(bench.path)
    assert told["piece"] is None
    assert told["now"] or told["was"]
    assert told["gave_up"] == told["asleep"] == told["asks"] == []


@pytest.mark.parametrize("word", EFFECTS)
def test_a_change_tells_what_is_said_of_the_piece_after_it_and_was_not_before(
    tmp_path: Path, asked: Asked, word: str
) -> None:
    path = tmp_path / "piece.json"
    path.write_text(to_json(plain()), "utf-8")
    told = asked("change", str(path), word, *EFFECTS[word][0])
    changed = from_json(json.dumps(told["piece"]))
    before, after = ({*rules(p.pattern), *by_hand(p.pattern)} for p in (plain(), changed))
    assert {*told["now"]} == after - before
    assert {*told["was"]} == before - after
    assert told["file"] is None


def test_a_dangle_a_bead_and_a_base_bead_take_a_colour_and_no_other_bead_does(
    bench: Bench,
) -> None:
    now = bench("colour", "Straw e7c66b", "--motif", "2", "--dangle", "3")
    assert {hex_ for hex_, _ in now.motifs[1][2]} == {"#e7c66b"}
    assert all_but(now.motifs[1], 2) == all_but(BEFORE.motifs[1], 2)
    now = bench("colour", "brick", "--motif", "2", "--dangle", "3", "--bead", "5")
    assert [hex_ for hex_, _ in now.motifs[1][2]] == ["#e7c66b"] * 4 + [BRICK]
    now = bench("colour", "moss", "--motif", "2", "--dangle", "3", "--base")
    assert now.bases[1] == [CHALK, CHALK, MOSS, CHALK, CHALK]
    assert all_but(now.bases, 1) == all_but(BEFORE.bases, 1)
    now = bench("colour", "sea", "--all")
    assert all(in_colour(motif, SEA) for motif in now.motifs)
    assert now.bases[1][2] == MOSS


def test_one_motif_takes_an_outline_tips_and_colours_inside_of_its_own(bench: Bench) -> None:
    now = bench("outline", "peak 1-6", "--motif", "4")
    assert now.lengths[3] == (1, 3, 6, 3, 1)
    now = bench("tips", "--colour", "dew", "--motif", "5")
    assert now.tips[4] == {(DEW, ROUND)}
    now = bench("inside", "tips", "--motif", "1")
    assert now.tips[0] == {(MOSS, ROUND)}
    assert all_but(now.tips, 0, 4) == all_but(BEFORE.tips, 0, 4)
    assert all_but(now.lengths, 3) == all_but(BEFORE.lengths, 3)
    now = bench("length", "9", "--motif", "1", "--dangle", "1", "--everywhere")
    assert [row[0] for row in now.lengths] == [9] * 7
    assert "Motif 4 keeps an outline of its own." not in bench.told["gave_up"]
    bench("outline", "3,3,3,3,3")
    assert "Motif 4 keeps an outline of its own." in bench.told["gave_up"]


def test_a_letter_takes_an_outline_and_a_shape_takes_the_lengths_that_are_there(
    bench: Bench,
) -> None:
    bench("turns", "AB", "2,4,5,4,3", "level 3-3")
    now = bench("outline", "peak", "--letter", "a")
    assert now.lengths[:2] == [(2, 3, 5, 3, 2), (3,) * 5]
    now = bench("outline", "4,4,4,4,4", "--letter", "B")
    assert now.lengths[:2] == [(2, 3, 5, 3, 2), (4,) * 5]


# Colours as they are told.


@pytest.mark.parametrize(
    ("told", "name", "hex_", "finish"),
    [
        ("Brick", "Brick", BRICK, "opaque"),
        ("  bRICK ", "Brick", BRICK, "opaque"),
        ("aa2222", "Brick", BRICK, "opaque"),
        ("#AA2222", "Brick", BRICK, "opaque"),
        ("Old brick aa2222", "Old brick", BRICK, "opaque"),
        ("Fog #abc", "Fog", "#aabbcc", "opaque"),
        ("abc", "#aabbcc", "#aabbcc", "opaque"),
        ("Fog aabbcc matte", "Fog", "#aabbcc", "matte"),
        ("aa2222 silver-lined", BRICK, BRICK, "silver-lined"),
    ],
)
def test_a_colour_is_a_hex_with_or_without_a_name_or_one_of_the_pieces(
    bench: Bench, told: str, name: str, hex_: str, finish: str
) -> None:
    bench("colour", told, "--motif", "2")
    design = from_json(bench.path.read_text("utf-8")).design
    bead = design.beads[design.motifs[1][0].beads[0]]
    assert (bead.name, bead.hex, bead.finish.value) == (name, hex_, finish)


def test_two_colours_of_one_name_are_told_apart_by_their_hexes(
    bench: Bench, refused: Refused
) -> None:
    bench("colour", "Brick cc3333", "--motif", "2")
    error = refused("change", str(bench.path), "colour", "brick", "--motif", "1", "--out", "o.json")
    assert (error["field"], error["remedy"]) == ("colour", "Write its hex.")
    assert "#aa2222, #cc3333" in error["wanted"]
    assert in_colour(bench("colour", "cc3333", "--motif", "1").motifs[0], "#cc3333")


def test_a_colour_without_a_name_is_found_by_its_hex(tmp_path: Path, asked: Asked) -> None:
    piece = plain()
    nameless = tuple(replace(colour, name="") for colour in piece.pattern.colours)
    piece = replace(piece, pattern=replace(piece.pattern, colours=nameless))
    bench = Bench(tmp_path, asked, piece)
    assert bench("another-colour", BRICK, "fff").colours[:2] == ["#ffffff", SEA]
    bench("colour", SEA, "--motif", "3")
    # White is new, and brick is kept, so that it is found again.
    assert len(from_json(bench.path.read_text("utf-8")).pattern.colours) == len(nameless) + 1


def test_a_kind_has_the_figures_that_the_piece_was_made_with(tmp_path: Path, asked: Asked) -> None:
    odd = plain()
    own = replace(bead_kinds()[DROP], pitch_mm=3.0)
    tipped = replace(odd.pattern, tip=TipRule(kind=own))
    bench = Bench(tmp_path, asked, replace(odd, pattern=tipped))
    bench("divider", "drop 3.4 in dew")
    design = from_json(bench.path.read_text("utf-8")).design
    assert {b.kind.pitch_mm for b in design.beads if b.kind.name == DROP} == {3.0}


# Faults that a change must not have.


def test_tips_of_another_colour_survive_the_painting_of_a_motif(bench: Bench) -> None:
    bench("tips", "--colour", "dew", "--kind", DROP)
    now = bench("colour", "Straw e7c66b", "--motif", "3")
    assert now.tips == [{(DEW, DROP)}] * 7
    assert now.bodies[2] == {("#e7c66b", ROUND)}
    now = bench("colour", "sea", "--all")
    assert now.tips == [{(DEW, DROP)}] * 7
    assert now.bodies == [{(SEA, ROUND)}] * 7


@pytest.mark.parametrize("mend", [("swap-colours", "1", "2"), ("another-colour", "brick", "fff")])
def test_mending_a_pair_leaves_tips_outlines_and_what_was_painted_inside(
    bench: Bench, mend: tuple[str, ...]
) -> None:
    bench("tips", "--colour", "dew")
    bench("length", "8", "--motif", "1", "--dangle", "2")
    before = bench("colour", "moss", "--motif", "1", "--dangle", "4")
    now = bench(*mend)
    assert now.tips == [{(DEW, ROUND)}] * 7
    assert now.lengths == before.lengths
    assert now.motifs[0][3] == [(MOSS, ROUND)] * 3 + [(DEW, ROUND)]
    new = SEA if mend[0] == "swap-colours" else "#ffffff"
    assert now.motifs[0][1] == [(new, ROUND)] * 7 + [(DEW, ROUND)]


def test_tips_keep_their_colour_where_their_kind_changes_and_the_other_way_round(
    bench: Bench,
) -> None:
    bench("tips", "--colour", "dew")
    bench("tips", "--colour", "moss", "--motif", "2")
    now = bench("tips", "--kind", DROP)
    assert now.tips == [{(DEW, DROP)}, {(MOSS, ROUND)}, *[{(DEW, DROP)}] * 5]
    assert bench.told["gave_up"] == ["Motif 2 keeps its own turning beads."]
    now = bench("tips", "--kind", DROP, "--motif", "2")
    assert now.tips[1] == {(MOSS, DROP)}
    now = bench("tips", "--colour", "brick")
    assert now.tips == [{(BRICK, DROP)}, {(MOSS, DROP)}, *[{(BRICK, DROP)}] * 5]
    now = bench("tips", "--plain", "--kind", DROP)
    assert [hex_ for tip in all_but(now.tips, 1) for hex_, _ in tip] == all_but(BEFORE.colours, 1)
    now = bench("tips", "--plain", "--motif", "2")
    assert now.tips[1] == {(SEA, ROUND)}


def test_tips_of_a_motif_kept_bead_by_bead_keep_what_is_not_named(
    tmp_path: Path, asked: Asked
) -> None:
    everything = from_json((REFERENCE / "v1-everything.json").read_text("utf-8"))
    assert everything.pattern.by_hand(1).held
    bench = Bench(tmp_path, asked, everything)
    before = look(everything.design).motifs[1]
    now = bench("tips", "--kind", DROP, "--motif", "2").motifs[1]
    assert [dangle[-1] for dangle in now] == [(dangle[-1][0], DROP) for dangle in before]
    assert [dangle[:-1] for dangle in now] == [dangle[:-1] for dangle in before]
    now = bench("tips", "--colour", "plum", "--motif", "2").motifs[1]
    assert {dangle[-1] for dangle in now} == {("#7a2f5c", DROP)}


@pytest.mark.parametrize("dangles", [1, 2, 5])
def test_a_motif_kept_bead_by_bead_is_changed_where_it_is_seen_in_another_width(
    tmp_path: Path, asked: Asked, dangles: int
) -> None:
    everything = from_json((REFERENCE / "v1-everything.json").read_text("utf-8"))
    assert len(everything.pattern.by_hand(1).held or ()) == 2
    bench = Bench(tmp_path, asked, everything)
    bench("for", "150")
    before = bench("strip", "--dangles", str(dangles))
    last = dangles - 1
    now = bench("colour", "fff", "--motif", "2", "--dangle", str(dangles))
    assert {hex_ for hex_, _ in now.motifs[1][last]} == {"#ffffff"}
    assert now.motifs[1][:last] == before.motifs[1][:last]
    bench("colour", "abc", "--motif", "2", "--dangle", str(dangles), "--bead", "1")
    now = bench("colour", "def", "--motif", "2", "--dangle", str(dangles), "--base")
    assert now.motifs[1][last][0][0] == "#aabbcc"
    assert now.bases[1] == [*before.bases[1][:last], "#ddeeff"]
    now = bench("length", "7", "--motif", "2", "--dangle", str(dangles))
    assert now.lengths[1] == (*before.lengths[1][:last], 7)
    now = bench("outline", ",".join("3" * dangles), "--motif", "2")
    assert now.lengths[1] == (3,) * dangles


def test_another_wrist_takes_a_wrists_ease_where_nobody_set_it(
    tmp_path: Path, asked: Asked
) -> None:
    # Usual are 11 mm at a wrist and 32 mm at an ankle, which begins at 195 mm.
    for snug_mm, ease_mm, to, usual_mm in ((135, 11, "230", 32), (230, 32, "150", 11)):
        (tmp_path / to).mkdir()
        bench = Bench(tmp_path / to, asked, plain(snug_mm, ease_mm))
        bench("for", to)
        assert bench.told["figures"]["ease_mm"] == usual_mm
        (question,) = bench.told["asks"]
        assert question.startswith("It was a")


def test_an_ease_that_was_set_by_hand_stays_on_another_wrist_and_is_asked_about(
    tmp_path: Path, asked: Asked
) -> None:
    bench = Bench(tmp_path, asked, plain(230.0, 20.0))
    bench("for", "150")
    assert bench.told["figures"]["ease_mm"] == 20.0
    _, question = bench.told["asks"]
    assert "20 mm" in question
    assert "11 mm" in question
    bench("wear", "anklet")
    assert "32 mm" in bench.told["asks"][0]
    bench("for", "--ease", "usual")
    assert bench.told["figures"]["ease_mm"] == 32.0
    assert bench.told["asks"] == []
    bench("for", "--ease", "0")
    assert bench.told["figures"]["ease_mm"] == 0.0
    bench("for", "160", "--wear", "bracelet")
    assert bench.told["figures"]["ease_mm"] == 0.0
    assert "11 mm" in bench.told["asks"][0]


def test_an_ease_that_would_leave_room_for_no_motif_stays_and_that_is_told(
    tmp_path: Path, asked: Asked
) -> None:
    # A motif takes 21.7 mm: 40 and 32 less 35 mm hold one, 40 and 11 less 35 mm none.
    piece = plain(40.0, 32.0)
    worn = replace(piece.pattern.worn, wear=Wear.ANKLET, own_ease=False)
    bench = Bench(tmp_path, asked, replace(piece, pattern=replace(piece.pattern, worn=worn)))
    bench("closure", "35")
    assert len(bench("wear", "bracelet").motifs) == 1
    assert bench.told["figures"]["ease_mm"] == 32.0
    assert bench.told["gave_up"] == ["The ease stays 32 mm: with the usual 11 mm no motif fits."]


def test_a_fade_that_is_asked_for_is_one_and_stays_one_in_another_size(bench: Bench) -> None:
    now = bench("order", "fade", "--colours", "000000,444444,888888,cccccc")
    lightness = srgb1_to_lab(hexes_to_srgb1(now.colours))[:, 0].tolist()
    assert lightness in (sorted(lightness), sorted(lightness, reverse=True))
    assert len({*now.colours}) == 4
    now = bench("for", "230")
    assert len(now.motifs) > 7
    lightness = srgb1_to_lab(hexes_to_srgb1(now.colours))[:, 0].tolist()
    assert lightness in (sorted(lightness), sorted(lightness, reverse=True))


def test_a_mirror_that_is_asked_for_is_one_and_stays_one_in_another_size(bench: Bench) -> None:
    bench("order", "mirror", "--colours", "brick,sea,moss,dew")
    for snug in ("230", "150", "100"):
        now = bench("for", snug)
        assert now.colours == now.colours[::-1]
        assert len({*now.colours}) > 1


def test_orders_as_they_are_told(bench: Bench) -> None:
    assert bench("order", "two", "--colours", "brick,dew").colours == [BRICK, DEW] * 3 + [BRICK]
    # Sea and moss are known, though no motif has them now.
    given = "sea,sea,moss,dew,dew,brick,chalk"
    now = bench("order", "given", "--colours", given)
    assert now.colours == [SEA, SEA, MOSS, DEW, DEW, BRICK, CHALK]
    assert bench("order", "given", "--colours", f"{SEA},{MOSS}").colours == [SEA, MOSS] * 3 + [SEA]
    now = bench("order", "blocks", "--colours", f"{BRICK},{SEA}")
    assert [len([*run]) for _, run in itertools.groupby(now.colours)] == [4, 3]
    three = f"{BRICK},{SEA},{MOSS}"
    unit = bench("order", "repeat", "--colours", three, "--length", "3").colours
    assert unit == [unit[slot % 3] for slot in range(7)]
    spread = bench("order", "free", "--colours", three, "--gap", "2").colours
    assert all(len({*spread[slot : slot + 3]}) == 3 for slot in range(5))


def test_colours_given_by_hand_are_kept_or_told_as_lost(bench: Bench) -> None:
    bench("colour", "dew", "--motif", "2")
    bench("colour", "dew", "--motif", "5", "--dangle", "3", "--bead", "2")
    bench("for", "230")
    bench("colour", "dew", "--motif", "12")
    bench("for", "135")
    start = bench.path
    now = bench("order", "given", "--colours", f"{SEA},{MOSS}")
    assert now.colours == [SEA, DEW, SEA, MOSS, SEA, MOSS, SEA]
    assert now.motifs[4][2][1] == (DEW, ROUND)
    assert bench.told["gave_up"] == ["Motifs 2, 5 keep what was coloured by hand."]
    each = f"{BRICK},{SEA},{MOSS}," * 2 + BRICK
    for change in (["order", "given", "--colours", each], ["colour", "sea", "--all"]):
        bench.path = start
        assert DEW not in {hex_ for motif in bench(*change).motifs for d in motif for hex_, _ in d}
        assert bench.told["gave_up"] == [
            "Motifs 2, 5 lose what was coloured by hand.",
            "1 motif that waits for a longer strip loses what was coloured by hand.",
        ]


def test_a_locked_motif_is_said_to_be_locked_where_it_keeps_its_outline(bench: Bench) -> None:
    bench("outline", "1,2,3,4,5", "--motif", "6")
    bench("lock", "5")
    bench("mirror-outlines")
    own = "Motif 6 keeps an outline of its own."
    assert bench.told["gave_up"] == [own, "Motif 5 is locked and stays as it is."]
    assert "That does not hold for motif 5, which is locked." in bench.told["now"]
    bench("tips", "--kind", DROP)
    assert bench.told["gave_up"] == ["Motif 5 is locked and stays as it is."]


def test_a_copy_of_a_locked_motif_is_told_in_words_that_can_be_read(bench: Bench) -> None:
    bench("colour", "dew", "--motif", "5", "--dangle", "2", "--bead", "1")
    bench("lock", "5")
    bench("insert", "5")
    found = "kept bead by bead, by no rule (base bead 1 in Chalk: 2 round 8/0 in Sea; base bead 2"
    (copy,) = [words for words in bench.told["now"] if found in words]
    assert copy.startswith("Motif 6: ")
    assert "; base bead 2 in Chalk: round 8/0 in Dew, 3 round 8/0 in Sea; base bead 3 in" in copy


def test_a_piece_that_another_size_makes_another_thing_asks_what_it_is(
    tmp_path: Path, asked: Asked, capsys: pytest.CaptureFixture[str]
) -> None:
    bench = Bench(tmp_path, asked, plain(214.0, 32.0))
    anklet = bench.path
    bench("for", "190 mm")
    words = (
        "It was an anklet by its size; by 190 mm it is a bracelet, with 11 mm of ease. "
        "Is it still an anklet?"
    )
    assert bench.told["asks"] == [words]
    bench("for", "--wear", "anklet")
    assert bench.told["asks"] == []
    assert bench.told["figures"]["ease_mm"] == 32.0
    for wear in ([], ["--wear", "anklet"]):
        out = str(tmp_path / f"{len(wear)}.json")
        assert main(["change", str(anklet), "for", "190 mm", *wear, "--out", out]) == 0
        told = capsys.readouterr().out
        assert (words in told) == ("answer with another change: `for --wear" in told) == (not wear)


def test_a_dangle_that_hangs_low_is_cautioned_of_as_on_the_sheet(bench: Bench) -> None:
    bench("length", "7", "--motif", "2", "--dangle", "1")
    (words,) = bench.told["cautions"]
    bench("length", "99", "--motif", "2", "--dangle", "1")
    (longer,) = bench.told["cautions"]
    for one in (words, longer):
        assert re.match(r"The longest dangle hangs \d+\.\d mm; usual for a bracelet is up to", one)
    assert longer != words
    bench("colour", "sea", "--motif", "1")
    assert bench.told["cautions"] == []


def test_a_unit_is_no_longer_than_the_strip_and_a_shorter_one_is_told(
    bench: Bench, refused: Refused
) -> None:
    for change in (["repeat", "--length", "99"], ["blocks", "--length", "8"]):
        error = refused("change", str(bench.path), "order", *change, "--out", "never.json")
        assert (error["field"], error["got"]) == ("length", change[-1])
    for order in ("free", "mirror", "fade"):
        change = ["order", order, "--length", "3", "--out", "never.json"]
        assert refused("change", str(bench.path), *change)["field"] == "length"
    bench("order", "repeat", "--length", "7")
    assert bench.told["gave_up"] == ["In this strip a unit of 4 motifs gives the same colours."]
    bench("order", "repeat", "--length", "3")
    assert bench.told["gave_up"] == []


def test_a_bead_of_a_divider_is_refused_for_what_is_wrong_with_it(
    bench: Bench, refused: Refused
) -> None:
    for beads, got, wanted in (
        (["Nope in Brick"], "Nope", "round 8/0"),
        (["round 8/0 in Nope"], "Nope", "a hex colour"),
        (["a", "b", "c", "d", "e", "f"], "6", "nought to 3 small beads"),
    ):
        error = refused("change", str(bench.path), "divider", *beads, "--out", "never.json")
        assert (error["field"], error["got"]) == ("bead", got)
        assert wanted in error["wanted"]


def test_what_another_colour_does_not_reach_is_told(bench: Bench) -> None:
    bench("divider", "round 11/0 in moss", "round 11/0 in dew")
    bench("base", "chalk,brick")
    bench("links", "1", "--bead", "round 8/0 in brick")
    bench("lock", "1")
    start = bench.path
    bench("another-colour", "brick", "Rust b5541c")
    kept = "Brick stays in the base, locked motif 1 and link beads."
    assert bench.told["gave_up"] == [kept]
    bench("another-colour", "sea", "Rust b5541c")
    assert bench.told["gave_up"] == []
    bench.path = start
    # Seen first are sea, moss and brick: moss takes the second colour between motifs, too.
    now = bench("recolour", "111111,222222")
    assert now.dividers == [[[("#222222", SMALL), (DEW, SMALL)]]] * 8
    assert bench.told["gave_up"] == [
        "Motif 1 is locked and stays as it is.",
        "The base stays in Chalk and Brick.",
        "Dividers stay in Dew.",
        "Link beads stay in Brick.",
    ]
    bench.path = start
    now = bench("recolour", "111111,222222", "--base", "333333")
    assert now.dividers == [[[("#222222", SMALL), ("#333333", SMALL)]]] * 8


def test_a_maker_who_did_three_things_by_hand_finds_them_after_mending_and_other_sizes(
    bench: Bench,
) -> None:
    bench("tips", "--kind", DROP, "--colour", "dew")
    bench("divider", "round 11/0 in moss", "round 11/0 in dew")
    bench("colour", "Straw e7c66b", "--motif", "5")
    bench("length", "9", "--motif", "5", "--dangle", "3")
    bench("swap-colours", "2", "3")
    mended = bench("another-colour", "brick", "Rust b5541c")
    assert mended.tips == [{(DEW, DROP)}] * 7
    assert mended.dividers == [[[(MOSS, SMALL), (DEW, SMALL)]]] * 8
    assert mended.lengths[4] == (2, 4, 9, 4, 3)
    assert mended.bodies[4] == {("#e7c66b", ROUND)}
    for snug, motifs in (("230", 13), ("100", 5), ("60", 3), ("135", 7)):
        now = bench("for", snug)
        assert len(now.motifs) == motifs
        assert now.tips == [{(DEW, DROP)}] * motifs
        assert now.dividers == [[[(MOSS, SMALL), (DEW, SMALL)]]] * (motifs + 1)
        if motifs > 4:
            assert now.lengths[4] == (2, 4, 9, 4, 3)
    assert now == mended


def test_a_locked_motif_is_passed_by_and_refused_where_it_is_named(
    bench: Bench, refused: Refused
) -> None:
    bench("lock", "1")
    now = bench("colour", "sea", "--all")
    assert in_colour(now.motifs[0], BRICK)
    assert all(in_colour(motif, SEA) for motif in now.motifs[1:])
    for change in (
        ["colour", "sea", "--motif", "1"],
        ["length", "3", "--motif", "1", "--dangle", "1"],
        ["outline", "1,1,1,1,1", "--motif", "1"],
        ["tips", "--kind", DROP, "--motif", "1"],
        ["inside", "tips", "--motif", "1"],
        ["swap", "2", "1"],
        ["move", "1", "3"],
        ["remove", "1"],
        ["swap-colours", "1", "2"],
        ["lock", "1"],
    ):
        error = refused("change", str(bench.path), *change, "--out", "never.json")
        assert (error["field"], error["got"]) == ("motif", "1")
        assert "Unlock" in error["remedy"]
    bench("unlock", "1")
    assert in_colour(bench("colour", MOSS, "--motif", "1").motifs[0], MOSS)


@pytest.mark.parametrize("slot", [0, 2, 3])
@pytest.mark.parametrize("order", ["free", "mirror", "repeat", "fade", "blocks", "two"])
def test_no_order_sets_a_settled_motif_beside_its_like(bench: Bench, order: str, slot: int) -> None:
    three = f"{BRICK},{SEA},{MOSS}"
    row = f"{BRICK},{MOSS}" if order == "two" else three
    for motif, hex_ in (("lock", None), ("colour", SEA), ("colour", MOSS)):
        bench("order", "given", "--colours", f"{three},{three},{BRICK}")
        if hex_ is None:
            bench("lock", str(slot + 1))
        else:
            bench(motif, hex_, "--motif", str(slot + 1))
        now = bench("order", order, "--colours", row).colours
        beside = [now[n] for n in (slot - 1, slot + 1) if 0 <= n < 7]
        # In a block, in a fade and in the middle of a mirror neighbours are alike on purpose.
        run = [len([*same]) for _, same in itertools.groupby(now)]
        told = [words for words in bench.told["gave_up"] if "beside its like" in words]
        if order in {"fade", "blocks"}:
            # A fade turns round at most: a colour in its middle may be too much.
            assert (max(run) > 3) == bool(told) == ((order, slot, hex_) == ("fade", 3, None)), now
        else:
            assert now[slot] not in beside, now
            assert told == []
        if hex_ is None:
            bench("unlock", str(slot + 1))


def test_a_settled_motif_that_has_to_stand_beside_its_like_is_told(bench: Bench) -> None:
    bench("order", "two", "--colours", "brick,sea")
    bench("lock", "1")
    bench("colour", "brick", "--motif", "4")
    now = bench("order", "two").colours
    like = [n for n in (0, 3) if BRICK in {now[m] for m in (n - 1, n + 1) if m >= 0}]
    assert len(like) == 1
    why = {0: "is locked", 3: "keeps the colour given by hand"}[like[0]]
    assert f"Motif {like[0] + 1} {why} and stands beside its like." in bench.told["gave_up"]


# A piece told, and what is refused.


def test_each_colour_of_a_base_of_two_is_changed(bench: Bench, refused: Refused) -> None:
    bench("base", "Brick,Soot 101010", "--by-motif")
    assert [row[0] for row in bench("base", "dew", "--number", "2").bases[:2]] == [BRICK, DEW]
    assert [row[0] for row in bench("base", "moss", "--number", "1").bases[:3]] == [MOSS, DEW, MOSS]
    for change, field in (
        (["dew", "--number", "3"], "number"),
        (["dew,sea", "--number", "1"], "colours"),
        (["dew", "--number", "1", "--by-motif"], "by-motif"),
    ):
        error = refused("change", str(bench.path), "base", *change, "--out", "never.json")
        assert error["field"] == field


def test_a_locked_motif_of_another_width_is_told_with_the_strip(bench: Bench, asked: Asked) -> None:
    bench("lock", "2")
    bench("strip", "--dangles", "4")
    assert bench.told["gave_up"] == ["Every motif that is not locked is 4 dangles wide now."]
    ruled = asked("change", str(bench.path))["rules"]
    assert ruled[0] == "9 motifs of 4 dangles, but for motif 2 of 5 dangles."


@pytest.mark.parametrize(
    "change", [("turns", "AB", "2,4,5,4,3", "1,1,1,1,1"), ("mirror-outlines",), ("grow", "3")]
)
def test_rules_tell_which_motifs_they_do_not_hold_for(
    bench: Bench, asked: Asked, change: tuple[str, ...]
) -> None:
    bench(*change)
    assert not [w for w in asked("change", str(bench.path))["rules"] if "does not hold" in w]
    was = bench.path
    lengths = bench("insert", "2").lengths
    # Those that hang otherwise than eight motifs by the same rules.
    ruled = from_json(was.read_text("utf-8")).pattern
    by_rule = look(weave(with_motifs(ruled, 8))).lengths
    own = [
        str(n) for n, both in enumerate(zip(lengths, by_rule, strict=True), 1) if len({*both}) > 1
    ]
    assert own
    words = [w for w in asked("change", str(bench.path))["rules"] if "does not hold" in w]
    many = len(own) > 1
    those, its = f"motif{'s' * many} {', '.join(own)}", "their" if many else "its"
    assert words == [f"That does not hold for {those}, by an outline of {its} own."]


def test_a_gap_that_an_insertion_broke_is_told(bench: Bench, asked: Asked) -> None:
    bench("order", "free", "--gap", "2")
    assert "within 2 motifs: " in " ".join(asked("change", str(bench.path))["rules"])
    bench("insert", "2")
    ruled = " ".join(asked("change", str(bench.path))["rules"])
    assert "within 2 motifs, which does not hold any more: " in ruled


def test_an_accent_under_the_tips_own_colour_is_told(bench: Bench) -> None:
    words = (
        "The turning beads have a colour of their own, which lies over the accent: give them that "
        "of their dangles to see it."
    )
    bench("tips", "--colour", "dew")
    assert bench("inside", "tips").tips == [{(DEW, ROUND)}] * 7
    assert bench.told["gave_up"] == [words]
    bench("inside", "tips", "--motif", "2")
    assert bench.told["gave_up"] == [words]
    bench("inside", "bands")
    assert bench.told["gave_up"] == []
    bench("tips", "--plain")
    assert bench("inside", "tips").tips[0] == {(MOSS, ROUND)}
    assert bench.told["gave_up"] == []


def test_a_piece_is_told_by_its_rules_and_what_was_done_by_hand(
    bench: Bench, asked: Asked, capsys: pytest.CaptureFixture[str]
) -> None:
    bench("tips", "--kind", DROP, "--colour", "dew")
    bench("colour", "moss", "--motif", "2")
    bench("colour", "sea", "--motif", "2", "--dangle", "3", "--bead", "5")
    bench("length", "1", "--motif", "3", "--dangle", "2")
    told = asked("change", str(bench.path))
    assert "7 motifs of 5 dangles." in told["rules"]
    assert "Turning beads are drop 3.4 in Dew." in told["rules"]
    assert told["by_hand"] == [
        "Motif 2: in Moss, the turning bead of dangle 3 in Sea.",
        "Motif 3: dangle 2 1 bead long.",
    ]
    assert told["asleep"] == []
    assert told["figures"]["base_beads"] == 43
    assert math.isclose(told["figures"]["finished_ease_mm"], 133.3 - 135.0)
    assert main(["change", str(bench.path)]) == 0
    text = capsys.readouterr().out
    for sentence in (*told["rules"], *told["by_hand"]):
        assert sentence in text
    # A piece that is shorter than the limb is said to be so wherever it is told of.
    assert "Shorter than the limb" in text


def test_what_sleeps_is_told_when_it_falls_asleep_and_in_the_piece(
    bench: Bench, asked: Asked
) -> None:
    bench("colour", "sea", "--motif", "1", "--dangle", "3", "--bead", "4")
    bench("outline", "2,2,2,2,2")
    assert bench.told["asleep"] == ["A touch by hand in motif 1 now has no place."]
    assert asked("change", str(bench.path))["asleep"] == ["Motif 1: bead 4 of dangle 3 in Sea."]
    assert bench("outline", "5,5,5,5,5").motifs[0][2][3] == (SEA, ROUND)


@pytest.mark.parametrize("file", ["v1-everything.json", "v1-proposed.json"])
def test_every_sentence_about_an_old_piece_is_one(asked: Asked, file: str) -> None:
    told = asked("change", str(REFERENCE / file))
    for sentence in (*told["rules"], *told["by_hand"]):
        assert sentence.endswith(".")
        assert "None" not in sentence
        assert "  " not in sentence


def test_a_motif_that_is_no_more_than_its_rules_is_not_told_as_done_by_hand() -> None:
    pattern = plain().pattern
    assert by_hand(pattern) == ()
    assert by_hand(with_by_hand(pattern, 0, pattern.by_hand(0))) == ()


@pytest.mark.parametrize(
    ("change", "field"),
    [
        (["colour", "brick", "--motif", "8"], "motif"),
        (["colour", "brick", "--motif", "0"], "motif"),
        (["colour", "brick", "--motif", "two"], "motif"),
        (["colour", "brick"], "motif"),
        (["colour", "brick", "--all", "--motif", "1"], "motif"),
        (["colour", "brick", "--dangle", "1"], "motif"),
        (["colour", "brick", "--motif", "1", "--bead", "1"], "dangle"),
        (["colour", "brick", "--motif", "1", "--base"], "dangle"),
        (["colour", "brick", "--motif", "1", "--dangle", "6"], "dangle"),
        (["colour", "brick", "--motif", "1", "--dangle", "1", "--bead", "3"], "bead"),
        (["colour", "brick", "--motif", "1", "--dangle", "1", "--bead", "1", "--base"], "bead"),
        (["colour", "", "--motif", "1"], "colour"),
        (["colour", "cherry", "--motif", "1"], "colour"),
        (["colour", "Fog aabbcc velvet", "--motif", "1"], "finish"),
        (["colour"], "command"),
        (["base", ""], "colours"),
        (["base", "brick,,sea"], "colours"),
        (["length", "0", "--motif", "1", "--dangle", "1"], "beads"),
        (["length", "201", "--motif", "1", "--dangle", "1"], "beads"),
        (["length", "3", "--motif", "1"], "dangle"),
        (["outline", "1,2"], "outline"),
        (["outline", "1,2,x,2,1"], "outline"),
        (["outline", "peak 5-2"], "longest"),
        (["outline", "peak", "--letter", "B"], "letter"),
        (["outline", "peak", "--letter", "A", "--motif", "1"], "letter"),
        (["turns", "ABC"], "letters"),
        (["turns", "A", "1,1,1,1,1", "2,2,2,2,2"], "outline"),
        (["mirror-outlines", "perhaps"], "on"),
        (["grow", "61"], "beads"),
        (["inside", "out"], "way"),
        (["tips"], "tips"),
        (["tips", "--kind", "pebble"], "kind"),
        (["divider", "brick", "sea", "moss", "dew"], "bead"),
        (["divider", "pebble in brick"], "bead"),
        (["links", "4"], "count"),
        (["order", "spiral"], "order"),
        (["order", "given"], "colours"),
        (["order", "given", "--colours", "brick," * 7 + "brick"], "colours"),
        (["order", "two", "--gap", "1"], "gap"),
        (["order", "free", "--colours", "brick,sea", "--gap", "2"], "gap"),
        (["swap", "1", "8"], "other"),
        (["move", "1", "8"], "to"),
        (["insert", "9"], "motif"),
        (["remove", "9"], "motif"),
        (["another-colour", "cherry", "brick"], "old"),
        (["another-colour", "fff", "brick"], "old"),
        (["another-colour", "chalk", "brick"], "old"),
        (["wear", "crown"], "wear"),
        (["for", "1 km"], "snug"),
        (["for", "3"], "snug"),
        (["for", "150", "--ease", "much"], "ease"),
        (["closure", "300"], "length"),
        (["closure", "150"], "closure"),
        (["closure", "--kind", "x" * 50], "kind"),
        (["closure", "13 cm"], "snug"),
        (["strip", "--base", "pebble"], "base"),
        (["strip", "--dangles", "0"], "dangles"),
        (["strip", "--pitch", "9 m"], "pitch"),
        (["colr", "brick"], "command"),
        (["swap", "1", "2", "--nosuch"], "nosuch"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    tmp_path: Path, refused: Refused, change: list[str], field: str
) -> None:
    path, out = tmp_path / "piece.json", tmp_path / "out.json"
    path.write_text(to_json(plain()), "utf-8")
    assert refused("change", str(path), *change, "--out", str(out))["field"] == field
    assert not out.exists()


def test_a_piece_without_a_measurement_is_not_resized(tmp_path: Path, refused: Refused) -> None:
    piece = plain()
    worn = replace(piece.pattern.worn, wearer=None)
    path = tmp_path / "piece.json"
    path.write_text(to_json(replace(piece, pattern=replace(piece.pattern, worn=worn))), "utf-8")
    for change in (["for"], ["closure", "12"], ["plain-ends"], ["strip", "--dangles", "3"]):
        error = refused("change", str(path), *change, "--out", str(tmp_path / "out.json"))
        assert error["field"] == "snug"


def test_a_piece_of_one_motif_keeps_it(tmp_path: Path, asked: Asked, refused: Refused) -> None:
    bench = Bench(tmp_path, asked, plain())
    bench("for", "42", "--ease", "0")
    while len(seen(bench.path).motifs) > 1:
        bench("remove", "1")
    assert refused("change", str(bench.path), "remove", "1", "--out", "x.json")["field"] == "motif"


@pytest.mark.parametrize("content", ["", "[]", "{}", '{"danglewise_piece": 2}', "\0"])
def test_a_file_that_is_no_piece_is_refused(tmp_path: Path, refused: Refused, content: str) -> None:
    path = tmp_path / "none.json"
    path.write_text(content, "utf-8")
    for change in ([], ["swap", "1", "2", "--out", str(tmp_path / "out.json")]):
        assert str(path) in "".join(refused("change", str(path), *change).values())
    assert [*tmp_path.iterdir()] == [path]
    assert refused("change", str(tmp_path / "gone.json"))["field"] == "piece"


def test_the_pieces_own_file_is_never_written(
    tmp_path: Path, asked: Asked, capsys: pytest.CaptureFixture[str], refused: Refused
) -> None:
    path = tmp_path / "piece.json"
    path.write_text(to_json(plain()), "utf-8")
    before = path.read_bytes()
    linked = tmp_path / "linked.json"
    linked.symlink_to(path)
    for out in (path, linked, tmp_path / "x" / ".." / "piece.json"):
        (tmp_path / "x").mkdir(exist_ok=True)
        assert refused("change", str(path), "swap", "1", "2", "--out", str(out))["field"] == "out"
    for name in ("", "out", "out.txt", str(tmp_path)):
        assert refused("change", str(path), "swap", "1", "2", "--out", name)["field"] == "out"
    assert main(["change", str(path), "swap", "1", "2"]) == 2
    told = capsys.readouterr()
    assert not told.out
    assert "--out" in told.err
    assert path.read_bytes() == before
    other = tmp_path / "other.json"
    assert not asked("change", str(path), "swap", "1", "2", "--out", str(other))["changed"]
    again = asked("change", str(path), "swap", "1", "3", "--out", str(other))
    assert again["changed"] == [f"{other} was there and was replaced"]


def test_a_piece_keeps_its_name_its_notes_and_its_seed(tmp_path: Path, asked: Asked) -> None:
    proposed = from_json((REFERENCE / "v1-proposed.json").read_text("utf-8"))
    bench = Bench(tmp_path, asked, proposed)
    bench("swap", "1", "2")
    after = from_json(bench.path.read_text("utf-8"))
    assert (after.name, after.notes, after.seed) == (proposed.name, proposed.notes, proposed.seed)


@pytest.mark.parametrize("word", EFFECTS)
def test_every_change_has_a_help(capsys: pytest.CaptureFixture[str], word: str) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["change", "piece.json", word, "--help"])
    assert ended.value.code == 0
    told = capsys.readouterr().out
    asked_for = next(one for one in CHANGES if one.word == word)
    assert asked_for.help.split()[0] in told
    for argument in asked_for.arguments:
        assert f"--{argument.name}" in told or argument.sign in told


def test_the_readme_names_every_change() -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
    table = readme.partition("| change | what it does |")[2].partition("\n\n")[0]
    for one in CHANGES:
        assert f"`{one.word}`" in table


def test_a_question_comes_with_the_way_to_answer_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, out = tmp_path / "piece.json", tmp_path / "out.json"
    path.write_text(to_json(plain(230.0, 20.0)), "utf-8")
    assert main(["change", str(path), "for", "150", "--out", str(out)]) == 0
    assert "`for --ease usual`" in capsys.readouterr().out


def test_what_was_changed_is_told_in_words(
    bench: Bench, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    out = tmp_path / "told.json"
    assert main(["change", str(bench.path), "tips", "--kind", DROP, "--out", str(out)]) == 0
    assert capsys.readouterr().out.splitlines()[:2] == [
        "now: Turning beads are drop 3.4.",
        "was: Turning beads are as their dangles.",
    ]
    assert (
        main(["change", str(out), "tips", "--kind", DROP, "--out", str(tmp_path / "2.json")]) == 0
    )
    assert capsys.readouterr().out.startswith("Nothing is changed: it was so already.")
