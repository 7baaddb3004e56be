"""A search beside the page: watched, ended, and never half kept."""

from pathlib import Path
from threading import Event

import numpy as np
import pytest
from streamlit.testing.v1 import AppTest

from explorer.app import state
from explorer.app.choosing import Choosing, asked
from explorer.app.demo import demo
from explorer.app.heavy import Job, Line
from explorer.app.parts.search_line import waiting_words
from explorer.app.searching import PaletteSearch, Search
from explorer.app.tasks import PaletteQuestion, palette
from explorer.brief import Brief
from explorer.propose import Proposals, propose
from palettes.charts import bead_kinds
from palettes.choose import MANY
from palettes.choose_from import Request
from palettes.choose_picked import Picked
from palettes.lights import Light
from palettes.tray import Tray, TrayBead
from palettes.viewing import conditions
from palettes.vision import Sight, Viewer
from tests.app import heavy_work


def _brief(seed: int) -> Brief:
    question = asked(demo(), Choosing(seed=seed), 6)
    assert question
    assert isinstance(question[0], Brief)
    return question[0]


def test_a_search_finds_what_the_core_finds() -> None:
    search = Search(_brief(41), None)
    assert search.wait(60)
    assert search.result() == propose(_brief(41))
    assert search.part == pytest.approx(1.0, abs=0.05)
    assert not search.stopped


def test_a_stopped_search_keeps_what_it_found_and_is_not_taken_for_a_whole_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    reached, onward = Event(), Event()
    told = Job.told

    def slowly(job: Job, part: float) -> bool:
        if job.part == 0.0 and part > 0.0:
            reached.set()
            assert onward.wait(60)
        return told(job, part)

    monkeypatch.setattr(Job, "told", slowly)
    search = Search(_brief(42), None)
    assert reached.wait(60)
    assert not search.wait(0)
    search.stop()
    onward.set()
    assert search.wait(60)
    some = search.result()
    assert search.stopped
    assert isinstance(some, Proposals)
    assert 1 <= len(some.proposals) <= 6
    monkeypatch.undo()
    again = Search(_brief(42), None)
    assert again.wait(60)
    assert again.result() == propose(_brief(42)) != some
    assert not again.stopped


def test_a_result_is_not_there_before_the_end_and_is_kept_after_it(tmp_path: Path) -> None:
    line = Line(0)
    head = line.join(heavy_work.until_there, str(tmp_path / "gate"))
    for _ in range(3000):
        if head.part > 0.0 or head.wait(0.02):
            break
    first, same, stopped = (Search(_brief(seed), None, line) for seed in (43, 43, 44))
    with pytest.raises(RuntimeError, match="before it is over"):
        first.result()
    # Each ends for itself: what another still waits for goes on, and nothing is there yet.
    same.stop()
    stopped.stop()
    for ended in (same, stopped):
        assert ended.wait(0)
        assert ended.result() is None
        assert ended.stopped
    assert first.ahead == 0
    (tmp_path / "gate").touch()
    assert first.wait(60)
    found = first.result()
    assert found == propose(_brief(43))
    at_once = Search(_brief(43), None, line)
    assert at_once.wait(0)
    assert at_once.result() is found


def test_the_line_says_how_many_come_first() -> None:
    words = [waiting_words(ahead) for ahead in range(3)]
    assert "others" not in words[0].lower()
    assert "next" in words[1]
    assert "2 before yours" in words[2]


def _proposals() -> None:
    from explorer.app import session
    from explorer.app.views import proposals

    session.begin()
    proposals.view()


def test_the_page_tells_of_a_stop_and_looks_on() -> None:
    app = AppTest.from_function(_proposals, default_timeout=60).run()
    assert not app.exception
    whole = sum(button.label == "Hide" for button in app.button)
    held = app.session_state[state.SEARCH]
    held.stopped = True
    app.run()
    words = " ".join(element.proto.body for element in app.get("html"))
    assert "Stopped: these were found so far." in words
    app.button(key="search_on").click().run()
    words = " ".join(element.proto.body for element in app.get("html"))
    assert "Stopped" not in words
    assert sum(button.label == "Hide" for button in app.button) == whole == 24


def _colours(seed: int) -> PaletteQuestion:
    """The colours of a large tray that stand apart most."""
    kind = bead_kinds()["round 11/0"]
    rows = np.random.default_rng(seed).integers(0, 256, (MANY + 20, 3))
    beads = tuple(
        TrayBead(name=f"Bead {i}", kind=kind, hex=f"#{r:02x}{g:02x}{b:02x}")
        for i, (r, g, b) in enumerate(rows)
    )
    looks = conditions([Viewer(sight=Sight.TYPICAL)], [Light.DAYLIGHT])
    return PaletteQuestion(request=Request(size=5, looks=looks, tray=Tray(beads=beads)), seed=1)


def test_a_palette_from_a_large_tray_has_a_first_answer_at_once(tmp_path: Path) -> None:
    line = Line(0)
    head = line.join(heavy_work.until_there, str(tmp_path / "gate"))
    search = PaletteSearch(_colours(1), line)
    assert not search.wait(0)
    assert search.first is not None
    assert search.first.stopped
    assert len(search.first.colours) == 5
    (tmp_path / "gate").touch()
    assert head.wait(60)
    assert search.wait(60)
    found = search.result()
    assert found == palette(_colours(1), told=lambda _: True)
    assert isinstance(found, Picked)
    assert not search.stopped
    # By CIEDE2000; where all are far apart HyAB may then prefer another choice, and says so.
    assert (found.strongest or found.weakest) >= search.first.weakest
    again = PaletteSearch(_colours(1), line)
    assert again.wait(0)
    assert again.result() is found


def test_a_stopped_search_for_a_palette_keeps_the_best_so_far(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    reached, onward = Event(), Event()
    told = Job.told

    def slowly(job: Job, part: float) -> bool:
        if part > 0.01 and not reached.is_set():
            reached.set()
            assert onward.wait(60)
        return told(job, part)

    monkeypatch.setattr(Job, "told", slowly)
    search = PaletteSearch(_colours(2))
    assert reached.wait(60)
    search.stop()
    onward.set()
    assert search.wait(60)
    found = search.result()
    assert isinstance(found, Picked)
    assert search.stopped
    assert found.stopped
    assert not found.proven
    monkeypatch.undo()
    again = PaletteSearch(_colours(2))
    assert not again.wait(0)
    assert again.wait(60)
    whole = again.result()
    assert isinstance(whole, Picked)
    assert not whole.stopped
    assert (whole.strongest or whole.weakest) >= found.weakest


def test_one_that_is_stopped_before_it_began_answers_with_its_first(tmp_path: Path) -> None:
    line = Line(0)
    line.join(heavy_work.until_there, str(tmp_path / "gate"))
    search = PaletteSearch(_colours(3), line)
    search.stop()
    assert search.wait(0)
    assert search.result() is search.first is not None
    (tmp_path / "gate").touch()
