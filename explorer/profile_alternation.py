"""Two or three profiles in turn over the motifs, so that the strip closes alike at both ends."""

from collections.abc import Sequence
from dataclasses import dataclass

from explorer.errors import BriefError

# The patterns of two and three profiles that read the same from either end.
PATTERNS = ("A", "AB", "ABCB")


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternation:
    """Which profile each motif has.

    Attributes:
        profiles: the dangle lengths of every motif, start to end.
        kinds: which of the given profiles that is, from 0.
        turns: whether the pattern turns round in the middle, where it would otherwise end unlike
            it began.
        suits: the nearest numbers of motifs at which it need not turn, the smaller first.
    """

    profiles: tuple[tuple[int, ...], ...]
    kinds: tuple[int, ...]
    turns: bool
    suits: tuple[int, ...]


def alternate(
    profiles: Sequence[tuple[int, ...]], motifs: int, pattern: str = "", mirrored: bool = False
) -> Alternation:
    """Lay profiles over motifs in a pattern.

    The pattern is counted from both ends inward, so first and last motif are always alike; where
    the number of motifs suits it, that is the plain pattern all along.

    Args:
        profiles: one to three profiles, called A, B, C.
        motifs: how many motifs.
        pattern: letters of the profiles in turn, such as ``ABCB``; none given is the usual one
            for so many profiles.
        mirrored: whether motifs past the middle are mirrored, so that a one-sided profile points
            the same way outward at both ends.

    Raises:
        BriefError: the pattern names a profile that was not given, or not all that were.
    """
    if not 1 <= len(profiles) <= len(PATTERNS):
        raise BriefError(
            "profiles", f"{len(profiles)} profiles", "one to three", "Leave some of them out."
        )
    if motifs < 1:
        raise BriefError("motifs", motifs, "one or more", "Lengthen the strip.")
    letters = pattern.upper().replace(" ", "") or PATTERNS[len(profiles) - 1]
    wanted = "ABC"[: len(profiles)]
    if set(letters) != set(wanted):
        raise BriefError(
            "pattern",
            pattern,
            f"the letters {', '.join(wanted)}, each at least once",
            f"Write a pattern such as {PATTERNS[len(profiles) - 1]}, or give as many profiles as "
            "it has letters.",
        )
    kinds = _kinds(letters, motifs)
    rows = [profiles[kind] for kind in kinds]
    if mirrored:
        rows[(motifs + 1) // 2 :] = [row[::-1] for row in rows[(motifs + 1) // 2 :]]
    return Alternation(
        profiles=tuple(rows),
        kinds=kinds,
        turns=not _runs_on(letters, motifs),
        suits=_suits(letters, motifs),
    )


def _kinds(letters: str, motifs: int) -> tuple[int, ...]:
    return tuple(
        "ABC".index(letters[min(place, motifs - 1 - place) % len(letters)])
        for place in range(motifs)
    )


def _runs_on(letters: str, motifs: int) -> bool:
    """Whether the plain pattern, cut after so many motifs, reads the same from either end."""
    plain = [letters[place % len(letters)] for place in range(motifs)]
    return plain == plain[::-1]


def _suits(letters: str, motifs: int) -> tuple[int, ...]:
    if _runs_on(letters, motifs):
        return (motifs,)
    # One round of the pattern either way is enough where there is any such number.
    fewer = [n for n in range(max(1, motifs - len(letters)), motifs) if _runs_on(letters, n)]
    more = [n for n in range(motifs + 1, motifs + len(letters) + 1) if _runs_on(letters, n)]
    return tuple(fewer[-1:] + more[:1])


def counterpart(profile: tuple[int, ...]) -> tuple[int, ...]:
    """An outline that goes well in turn with another: the same one upside down.

    A level one has no other side up: its counterpart is level too and about half as long, or two
    beads longer where it is of one bead. Chosen by us.
    """
    least, most = min(profile), max(profile)
    if least == most:
        return (most // 2 if most > 1 else most + 2,) * len(profile)
    return tuple(least + most - length for length in profile)
