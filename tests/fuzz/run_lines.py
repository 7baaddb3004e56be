"""Runs drawn command lines in this process and looks for faults in how each of them ends.

``python -m tests.fuzz.run_lines LINES SEED`` runs so many and prints a table and what was found. A
line goes through ``explorer.__main__.main``, as ``python -m explorer`` does it, with two things
replaced: the app's server is not started where all before it went well, and the gallery draws one
example, not all. Where a line stands on what others before it have done, running the 100 of its
round again shows it: each round begins in a fresh folder.
"""

import io
import json
import os
import random
import re
import shlex
import shutil
import stat
import sys
import tempfile
import time
import traceback
import warnings
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from unittest import mock

from explorer.__main__ import main
from explorer.example_briefs import EXAMPLES
from tests.fuzz import ground
from tests.fuzz.bounds import HangsError, bounded
from tests.fuzz.lines import Drawing, options, used

_ROUND = 100
# Processor time of one line. Chosen by us, because the slowest one that is meant, a loop of 36
# million pixels, takes some 40 s of it beside much other work.
_SLOW_S = 60.0
# Exit codes that the command line documents, but for 1, which is a mistake of ours, and 130.
_CODES = (0, 2)
_CONTROLS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")


@dataclass(frozen=True, slots=True)
class Ended:
    """How a line ended: its exit code, what it printed, and how long it took."""

    code: object
    out: str
    err: str
    seconds: float
    helped: bool


@dataclass(slots=True)
class Tally:
    """What was run and found."""

    lines: Counter[str] = field(default_factory=Counter)
    codes: Counter[tuple[str, str]] = field(default_factory=Counter)
    well: set[tuple[str, str]] = field(default_factory=set)
    seconds: dict[str, float] = field(default_factory=dict)
    slowest: dict[str, tuple[float, str]] = field(default_factory=dict)
    found: list[str] = field(default_factory=list)

    @property
    def never(self) -> list[str]:
        """Options that stood in no line that ended well."""
        return [
            f"{command} {option.flag}"
            for command, known in options().items()
            for option in known
            if option.flag and option.name != "help" and (command, option.flag) not in self.well
        ]

    def add(self, command: str, arguments: Sequence[str], ended: Ended) -> None:
        """Count a line."""
        code = str(ended.code) if ended.code in _CODES else "other"
        self.lines[command] += 1
        self.codes[command, code] += 1
        self.seconds[command] = self.seconds.get(command, 0.0) + ended.seconds
        if ended.seconds > self.slowest.get(command, (0.0, ""))[0]:
            self.slowest[command] = ended.seconds, told(arguments)
        if ended.code == 0 and not ended.helped:
            self.well |= {(command, flag) for flag in used(command, arguments)}

    def table(self) -> Iterator[str]:
        """The table, the slowest lines, and what was found."""
        yield "| command | lines | ended 0 | ended 2 | other | ms each | slowest s |"
        yield "|---|---|---|---|---|---|---|"
        for command, lines in self.lines.items():
            codes = " | ".join(str(self.codes[command, code]) for code in ("0", "2", "other"))
            each = 1000.0 * self.seconds[command] / lines
            yield f"| {command} | {lines} | {codes} | {each:.1f} | {self.slowest[command][0]:.2f} |"
        well = sum(self.codes[command, "0"] for command in self.lines)
        total = self.lines.total()
        yield f"{total} lines, {well} ended well ({well / total:.0%}); {len(self.found)} faults"
        yield f"options never in a line that ended well: {', '.join(self.never) or 'none'}"
        yield from (f"slowest {c}: {s:.2f} s: {line}" for c, (s, line) in self.slowest.items())
        yield from self.found


def told(arguments: Sequence[str]) -> str:
    """A line as it can be typed again, or at least read."""
    return shlex.join(arguments).encode("unicode_escape").decode()[:600]


