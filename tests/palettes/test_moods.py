"""Moods and schemes as regions, and palettes from every source."""

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from palettes.charts import bead_kinds, palette_names
from palettes.choose_complete import KEPT, complete
from palettes.choose_from import Request, from_free, from_mood, from_photo, from_picks
from palettes.choose_match import match
from palettes.choose_picked import Picked
from palettes.choose_types import Choice, NoChoice, Wishes
from palettes.difference import HYAB, delta_e_2000
from palettes.errors import ChartError
from palettes.extract import in_proportion
from palettes.harmony import mean_harmony
from palettes.lights import Light
from palettes.moods import Mood, Region, misses, moods, parse_moods, quotas, sampled
from palettes.schemes import TURNS_DEG, Scheme, scheme_mood
from palettes.spaces import FloatArray, hex_to_srgb1, hexes_to_srgb1, lch_to_lab, srgb1_to_lab
from palettes.tray import Tray
from palettes.tray_files import starter_tray
from palettes.viewing import conditions, worst_matrix
from palettes.vision import Sight, Viewer

FOUR = conditions(
    [Viewer(sight=s) for s in (Sight.TYPICAL, Sight.PROTAN, Sight.DEUTAN, Sight.TRITAN)],
    [Light.DAYLIGHT],
)
TRAY = starter_tray().of_kind(bead_kinds()["round 8/0"])
REGION = Region(name="r", lightness=(40.0, 60.0), chroma=(20.0, 40.0), hue_deg=(330.0, 30.0))


def rng(seed: int = 1) -> np.random.Generator:
    return np.random.default_rng(seed)


def found(result: Picked | NoChoice) -> Picked:
    assert isinstance(result, Picked), result
    return result


def lab(*lch: float) -> FloatArray:
    return lch_to_lab(np.array([lch]))


def test_misses() -> None:
    for inside in ((50, 30, 0), (40, 20, 330), (60, 40, 30), (50, 30, 359)):
        assert misses(lab(*inside), REGION)[0] == pytest.approx(0.0, abs=1e-9)
    assert misses(lab(70, 30, 0), REGION)[0] == pytest.approx(10.0)
    assert misses(lab(50, 50, 0), REGION)[0] == pytest.approx(10.0)
    # A chord of ten degrees at chroma 30 on either side.
    chord = 2 * 30 * np.sin(np.radians(5))
    assert misses(lab(50, 30, 40), REGION)[0] == pytest.approx(chord)
    assert misses(lab(50, 30, 320), REGION)[0] == pytest.approx(chord)
    every = Region(name="e", lightness=(0, 100), chroma=(0, 150), hue_deg=(0, 360))
    assert misses(srgb1_to_lab(rng().random((50, 3))), every).max() == pytest.approx(0.0, abs=1e-9)


def test_misses_agree_with_another_librarys_lch() -> None:
    for hex_ in ("#d6336c", "#c050a0", "#f48fb8", "#1f78b8"):
        _, _, hue = Color(hex_).convert("lch-d65").coords()
        near = Region(name="n", lightness=(0, 100), chroma=(0, 150), hue_deg=(hue - 0.5, hue + 0.5))
        assert misses(srgb1_to_lab(hexes_to_srgb1([hex_])), near)[0] == pytest.approx(0, abs=1e-6)


@given(st.lists(st.floats(0.01, 5.0), min_size=1, max_size=8), st.integers(0, 40))
def test_proportions_add_up(shares: list[float], total: int) -> None:
    given_out = in_proportion(shares, total)
    assert sum(given_out) == total
    assert min(given_out) >= (1 if total >= len(shares) else 0)
    exact = [total * share / sum(shares) for share in shares]
    if all(part >= 1.0 for part in exact):
        # No one is off by a whole one: the quota rule of largest remainders (Hamilton's method).
        assert all(abs(a - b) < 1.0 for a, b in zip(given_out, exact, strict=True))


def test_proportions_worked_by_hand() -> None:
    # Hamilton's method, worked by hand: 4.8, 3.2, 2.0 of ten.
    assert in_proportion([0.48, 0.32, 0.2], 10) == (5, 3, 2)
    assert in_proportion([0.98, 0.01, 0.01], 9) == (7, 1, 1)
    for wrong in ([], [0.0], [-1.0, 2.0]):
        with pytest.raises(ValueError, match="got"):
            in_proportion(wrong, 3)


