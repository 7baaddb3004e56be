"""Pairs of colours compared in every way at once: the numbers behind every judgement."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from palettes.difference import Verdict, delta_e_2000, delta_e_hyab, verdict
from palettes.lights import UNCERTAINTY, Light
from palettes.sizes import (
    distances_tested_m,
    noticeable_steps,
    reads_apart_to_m,
    visual_angle_deg,
)
from palettes.spaces import FloatArray, srgb1_to_lab
from palettes.viewing import Condition, lab_under


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """How far apart two colours look.

    Attributes:
        delta_e_2000: CIEDE2000 for typical eyes in daylight (``palettes.difference``).
        verdict: the same in words.
        hyab: HyAB likewise, which keeps its sense for large differences.
        by_view: CIEDE2000 under each chosen condition, by ``str`` of the condition.
        worst: the smallest of ``by_view``.
        worst_look: the condition that gives it, the first at a tie.
        worst_verdict: ``worst`` in words.
        width_mm: the width that the distances below are for.
        reads_apart_to_m: up to here half the people notice a difference, under the condition where
            that is nearest (``palettes.sizes``); 0 if never.
        reach_look: the condition that gives it, the first at a tie.
        beyond_tested: whether that distance lies outside those that the model was tested for.
        steps: pairs of a distance in m and the noticeable differences there, under the condition
            with the fewest.
        uncertainty: what nine pairs in ten are off by less than, in CIEDE2000, because of the
            light that ``worst`` is in; a few are off by up to 9 (``palettes.lights``). 0 for
            daylight, where only the colours' own error counts.
        spread: the smallest and largest CIEDE2000 as metallic or rainbow beads play between their
            colours, for typical eyes in daylight; None where each side is one colour.
    """

    delta_e_2000: float
    verdict: Verdict
    hyab: float
    by_view: tuple[tuple[str, float], ...]
    worst: float
    worst_look: Condition
    worst_verdict: Verdict
    width_mm: float
    reads_apart_to_m: float
    reach_look: Condition
    beyond_tested: bool
    steps: tuple[tuple[float, float], ...]
    uncertainty: float
    spread: tuple[float, float] | None = None


def compare(
    left_srgb1: FloatArray,
    right_srgb1: FloatArray,
    *,
    widths_mm: FloatArray,
    looks: Sequence[Condition],
    distances_m: Sequence[float],
    ranges: tuple[FloatArray, FloatArray] | None = None,
) -> tuple[Apart, ...]:
    """Compares p pairs of colours; equal pairs of equal width are computed once.

    Args:
        left_srgb1: (p, 3).
        right_srgb1: (p, 3).
        widths_mm: the narrower mark of each pair, (p,).
        looks: the chosen conditions, at least one.
        distances_m: where to count noticeable differences.
        ranges: the colours between which each side plays, (r, p, 3) each; none if all stand still.

    Returns:
        One result a pair, in order.

    Raises:
        ValueError: no condition, colours outside sRGB, widths or distances that cannot be.
    """
    if not len(left_srgb1):
        return ()
    rows = np.hstack([left_srgb1, right_srgb1, widths_mm[:, None]])
    unique, places = np.unique(rows, axis=0, return_inverse=True)
    results = _compare_unique(
        unique[:, :3], unique[:, 3:6], unique[:, 6], tuple(looks), tuple(distances_m)
    )
    still = tuple(results[place] for place in places.reshape(-1))
    return still if ranges is None else _with_spreads(still, *ranges)


def _with_spreads(
    still: tuple[Apart, ...], left_srgb1: FloatArray, right_srgb1: FloatArray
) -> tuple[Apart, ...]:
    """The results, with a spread where either side is more than one colour."""
    left, right = srgb1_to_lab(left_srgb1), srgb1_to_lab(right_srgb1)
    among = delta_e_2000(left[:, None], right[None, :]).reshape(-1, len(still))
    plays = (np.ptp(left, axis=0) > 0.0).any(axis=-1) | (np.ptp(right, axis=0) > 0.0).any(axis=-1)
    return tuple(
        replace(apart, spread=(float(low), float(high))) if play else apart
        for apart, play, low, high in zip(
            still, plays, among.min(axis=0), among.max(axis=0), strict=True
        )
    )


def _compare_unique(
    left: FloatArray,
    right: FloatArray,
    widths_mm: FloatArray,
    looks: tuple[Condition, ...],
    distances_m: tuple[float, ...],
) -> list[Apart]:
    plain_a, plain_b = srgb1_to_lab(left), srgb1_to_lab(right)
    plain, hyab = delta_e_2000(plain_a, plain_b), delta_e_hyab(plain_a, plain_b)
    # Both sides in one array: the simulations cost by the call, not by the colour.
    seen_a, seen_b = np.split(lab_under(np.vstack([left, right]), looks), 2, axis=1)
    views = delta_e_2000(seen_a, seen_b)
    worst_at = views.argmin(axis=0)
    reaches = reads_apart_to_m(seen_a, seen_b, widths_mm)
    reach, reach_at = reaches.min(axis=0), reaches.argmin(axis=0)
    near, far = distances_tested_m(widths_mm)
    steps = [
        noticeable_steps(seen_a, seen_b, visual_angle_deg(widths_mm, distance_m)).min(axis=0)
        for distance_m in distances_m
    ]
    names = [str(look) for look in looks]
    return [
        Apart(
            delta_e_2000=float(plain[p]),
            verdict=verdict(float(plain[p])),
            hyab=float(hyab[p]),
            by_view=tuple(zip(names, views[:, p].tolist(), strict=True)),
            worst=float(views[worst_at[p], p]),
            worst_look=looks[worst_at[p]],
            worst_verdict=verdict(float(views[worst_at[p], p])),
            width_mm=float(widths_mm[p]),
            reads_apart_to_m=float(reach[p]),
            reach_look=looks[reach_at[p]],
            beyond_tested=bool(reach[p] > 0.0 and not near[p] <= reach[p] <= far[p]),
            steps=tuple((m, float(step[p])) for m, step in zip(distances_m, steps, strict=True)),
            uncertainty=0.0 if looks[worst_at[p]].light is Light.DAYLIGHT else UNCERTAINTY,
        )
        for p in range(len(left))
    ]


def light_change(plain: float, lit: float) -> float:
    """What a light changes on a pair's difference; 0 where it is below the uncertainty.

    Args:
        plain: CIEDE2000 in daylight.
        lit: CIEDE2000 under the light, same eyes.
    """
    change = lit - plain
    return change if abs(change) >= UNCERTAINTY else 0.0