@contextmanager
def _elsewhere(root: Path) -> Iterator[None]:
    """A home, a folder for passing files and standard streams of its own."""
    home, passing = str(root / "home"), str(root / "passing")
    # With a language and a width the parser need not look for them in every line.
    words = {"LANGUAGE": "C", "COLUMNS": "80", "LINES": "24"}
    places = {"HOME": home, "XDG_DATA_HOME": home, "TMPDIR": passing}
    before = Path.cwd()
    with ExitStack() as stack:
        stack.enter_context(mock.patch.dict(os.environ, places | words))
        stack.enter_context(mock.patch.object(tempfile, "tempdir", passing))
        stack.enter_context(mock.patch("explorer.app.start.start", return_value=0))
        stack.enter_context(mock.patch("explorer.commands.gallery.EXAMPLES", EXAMPLES[:1]))
        stack.enter_context(warnings.catch_warnings())
        # A warning of a library's would stand on the maker's terminal.
        warnings.simplefilter("error")
        try:
            yield
        finally:
            os.chdir(before)


def ended(arguments: list[str], encoding: str) -> Ended:
    """Run a line; whatever comes out of it but an answer is part of how it ended."""
    kept = io.BytesIO(), io.BytesIO()
    out, err = (io.TextIOWrapper(one, encoding=encoding) for one in kept)
    code: object = None
    helped = False
    start = time.process_time()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            with bounded():
                code = main(arguments)
        except SystemExit as end:
            code, helped = end.code, True
        except (Exception, HangsError) as error:  # noqa: BLE001 - this is what is looked for
            code = f"{type(error).__name__}: {error}\n{traceback.format_exc(limit=-6)}"
    seconds = time.process_time() - start
    out.flush()
    err.flush()
    told_out, told_err = (one.getvalue().decode(encoding) for one in kept)
    return Ended(code, told_out, told_err, seconds, helped)


def faults(arguments: Sequence[str], how: Ended) -> Iterator[str]:
    """What is wrong with how a line ended, but for its files."""
    if how.code not in _CODES:
        yield f"exit {how.code}"
    both = how.out + how.err
    for words in ("Traceback", "our mistake", "Errno", "Error:", "NoneType"):
        if words in both and words not in " ".join(arguments):
            yield f"{words!r} is told"
    if how.seconds > _SLOW_S:
        yield f"{how.seconds:.1f} s"
    if how.helped:
        return
    if "--json" in arguments:
        yield from _document_faults(how)
        return
    if _CONTROLS.search(both):
        yield "control characters reach the terminal"
    right, wrong = (how.out, how.err) if how.code == 0 else (how.err, how.out)
    # An import says what it put there, and beside that what it left out.
    partly = how.code == 2 and "\nleft out: " in how.out
    if wrong.strip() and "unencrypted" not in wrong and not partly:
        yield "something is printed where nothing belongs"
    lines = right.rstrip("\n").split("\n")
    if how.code == 2 and (len(lines) < 2 or not lines[-1].strip()):
        yield "no remedy"


def _document_faults(how: Ended) -> Iterator[str]:
    if how.err and "unencrypted" not in how.err:
        yield "something is printed beside the document"
    if how.code == 0 and not how.out:
        # The app's server would speak here.
        return
    try:
        # NaN and the infinities, which Python would read, are not JSON.
        document = json.loads(how.out, parse_constant=_no_number)
    except ValueError:
        yield "no document"
        return
    if how.code == 2:
        error = document.get("error")
        parts = {"field", "got", "wanted", "remedy"}
        if not isinstance(error, dict) or {*error} != parts:
            yield "no whole error"
        elif not all(error[part].strip() for part in parts - {"got"}):
            yield "an empty part of an error"


def _no_number(word: str) -> None:
    raise ValueError(word)