def test_the_moods_are_whole() -> None:
    assert "moods" not in palette_names()
    assert len(moods()) >= 10
    assert {"summer", "warm", "cool", "quiet", "loud"} <= set(moods())
    for name, mood in moods().items():
        assert name == mood.name == name.lower()
        assert mood.note
        assert sum(quotas(mood, 6)) == 6
        for region in mood.regions:
            samples = sampled(region, 30, rng())
            assert len(samples) == 30, (name, region.name)
            assert misses(samples, region).max() < 1e-6


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("[[mood]]\ntitle='x'", "name"),
        ("[[mood]]\nname='x'", "no region"),
        ("[[mood]]\nname='x'\n[[mood.region]]\nname='r'\nlightness=[1]\n", "two numbers"),
        (
            (
                "[[mood]]\nname='x'\n[[mood.region]]\nname='r'\n"
                "lightness=[50,40]\nchroma=[0,9]\nhue=[0,9]\n"
            ),
            "upward",
        ),
        (
            (
                "[[mood]]\nname='x'\n[[mood.region]]\nname='r'\n"
                "lightness=[5,40]\nchroma=[0,9]\nhue=[0,999]\n"
            ),
            "360",
        ),
        ("nonsense", "TOML"),
    ],
)
def test_a_damaged_mood_says_where(text: str, told: str) -> None:
    with pytest.raises(ChartError, match=told):
        parse_moods(text, "my-moods.toml")


def test_a_makers_own_mood() -> None:
    text = (
        "[[mood]]\nname='mine'\n[[mood.region]]\nname='reds'\n"
        "lightness=[20,70]\nchroma=[30,110]\nhue=[0,50]\n"
    )
    picked = found(from_mood(Request(size=3, looks=FOUR), parse_moods(text, "x")["mine"], rng()))
    for colour in picked.colours:
        _, chroma, hue = Color(colour.hex).convert("lch-d65").coords()
        assert chroma > 29.0
        assert hue < 51.0 or hue > 359.0


def test_schemes_turn_as_they_say() -> None:
    hue = Color("#ff3366").convert("lch-d65").coords()[2]
    for scheme in Scheme:
        mood = scheme_mood(scheme, "#ff3366")
        middles = [
            (r.hue_deg[0] + 0.5 * ((r.hue_deg[1] - r.hue_deg[0]) % 360.0)) % 360.0
            for r in mood.regions
        ]
        wanted = [(hue + turn) % 360.0 for turn in TURNS_DEG[scheme]]
        # IEC 61966-2-1 rounds its matrix to four decimals, the other library does not.
        assert middles == pytest.approx(wanted, abs=0.01)
    with pytest.raises(ValueError, match="grey"):
        scheme_mood(Scheme.TRIAD, "#808080")


@pytest.mark.parametrize("name", list(moods()))
def test_a_mood_from_the_tray(name: str) -> None:
    mood = moods()[name]
    request = Request(size=6, looks=FOUR, tray=TRAY)
    picked = found(from_mood(request, mood, rng()))
    assert len({colour.name for colour in picked.colours}) == 6
    assert all(colour.bead in TRAY.beads for colour in picked.colours)
    regions = [colour.origin.region for colour in picked.colours]
    wanted = dict(zip((r.name for r in mood.regions), quotas(mood, 6), strict=True))
    assert {region: regions.count(region) for region in wanted} == wanted
    # The starter tray has something near every mood.
    assert max(colour.origin.miss or 0.0 for colour in picked.colours) < 12.0


def test_another_seed_is_another_palette_and_the_same_seed_the_same() -> None:
    request, mood = Request(size=6, looks=FOUR, tray=TRAY), moods()["summer"]
    first = [colour.hex for colour in found(from_mood(request, mood, rng(1))).colours]
    assert first == [colour.hex for colour in found(from_mood(request, mood, rng(1))).colours]
    others = {
        tuple(colour.hex for colour in found(from_mood(request, mood, rng(seed))).colours)
        for seed in range(2, 8)
    }
    assert len(others | {tuple(first)}) >= 4


def test_completing_keeps_the_picks_and_stands_apart() -> None:
    picks = ("#ff4060", "#2060ff", "#ffe040")
    picked = found(from_picks(Request(size=6, looks=FOUR), picks, rng()))
    assert set(picks) <= {colour.hex for colour in picked.colours}
    assert all(c.origin.difference == 0.0 for c in picked.colours if c.origin.wanted)
    assert picked.weakest > 15.0


def test_completing_gains_harmony_and_keeps_contrast() -> None:
    srgb1 = hexes_to_srgb1([bead.hex for bead in TRAY.beads])
    wishes = Wishes(size=6, must=(6, 16))
    plain = complete(srgb1, FOUR, wishes)
    assert not isinstance(plain, NoChoice)
    places = list(plain.choice.places)
    assert {6, 16} <= set(places)
    matrix = worst_matrix(srgb1[places], FOUR)
    assert plain.choice.weakest == pytest.approx(matrix[np.triu_indices(6, 1)].min())
    assert plain.choice.reached >= plain.floor - 1e-3
    assert plain.floor <= KEPT * plain.choice.bound + 1e-9 or plain.floor == 20.0
    lab_ = srgb1_to_lab(srgb1)
    assert plain.harmony == pytest.approx(mean_harmony(lab_[places]))
    # Exchanging any one colour for another that keeps the floor gains nothing.
    every = worst_matrix(srgb1, FOUR)
    for out in set(places) - {6, 16}:
        others = [place for place in places if place != out]
        for into in range(len(srgb1)):
            if into not in places and every[into, others].min() >= plain.floor + 1e-3:
                assert mean_harmony(lab_[[*others, into]]) <= plain.harmony + 1e-9


