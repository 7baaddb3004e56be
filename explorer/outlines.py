"""Dangle lengths given to the motifs of a piece: one outline, two or three in turn, or one motif's.

Colours stay: a longer dangle repeats the bead next to its turning bead.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from explorer.bead_numbers import tidied
from explorer.design import Column, Design, motif_profile
from explorer.errors import BriefError
from explorer.profile import check_profile
from explorer.profile_alternation import PATTERNS, alternate
from explorer.tips import body_bead


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlines:
    """How the outlines of a piece go.

    Attributes:
        profiles: the different outlines by their letter A, B, C; for a free row only motif 1's.
        pattern: ``A``, ``AB`` or ``ABCB`` in turn, or nothing where every motif goes its own way.
        mirrored: whether motifs past the middle are mirror images.
    """

    profiles: tuple[tuple[int, ...], ...]
    pattern: str
    mirrored: bool = False


def outlines(design: Design, prefer: str = "") -> Outlines:
    """The pattern that the piece's outlines keep to: the preferred one, else the simplest.

    Args:
        design: the piece.
        prefer: a pattern to try first, since a piece of one outline keeps to every pattern.
    """
    rows = _rows(design)
    for pattern in dict.fromkeys((prefer, *PATTERNS)):
        first = {letter: pattern.index(letter) for letter in sorted(set(pattern))}
        # A letter that first comes past the middle would be taken from a mirrored motif.
        if not pattern or max(first.values()) >= (len(rows) + 1) // 2:
            continue
        profiles = tuple(rows[place] for place in first.values())
        for mirrored in (False, True):
            if alternate(profiles, len(rows), pattern, mirrored).profiles == rows:
                return Outlines(profiles=profiles, pattern=pattern, mirrored=mirrored)
    return Outlines(profiles=rows[:1], pattern="")


def _rows(design: Design) -> tuple[tuple[int, ...], ...]:
    return tuple(motif_profile(motif) for motif in design.motifs)


def with_outlines(design: Design, wanted: Outlines) -> Design:
    """The design with outlines in a pattern; a motif of another width keeps its own.

    Raises:
        BriefError: an outline that cannot be.
    """
    profiles = tuple(check_profile(profile) for profile in wanted.profiles)
    rows = alternate(profiles, len(design.motifs), wanted.pattern, wanted.mirrored).profiles
    return _reshaped(design, rows)


def with_outline(design: Design, motif: int, lengths: Sequence[int]) -> Design:
    """The design with one motif's dangles of other lengths.

    Raises:
        BriefError: lengths that cannot be, or not as many as the motif has dangles.
    """
    profile = check_profile(lengths)
    width = len(design.motifs[motif])
    if len(profile) != width:
        raise BriefError(
            "profile",
            f"{len(profile)} dangles",
            f"{width} dangles, as motif {motif + 1} has",
            "Write one number of beads for each dangle.",
        )
    rows = _rows(design)
    return _reshaped(design, (*rows[:motif], profile, *rows[motif + 1 :]))


def _reshaped(design: Design, rows: tuple[tuple[int, ...], ...]) -> Design:
    motifs = tuple(
        tuple(
            with_length(column, length, body_bead(motif))
            for column, length in zip(motif, row, strict=True)
        )
        if len(row) == len(motif)
        else motif
        for motif, row in zip(design.motifs, rows, strict=True)
    )
    return tidied(replace(design, motifs=motifs))


def with_length(column: Column, length: int, filler: int) -> Column:
    """A dangle of another length: its turning bead stays, beads are added or taken above it.

    Args:
        column: the dangle.
        length: its new number of beads, from 1.
        filler: the bead to add where there is none above the turning bead.
    """
    tip, body = column.beads[-1], column.beads[:-1]
    filler = body[-1] if body else filler
    longer = (*body, *(filler,) * (length - 1 - len(body)))[: length - 1]
    return replace(column, beads=(*longer, tip))


def counterpart(profile: tuple[int, ...]) -> tuple[int, ...]:
    """An outline that goes well in turn with another: the same one upside down.

    A level one has no other side up: its counterpart is level too and about half as long, or two
    beads longer where it is of one bead. Chosen by us.
    """
    least, most = min(profile), max(profile)
    if least == most:
        return (most // 2 if most > 1 else most + 2,) * len(profile)
    return tuple(least + most - length for length in profile)
