"""What hangs on the jumps of CIEDE2000: its own size, colour orders and the best k of n.

Run by hand from the top of the repository: ``python -m tests.bench.measure_jumps``; some minutes.

CIEDE2000 takes a mean of two hues, which turns round where they stand 180 degrees apart: there the
difference jumps. A colour is moved by one step of eight bits in one channel, once so that a pair
crosses that line (jump) and once so that none does (control); what is chosen before and after is
compared. HyAB (Abasi et al. 2020), made for large differences, has no such line and says what a
change is worth.
"""

import argparse
import itertools
from collections.abc import Callable, Iterator

import numpy as np
from numpy.typing import NDArray

from explorer.order_choice import Found, choose_order, differences
from explorer.sequence import NoOrder, OrderBrief, best_order
from palettes.charts import palette, palette_names
from palettes.choose import choose, choose_by
from palettes.choose_types import Choice, Wishes
from palettes.difference import (
    FAR_APART_FROM,
    delta_e_2000,
    delta_e_hyab,
    pairwise,
    verdict,
)
from palettes.spaces import FloatArray, hexes_to_srgb1, srgb1_to_lab
from palettes.viewing import TYPICAL_DAYLIGHT

Chosen = tuple[int, ...]


def lab8(colours: FloatArray) -> FloatArray:
    """L*a*b* of colours in steps of eight bits, (..., 3)."""
    return srgb1_to_lab(colours / 255.0)


def hue_gap_deg(one: FloatArray, other: FloatArray) -> FloatArray:
    """How far the formula's own hue h' turns from one to the other, -180 to 180 degrees."""
    chroma = 0.5 * (np.hypot(one[..., 1], one[..., 2]) + np.hypot(other[..., 1], other[..., 2]))
    stretch = 1.5 - 0.5 * np.sqrt(chroma**7 / (chroma**7 + 25.0**7))
    hues = [np.arctan2(lab[..., 2], stretch * lab[..., 1]) for lab in (one, other)]
    return np.asarray((np.degrees(hues[1] - hues[0]) + 180.0) % 360.0 - 180.0)


def crosses(before: FloatArray, after: FloatArray) -> NDArray[np.bool_]:
    """Whether a hue gap passed through 180 degrees: it changes its sign far from nought."""
    turned = np.sign(before) != np.sign(after)
    return np.asarray(turned & (np.minimum(abs(before), abs(after)) > 90.0), dtype=np.bool_)


def steps_of(colours: FloatArray) -> Iterator[FloatArray]:
    """The colours with the first one moved by one step in each channel, both ways, in 0-255."""
    for channel in range(3):
        for step in (-1.0, 1.0):
            moved = colours.copy()
            moved[..., 0, channel] = moved[..., 0, channel] + step
            yield np.clip(moved, 0.0, 255.0)


def both_sides(fixed: FloatArray, start: FloatArray, end: FloatArray) -> FloatArray:
    """CIEDE2000 on both sides of the line that lies between two places of one colour of a pair.

    Args:
        fixed: the colour that stays, (n, 3).
        start, end: where the other one stands before and after it crosses, (n, 3).

    Returns:
        The lower and the upper side, (n, 2), found by halving the way thirty times.
    """
    begun = np.sign(hue_gap_deg(start, fixed))
    for _ in range(30):
        middle = 0.5 * (start + end)
        same = (np.sign(hue_gap_deg(middle, fixed)) == begun)[:, None]
        start, end = np.where(same, middle, start), np.where(same, end, middle)
    return np.sort(np.stack([delta_e_2000(start, fixed), delta_e_2000(end, fixed)], axis=1), axis=1)