def test_picks_from_a_tray_are_told() -> None:
    picked = found(from_picks(Request(size=5, looks=FOUR, tray=TRAY), ("#ff4060",), rng()))
    (pick,) = (colour for colour in picked.colours if colour.origin.wanted)
    assert pick.origin.wanted == "#ff4060"
    apart = delta_e_2000(
        srgb1_to_lab(hex_to_srgb1("#ff4060")),
        srgb1_to_lab(hexes_to_srgb1([b.hex for b in TRAY.beads])),
    )
    assert pick.origin.difference == pytest.approx(apart.min())
    assert pick.bead == TRAY.beads[int(apart.argmin())]


def test_a_scheme_around_a_pick() -> None:
    request = Request(size=6, looks=FOUR)
    picked = found(from_picks(request, ("#ff3366",), rng(), Scheme.TRIAD))
    assert "#ff3366" in {colour.hex for colour in picked.colours}
    assert [c.origin.region for c in picked.colours].count("hue 16") == 2
    with pytest.raises(ValueError, match="grey"):
        from_picks(request, ("#777777",), rng(), Scheme.TRIAD)
    for wrong in ((), ("#ff0000", "#ff0000"), ("#1", "#2", "#3", "#4")):
        with pytest.raises(ValueError, match="one to 3"):
            from_picks(request, wrong, rng())


def test_a_tray_without_enough_beads_gives_no_free_colour() -> None:
    few = Tray(beads=TRAY.beads[:3])
    for tray in (few, Tray()):
        request = Request(size=4, looks=FOUR, tray=tray)
        assert isinstance(from_free(request, rng()), NoChoice)
        assert isinstance(from_mood(request, moods()["summer"], rng()), NoChoice)
        assert isinstance(from_picks(request, ("#ff0000",), rng()), NoChoice)
        picture = rng().integers(0, 256, (40, 40, 3)).astype(np.uint8)
        assert isinstance(from_photo(request, picture, rng()), NoChoice)


def test_demands_on_beads() -> None:
    request = Request(
        size=5, looks=FOUR, tray=TRAY, one_per_finish=True, most_cost=3.0, beads_each=120
    )
    picked = found(from_free(request, rng()))
    beads = [colour.bead for colour in picked.colours]
    assert len({bead.finish for bead in beads if bead}) == 5
    assert sum(120 * (bead.bead_price or 99.0) for bead in beads if bead) <= 3.0
    assert all(bead and bead.stock and bead.stock >= 120 for bead in beads)
    # Four eyes leave these beads far apart: of the strongest some is given up, and told.
    assert (picked.proven, picked.gave_up_for) == (False, HYAB)
    assert picked.strongest is not None
    assert picked.weakest < picked.strongest <= (picked.bound or 0.0)
    much = Request(size=5, looks=FOUR, tray=TRAY, beads_each=1_000_000)
    assert isinstance(from_free(much, rng()), NoChoice)


def test_weakest_by_view_is_what_the_matrices_say() -> None:
    picked = found(from_free(Request(size=4, looks=FOUR, tray=TRAY), rng()))
    srgb1 = hexes_to_srgb1([colour.hex for colour in picked.colours])
    for look, value in picked.weakest_by_view:
        upper = worst_matrix(srgb1, [look])[np.triu_indices(4, 1)]
        assert value == pytest.approx(upper.min())
    assert picked.bound == pytest.approx(picked.strongest or picked.weakest)
    assert picked.palette("p", "P").hexes == tuple(colour.hex for colour in picked.colours)


def test_matching_gives_each_colour_its_own_bead() -> None:
    matches = match(["#ff0000", "#fe0000"], ["#00ff00", "#ff0000", "#f00000"])
    assert sorted(m.place for m in matches) == [1, 2]
    assert matches[0].difference + matches[1].difference > 0.0
    assert match([], []) == ()
    with pytest.raises(ValueError, match="as many beads"):
        match(["#ff0000"], [])


def test_a_region_checks_itself() -> None:
    with pytest.raises(ValueError, match="share"):
        Region(name="r", lightness=(0, 1), chroma=(0, 1), hue_deg=(0, 1), share=0.0)
    with pytest.raises(ValueError, match="no region"):
        Mood(name="m", title="M", regions=())
    assert (
        Choice(
            places=(0,), weakest=1.0, weakest_pair=None, reached=1.0, bound=3.0, proven=False
        ).gap
        == 2.0
    )
