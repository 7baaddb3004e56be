"""What a proved colour order costs beside CP-SAT, a general constraint solver, in two forms.

Run by hand from the top of the repository: ``python -m tests.bench.bench_sequence``. Needs the
``bench`` extra. Position by position gets at most ``LIMIT_S`` seconds a strip.

Prints ratios of computations in one run. Floors: never slower than the threshold search, and 8
colours over 40 motifs proved at least 300 times sooner than position by position reaches a proof or
its limit. Goal: 12 colours over 10 000 motifs under a second. ``--quick`` leaves out position by
position.
"""

import argparse
import time
from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from ortools.sat.python import cp_model

from explorer.sequence import QUICK_STEPS, Arrangement, Order, OrderBrief, balanced, best_order

LIMIT_S = 60.0
WORKERS = 2
SHAPES = [(6, 24, False), (8, 24, True), (8, 40, False), (8, 40, True)]
SEEDS = range(3)


def points(colours: int, seed: int) -> NDArray[np.float64]:
    """Distances between random points, as differences between colours are."""
    spots = np.random.default_rng(seed).random((colours, 3)) * [100.0, 80.0, 80.0]
    return np.asarray(np.sqrt(((spots[:, None] - spots[None]) ** 2).sum(-1)))


def seconds(work: Callable[[], object], repeats: int = 5) -> float:
    """Seconds of the quickest of some repeats."""
    best = float("inf")
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def places(model: cp_model.CpModel, colours: int, motifs: int) -> list[list[cp_model.IntVar]]:
    """One yes or no for each place and colour, with balanced uses."""
    least, most = balanced(colours, motifs)
    at = [[model.new_bool_var(f"{i}_{c}") for c in range(colours)] for i in range(motifs)]
    for row in at:
        model.add_exactly_one(row)
    for c in range(colours):
        model.add_linear_constraint(sum(row[c] for row in at), least[c], most[c])
    return at


def pairs(motifs: int, ring: bool) -> list[tuple[int, int]]:
    """Places side by side."""
    return [(i, (i + 1) % motifs) for i in range(motifs if ring else motifs - 1)]


def by_position(matrix: NDArray[np.float64], motifs: int, ring: bool) -> tuple[float, bool]:
    """The best weakest with everything in one model, and whether it was proved in time."""
    colours = len(matrix)
    levels = np.unique(matrix[~np.eye(colours, dtype=bool)])
    model = cp_model.CpModel()
    at = places(model, colours, motifs)
    weakest = model.new_int_var(-1, len(levels) - 1, "weakest")
    for i, j in pairs(motifs, ring):
        for a in range(colours):
            for b in range(colours):
                rank = int(np.searchsorted(levels, matrix[a, b])) if a != b else -1
                model.add(weakest <= rank).only_enforce_if(at[i][a], at[j][b])
    model.maximize(weakest)
    solver = solver_of(LIMIT_S)
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return 0.0, False
    return float(levels[int(solver.objective_value)]), status == cp_model.OPTIMAL


def by_threshold(matrix: NDArray[np.float64], motifs: int, ring: bool) -> tuple[float, bool]:
    """The best weakest by halving over levels, each asked as a yes or no."""
    colours = len(matrix)
    levels = np.unique(matrix[~np.eye(colours, dtype=bool)])
    low, high, sure = -1, len(levels), True
    end = time.perf_counter() + LIMIT_S
    while high - low > 1:
        middle = (low + high) // 2
        model = cp_model.CpModel()
        at = places(model, colours, motifs)
        for i, j in pairs(motifs, ring):
            for a in range(colours):
                beside = [at[j][b] for b in range(colours) if matrix[a, b] >= levels[middle]]
                model.add_bool_or([at[i][a].negated(), *beside])
        status = solver_of(max(0.1, end - time.perf_counter())).solve(model)
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            low = middle
        else:
            sure &= status == cp_model.INFEASIBLE
            high = middle
    return float(levels[low]), sure


def solver_of(limit_s: float) -> cp_model.CpSolver:
    """A solver on as many cores as the project's machines have."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = WORKERS
    solver.parameters.max_time_in_seconds = limit_s
    return solver


def ours(matrix: NDArray[np.float64], brief: OrderBrief) -> Order:
    """Our order, which must be there and proved."""
    answer = best_order(matrix, brief)
    if not isinstance(answer, Order) or not answer.proven:
        raise SystemExit(f"not proved: {answer}")
    return answer


def compare(quick: bool) -> None:
    """Both forms of the peer beside ours, strip by strip."""
    for colours, motifs, ring in SHAPES:
        for seed in SEEDS:
            matrix, brief = points(colours, seed), OrderBrief(motifs=motifs, ring=ring)
            plain = replace(brief, spread=False)
            best = ours(matrix, plain).weakest
            whole = seconds(lambda m=matrix, b=brief: ours(m, b))  # type: ignore[misc]  # bound now
            mine = seconds(lambda m=matrix, b=plain: ours(m, b))  # type: ignore[misc]  # same
            line = (
                f"{colours} x {motifs} {'ring' if ring else 'open'}: weakest {mine * 1e3:6.1f} ms"
            )
            line += f", spread as well {whole * 1e3:6.1f} ms"
            forms = {"threshold search": by_threshold}
            if not quick:
                forms["by position"] = by_position
            for name, form in forms.items():
                start = time.perf_counter()
                value, sure = form(matrix, motifs, ring)
                peer = time.perf_counter() - start
                if sure and value != best:
                    raise SystemExit(f"they disagree: {value} and {best}")
                more = "" if sure else ", not proved by then"
                line += f"; {name} {peer / mine:.0f} and {peer / whole:.1f} times as long{more}"
            print(line, flush=True)


def long_strips() -> None:
    """Strips far longer than any that is worn."""
    for motifs in (1000, 10_000):
        for ring in (False, True):
            matrix, brief = points(12, 1), OrderBrief(motifs=motifs, ring=ring)
            took = seconds(lambda m=matrix, b=brief: ours(m, b), 3)  # type: ignore[misc]  # as above
            print(f"12 x {motifs} {'ring' if ring else 'open'}: {took * 1e3:8.1f} ms, proved")


def many_at_once() -> None:
    """A hundred strips as a set of proposals asks for them, against one drawn-out search each."""
    kinds = [Arrangement.FREE, *Arrangement] * 20
    briefs = [
        (points(5 + i % 4, i), OrderBrief(motifs=18 + i % 12, arrangement=kind))
        for i, kind in enumerate(kinds[:100])
    ]
    full = seconds(lambda: [best_order(m, b) for m, b in briefs], 1)
    hasty = [
        (m, OrderBrief(motifs=b.motifs, arrangement=b.arrangement, steps=QUICK_STEPS))
        for m, b in briefs
    ]
    fast = seconds(lambda: [best_order(m, b) for m, b in hasty], 3)
    same = sum(
        getattr(best_order(*a), "weakest", None) == getattr(best_order(*b), "weakest", None)
        for a, b in zip(briefs, hasty, strict=True)
    )
    print(
        f"100 orders in haste: {fast * 1e3:.0f} ms, with proofs {full / fast:.1f} times as long; "
        f"{same} of 100 as strong"
    )


def main() -> None:
    """Print all figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="leave out position by position")
    ours(points(6, 0), OrderBrief(motifs=9, ring=True, gap=2))  # loads what is loaded once
    many_at_once()
    long_strips()
    compare(parser.parse_args().quick)


if __name__ == "__main__":
    main()
