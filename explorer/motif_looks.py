"""What a motif of several colours looks like as a whole: shares of the colours that it holds."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from explorer.colouring import Colouring, paint
from palettes.beads import BeadKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """What of other colours every motif of a palette holds, each by its share of what is seen.

    Attributes:
        beside: for each colour of the palette the place of the one that goes with it; none where
            none does.
        share: that one's share, 0 to 1.
        tip: the hex that all turning beads share; empty for none.
        tip_share: the turning beads' share, 0 to 1.
    """

    beside: tuple[int, ...] = ()
    share: float = 0.0
    tip: str = ""
    tip_share: float = 0.0


# A search asks for few profiles, many times. Chosen by us: those of some searches.
@lru_cache(maxsize=2000)
def shares(
    profile: tuple[int, ...], colouring: Colouring, *, tip: bool = False, face: float = 1.0
) -> tuple[float, float]:
    """The shares of a motif's faces that are beside its own colour, and of turning beads, 0 to 1.

    Args:
        profile: dangle lengths in beads.
        colouring: the pattern.
        tip: whether turning beads have a colour of their own.
        face: how large a turning bead's face is beside another bead's.
    """
    beside = tips = whole = 0.0
    for dangle in paint(profile, (0, 1), colouring):
        whole += len(dangle) - 1 + face
        beside += dangle[:-1].count(1)
        if tip:
            tips += face
        elif dangle[-1] == 1:
            beside += face
    return beside / whole, tips / whole


def face_of(tip: BeadKind | None, hanging: BeadKind) -> float:
    """How large a turning bead's face is beside another bead's: 1 for one of the same kind."""
    if tip is None:
        return 1.0
    return (tip.diameter_mm * tip.pitch_mm) / (hanging.diameter_mm * hanging.pitch_mm)


def suits(profile: tuple[int, ...], colouring: Colouring) -> bool:
    """Whether motifs of that profile show both their own colour and the one beside it."""
    return 0.0 < shares(profile, colouring)[0] < 1.0


def mix_of(
    profile: tuple[int, ...],
    companions: Sequence[int],
    colouring: Colouring,
    *,
    tip: str = "",
    face: float = 1.0,
) -> Mix | None:
    """What of other colours the motifs of a palette hold; None where each is all of its own.

    Args:
        profile: dangle lengths in beads.
        companions: for each colour what goes with it, as places in the palette.
        colouring: the pattern.
        tip: the hex of the turning beads, where they share one.
        face: as for ``shares``.
    """
    if not companions and not tip:
        return None
    way = colouring if companions else Colouring.PLAIN
    share, tips = shares(profile, way, tip=bool(tip), face=face)
    return Mix(beside=tuple(companions), share=share, tip=tip, tip_share=tips)
