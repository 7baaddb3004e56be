"""However a command ends - a reader that leaves, a full disk, Ctrl+C - no traceback is seen."""

import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

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
    assert told == b""
