"""Where the app listens is tried out before the server starts, and said in plain words."""

import socket
from collections.abc import Iterator

import pytest

from explorer.__main__ import main


@pytest.fixture
def taken() -> Iterator[int]:
    """A port of this machine that something else listens at."""
    with socket.create_server(("127.0.0.1", 0)) as other:
        yield other.getsockname()[1]


@pytest.fixture(autouse=True)
def no_server(monkeypatch: pytest.MonkeyPatch) -> None:
    """The server itself is never reached here."""
    from streamlit.web import cli

    monkeypatch.setattr(cli, "main", lambda: pytest.fail("the server was started"))


def test_a_port_in_use_is_said_with_what_to_do(
    taken: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["--port", str(taken), "--no-browser"]) == 2
    told = capsys.readouterr().err
    assert told.startswith(f"port: got '{taken}'; wanted a port that nothing else")
    assert "another port" in told
    assert "network" not in told


@pytest.mark.parametrize("address", ["8.8.8.8", "203.0.113.7", "2001:db8::7"])
def test_an_address_of_another_machine_is_said_to_be_one(
    address: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """The addresses are bound to, which sends nothing; RFC 5737 and 3849 keep two of them free."""
    assert main(["--listen", address, "--no-browser"]) == 2
    told = capsys.readouterr().err
    assert told.startswith(f"listen: got '{address}'; wanted this machine's own address")
    assert "room for" not in told
    # Nobody was let in, so nobody is warned of it.
    assert "unencrypted" not in told
