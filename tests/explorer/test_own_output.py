"""Standard output holds the answer and nothing else, whatever native code prints."""

import json
import os
import subprocess
import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path
from types import SimpleNamespace

import pytest

import explorer.command_line as command_line
from explorer.commands.answer import Answer
from explorer.errors import BriefError

ROOT = Path(__file__).resolve().parents[2]
# The C library prints on its own account, held back until its buffer is written out.
NOISY = """
import ctypes, os, sys
import explorer.command_line as command_line
from explorer.commands import order
quiet = order.run
def noisy(options):
    print("from python")
    os.write(1, b"from a descriptor\\n")
    ctypes.CDLL("ucrtbase" if os.name == "nt" else None).puts(b"from the C library")
    return quiet(options)
order.run = noisy
sys.exit(command_line.main(["order", "--colours", "f00,00f", "--motifs", "4", "--json"]))
"""


def run(*arguments: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, *arguments],
        cwd=ROOT, capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip


def test_the_integer_programs_own_print_is_not_in_the_document() -> None:
    colours = "b0e16d,379018,a30923,2d7409,1fa02b"
    asked = ("-m", "explorer", "order", "--colours", colours, "--motifs", "11", "--ring")
    done = run(*asked, "--json")
    assert done.returncode == 0
    assert len(json.loads(done.stdout)["order"]) == 11
    text = run(*asked)
    assert text.stdout.startswith("order: #")


def test_whatever_prints_meanwhile_goes_to_standard_error() -> None:
    done = run("-c", NOISY)
    assert done.returncode == 0
    assert json.loads(done.stdout)["order"]
    for told in ("from python", "from a descriptor", "from the C library"):
        assert told in done.stderr


def test_both_streams_are_as_before_afterwards(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def answered(options: Namespace) -> Answer:
        os.write(1, b"noise\n")
        if options.bad:
            raise BriefError("bad", "yes", "no", "Leave it out.")
        return Answer(document={}, lines=("the answer",))

    def add_options(parser: ArgumentParser) -> None:
        parser.add_argument("--bad", action="store_true")

    module = SimpleNamespace(SUMMARY="", add_options=add_options, run=answered)
    monkeypatch.setattr(command_line, "_module", lambda _: module)
    assert command_line.main(["fit"]) == 0
    assert command_line.main(["fit", "--bad"]) == 2
    os.write(1, b"afterwards\n")
    out, err = capfd.readouterr()
    assert out == "the answer\nafterwards\n"
    assert err.count("noise") == 2


@pytest.mark.skipif(os.name == "nt", reason="closes descriptors the way a shell of Unix does")
@pytest.mark.parametrize("closed", [">&-", "2>&-"])
def test_a_stream_that_is_closed_is_no_fault(closed: str) -> None:
    command = f'"{sys.executable}" -m explorer fit --snug 214 --json {closed}'
    done = subprocess.run(
        ["/bin/sh", "-c", command],
        cwd=ROOT, capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    assert bool(done.stdout) is (closed == "2>&-")
