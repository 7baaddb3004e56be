"""The server tidies up: ended sessions are forgotten, and garbage is collected when it rests."""

import gc
import sys
import weakref

import pytest
from streamlit import config
from streamlit.runtime.memory_session_storage import MemorySessionStorage
from streamlit.runtime.websocket_session_manager import WebsocketSessionManager

from explorer.app import memory


class _Ring:
    """Garbage that only the collector finds."""

    def __init__(self) -> None:
        self.self = self


def test_tidying_collects_garbage_and_gives_memory_back() -> None:
    gc.disable()
    try:
        ring = weakref.ref(_Ring())
        assert ring() is not None
        memory.tidy()
        assert ring() is None
    finally:
        gc.enable()


def test_the_framework_has_the_names_by_which_ended_sessions_are_forgotten(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from streamlit import runtime

    now = [0.0]
    storage = MemorySessionStorage(ttl_seconds=120)
    held = storage._cache
    monkeypatch.setattr(held, "_timer", lambda: now[0])
    manager = WebsocketSessionManager(storage, None, None, None)  # type: ignore[arg-type]

    class Server:
        _session_mgr = manager

    monkeypatch.setattr(runtime, "exists", lambda: True)
    monkeypatch.setattr(runtime, "get_instance", Server)
    session = _Ring()
    gone = weakref.ref(session)
    held["a session"] = session  # type: ignore[assignment]
    del session
    assert memory._stored()
    memory.tidy()
    assert gone() is not None
    now[0] = 121.0
    memory.tidy()
    assert gone() is None
    assert not memory._stored()


def test_what_ended_while_the_server_rests_is_tidied_up() -> None:
    """A session is kept for two minutes, and nobody does anything meanwhile or after."""
    rest, looks = memory.Rest(0.0, 0.0), range(5, 400, 5)
    due = [now for now in looks if rest.due(now, 0.0, stored=now < 121)]
    assert [now for now in due if 121 <= now <= 190]
    # Then there is nothing more to do.
    assert not [now for now in due if now > 250]


def test_the_server_is_told_not_to_collect_after_every_run(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from streamlit.web import cli

    from explorer.app.start import start

    monkeypatch.setattr(sys, "argv", ["danglewise"])
    monkeypatch.setattr(cli, "main", lambda **_: None)
    start(None, browser=False)
    assert "--runner.postScriptGC=false" in sys.argv
    # The name is the framework's, whose own choice is the other one.
    assert config._config_options_template["runner.postScriptGC"].default_val is True
