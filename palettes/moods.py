"""Moods: regions of colour in lightness, chroma and hue, and how much of a palette each takes."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

import numpy as np

from palettes.charts import text_of
from palettes.entries import Table, parse_toml, take, take_number, take_tables, take_texts
from palettes.errors import ChartError
from palettes.extract import in_proportion
from palettes.spaces import FloatArray, lab_to_lch, lab_to_srgb1, lch_to_lab

_FILE = "moods.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """A region of CIE LCh under D65.

    Attributes:
        name: what it stands for.
        lightness: from and to, 0-100.
        chroma: from and to, 0 or more.
        hue_deg: from and to, 0-360; from 330 to 30 goes through 0, from 0 to 360 is every hue.
        share: how much of the palette it takes, above 0; the sum over a mood counts as whole.
    """

    name: str
    lightness: tuple[float, float]
    chroma: tuple[float, float]
    hue_deg: tuple[float, float]
    share: float = 1.0

    def __post_init__(self) -> None:
        for low, high in (self.lightness, self.chroma):
            if not 0.0 <= low <= high:
                raise ValueError(f"a range runs upward from 0 or more; got {low} to {high}")
        if not all(0.0 <= hue <= 360.0 for hue in self.hue_deg):
            raise ValueError(f"a hue lies from 0 to 360 degrees; got {self.hue_deg}")
        if not (math.isfinite(self.share) and self.share > 0.0):
            raise ValueError(f"a share is a number above 0; got {self.share}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mood:
    """A mood.

    Attributes:
        name: one word, for the command line.
        title: its name for people.
        regions: at least one.
        words: more to find it by.
        note: one sentence about it.
    """

    name: str
    title: str
    regions: tuple[Region, ...]
    words: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        if not self.regions:
            raise ValueError(f"mood {self.name!r} has no region; at least one is needed")


@cache
def moods() -> Mapping[str, Mood]:
    """The moods that come with the program, by name.

    Raises:
        ChartError: their file is damaged.
    """
    return parse_moods(text_of(_FILE), _FILE)


def parse_moods(text: str, path: str) -> Mapping[str, Mood]:
    """The moods in a TOML text, by name; ``moods.toml`` says how one is written.

    Raises:
        ChartError: the text cannot be used; the message says where and why.
    """
    found: dict[str, Mood] = {}
    for row in take_tables(parse_toml(text, path), "mood", path):
        name = take(row, "name", str, path, "a mood")
        if name in found:
            raise ChartError(path, name, "this mood stands there twice")
        try:
            found[name] = Mood(
                name=name,
                title=take({"title": name, **row}, "title", str, path, name),
                words=take_texts(row, "words", path, name),
                note=take({"note": "", **row}, "note", str, path, name),
                regions=tuple(_region(part, path) for part in take_tables(row, "region", path)),
            )
        except ValueError as error:
            raise ChartError(path, name, str(error)) from error
    return MappingProxyType(found)


def _region(row: Table, path: str) -> Region:
    name = take(row, "name", str, path, "a region")
    return Region(
        name=name,
        lightness=_range(row, "lightness", path, name),
        chroma=_range(row, "chroma", path, name),
        hue_deg=_range(row, "hue", path, name),
        share=take_number({"share": 1.0, **row}, "share", path, name),
    )


def _range(row: Table, key: str, path: str, entry: str) -> tuple[float, float]:
    pair = take(row, key, list, path, entry)
    if len(pair) != 2:
        raise ChartError(path, entry, f"{key} is two numbers, from and to; got {pair!r}")
    low, high = (take_number({key: part}, key, path, entry) for part in pair)
    return low, high


def misses(lab: FloatArray, region: Region) -> FloatArray:
    """How far colours lie outside a region, as a distance in L*a*b*; 0 inside.

    Args:
        lab: the colours, (n, 3).
        region: the region.

    Returns:
        (n,): the distance to the nearest edges of lightness, chroma and hue.
    """
    lch = lab_to_lch(lab)
    inside = lch.copy()
    inside[:, 0] = np.clip(lch[:, 0], *region.lightness)
    inside[:, 1] = np.clip(lch[:, 1], *region.chroma)
    start, end = region.hue_deg
    width = 360.0 if end - start >= 360.0 else (end - start) % 360.0
    past = (lch[:, 2] - start) % 360.0
    # Beyond the end, the nearer of the two edges.
    edge = np.where(past - width < 360.0 - past, end, start)
    inside[:, 2] = np.where(past <= width, lch[:, 2], edge)
    return np.asarray(np.sqrt(((lab - lch_to_lab(inside)) ** 2).sum(axis=1)))


def quotas(mood: Mood, size: int) -> tuple[int, ...]:
    """How many colours of a palette each region takes.

    Where there are colours enough, no region goes without.
    """
    return in_proportion([region.share for region in mood.regions], size)


def sampled(region: Region, count: int, rng: np.random.Generator) -> FloatArray:
    """Colours of a region by chance, even in lightness, chroma and hue, (m, 3) L*a*b*.

    What sRGB cannot show is left out, so that fewer than ``count`` may come back.
    """
    start, end = region.hue_deg
    width = 360.0 if end - start >= 360.0 else (end - start) % 360.0
    tries = 12 * count
    lch = np.column_stack(
        [
            rng.uniform(*region.lightness, tries),
            rng.uniform(*region.chroma, tries),
            (start + rng.uniform(0.0, width, tries)) % 360.0,
        ]
    )
    lab = lch_to_lab(lch)
    srgb1 = lab_to_srgb1(lab)
    shown = ((srgb1 >= 0.0) & (srgb1 <= 1.0)).all(axis=1)
    return lab[shown][:count]
