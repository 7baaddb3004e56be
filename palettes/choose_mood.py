"""A palette for a mood, out of given colours: each region its part, all as far apart as can be."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from palettes.choose import STEPS, choose
from palettes.choose_types import Choice, NoChoice, Wishes
from palettes.choose_watch import Told
from palettes.moods import Mood, misses, quotas, sampled
from palettes.spaces import FloatArray, lab_to_srgb1, srgb1_to_hex, srgb1_to_lab
from palettes.viewing import Condition

# Outside a region by so much in L*a*b* a colour still passes for one of it; by eye.
NEAR = 6.0
# Colours of a region that are looked at. Chosen by us: a mood's whole question stays at a few
# hundred colours.
_MOST_OF_REGION = 80
# The part of a region's colours that one seed sees. Chosen by us, so that the next seed finds
# another palette.
_SEEN = 0.7
# Colours by chance that stand for a region where no tray is given. Chosen by us: a mood's whole
# question stays at a few hundred colours.
_SAMPLES = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class MoodChoice:
    """A palette for a mood.

    Attributes:
        choice: the places; its proof is about the colours that this seed looked at.
        regions: the place in the mood's regions that each chosen colour belongs to.
        misses: how far each lies outside it, as a distance in L*a*b*; 0 inside.
    """

    choice: Choice
    regions: tuple[int, ...]
    misses: tuple[float, ...]


def choose_for_mood(
    srgb1: FloatArray,
    mood: Mood,
    looks: Sequence[Condition],
    wishes: Wishes,
    rng: np.random.Generator,
    *,
    steps: int = STEPS,
    most: int | None = None,
    told: Told | None = None,
) -> MoodChoice | NoChoice:
    """The palette for a mood out of colours.

    Every region gives as many colours as its share asks for; where a region has too few near it,
    the nearest there are step in, and ``misses`` tells how far off they are.

    Args:
        srgb1: the colours, (n, 3).
        mood: the mood.
        looks: the ways of looking.
        wishes: how many, and more demands; its groups are taken up by the regions.
        rng: which colours of each region are looked at.
        steps: how much the search may try for one question.
        most: how much it may try in all, as ``choose`` takes it.
        told: is told how it stands and may end it, as ``choose`` takes it.
    """
    lab = srgb1_to_lab(srgb1)
    off = np.stack([misses(lab, region) for region in mood.regions])
    own = off.argmin(axis=0)
    # Must-haves count for the region they are nearest to; where one overflows, the rest shrink.
    wanted = np.array(quotas(mood, wishes.size))
    usable = np.ones(len(lab), dtype=bool)
    usable[[*wishes.never, *wishes.must]] = False
    taken = np.bincount(own[list(wishes.must)], minlength=len(wanted))
    wanted = _balanced(wanted, taken, wishes.size)
    pool: list[int] = []
    region_of = own.copy()
    for region in np.argsort(wanted - taken, kind="stable").tolist():
        # What must be in has its place already: only for the rest is looked.
        lacking = int(wanted[region] - taken[region])
        seen = _seen(off[region], region_of == region, usable, lacking, rng)
        region_of[seen] = region
        usable[seen] = False
        pool += seen.tolist()
    places = np.array(sorted({*pool, *wishes.must}), dtype=np.intp)
    inner = _among(wishes, places, region_of, wanted)
    found = choose(srgb1[places], looks, inner, steps=steps, most=most, told=told)
    if isinstance(found, NoChoice):
        return found
    found = _back(found, places)
    regions = tuple(int(region_of[place]) for place in found.places)
    return MoodChoice(
        choice=found,
        regions=regions,
        misses=tuple(float(off[r, p]) for r, p in zip(regions, found.places, strict=True)),
    )


def mood_colours(mood: Mood, rng: np.random.Generator) -> tuple[str, ...]:
    """Colours of all regions of a mood by chance, as hex, to choose from where no tray is given."""
    found = [
        srgb1_to_hex(colour)
        for region in mood.regions
        for colour in np.clip(lab_to_srgb1(sampled(region, _SAMPLES, rng)), 0.0, 1.0)
    ]
    return tuple(dict.fromkeys(found))


def _balanced(wanted: NDArray[np.intp], taken: NDArray[np.intp], size: int) -> NDArray[np.intp]:
    """Quotas that hold what is taken already and still add up."""
    given = np.maximum(wanted, taken)
    while given.sum() > size:
        spare = np.where(given > taken, given, -1)
        given[int(spare.argmax())] -= 1
    return given


def _seen(
    off: FloatArray,
    own: NDArray[np.bool_],
    usable: NDArray[np.bool_],
    wanted: int,
    rng: np.random.Generator,
) -> NDArray[np.intp]:
    """The colours of a region to look at: near ones by chance, else the nearest there are."""
    if wanted == 0:
        return np.zeros(0, dtype=np.intp)
    near = np.flatnonzero(usable & own & (off <= NEAR))
    most = min(_MOST_OF_REGION, max(3 * wanted, int(_SEEN * len(near))))
    if len(near) > most:
        return np.sort(rng.choice(near, size=most, replace=False))
    if len(near) >= wanted:
        return near
    left = np.flatnonzero(usable)
    return np.sort(left[np.argsort(off[left], kind="stable")][: 2 * wanted])


def _among(
    wishes: Wishes,
    places: NDArray[np.intp],
    region_of: NDArray[np.intp],
    wanted: NDArray[np.intp],
) -> Wishes:
    """The wishes for a choice among some of the colours, with regions as groups."""
    at = {int(place): i for i, place in enumerate(places)}

    def part(values: tuple[float, ...]) -> tuple[float, ...]:
        return tuple(values[place] for place in places) if values else ()

    return replace(
        wishes,
        must=tuple(at[place] for place in wishes.must),
        never=(),
        groups=tuple(int(region_of[place]) for place in places),
        most_of=tuple(wanted.tolist()),
        lightness=part(wishes.lightness),
        costs=part(wishes.costs),
        never_both=tuple(wishes.never_both[place] for place in places) if wishes.never_both else (),
    )


def _back(found: Choice, places: NDArray[np.intp]) -> Choice:
    """A choice among some of the colours, by their places among all."""
    pair = found.weakest_pair
    return replace(
        found,
        places=tuple(int(places[i]) for i in found.places),
        weakest_pair=None if pair is None else (int(places[pair[0]]), int(places[pair[1]])),
    )
