"""The same results with every newer Python on this machine, from a fresh environment of each.

Run by hand: ``python -m tests.bench.pythons PYTHON [PYTHON ...]`` from the project's folder. For
each interpreter an environment is made as the README makes it, with the pinned versions; in it the
fixed brief is made, and the tests of the core are run with ``--tests``.
"""

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
_TESTS = ["tests/palettes", "tests/explorer", "tests/fuzz", "-x", "-q", "-p", "no:cacheprovider"]


def run(*command: str) -> str:
    """A command's output; what fails ends the script with what it said."""
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    if done.returncode:
        sys.exit(f"{' '.join(command)}\n{done.stdout[-3000:]}{done.stderr[-3000:]}")
    return done.stdout


def main() -> None:
    """Make the environments and compare."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("pythons", nargs="+")
    parser.add_argument("--tests", action="store_true")
    options = parser.parse_args()
    wanted = run(sys.executable, "-m", "tests.robust.digest")
    print(f"{sys.version.split()[0]:8} {wanted.split()[2]}")
    for python in options.pythons:
        with tempfile.TemporaryDirectory() as name:
            run(python, "-m", "venv", name)
            inside = str(Path(name) / "bin" / "python")
            extra = "[test]" if options.tests else ""
            pins = str(ROOT / ".ci" / "constraints.txt")
            run(inside, "-m", "pip", "install", "-q", "-c", pins, "-e", f".{extra}")
            version = run(inside, "-c", "import sys; print(sys.version.split()[0])").strip()
            found = run(inside, "-m", "tests.robust.digest")
            print(f"{version:8} {'the same' if found == wanted else 'OTHER: ' + found}", flush=True)
            if options.tests:
                print(run(inside, "-m", "pytest", *_TESTS).strip().splitlines()[-1], flush=True)


if __name__ == "__main__":
    main()
