"""A search that is watched: its first answer comes early, gets better, and can be the last."""

import math
from collections.abc import Callable
from itertools import combinations

import numpy as np
import pytest

from palettes import choose as module
from palettes.choose import MANY, choose, choose_by
from palettes.choose_complete import Completion, complete
from palettes.choose_from import Request, from_free, from_mood, from_picks
from palettes.choose_metric import Rows, Single, worst_single
from palettes.choose_picked import Picked
from palettes.choose_types import Choice, NoChoice, Wishes
from palettes.choose_watch import Sofar, StoppedError, Told, Watch
from palettes.lights import Light
from palettes.moods import moods
from palettes.tray_files import starter_tray
from palettes.viewing import conditions, lab_under, worst_matrix
from palettes.vision import Sight, Viewer

FOUR = conditions([Viewer(sight=sight) for sight in Sight if sight != "grey"], [Light.DAYLIGHT])
# A few more than make the first answer come before all differences.
COLOURS = np.random.default_rng(6).random((MANY + 50, 3))
FEW_STEPS = 2_000


class Ending:
    """Takes down how a search stands, and ends it after so many words."""

    def __init__(self, after: float = math.inf) -> None:
        self.seen: list[Sofar] = []
        self._after = after

    def __call__(self, sofar: Sofar) -> bool:
        self.seen.append(sofar)
        return len(self.seen) < self._after


def weakest(places: tuple[int, ...]) -> float:
    """By the exact formula."""
    matrix = worst_matrix(COLOURS[list(places)], FOUR)
    return float(min(matrix[pair] for pair in combinations(range(len(places)), 2)))


def test_an_answer_is_there_before_all_differences_are(monkeypatch: pytest.MonkeyPatch) -> None:
    watching = Ending()
    before: list[int] = []

    def watched(lab: np.ndarray, spend: object = None) -> Single:
        before.append(len(watching.seen))
        return worst_single(lab, spend)  # type: ignore[arg-type]  # handed through

    monkeypatch.setattr(module, "worst_single", watched)
    found = choose(COLOURS, FOUR, Wishes(size=6), steps=FEW_STEPS, told=watching)
    assert isinstance(found, Choice)
    assert not found.stopped
    assert len(before) == 1
    assert before[0] >= 1
    first = watching.seen[0].reached
    assert first is not None
    assert first <= found.reached + 1e-3


def test_what_is_told_grows_only() -> None:
    watching = Ending()
    found = choose(COLOURS, FOUR, Wishes(size=6), steps=FEW_STEPS, told=watching)
    assert isinstance(found, Choice)
    parts = [sofar.part for sofar in watching.seen]
    reached = [sofar.reached or 0.0 for sofar in watching.seen]
    assert parts == sorted(parts)
    assert reached == sorted(reached)
    assert all(0.0 <= part < 1.0 for part in parts)
    assert len(set(parts)) > 10
    assert len(set(reached)) > 1
    assert reached[-1] == pytest.approx(found.reached, abs=1e-3)


def test_rows_are_those_of_the_whole_and_lead_to_the_same_choice() -> None:
    lab = lab_under(COLOURS, FOUR)
    whole = worst_single(lab)
    assert np.array_equal(Rows(lab)[[0, 7, len(COLOURS) - 1]], whole[[0, 7, len(COLOURS) - 1]])
    wishes = Wishes(size=5, must=(3,), never=(9,))
    early = choose(COLOURS, FOUR, wishes, steps=FEW_STEPS)
    late = choose_by(whole, wishes, steps=FEW_STEPS)
    assert isinstance(early, Choice)
    assert isinstance(late, Choice)
    assert early.strongest == pytest.approx(late.reached, abs=1e-3)
    assert early.bound == pytest.approx(late.bound, abs=1e-3)