def jumps(
    rng: np.random.Generator, pairs: int, *, greys: bool = False
) -> tuple[FloatArray, FloatArray]:
    """The sides of the jumps among random pairs, (n, 2), and the pairs, (n, 2, 3) in 0-255.

    With ``greys`` one of each pair is grey but for 16 of 255 in any channel: where the lowest lie.
    """
    colours = rng.integers(0, 256, (pairs, 2, 3)).astype(float)
    if greys:
        tinges = rng.integers(-16, 17, (pairs, 3))
        colours[:, 0] = np.clip(colours[:, 0, :1] + tinges, 0, 255)
    lab = lab8(colours)
    colours = colours[abs(hue_gap_deg(lab[:, 0], lab[:, 1])) > 170.0]
    lab = lab8(colours)
    gap = hue_gap_deg(lab[:, 0], lab[:, 1])
    sides, where = [], []
    for moved in steps_of(colours):
        other = lab8(moved)
        over = crosses(gap, hue_gap_deg(other[:, 0], other[:, 1]))
        sides.append(both_sides(lab[over, 1], lab[over, 0], other[over, 0]))
        where.append(colours[over])
    return np.concatenate(sides), np.concatenate(where)


def neighbours(order: Chosen) -> list[tuple[int, int]]:
    """The colours that meet in an order."""
    return [(a, b) for a, b in itertools.pairwise(order)]


def all_pairs(places: Chosen) -> list[tuple[int, int]]:
    """Every two of a choice."""
    return [(a, b) for i, a in enumerate(places) for b in places[i + 1 :]]


def moved_twice(
    rng: np.random.Generator, colours: FloatArray, among: Chosen
) -> tuple[FloatArray, FloatArray] | None:
    """The colours with one of some moved across a jump, and moved the same far across none.

    None where no step crosses the line between two of ``among``.
    """
    lab = lab8(colours)[list(among)]
    across: list[FloatArray] = []
    beside: list[FloatArray] = []
    for place, channel, step in np.ndindex(len(among), 3, 2):
        moved = colours.copy()
        moved[among[place], channel] += 2.0 * step - 1.0
        if not 0.0 <= moved[among[place], channel] <= 255.0:
            continue
        row = hue_gap_deg(lab8(moved[among[place]])[None], lab)
        over = crosses(hue_gap_deg(lab[place][None], lab), row)
        over[place] = False
        (across if over.any() else beside).append(moved)
    if not across or not beside:
        return None
    return across[rng.integers(len(across))], beside[rng.integers(len(beside))]


class Tally:
    """How often a step changed what was chosen, and what that cost."""

    def __init__(self, pairs_of: Callable[[Chosen], list[tuple[int, int]]]) -> None:
        self.pairs_of = pairs_of
        self.count, self.changed, self.words = 0, 0, 0
        self.hyab: list[float] = []
        self.own: list[float] = []

    def weakest(self, lab: FloatArray, chosen: Chosen) -> tuple[float, float]:
        """The weakest pair of a choice by CIEDE2000 and by HyAB."""
        first, second = np.array(self.pairs_of(chosen)).T
        return (
            float(delta_e_2000(lab[first], lab[second]).min()),
            float(delta_e_hyab(lab[first], lab[second]).min()),
        )

    def add(self, lab: FloatArray, moved: FloatArray, before: Chosen, after: Chosen) -> None:
        """Take in one case: the colours before and after, and what was chosen of each."""
        self.count += 1
        stayed, went = self.weakest(lab, before), self.weakest(moved, after)
        self.changed += before != after
        # Verdicts of the two choices, each for its own colours.
        self.words += verdict(stayed[0]) is not verdict(went[0])
        self.own.append(abs(went[0] - stayed[0]))
        # By HyAB both choices are judged on the same colours, those before the step.
        self.hyab.append(self.weakest(lab, after)[1] / stayed[1] - 1.0)

    def line(self, name: str) -> str:
        """One row of the table."""
        worse = -np.minimum(np.array(self.hyab), 0.0) * 100.0
        return (
            f"{name:40}{self.count:6}{100 * self.changed / self.count:9.1f} %"
            f"{100 * self.words / self.count:9.2f} %"
            f"{np.quantile(self.own, 0.9):9.2f}{max(self.own):8.2f}"
            f"{worse.mean():8.2f} %{np.quantile(worse, 0.9):7.1f} %{worse.max():7.1f} %"
        )


