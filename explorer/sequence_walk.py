"""From how often colours meet to an order: an Eulerian circuit, walked with an eye on repeats.

Fleury's rule (1883, from memory): never cross a bridge unless there is no other way. It leaves free
which edge to take next, and the walk takes the colour that is most overdue.
"""


def walk(meetings: dict[tuple[int, int], int], motifs: int, *, ring: bool) -> tuple[int, ...]:
    """An order in which colours meet just as often as asked.

    Args:
        meetings: connected multiplicities, see ``sequence_euler.meeting_counts``.
        motifs: how many motifs the strip has.
        ring: whether the last motif meets the first; otherwise -1 marks the ends.

    Returns:
        The colour of each motif.
    """
    left: dict[int, dict[int, int]] = {}
    for (a, b), times in meetings.items():
        left.setdefault(a, {})[b] = times
        left.setdefault(b, {})[a] = times
    uses = {c: sum(row.values()) / 2 for c, row in left.items()}
    here = max(uses, key=lambda c: (-uses[c], -c)) if ring else -1
    due = dict.fromkeys(uses, 0.0)
    visited = [here]
    for step in range(motifs if ring else motifs + 1):
        here = _next(left, here, due)
        visited.append(here)
        due[here] = step + motifs / uses[here]
    return tuple(visited[:motifs]) if ring else tuple(visited[1:-1])


def _next(
    left: dict[int, dict[int, int]],
    here: int,
    due: dict[int, float],
) -> int:
    row = left[here]
    for there in sorted(row, key=lambda c: (c == -1, due[c], c)):
        _take(left, here, there)
        if len(row) == 0 or _joined(left, here, there):
            return there
        _take(left, here, there, times=-1)
    raise RuntimeError(f"no way on from colour {here}: {left!r}")


def _take(left: dict[int, dict[int, int]], a: int, b: int, times: int = 1) -> None:
    for x, y in ((a, b), (b, a)):
        remaining = left[x].get(y, 0) - times
        if remaining:
            left[x][y] = remaining
        else:
            left[x].pop(y, None)


def _joined(left: dict[int, dict[int, int]], here: int, there: int) -> bool:
    """Whether the edge just taken was no bridge: its start can still be reached from its end."""
    seen, todo = {there}, [there]
    while todo:
        for c in left[todo.pop()]:
            if c == here:
                return True
            if c not in seen:
                seen.add(c)
                todo.append(c)
    return False
