"""Do the tests notice when the program reckons wrongly? One operator at a time is changed.

Run by hand: ``python -m tests.bench.mutation [--each 40] [--seed 1] [fit counts ...]``. Linux only.

The project is copied aside. In the copy, each mutant changes one operator, comparison or number of
a module; that module's own tests run against it in a process of their own. A mutant that they pass
is a survivor: printed, to be looked at. Some survivors mean the same as the program.
"""

import argparse
import ast
import copy
import importlib
import os
import random
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NoReturn

ROOT = Path(__file__).resolve().parents[2]
# Modules, each with the tests that are its own.
TARGETS = {
    "fit": (["explorer/fit.py"], ["explorer/test_fit.py"]),
    "counts": (["explorer/counts.py"], ["explorer/test_counts.py", "explorer/test_one_truth.py"]),
    "contrast": (["explorer/contrast.py", "explorer/contrast_piece.py",
                  "explorer/contrast_compare.py", "palettes/difference.py"],
                 ["explorer/test_contrast_piece.py", "palettes/test_difference.py",
                  "explorer/test_contrast.py"]),
    "sequence": (["explorer/sequence*.py"],
                 ["explorer/test_sequence_budget.py", "explorer/test_sequence_spread.py",
                  "explorer/test_sequence_exact.py", "explorer/test_sequence_conflicts.py",
                  "explorer/test_sequence_several.py", "explorer/test_sequence.py",
                  "explorer/test_sequence_brute.py"]),
    "thread": (["explorer/thread*.py"],
               ["explorer/test_thread.py", "explorer/test_thread_holes.py",
                "explorer/test_thread_setup.py", "explorer/test_thread_pieces.py",
                "explorer/test_counts.py",
                "explorer/test_one_truth.py"]),
}  # fmt: skip
# A mutant may never end. Chosen by us: ended after so many times what the tests took unchanged,
# on a loaded machine too.
_ENDLESS, _LEAST_S = 6, 60.0
_SWAPS: dict[type[ast.AST], Any] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult, ast.Mod: ast.Mult, ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE,
    ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq, ast.And: ast.Or, ast.Or: ast.And,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip


def mutants(source: str) -> Iterator[tuple[str, str]]:
    """Every changed source, with the place and what was changed."""
    tree = ast.parse(source)
    # How a class is made (frozen, slots) is no reckoning.
    marked = (d for node in ast.walk(tree) for d in getattr(node, "decorator_list", ()))
    left_out = {id(inside) for decorator in marked for inside in ast.walk(decorator)}
    for place, node in enumerate(ast.walk(tree)):
        if id(node) in left_out:
            continue
        for number, told in enumerate(_changes(node)):
            changed = copy.deepcopy(tree)
            twin = list(ast.walk(changed))[place]
            _change(twin, number)
            yield f"line {getattr(node, 'lineno', '?')}: {told}", ast.unparse(changed)


def _changes(node: ast.AST) -> list[str]:
    """What can be changed at a node, in the order of ``_change``."""
    if isinstance(node, ast.BinOp | ast.BoolOp) and type(node.op) in _SWAPS:
        return [f"{ast.unparse(node)[:70]}  operator"]
    if isinstance(node, ast.Compare):
        return [
            f"{ast.unparse(node)[:70]}  comparison {i}"
            for i, op in enumerate(node.ops)
            if type(op) in _SWAPS
        ]
    if isinstance(node, ast.Constant) and isinstance(node.value, bool | int | float):
        return [f"constant {node.value}"]
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub | ast.Not):
        return [f"{ast.unparse(node)[:70]}  without its sign"]
    return []


