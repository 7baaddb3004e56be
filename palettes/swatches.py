"""A palette: named colours with finishes that go together."""

from dataclasses import dataclass

from palettes.finishes import Finish
from palettes.spaces import parse_hex


@dataclass(frozen=True, slots=True, kw_only=True)
class Swatch:
    """One colour of a palette, of no particular bead yet.

    Attributes:
        name: what the maker calls it.
        hex: the colour in daylight as lowercase ``#rrggbb``.
        finish: the finish.
    """

    name: str
    hex: str
    finish: Finish = Finish.OPAQUE

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError(f"a swatch has a name; got {self.name!r}")
        if parse_hex(self.hex) != self.hex:
            raise ValueError(f"a swatch's colour is spelled {parse_hex(self.hex)}; got {self.hex}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """Colours that go together.

    Attributes:
        name: its short name, as the command line takes it.
        title: its name for people.
        swatches: the colours for motifs, at least one, no name twice.
        bases: colours that suit the base beads; may be empty.
        season: when it is worn, such as ``summer`` or ``all year``.
        tags: more words to find it by.
        note: one sentence about it.
    """

    name: str
    title: str
    swatches: tuple[Swatch, ...]
    bases: tuple[Swatch, ...] = ()
    season: str = "all year"
    tags: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        if not self.swatches:
            raise ValueError(f"palette {self.name!r} has no colour; at least one is needed")
        for part in (self.swatches, self.bases):
            names = [swatch.name for swatch in part]
            twice = sorted({name for name in names if names.count(name) > 1})
            if twice:
                raise ValueError(f"palette {self.name!r} has {', '.join(twice)} more than once")

    @property
    def hexes(self) -> tuple[str, ...]:
        """The motif colours in order."""
        return tuple(swatch.hex for swatch in self.swatches)
