"""What a motif of several colours looks like as a whole: shares of the colours that it holds."""

from collections.abc import Sequence
from functools import lru_cache

from explorer.colouring import Colouring, paint

# For each colour of a palette the place of the one that goes with it, and that one's share of the
# motif's beads, 0 to 1; empty where every motif is all of its own colour.
Mix = tuple[tuple[int, float], ...]


# A search asks for few profiles, many times. Chosen by us: those of some searches.
@lru_cache(maxsize=500)
def share_beside(profile: tuple[int, ...], colouring: Colouring) -> float:
    """The share of a motif's beads that take the colour beside its own, 0 to 1.

    Args:
        profile: dangle lengths in beads; all beads show faces of one size.
        colouring: the pattern.
    """
    dangles = paint(profile, (0, 1), colouring)
    return sum(dangle.count(1) for dangle in dangles) / sum(map(len, dangles))


def suits(profile: tuple[int, ...], colouring: Colouring) -> bool:
    """Whether motifs of that profile show both their own colour and the one beside it."""
    return 0.0 < share_beside(profile, colouring) < 1.0


def mix_of(profile: tuple[int, ...], companions: Sequence[int], colouring: Colouring) -> Mix:
    """What of other colours the motifs of a palette hold.

    Args:
        profile: dangle lengths in beads.
        companions: for each colour what goes with it, as places in the palette.
        colouring: the pattern.
    """
    share = share_beside(profile, colouring)
    return tuple((place, share) for place in companions)