def _change(node: ast.AST, number: int) -> None:
    if isinstance(node, ast.BinOp | ast.BoolOp):
        node.op = _SWAPS[type(node.op)]()
    elif isinstance(node, ast.Compare):
        places = [i for i, op in enumerate(node.ops) if type(op) in _SWAPS]
        at = places[number]
        node.ops[at] = _SWAPS[type(node.ops[at])]()
    elif isinstance(node, ast.Constant):
        held = node.value
        if isinstance(held, bool):
            node.value = not held
        elif isinstance(held, int | float):
            node.value = held + 1
    elif isinstance(node, ast.UnaryOp):
        node.op = ast.UAdd() if isinstance(node.op, ast.USub) else node.op
        if isinstance(node.op, ast.Not):
            node.operand = ast.UnaryOp(op=ast.Not(), operand=node.operand)


def _run_and_end(folder: Path, tests: list[str]) -> NoReturn:
    """Run the tests, write what they say to a file, and end this process whatever happens."""
    code = 3
    try:
        os.setpgid(0, 0)
        quiet = os.open(folder / "last-run.txt", os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        import pytest

        paths = [str(folder / "tests" / test) for test in tests]
        code = pytest.main(["-x", "-q", "-p", "no:cacheprovider", "--rootdir", str(folder), *paths])
    except BaseException:
        traceback.print_exc()
        raise
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(int(code))


def outcome(folder: Path, tests: list[str], most_s: float = 3600.0) -> int:
    """The exit code of the tests in a process of their own; -9 for one that had to be ended."""
    child = os.fork()
    if child == 0:
        _run_and_end(folder, tests)
    end = time.monotonic() + most_s
    while time.monotonic() < end:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.02)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return -signal.SIGKILL


def check(name: str, folder: Path, each: int, seed: int) -> tuple[int, list[str]]:
    """Try so many mutants of a target; how many were tried, and the survivors."""
    files, tests = TARGETS[name]
    start = time.monotonic()
    if outcome(folder, tests) != 0:
        told = (folder / "last-run.txt").read_text("utf-8")[-2000:]
        sys.exit(f"{name}: its tests fail on the program as it is\n{told}")
    most_s = max(_LEAST_S, _ENDLESS * (time.monotonic() - start))
    every = [
        (str(path.relative_to(folder)), told, source)
        for pattern in files
        for path in sorted(folder.glob(pattern))
        for told, source in mutants(path.read_text("utf-8"))
    ]
    chosen = random.Random(seed).sample(every, min(each, len(every)))  # noqa: S311 - which to try
    survivors, endless = [], 0
    for file, told, source in chosen:
        path = folder / file
        whole = path.read_text("utf-8")
        path.write_text(source, "utf-8")
        code = outcome(folder, tests, most_s)
        path.write_text(whole, "utf-8")
        endless += code == -signal.SIGKILL
        if code == 0:
            survivors.append(f"{file} {told}")
            print(f"    survived: {survivors[-1]}", flush=True)
    print(f"{name:9} {len(every):4} mutants there are, {len(chosen):3} tried, "
          f"{len(chosen) - len(survivors):3} caught, {endless} of them since they never end",
          flush=True)  # fmt: skip
    return len(chosen), survivors


def main() -> None:
    """Copy the project, load what is slow to load, and try the mutants."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("targets", nargs="*", default=list(TARGETS))
    parser.add_argument("--each", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    sys.dont_write_bytecode = True
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for part in ("palettes", "gallery", "explorer", "tests"):
            skip = shutil.ignore_patterns("__pycache__", "examples", "bench", "golden")
            shutil.copytree(ROOT / part, folder / part, ignore=skip)
        shutil.copy(ROOT / "pyproject.toml", folder)
        os.chdir(folder)
        sys.path[:] = [str(folder), *(p for p in sys.path if Path(p or ".").resolve() != ROOT)]
        # Loaded once here, so that every process has them at once.
        for library in ("numpy", "scipy.optimize", "skimage.color"):
            importlib.import_module(library)

        tried = survived = 0
        for target in options.targets:
            count, survivors = check(target, folder, options.each, options.seed)
            tried, survived = tried + count, survived + len(survivors)
        print(f"{tried} tried, {tried - survived} caught")
        os.chdir(ROOT)


if __name__ == "__main__":
    main()