HEAD = (
    f"{'':40}{'cases':>6}{'changed':>11}{'verdict':>11}{'own 90 %':>9}{'most':>8}"
    f"{'HyAB lost':>10}{'90 %':>9}{'most':>9}"
)


def order_of(colours: FloatArray, motifs: int, *, strongest: bool = False) -> Chosen:
    """The order taken of some colours, or the strongest by CIEDE2000 alone."""
    asked, lab = OrderBrief(motifs=motifs), lab8(colours)
    found = best_order(pairwise(lab), asked) if strongest else choose_order(differences(lab), asked)
    assert not isinstance(found, NoOrder)
    return found.order.order if isinstance(found, Found) else found.order


def set_of(colours: FloatArray, size: int, *, strongest: bool = False) -> Chosen:
    """The choice taken of some colours, or the strongest by CIEDE2000 alone."""
    wishes = Wishes(size=size)
    if strongest:
        found = choose_by(pairwise(lab8(colours)).astype(np.float32), wishes)
    else:
        found = choose(colours / 255.0, [TYPICAL_DAYLIGHT], wishes)
    assert isinstance(found, Choice)
    return found.places


def tallied(
    rng: np.random.Generator,
    cases: int,
    least: int,
    most: int,
    *,
    orders: bool,
    strongest: bool = False,
) -> tuple[Tally, Tally, float]:
    """Random colours, ``least`` to ``most``, that lie a step from a jump.

    With ``strongest`` it is as if CIEDE2000 alone chose.

    Returns:
        What a step across it changes, what one across none does, and the share of all colours
        drawn that lie so near.
    """
    pairs_of = neighbours if orders else all_pairs
    across, beside, tried = Tally(pairs_of), Tally(pairs_of), 0
    while across.count < cases:
        tried += 1
        count = int(rng.integers(least, most + 1))
        colours = rng.integers(0, 256, (count, 3)).astype(float)
        asked = int(rng.integers(count, 25)) if orders else int(rng.integers(3, 7))
        taken_of = order_of if orders else set_of
        lab = lab8(colours)
        among = tuple(range(count)) if orders else set_of(colours, asked, strongest=strongest)
        both = moved_twice(rng, colours, among)
        if both is None:
            continue
        before = taken_of(colours, asked, strongest=strongest)
        for tally, moved in zip((across, beside), both, strict=True):
            after = taken_of(moved, asked, strongest=strongest)
            tally.add(lab, lab8(moved), before, after)
    return across, beside, cases / tried


def against_strongest(
    given: Iterator[tuple[FloatArray, int]], *, orders: bool
) -> tuple[int, int, FloatArray]:
    """Choices as they are taken beside those that are strongest by CIEDE2000 alone.

    Returns:
        How many cases, in how many the strongest is far apart, and for those what of the strongest
        CIEDE2000 is kept and how the weakest HyAB stands to that of the strongest, (n, 2).
    """
    tally = Tally(neighbours if orders else all_pairs)
    taken_of = order_of if orders else set_of
    total, shares = 0, []
    for colours, asked in given:
        lab = lab8(colours)
        total += 1
        taken = tally.weakest(lab, taken_of(colours, asked))
        strongest = tally.weakest(lab, taken_of(colours, asked, strongest=True))
        if strongest[0] >= FAR_APART_FROM:
            shares.append((taken[0] / strongest[0], taken[1] / strongest[1]))
    return total, len(shares), np.array(shares)


def shipped() -> Iterator[tuple[FloatArray, int]]:
    """Every palette that comes with the program, at five lengths."""
    for name in palette_names():
        colours = hexes_to_srgb1([swatch.hex for swatch in palette(name).swatches]) * 255.0
        for motifs in (8, 11, 14, 18, 24):
            if motifs >= len(colours):
                yield colours, motifs


