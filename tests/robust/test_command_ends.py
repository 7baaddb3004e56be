"""However a command ends - a reader that leaves, a full disk, Ctrl+C - no traceback is seen."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from explorer.__main__ import main

ROOT = Path(__file__).resolve().parents[2]
FIT = [sys.executable, "-m", "explorer", "fit", "--snug", "200"]


@pytest.mark.parametrize("more", [[], ["--json"]])
def test_a_reader_that_leaves_at_once(more: list[str]) -> None:
    with subprocess.Popen(
        [*FIT, *more], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout is not None
        process.stdout.close()
        assert process.stderr is not None
        told = process.stderr.read()
    assert (process.returncode, told) == (0, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this machine has no /dev/full")
def test_a_full_disk() -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            FIT, cwd=ROOT, stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert done.returncode == 2
    assert done.stderr.startswith("output: got 'No space left on device'")
    assert "Traceback" not in done.stderr


@pytest.mark.skipif(not Path("/proc/self/maps").exists(), reason="this system has no /proc")
def test_ctrl_c() -> None:
    command = [sys.executable, "-m", "explorer", "propose", "--snug", "900", "--count", "200"]
    process = subprocess.Popen(
        [*command, "--palette", "rockpool", "--json"],
        cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
    )  # fmt: skip
    # The search is on, or about to be, when its libraries are being loaded.
    loaded = Path(f"/proc/{process.pid}/maps")
    for _ in range(600):
        if "/scipy/" in loaded.read_text():
            break
        time.sleep(0.1)
    time.sleep(1.0)
    process.send_signal(signal.SIGINT)
    told = process.communicate()[1]
    # A shell says 130 to both: our own exit code, and Python ending itself by the signal, as it
    # does when the press came in the midst of a library's own start.
    assert process.returncode in (130, -signal.SIGINT)
    assert told == b"stopped; nothing was written\n"


@pytest.mark.parametrize("library", ["argparse", "numpy", "gallery.files"])
def test_ctrl_c_while_a_library_is_being_loaded(library: str) -> None:
    press = (
        "import os, signal, sys\n"
        "class Press:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        f"        if name == {library!r}:\n"
        "            os.kill(os.getpid(), signal.SIGINT)\n"
        "sys.meta_path.insert(0, Press())\n"
        "from explorer.__main__ import main\n"
        "sys.exit(main(['sheet', '--help']))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", press], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stdout) == (130, "")
    assert done.stderr == "stopped; nothing was written\n"


def test_ctrl_c_after_a_file_was_written_tells_of_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def late(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("explorer.commands.palette.palette_lines", late)
    out = tmp_path / "made.toml"
    assert main(["palette", "--from", "d7263d", "--size", "3", "--out", str(out)]) == 130
    assert capsys.readouterr().err == f"stopped; {out} was written\n"
    assert out.exists()


def test_ctrl_c_ends_the_server_with_a_line(tmp_path: Path) -> None:
    settings = {**os.environ, "HOME": str(tmp_path), "XDG_DATA_HOME": str(tmp_path)}
    with subprocess.Popen(
        [*FIT[:3], "--no-browser"],
        cwd=ROOT, env=settings, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    ) as process:  # fmt: skip
        assert process.stdout is not None
        assert any("URL" in line for line in process.stdout)
        process.send_signal(signal.SIGINT)
        told = process.communicate()[1]
    assert process.returncode == 130
    assert told.strip() == "Danglewise has stopped; what was on the table is kept."