@pytest.mark.parametrize("after", [1, 2, 3, 10, 30])
def test_whoever_ends_it_keeps_the_best_so_far(after: int) -> None:
    lightness = tuple(lab_under(COLOURS, FOUR)[0][:, 0].tolist())
    wishes = Wishes(size=6, must=(3,), lightness=lightness, least_range=40.0)
    watching = Ending(after)
    found = choose(COLOURS, FOUR, wishes, steps=FEW_STEPS, told=watching)
    assert isinstance(found, Choice)
    assert len(watching.seen) == after
    assert found.stopped
    assert not found.proven
    assert len(set(found.places)) == 6
    assert 3 in found.places
    chosen = [lightness[place] for place in found.places]
    assert max(chosen) - min(chosen) >= 40.0 - 1e-6
    assert found.reached == pytest.approx(weakest(found.places))
    assert found.reached == pytest.approx(watching.seen[-1].reached, abs=1e-3)
    assert found.bound > found.reached
    assert found == choose(COLOURS, FOUR, wishes, steps=FEW_STEPS, told=Ending(after))


def test_a_limit_on_all_steps_never_costs_the_answer_and_more_of_them_no_quality() -> None:
    found = [choose(COLOURS, FOUR, Wishes(size=6), most=most) for most in (0, 10**5, 10**6, 10**9)]
    choices = [one for one in found if isinstance(one, Choice)]
    assert len(choices) == 4
    assert [one.stopped for one in choices] == [True, True, True, False]
    reached = [one.reached for one in choices]
    assert reached == sorted(reached)
    assert reached[0] < reached[-1]
    assert all(one.bound >= choices[-1].reached - 1e-3 for one in choices)
    again = choose(COLOURS, FOUR, Wishes(size=6), most=10**5)
    assert again == choices[1]
    few = choose(COLOURS[:40], FOUR, Wishes(size=6), most=0)
    assert isinstance(few, Choice)
    assert few.stopped


def test_an_end_before_there_is_an_answer_claims_nothing() -> None:
    # Five dark ones and a light one cost too much, which is seen only once five dark ones stand.
    lightness = lab_under(COLOURS, FOUR)[0][:, 0]
    wishes = Wishes(
        size=6,
        lightness=tuple(lightness.tolist()),
        least_range=45.0,
        costs=tuple(np.where(lightness < 50.0, 1.0, 10.0).tolist()),
        most_cost=14.0,
    )
    found = choose(COLOURS, FOUR, wishes, steps=10**7, told=Ending(1))
    assert isinstance(found, NoChoice)
    assert not found.certain


def test_every_source_hands_the_watch_on() -> None:
    asks: tuple[Callable[[Request, Told | None], Picked | NoChoice], ...] = (
        lambda request, told: from_free(request, np.random.default_rng(1), told),
        lambda request, told: from_mood(request, moods()["summer"], np.random.default_rng(1), told),
        lambda request, told: from_picks(request, ["#ff3366"], np.random.default_rng(1), told=told),
    )
    tray = starter_tray()
    for own in (tray.of_kind(tray.beads[0].kind), None):
        request = Request(size=4, looks=FOUR, tray=own)
        for ask in asks:
            watching = Ending(1)
            found = ask(request, watching)
            assert isinstance(found, Picked)
            assert len(watching.seen) == 1
            assert found.stopped
            assert not found.proven
            assert len(found.colours) == 4
            whole = ask(request, None)
            assert isinstance(whole, Picked)
            assert not whole.stopped


def test_a_completed_palette_says_that_it_was_ended() -> None:
    found = complete(COLOURS, FOUR, Wishes(size=5, must=(1,)), told=Ending(2))
    assert isinstance(found, Completion)
    assert found.choice.stopped
    assert 1 in found.choice.places


def test_the_watch_counts() -> None:
    told: list[float] = []

    def tell(sofar: Sofar) -> bool:
        told.append(sofar.part)
        return True

    watch = Watch(tell, most=100_000)
    watch.plan(1_000_000)
    watch.spend(90_000)
    watch.better((1, 2), 5.0)
    watch.better((3, 4), 5.0)
    assert watch.best == (1, 2)
    watch.spend(60_000)
    watch.settle(99_999)
    assert watch.done == 150_000
    # What was planned is never more than the limit allows.
    assert told == [0.9, 0.9, 0.99]
    with pytest.raises(StoppedError):
        watch.spend(40_001)