def shipped_near() -> tuple[int, int]:
    """How many pairs of the palettes that come with the program lie a step from a jump, of all."""
    near = total = 0
    for name in palette_names():
        colours = hexes_to_srgb1([swatch.hex for swatch in palette(name).swatches]) * 255.0
        for pair in itertools.combinations(np.round(colours), 2):
            total += 1
            near += moved_twice(np.random.default_rng(0), np.array(pair), (0, 1)) is not None
    return near, total


def drawn(
    rng: np.random.Generator, cases: int, least: int, most: int
) -> Iterator[tuple[FloatArray, int]]:
    """Random colours and how many are asked of them."""
    for _ in range(cases):
        count = int(rng.integers(least, most + 1))
        asked = int(rng.integers(count, 25)) if most <= 8 else int(rng.integers(3, 7))
        yield rng.integers(0, 256, (count, 3)).astype(float), asked


def main() -> None:
    """Prints the tables."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--pairs", type=int, default=4_000_000)
    parser.add_argument("--cases", type=int, default=300)
    asked = parser.parse_args()
    rng = np.random.default_rng(2000)
    sides, where = jumps(rng, asked.pairs)
    print("jumps by their lower side: how many, half above, nine in ten below, the largest")
    edges = (0.0, 10.0, 15.0, 20.0, 30.0, 40.0, 60.0, 200.0)
    for low, high in itertools.pairwise(edges):
        of = np.diff(sides[(sides[:, 0] >= low) & (sides[:, 0] < high)], axis=1)
        if of.size:
            print(
                f"  {low:4.0f} to {high:3.0f}{of.size:8}{np.median(of):8.2f}"
                f"{np.quantile(of, 0.9):8.2f}{of.max():8.2f}"
            )
    words = [[verdict(float(side)) for side in pair] for pair in sides]
    differ = sum(low is not high for low, high in words)
    print(f"  {differ} of {len(sides)} have another verdict on each side")
    two = np.array([low is not high for low, high in words])
    lab = lab8(where[two])
    palest = np.hypot(lab[..., 1], lab[..., 2]).min(axis=1)
    print(f"  of these {(palest < 12.0).sum()} have one colour with a chroma below 12")
    low_sides, _ = jumps(np.random.default_rng(2001), asked.pairs, greys=True)
    by = np.diff(low_sides, axis=1)[:, 0]
    lowest = [
        f"{low_sides[by > least, 0].min():.1f} (by more than {least})" for least in (1, 2, 10)
    ]
    print(f"  near-greys beside any colour, {by.size} jumps, the lowest sides: {', '.join(lowest)}")
    step, pairs = shipped_near()
    print(f"  {step} of {pairs} pairs of our palettes lie a step from a jump")
    print(HEAD)
    for orders, least, most, name in ((True, 3, 8, "orders"), (False, 15, 60, "best k")):
        for alone in (False, True):
            begin = np.random.default_rng(7)
            across, beside, share = tallied(
                begin, asked.cases, least, most, orders=orders, strongest=alone
            )
            called = f"{name}, CIEDE2000 alone" if alone else name
            print(across.line(f"{called}, across a jump"))
            print(beside.line(f"{called}, across none"))
            print(f"  {100 * share:.1f} % of the colours drawn lie a step from a jump")
    print("as taken beside the strongest by CIEDE2000: cases, far apart, what of it is kept")
    for name, given, orders in (
        ("orders, random", drawn(rng, asked.cases, 3, 8), True),
        ("orders, palettes", shipped(), True),
        ("best k, random", drawn(rng, asked.cases, 15, 60), False),
    ):
        total, both, shares = against_strongest(given, orders=orders)
        print(
            f"  {name:18}{total:6}{both:6}   CIEDE2000 mean {shares[:, 0].mean():.3f}, one in ten "
            f"below {np.quantile(shares[:, 0], 0.1):.3f}, all of it in "
            f"{(shares[:, 0] > 1.0 - 1e-6).mean():.2f}; HyAB mean {shares[:, 1].mean():.3f}, "
            f"one in ten above {np.quantile(shares[:, 1], 0.9):.3f}, least {shares[:, 1].min():.3f}"
        )


if __name__ == "__main__":
    main()
