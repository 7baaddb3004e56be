"""Reads the bead kinds, palettes and tables that come with the program.

It is the only file access in this package; what a maker's own file holds comes in as text.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from io import StringIO
from types import MappingProxyType

import numpy as np

from palettes.beads import BeadKind
from palettes.entries import Table, parse_toml, take, take_number, take_tables, take_texts
from palettes.errors import ChartError
from palettes.finishes import Finish
from palettes.forms import Form
from palettes.spaces import FloatArray, parse_hex
from palettes.swatches import Palette, Swatch

_KINDS_FILE = "bead_kinds.toml"
_SKIN_FILE = "skin_tones.toml"
_NO_PALETTES = {_KINDS_FILE, _SKIN_FILE, "moods.toml"}
_FIGURES = ("diameter_mm", "pitch_mm", "hole_mm", "beads_per_gram", "ladder_pitch_mm")
MARKS = MappingProxyType({"S": "read in public trade pages", "M": "from memory", "A": "worked out"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A figure of the trade with what is known about it.

    Attributes:
        value: the value used.
        low, high: the range it was seen in; both the value itself where no range is known.
        mark: a key of ``MARKS``, which says where the figure comes from.
    """

    value: float
    low: float
    high: float
    mark: str


def _data() -> Traversable:
    return files("palettes") / "data"


def _figure(row: Table, key: str, entry: str) -> Figure:
    table = take(row, key, dict, _KINDS_FILE, entry)
    entry = f"{entry}, {key}"
    value = take_number(table, "value", _KINDS_FILE, entry)
    low = take_number({"low": value, **table}, "low", _KINDS_FILE, entry)
    high = take_number({"high": value, **table}, "high", _KINDS_FILE, entry)
    mark = take(table, "mark", str, _KINDS_FILE, entry)
    if mark not in MARKS or not low <= value <= high:
        raise ChartError(
            _KINDS_FILE, entry, f"a mark of S, M or A and low <= value <= high; got {table}"
        )
    return Figure(value=value, low=low, high=high, mark=mark)


@cache
def _kind_rows() -> Mapping[str, Table]:
    document = parse_toml((_data() / _KINDS_FILE).read_text(encoding="utf-8"), _KINDS_FILE)
    rows: dict[str, Table] = {}
    for row in take_tables(document, "kind", _KINDS_FILE):
        name = take(row, "name", str, _KINDS_FILE, "a kind")
        if name in rows:
            raise ChartError(_KINDS_FILE, name, "this kind stands in the table twice")
        rows[name] = row
    return MappingProxyType(rows)


@cache
def bead_figures(kind: str) -> Mapping[str, Figure]:
    """The figures of a bead kind with their ranges and marks, by attribute name of ``BeadKind``.

    Args:
        kind: a key of ``bead_kinds()``.

    Raises:
        ValueError: there is no such kind.
        ChartError: the table that comes with the program is damaged.
    """
    if kind not in _kind_rows():
        raise ValueError(f"no bead kind {kind!r}; known are {', '.join(_kind_rows())}")
    row = _kind_rows()[kind]
    return MappingProxyType({key: _figure(row, key, kind) for key in _FIGURES})


@cache
def bead_kinds() -> Mapping[str, BeadKind]:
    """The bead kinds of the trade by generic name, such as ``round 11/0``, smallest rounds first.

    Raises:
        ChartError: the table that comes with the program is damaged.
    """
    kinds: dict[str, BeadKind] = {}
    for name, row in _kind_rows().items():
        figures = {key: figure.value for key, figure in bead_figures(name).items()}
        try:
            form = Form(take(row, "form", str, _KINDS_FILE, name))
            kinds[name] = BeadKind(name=name, form=form, **figures)
        except ValueError as error:
            raise ChartError(_KINDS_FILE, name, str(error)) from error
    return MappingProxyType(kinds)


def _swatch(row: Table, path: str) -> Swatch:
    name = take(row, "name", str, path, "a colour")
    finish = take({"finish": Finish.OPAQUE.value, **row}, "finish", str, path, name)
    if finish not in {known.value for known in Finish}:
        known = ", ".join(known.value for known in Finish)
        raise ChartError(path, name, f"finish {finish!r} is none of {known}")
    try:
        return Swatch(
            name=name, hex=parse_hex(take(row, "hex", str, path, name)), finish=Finish(finish)
        )
    except ValueError as error:
        raise ChartError(path, name, str(error)) from error


def parse_palette(text: str, path: str) -> Palette:
    """The palette in a TOML text; ``path`` is for messages.

    It has ``name``; it may have ``title``, ``season``, ``note``, ``tags``; each colour stands
    under ``[[swatch]]`` with ``name``, ``hex`` and, unless it is opaque, ``finish``; colours for
    base beads stand under ``[[base]]`` in the same way.

    Raises:
        ChartError: the text cannot be used; the message says where and why.
    """
    document = parse_toml(text, path)
    name = take(document, "name", str, path, "the palette")
    header = {"title": name, "season": "all year", "note": "", **document}
    try:
        return Palette(
            name=name,
            title=take(header, "title", str, path, name),
            season=take(header, "season", str, path, name),
            note=take(header, "note", str, path, name),
            tags=take_texts(document, "tags", path, name),
            swatches=tuple(_swatch(row, path) for row in take_tables(document, "swatch", path)),
            bases=tuple(_swatch(row, path) for row in take_tables(document, "base", path)),
        )
    except ValueError as error:
        raise ChartError(path, name, str(error)) from error


@cache
def palette_names() -> tuple[str, ...]:
    """The short names of the palettes that come with the program, in alphabetical order."""
    tomls = {entry.name for entry in _data().iterdir() if entry.name.endswith(".toml")}
    return tuple(sorted(name.removesuffix(".toml") for name in tomls - _NO_PALETTES))


@cache
def palette(name: str) -> Palette:
    """A palette that comes with the program.

    Args:
        name: one of ``palette_names()``.

    Raises:
        ValueError: there is no such palette; the message names those that exist.
        ChartError: its file is damaged.
    """
    if name not in palette_names():
        raise ValueError(f"no palette {name!r}; there are {', '.join(palette_names())}")
    return parse_palette((_data() / f"{name}.toml").read_text(encoding="utf-8"), f"{name}.toml")


@cache
def number_table(name: str) -> FloatArray:
    """A table of plain numbers that comes with the program, one row a line; read-only.

    Args:
        name: the file's name without ``.csv``.

    Raises:
        ChartError: a row is no row of numbers, or rows differ in length.
    """
    text = (_data() / f"{name}.csv").read_text(encoding="utf-8")
    try:
        table = np.loadtxt(StringIO(text), delimiter=",", ndmin=2, dtype=np.float64)
    except ValueError as error:
        raise ChartError(f"{name}.csv", "the table", str(error)) from error
    table.setflags(write=False)
    return table


@cache
def skin_tones() -> tuple[Swatch, ...]:
    """The ten tones of the Monk Skin Tone Scale (Ellis Monk, 2019, CC BY 4.0), lightest first.

    Raises:
        ChartError: the table that comes with the program is damaged.
    """
    document = parse_toml((_data() / _SKIN_FILE).read_text(encoding="utf-8"), _SKIN_FILE)
    return tuple(_swatch(row, _SKIN_FILE) for row in take_tables(document, "skin", _SKIN_FILE))


@cache
def text_of(name: str) -> str:
    """A text file that comes with the program, by its name with ending."""
    return (_data() / name).read_text(encoding="utf-8")
