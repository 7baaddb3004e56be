"""Why no order keeps to a brief, in plain words, and the least change that makes one possible."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from explorer.arrangements import lay_out, uses_of
from explorer.sequence_alike import any_order
from explorer.sequence_budget import Budget, Verdict
from explorer.sequence_places import everything, usable
from explorer.sequence_strongest import fill
from explorer.sequence_types import Arrangement, Change, NoOrder, OrderBrief, balanced

# Chosen by us: changes are tried nearest first, and a maker reads no more than a few of them.
FURTHEST_CHANGE = 8
STEPS_A_TRY = 2000

Alternative = tuple[int, OrderBrief, Change]


def refusal(brief: OrderBrief, colours: int, *, proven: bool = True) -> NoOrder:
    """The answer to a brief that no order keeps to.

    Args:
        brief: what was asked.
        colours: how many colours there are.
        proven: whether it is certain that there is no order.
    """
    changes = [
        row for way in _ways(brief, colours) if (row := _first_possible(way, colours)) is not None
    ]
    changes.sort(key=lambda row: row[0])
    demands = tuple(dict.fromkeys(change.field for _, change in changes))
    why = _why(brief, colours)
    if not proven:
        why = f"No order was found in {brief.steps} steps, though there may be one."
    return NoOrder(
        demands=demands or _all_demands(brief),
        why=why,
        changes=tuple(change for _, change in changes),
        proven=proven,
    )


def possible(brief: OrderBrief, colours: int) -> bool:
    """Whether some order keeps to a brief, whatever the differences; quick, never wrongly yes."""
    least, most = uses_of(brief, colours)
    if sum(least) > brief.motifs or sum(most) < brief.motifs:
        return False
    places = lay_out(brief, colours).places
    if usable(most).bit_count() < 2:
        return not brief.gap and any_order(places) is not None
    if places.contradicts_itself:
        return False
    adjacent = tuple(everything(colours) & ~(1 << c) for c in range(colours))
    return not isinstance(fill(places, adjacent, Budget(limit=STEPS_A_TRY), 500), Verdict)


def _first_possible(way: Iterator[Alternative], colours: int) -> tuple[int, Change] | None:
    for size, brief, change in way:
        if possible(brief, colours):
            return size, change
    return None


def _ways(brief: OrderBrief, colours: int) -> list[Iterator[Alternative]]:
    """One row of changes for each part of a brief, the smallest change of it first."""
    ways: list[Callable[[OrderBrief, int], Iterator[Alternative]]] = [
        _open_ring,
        _fewer_motifs,
        _more_motifs,
        _smaller_gap,
        _lower_least,
        _higher_most,
        _free_place,
        _free_places,
        _other_length,
    ]
    return [way(brief, colours) for way in ways]


def _open_ring(brief: OrderBrief, _colours: int) -> Iterator[Alternative]:
    if brief.ring:
        change = Change(field="ring", to=False, words="Judge the strip open, not over its closure.")
        yield 1, replace(brief, ring=False), change


def _fewer_motifs(brief: OrderBrief, colours: int) -> Iterator[Alternative]:
    lowest = 1 + max((place for place, _ in brief.fixed), default=0)
    for less in range(1, FURTHEST_CHANGE + 1):
        if brief.motifs - less >= max(1, lowest):
            yield _with_motifs(brief, colours, -less)


def _more_motifs(brief: OrderBrief, colours: int) -> Iterator[Alternative]:
    needed = sum(brief.least) - brief.motifs
    for more in (*range(1, FURTHEST_CHANGE + 1), *([needed] if needed > FURTHEST_CHANGE else [])):
        yield _with_motifs(brief, colours, more)


def _with_motifs(brief: OrderBrief, colours: int, more: int) -> Alternative:
    motifs = brief.motifs + more
    even = (brief.least, brief.most) == balanced(colours, brief.motifs)
    # Uses that were simply balanced stay balanced over another number of motifs.
    least, most = balanced(colours, motifs) if even else (brief.least, brief.most)
    changed = replace(brief, motifs=motifs, least=least, most=most)
    return abs(more), changed, Change(field="motifs", to=motifs, words=f"Take {motifs} motifs.")


def _smaller_gap(brief: OrderBrief, _colours: int) -> Iterator[Alternative]:
    for gap in range(brief.gap - 1, -1, -1):
        words = f"Lower the gap to {gap}." if gap else "Ask for no gap."
        yield brief.gap - gap, replace(brief, gap=gap), Change(field="gap", to=gap, words=words)


def _lower_least(brief: OrderBrief, colours: int) -> Iterator[Alternative]:
    least, _ = uses_of(brief, colours)
    for less in _amounts(max(least)):
        lower = tuple(max(0, low - less) for low in least)
        words = f"Let every colour be used {less} {_times(less)} less at the least."
        size = sum(least) - sum(lower)
        yield size, replace(brief, least=lower), Change(field="least", to=lower, words=words)


def _higher_most(brief: OrderBrief, colours: int) -> Iterator[Alternative]:
    _, most = uses_of(brief, colours)
    for more in _amounts(brief.motifs):
        higher = tuple(high + more if high else 0 for high in most)
        words = f"Let every colour be used {more} {_times(more)} more at the most."
        size = more * sum(1 for high in most if high)
        yield size, replace(brief, most=higher), Change(field="most", to=higher, words=words)


def _free_place(brief: OrderBrief, _colours: int) -> Iterator[Alternative]:
    for i, (place, _) in enumerate(brief.fixed):
        kept = (*brief.fixed[:i], *brief.fixed[i + 1 :])
        change = Change(field="fixed", to=kept, words=f"Leave place {place} open.")
        yield 1, replace(brief, fixed=kept), change


def _free_places(brief: OrderBrief, _colours: int) -> Iterator[Alternative]:
    if len(brief.fixed) > 1:
        change = Change(field="fixed", to=(), words="Leave all places open.")
        yield len(brief.fixed), replace(brief, fixed=()), change


def _other_length(brief: OrderBrief, colours: int) -> Iterator[Alternative]:
    if brief.arrangement not in (Arrangement.UNIT, Arrangement.BLOCKS):
        return
    now = brief.length or colours
    name = "unit" if brief.arrangement is Arrangement.UNIT else "block"
    for step in range(1, FURTHEST_CHANGE + 1):
        for length in (now - step, now + step):
            if 1 <= length <= brief.motifs:
                words = f"Make the {name} {length} motifs long."
                change = Change(field="length", to=length, words=words)
                yield step, replace(brief, length=length), change


def _amounts(most: int) -> list[int]:
    """Small amounts one by one, then the largest there is."""
    return sorted({*range(1, min(most, FURTHEST_CHANGE) + 1), most} - {0})


def _times(count: int) -> str:
    return "time" if count == 1 else "times"


def _all_demands(brief: OrderBrief) -> tuple[str, ...]:
    rows = [
        ("gap", brief.gap),
        ("fixed", brief.fixed),
        ("ring", brief.ring),
        ("least", brief.least),
        ("most", brief.most),
    ]
    return tuple(name for name, value in rows if value) or ("motifs",)


def _why(brief: OrderBrief, colours: int) -> str:
    least, most = uses_of(brief, colours)
    used = usable(most).bit_count()
    for reason in (
        _uses_do_not_add_up(brief, least, most),
        _places_clash(brief),
        _too_few_colours(brief, used),
    ):
        if reason:
            return reason
    if brief.ring and used == 2 and brief.motifs % 2:
        return (
            f"Two colours cannot take turns round a ring of {brief.motifs} motifs: "
            "an odd number puts one of them beside itself."
        )
    return "Together these demands put some colour beside itself or nearer than the gap allows."


def _uses_do_not_add_up(
    brief: OrderBrief, least: tuple[int, ...], most: tuple[int, ...]
) -> str | None:
    for c, (low, high) in enumerate(zip(least, most, strict=True)):
        if low > high:
            return f"Colour {c} is asked for at least {low} and at most {high} times."
    if sum(least) > brief.motifs:
        return f"The fewest uses add up to {sum(least)}, more than the {brief.motifs} motifs."
    if sum(most) < brief.motifs:
        return f"The most uses add up to {sum(most)}, fewer than the {brief.motifs} motifs."
    for c, high in enumerate(most):
        settled = len({place for place, colour in brief.fixed if colour == c})
        if settled > high:
            return f"Colour {c} is settled at {settled} places and may be used {high} times."
    return None


def _places_clash(brief: OrderBrief) -> str | None:
    reach = max(1, brief.gap)
    ordered = sorted(brief.fixed)
    for i, (p, a) in enumerate(ordered):
        for q, b in ordered[i + 1 :]:
            if p == q and a != b:
                return f"Place {p} is settled as colour {a} and as colour {b}."
            away = min(q - p, brief.motifs - (q - p)) if brief.ring else q - p
            if a == b and 0 < away <= reach and brief.arrangement is Arrangement.FREE:
                rule = "a gap of " + str(brief.gap) if brief.gap else "neighbours that differ"
                return f"Places {p} and {q} are both settled as colour {a}, against {rule}."
    return None


def _too_few_colours(brief: OrderBrief, used: int) -> str | None:
    if brief.gap >= used and brief.motifs > used:
        return (
            f"A gap of {brief.gap} needs {brief.gap + 1} colours in a row that all differ; "
            f"there are {used}."
        )
    return None
