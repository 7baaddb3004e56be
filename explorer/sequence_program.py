"""The integer program behind colour orders: any whole numbers that keep to the rows (HiGHS)."""

from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from explorer.sequence_budget import Budget, Verdict


def table(cells: Iterable[tuple[int, int, float]], rows: int, width: int) -> Any:
    """A table that is mostly nothing, from its cells as (row, column, value)."""
    from scipy.sparse import csr_array

    row, column, value = zip(*cells, strict=True)
    return csr_array((value, (row, column)), shape=(rows, width))


def whole_answer(
    rows: Any,
    limits: tuple[Sequence[float], Sequence[float]],
    bounds: tuple[NDArray[np.float64], NDArray[np.float64]],
    budget: Budget,
) -> NDArray[np.int64] | Verdict:
    """Whole numbers within their bounds whose rows keep to their limits.

    Args:
        rows: the table, (rows, width), whole or as :func:`table` makes it.
        limits: the least and the most of each row.
        bounds: the least and the most of each number.
        budget: work that may be spent; each node of the solver is a step.

    Returns:
        The numbers; or ``IMPOSSIBLE`` when there are none, ``UNDECIDED`` when the budget ended.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp

    if not budget.spend():
        return Verdict.UNDECIDED
    least, most = bounds
    result = milp(
        np.zeros(len(most)),
        integrality=np.ones(len(most), dtype=np.int64),
        bounds=Bounds(least, most),
        constraints=LinearConstraint(rows, np.array(limits[0]), np.array(limits[1])),
        options={"node_limit": max(1, budget.left)},
    )
    budget.spend(max(1, int(result.mip_node_count or 1)))
    if result.status == 2:
        return Verdict.IMPOSSIBLE
    if result.x is None:
        return Verdict.UNDECIDED
    return np.rint(result.x).astype(np.int64)
