"""``danglewise order``: the best order of colours over a strip, with its proof."""

import argparse
from collections.abc import Iterator
from typing import TypedDict

from explorer.brief import whole
from explorer.commands.answer import Answer, Json
from explorer.commands.order_options import add_order, arrangement_of, fixed_of, gap_of
from explorer.contrast import judge_colours
from explorer.contrast_words import possible_words, tenths
from explorer.demands import refused
from explorer.errors import BriefError
from explorer.hexes import parse_colours
from explorer.order_choice import Found, choose_order, differences
from explorer.sequence_types import (
    MOST_COLOURS,
    MOST_MOTIFS,
    Arrangement,
    NoOrder,
    Order,
    OrderBrief,
    balanced,
)
from palettes.spaces import FloatArray, hexes_to_srgb1, srgb1_to_lab

SUMMARY = "find the order in which neighbours stand apart most"

# Chosen by us: more than a dozen orders are not looked at one by one.
MOST_SEVERAL = 24


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--colours", required=True, metavar="HEX,HEX,...", help="to choose from")
    parser.add_argument("--motifs", required=True, metavar="N", help="how many motifs")
    parser.add_argument(
        "--ring", action="store_true", help="the pair that meets over the closure counts too"
    )
    parser.add_argument("--least", metavar="K", help="fewest uses of each colour (N/k down)")
    parser.add_argument("--most", metavar="K", help="most uses of each colour (N/k up)")
    add_order(parser)
    parser.add_argument("--several", metavar="K", help="so many orders that are really different")


def run(options: argparse.Namespace) -> Answer:
    """The best order; ``BriefError`` for wrong options and for orders that cannot be."""
    colours = parse_colours(options.colours)
    whole("colours", len(colours), 1, MOST_COLOURS)
    motifs = whole("motifs", options.motifs, 1, MOST_MOTIFS)
    arrangement = arrangement_of(options) or Arrangement.FREE
    brief = OrderBrief(
        motifs=motifs,
        ring=options.ring,
        gap=gap_of(options),
        fixed=_in_strip(fixed_of(options, colours), motifs),
        arrangement=arrangement,
        **_uses(options, len(colours), motifs, arrangement),
    )
    many = 1 if options.several is None else whole("several", options.several, 1, MOST_SEVERAL)
    found, others = _found(srgb1_to_lab(hexes_to_srgb1(colours)), brief, many)
    orders = (found.order, *others)
    echo = {
        "colours": list(colours),
        "motifs": motifs,
        "ring": brief.ring,
        "least": list(brief.least) or None,
        "most": list(brief.most) or None,
        "gap": brief.gap,
        "fix": [list(pair) for pair in brief.fixed],
        "arrangement": arrangement.value,
        "several": many,
    }
    document = {
        "brief": echo,
        **order_document(found.order),
        # Of a run it is proved that no other is gentler, not that none stands further apart.
        "proven": found.order.proven and arrangement is not Arrangement.RUN,
        "strongest": found.strongest,
        "strongest_proven": found.proven,
        "gave_up_for": found.gave_up_for or None,
    }
    if options.several is not None:
        document["several"] = [order_document(order) for order in orders]
    gentle = arrangement is Arrangement.RUN
    lines = [*order_lines(found.order, colours, found, ring=brief.ring, gentle=gentle)]
    for order in others:
        lines += order_lines(order, colours, None, ring=brief.ring, gentle=gentle)
    return Answer(document=document, lines=tuple(lines))


def _found(lab: FloatArray, brief: OrderBrief, many: int) -> tuple[Found, tuple[Order, ...]]:
    """The order taken, and others that are really different."""
    apart = differences(lab)
    found = choose_order(apart, brief)
    if isinstance(found, NoOrder):
        raise refused(found)
    if many == 1:
        return found, ()
    from explorer.sequence_several import several_orders

    others = several_orders(apart.delta_e_2000, brief, many, first=found.order)
    if isinstance(others, NoOrder):
        raise refused(others)
    return found, others[1:]


def _in_strip(fixed: tuple[tuple[int, int], ...], motifs: int) -> tuple[tuple[int, int], ...]:
    for place, _ in fixed:
        whole("fix", place, 0, motifs - 1)
    return fixed


class _Uses(TypedDict):
    least: tuple[int, ...]
    most: tuple[int, ...]


def _uses(
    options: argparse.Namespace, colours: int, motifs: int, arrangement: Arrangement
) -> _Uses:
    """Fewest and most uses of each colour; left to an arrangement of its own if none is given."""
    if options.least is None and options.most is None and arrangement is not Arrangement.FREE:
        return {"least": (), "most": ()}
    even_least, even_most = balanced(colours, motifs)
    least = even_least[0] if options.least is None else whole("least", options.least, 0, motifs)
    most = even_most[0] if options.most is None else whole("most", options.most, 0, MOST_MOTIFS)
    if least > most:
        raise BriefError(
            "least",
            f"{least} with most {most}",
            "no more than the most",
            f"Set --most to {least} or more, or --least to {most} or less.",
        )
    if least * colours > motifs:
        raise BriefError(
            "least",
            least,
            f"at most {motifs // colours} for {colours} colours over {motifs} motifs",
            f"Lower --least, or take {least * colours} motifs.",
        )
    if most * colours < motifs:
        raise BriefError(
            "most",
            most,
            f"at least {-(-motifs // colours)} for {colours} colours over {motifs} motifs",
            f"Raise --most, or take {most * colours} motifs.",
        )
    return {"least": (least,) * colours, "most": (most,) * colours}


def order_document(order: Order) -> Json:
    """An order as plain values."""
    return {
        "order": list(order.order),
        "weakest": order.weakest,
        "weakest_pair": None if order.weakest_pair is None else list(order.weakest_pair),
        "proven": order.proven,
        "proven_spread": order.proven_spread,
        "bound": order.bound,
        "mean": order.mean,
        "closure": order.closure,
        "meant": [list(pair) for pair in order.meant],
        "counts": list(order.counts),
        "least_distance": order.distance,
    }


def order_lines(
    order: Order, colours: tuple[str, ...], found: Found | None, *, ring: bool, gentle: bool = False
) -> Iterator[str]:
    """An order for reading.

    Args:
        order: the order.
        colours: as hex.
        found: what its colours allow, of the order taken.
        ring: whether it was asked for as a ring.
        gentle: whether it is a run.
    """
    yield "order: " + " ".join(colours[i] for i in order.order)
    if order.weakest is None or order.weakest_pair is None:
        alone = len(order.order) == 1
        yield "one motif has no neighbour" if alone else "all that meet are alike on purpose"
        return
    pair = judge_colours(tuple(colours[order.order[place]] for place in order.weakest_pair)).pairs
    first, second = order.weakest_pair
    if gentle:
        proof = "in the gentlest steps from end to end, which may leave colours out"
    elif order.proven:
        proof = "no order does better (proved)"
    elif found is not None and found.gave_up_for:
        proof = possible_words(order.weakest, found.strongest, found.gave_up_for)
    else:
        proof = f"no order passes {order.bound:.1f}"
    yield (
        f"weakest neighbours: places {first} and {second} (counted from 0), {pair[0].verdict} "
        f"(difference {tenths(order.weakest)}); {proof}"
    )
    for first, second in order.meant:
        yield f"alike on purpose: places {first} and {second}"
    if order.closure is not None and not ring:
        yield f"over the closure: difference {tenths(order.closure)}"
    uses = ", ".join(f"{colours[i]} {n}" for i, n in enumerate(order.counts))
    yield f"uses: {uses}"
