"""Steps that change a piece's dangles, dividers and ends, each from one work to the next."""

import re
from dataclasses import dataclass, replace

from explorer.app import steps
from explorer.app.refit import redesigned
from explorer.app.state import Work
from explorer.design import Design, motif_profile
from explorer.outlines import Outlines, counterpart, outlines, with_outline, with_outlines
from explorer.profile import Shape, profile
from explorer.profile_alternation import PATTERNS
from explorer.remeasure import Way

# Where every motif goes its own way.
OWN = "own"
_TARGET = re.compile(r"(?:([ABC])|m(\d{1,5}))", re.ASCII)
Profile = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """What the profile editor works on.

    Attributes:
        pattern: the outlines' pattern, or ``OWN``.
        target: ``A``, ``B``, ``C`` for every motif of that outline, or ``m3`` for the motif at
            place 3.
        profile: its dangle lengths.
        outlines: how the outlines of the piece go.
    """

    pattern: str
    target: str
    profile: Profile
    outlines: Outlines


def scope_of(design: Design, pattern: str, target: str) -> Scope:
    """What is edited: what was picked, as far as the piece still has it.

    Args:
        design: the piece.
        pattern: the pattern that was picked last, ``OWN``, or nothing.
        target: the outline or the motif that was picked last.
    """
    found = outlines(design, pattern if pattern in PATTERNS else "")
    letter, motif = _parts(target)
    if pattern == OWN or not found.pattern:
        place = motif if motif is not None and motif < len(design.motifs) else 0
        return Scope(
            pattern=OWN,
            target=f"m{place}",
            profile=motif_profile(design.motifs[place]),
            outlines=found,
        )
    number = letter if letter is not None and letter < len(found.profiles) else 0
    return Scope(
        pattern=found.pattern,
        target="ABC"[number],
        profile=found.profiles[number],
        outlines=found,
    )


def _parts(target: str) -> tuple[int | None, int | None]:
    found = _TARGET.fullmatch(target)
    if not found:
        return None, None
    return (
        None if found[1] is None else "ABC".index(found[1]),
        None if found[2] is None else int(found[2]),
    )


def patterns_for(motifs: int) -> tuple[str, ...]:
    """The patterns that so many motifs can show: each letter must come before the middle."""
    return tuple(p for p in PATTERNS if max(map(p.index, p)) < (motifs + 1) // 2)


def with_profile(design: Design, scope: Scope, lengths: Profile) -> Design:
    """The design with other lengths where the scope is.

    Raises:
        BriefError: lengths that cannot be.
    """
    letter, motif = _parts(scope.target)
    if letter is None:
        return with_outline(design, motif or 0, lengths)
    profiles = list(scope.outlines.profiles)
    profiles[letter] = lengths
    return with_outlines(design, replace(scope.outlines, profiles=tuple(profiles)))


def with_pattern(design: Design, scope: Scope, pattern: str) -> Design:
    """The design in another pattern: it begins with the outline that is edited.

    Outlines that the piece has keep their letters; a new one is the counterpart of the one before.
    """
    letters = len(set(pattern))
    profiles = list(scope.outlines.profiles)
    if len(profiles) < 2 or letters == 1:
        profiles = [scope.profile]
    while len(profiles) < letters:
        profiles.append(_another(tuple(profiles)))
    wanted = Outlines(
        profiles=tuple(profiles[:letters]), pattern=pattern, mirrored=scope.outlines.mirrored
    )
    return with_outlines(design, wanted)


def _another(known: tuple[Profile, ...]) -> Profile:
    """An outline unlike those there are: a counterpart, else a level one of middling length."""
    other = counterpart(known[0])
    if other not in known:
        return other
    middle = round(sum(known[0]) / len(known[0]))
    level = (middle,) * len(known[0])
    return level if level not in known else counterpart(level)


def with_mirror(design: Design, scope: Scope, mirrored: bool) -> Design:
    """The design with the motifs past the middle mirrored, or all facing the same way."""
    return with_outlines(design, replace(scope.outlines, mirrored=mirrored))


def with_length_at(lengths: Profile, place: int, value: int, *, mirror: bool) -> Profile:
    """Lengths with one of them changed, and its mirror image too where both sides are alike."""
    changed = list(lengths)
    changed[place] = value
    if mirror:
        changed[len(lengths) - 1 - place] = value
    return tuple(changed)


def shape_of(lengths: Profile) -> Shape | None:
    """The shape that gives these lengths between their own least and most, if one does."""
    least, most = min(lengths), max(lengths)
    return next(
        (shape for shape in Shape if profile(shape, len(lengths), least, most) == lengths), None
    )


def stretched(lengths: Profile, least: int, most: int) -> Profile:
    """Lengths stretched between another shortest and longest; a known shape stays that shape."""
    shape = shape_of(lengths)
    if shape is not None:
        return profile(shape, len(lengths), least, most)
    low, high = min(lengths), max(lengths)
    return tuple(
        least + round((length - low) * (most - least) / (high - low)) for length in lengths
    )


def within(work: Work, most: int) -> Work:
    """The work with every outline that hangs lower stretched between its shortest and ``most``."""
    design = work.piece.design
    for place, motif in enumerate(design.motifs):
        lengths = motif_profile(motif)
        if max(lengths) > most:
            lengths = stretched(lengths, min(*lengths, most), most)
            design = with_outline(design, place, lengths)
    return work if design is work.piece.design else with_design(work, design)


def with_way(work: Work, way: Way, beads: int, length_mm: float) -> Work:
    """The work on one way on after measuring half-way; the boxes hold what was measured."""
    piece = replace(redesigned(work.piece, way.design), pitch_measured=True)
    sizing = replace(
        work.sizing, swatch_beads=beads, swatch_length=f"{length_mm:.6g} mm", quick=False
    )
    return replace(work, piece=piece, sizing=sizing)


def with_design(work: Work, design: Design) -> Work:
    """The work with its piece changed."""
    return replace(work, piece=redesigned(work.piece, design))


def with_margin(work: Work, margin: int | None) -> Work:
    """The work with so many plain base beads at each end, or as many as fill; the fit follows."""
    sizing = replace(work.sizing, plain_ends=margin is None, margin=margin or 0, quick=False)
    return steps.resized(work, sizing)
