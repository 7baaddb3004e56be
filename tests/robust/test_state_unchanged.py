"""A file or a text that cannot be used changes nothing on the table and is answered in words."""

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from explorer.app import state
from tests.fuzz.doors import pieces
from tests.fuzz.pictures import samples

_PAGE = """
from explorer.app import session
from explorer.app.views import {view}
session.begin()
{view}.view()
session.end()
"""
_HALF = pieces()[0].encode()[: len(pieces()[0]) // 2]
BAD = {
    "nothing": b"",
    "half a piece": _HALF,
    "brackets": b"[" * 100_000,
    "a newer piece": b'{"danglewise_piece": 99}',
    "a picture": samples()[0],
    "not UTF-8": b"\xff\xfe\x00\xd8" * 50,
    "an empty archive": b"PK\x05\x06" + bytes(18),
    "half an archive": b"PK\x03\x04" + bytes(40),
    "half a sign": pieces()[0].replace('"name": "', '"name": "\\ud800', 1).encode(),
}


def _shown(app: AppTest) -> str:
    return " ".join(element.proto.body for element in app.get("html"))


@pytest.mark.parametrize("view", ["piece", "shelf", "colours"])
def test_a_bad_file_changes_nothing(
    view: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))
    app = AppTest.from_string(_PAGE.format(view=view), default_timeout=120).run()
    assert not app.exception
    before = app.session_state[state.HISTORY]
    for name, content in BAD.items():
        if view == "colours" and b"#" in content:
            # Anything with hex colours in it is a palette, half a piece too.
            continue
        (box,) = app.file_uploader
        box.upload(f"{name}.json", content, "application/json").run()
        assert not app.exception, (name, app.exception)
        assert app.session_state[state.HISTORY] == before, name
        assert "dw-fault" in _shown(app), name


@pytest.mark.parametrize("text", ["-3", "1/0", "NaN", "1e999", "9" * 90, "12 parsecs", "<b>"])
def test_a_bad_measurement_changes_nothing(
    text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    app = AppTest.from_string(_PAGE.format(view="size"), default_timeout=120).run()
    before = app.session_state[state.HISTORY].now.piece
    (box,) = [b for b in app.text_input if b.label == "Round the ankle or wrist"]
    box.set_value(text).run()
    assert not app.exception
    assert app.session_state[state.HISTORY].now.piece == before
    assert "dw-fault" in _shown(app)
