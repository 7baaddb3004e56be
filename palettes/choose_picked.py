"""A palette as found, whatever its source, with what is to be told about it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from palettes.finishes import Finish
from palettes.harmony import mean_harmony
from palettes.names import word_for
from palettes.spaces import hex_to_srgb1, hexes_to_srgb1, srgb1_to_lab
from palettes.swatches import Palette, Swatch
from palettes.tray import TrayBead
from palettes.viewing import Condition, worst_matrix


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """What is known of better palettes.

    Attributes:
        bound: what none passes, where that is known.
        proven: whether none is better.
        strongest, gave_up_for: as of ``Choice``.
        stopped: whether the search for them was ended before its end.
    """

    bound: float | None = None
    proven: bool = False
    strongest: float | None = None
    gave_up_for: str = ""
    stopped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """Why a colour is in a palette; what does not apply is none.

    Attributes:
        wanted: the colour that was asked for, where a bead stands in for it.
        difference: CIEDE2000 between the two.
        region: the part of the mood that it stands for.
        miss: how far it lies outside that part, as a distance in L*a*b*.
        share: the part of the photograph that is of this colour, 0-1.
        x, y: where it is on the photograph, as fractions of width and height.
    """

    wanted: str | None = None
    difference: float | None = None
    region: str | None = None
    miss: float | None = None
    share: float | None = None
    x: float | None = None
    y: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PickedColour:
    """A colour of a palette as found.

    Attributes:
        hex: the colour.
        name: the bead's name, or a word for the colour; no name twice in a palette.
        finish: the bead's finish, ``opaque`` for a free colour.
        bead: the bead at hand, or none for a free colour.
        origin: why it is here.
    """

    hex: str
    name: str
    finish: Finish = Finish.OPAQUE
    bead: TrayBead | None = None
    origin: Origin = field(default_factory=Origin)


@dataclass(frozen=True, slots=True, kw_only=True)
class Picked:
    """A palette as found.

    Attributes:
        colours: in the order of the source.
        weakest_by_view: for each way of looking the smallest difference between any two (CIEDE2000,
            in daylight colours of the glass); infinite for one colour.
        most_alike: the places of the two colours that are nearest over all ways of looking; None
            for one colour.
        bound: what no palette from this source passes, where that is known.
        proven: whether no palette from this source stands apart more.
        strongest, gave_up_for: as of ``Choice``.
        harmony: mean harmony over all pairs (Ou and Luo 2006), apart from contrast.
        stopped: whether the search was ended before its end, so that a better one may be near.
    """

    colours: tuple[PickedColour, ...]
    weakest_by_view: tuple[tuple[Condition, float], ...]
    most_alike: tuple[int, int] | None
    bound: float | None
    proven: bool
    harmony: float
    strongest: float | None = None
    gave_up_for: str = ""
    stopped: bool = False

    @property
    def weakest(self) -> float:
        """The smallest difference over all ways of looking."""
        return min(value for _, value in self.weakest_by_view)

    def palette(self, name: str, title: str) -> Palette:
        """The colours as a palette."""
        swatches = (Swatch(name=c.name, hex=c.hex, finish=c.finish) for c in self.colours)
        return Palette(name=name, title=title, swatches=tuple(swatches))


def picked(
    chosen: Sequence[TrayBead | str],
    looks: Sequence[Condition],
    proof: Proof,
    origins: Mapping[int, Origin] | None = None,
) -> Picked:
    """A palette of beads or free colours with its figures.

    Args:
        chosen: beads, or hex colours.
        looks: the ways of looking.
        proof: what is known of better ones.
        origins: why colours are here, by their places.
    """
    hexes = [one if isinstance(one, str) else one.hex for one in chosen]
    names = _names(chosen)
    colours = tuple(
        PickedColour(
            hex=hexes[place],
            name=names[place],
            finish=Finish.OPAQUE if isinstance(one, str) else one.finish,
            bead=None if isinstance(one, str) else one,
            origin=(origins or {}).get(place, Origin()),
        )
        for place, one in enumerate(chosen)
    )
    srgb1 = hexes_to_srgb1(hexes)
    upper = np.triu_indices(len(hexes), 1)
    apart = worst_matrix(srgb1, list(looks))[upper]
    nearest = None if not apart.size else int(np.argmin(apart))
    return Picked(
        colours=colours,
        weakest_by_view=tuple(
            (look, float(np.min(worst_matrix(srgb1, [look])[upper], initial=np.inf)))
            for look in looks
        ),
        most_alike=None if nearest is None else (int(upper[0][nearest]), int(upper[1][nearest])),
        bound=proof.bound,
        proven=proof.proven,
        strongest=proof.strongest,
        gave_up_for=proof.gave_up_for,
        stopped=proof.stopped,
        harmony=mean_harmony(srgb1_to_lab(srgb1)),
    )


def _names(chosen: Sequence[TrayBead | str]) -> list[str]:
    """Names, each once: the second of a name is called 2."""
    names: list[str] = []
    for one in chosen:
        name = word_for(hex_to_srgb1(one)) if isinstance(one, str) else one.name
        number, spelled = 1, name
        while spelled in names:
            number += 1
            spelled = f"{name} {number}"
        names.append(spelled)
    return names
