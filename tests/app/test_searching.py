"""A search beside the page: watched, ended, and never half kept."""

from pathlib import Path
from threading import Event

import pytest
from streamlit.testing.v1 import AppTest

from explorer.app import state
from explorer.app.choosing import Choosing, asked
from explorer.app.demo import demo
from explorer.app.heavy import Job, Line
from explorer.app.parts.search_line import waiting_words
from explorer.app.searching import Search
from explorer.brief import Brief
from explorer.propose import Proposals, propose
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