class _Files:
    """What is in the folder before and after each line."""

    def __init__(self, root: Path, place: Path) -> None:
        self._root, self._place = root, place
        self._before = ground.seen(root)

    def faults(self, arguments: Sequence[str], how: Ended) -> Iterator[str]:
        """What is wrong with the files that a line left."""
        before, after = self._before, ground.seen(self._root)
        self._before = after
        changed = {path for path in {*before, *after} if before.get(path) != after.get(path)}
        own = str(self._root / "home/danglewise/shelf.sqlite3")
        named = _values(arguments, "--shelf") if "shelf" in arguments else []
        shelves = {own, *(os.path.normpath(self._place / name) for name in named)}
        changed -= {path for path in changed if ground.is_shelf(path, shelves)}
        outs = [os.path.normpath(self._place / name) for name in _values(arguments, "--out")]
        # What could be read of a damaged shelf is written, and the fault told beside it.
        partly = "shelf" in arguments and {"rescue", "export"} & {*arguments} and how.code == 2
        partly = partly and bool(how.out.strip())
        for path in sorted(changed):
            word = ascii(os.path.relpath(path, self._place))
            ours = any(
                path == out or path.startswith(out + os.sep) or out.startswith(path + os.sep)
                for out in outs
            )
            if path not in after:
                yield f"{word} is gone"
            elif path in before and stat.S_IFMT(before[path][0]) in (stat.S_IFIFO, stat.S_IFDIR):
                yield f"{word} is no file, and was changed"
            elif not (how.code == 0 or partly) or not ours:
                yield f"{word} was written"
            elif half := ground.half(Path(path)) if Path(path).is_file() else "":
                yield half


def _values(arguments: Sequence[str], flag: str) -> list[str]:
    """What stands behind a flag, in every place."""
    pairs = pairwise([*arguments, ""])
    joined = [word.partition("=")[2] for word in arguments if word.startswith(f"{flag}=")]
    return [*joined, *(after for word, after in pairs if word == flag)]


def run(lines: int, seed: int, first: int = 0) -> Tally:
    """Run so many lines; what came of them."""
    tally = Tally()
    # In memory where the system has such a place: thousands of files are written and thrown away.
    memory = "/dev/shm" if Path("/dev/shm").is_dir() else None  # noqa: S108 - a folder's place
    with tempfile.TemporaryDirectory(dir=memory) as folder:
        given = Path(folder) / "given"
        ground.make(given)
        # So deep that no line climbs out of it.
        root = Path(folder) / "run"
        place = root / "1/2/3/4/5"
        with _elsewhere(root):
            for number in range(first, first + lines):
                if number == first or number % _ROUND == 0:
                    files = _begin(random.Random(f"{seed}/{number}"), given, root, place)  # noqa: S311
                command, arguments = Drawing(seed, str(place)).line(number)
                encoding = ("utf-8", "utf-8", "ascii", "latin-1")[number % 4]
                how = ended(arguments, encoding)
                tally.add(command, arguments, how)
                for fault in (*faults(arguments, how), *files.faults(arguments, how)):
                    output = (how.out + how.err)[-300:].encode("unicode_escape").decode()
                    tally.found.append(f"{seed}/{number}: {fault}: {told(arguments)}\n   {output}")
                    # Seen at once, as a long run may be broken off.
                    sys.stderr.write(f"{tally.found[-1]}\n")
    return tally


def _begin(rng: random.Random, given: Path, root: Path, place: Path) -> _Files:
    """A fresh folder for a round."""
    os.chdir(given)
    shutil.rmtree(root, ignore_errors=True)
    (root / "passing").mkdir(parents=True)
    shutil.copytree(given, place)
    ground.special(place)
    own = root / "home/danglewise/shelf.sqlite3"
    own.parent.mkdir(parents=True)
    shutil.copyfile(given / "own.sqlite3", own)
    ground.damaged_shelf(rng, own)
    os.chdir(place)
    return _Files(root, place)


if __name__ == "__main__":
    asked = [int(word) for word in sys.argv[1:]]
    start = time.monotonic()
    done = run(*asked)
    sys.stdout.write("\n".join(done.table()) + "\n")
    sys.stdout.write(f"{time.monotonic() - start:.0f} s\n")
    sys.exit(1 if done.found else 0)
