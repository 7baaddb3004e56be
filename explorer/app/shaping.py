"""Steps that change a piece's dangles, each from one pattern to the next."""

import re
from dataclasses import dataclass, replace

from explorer import changes
from explorer.app import steps
from explorer.app.refit import meant
from explorer.app.state import Work
from explorer.errors import BriefError
from explorer.pattern import OutlineRule, Pattern, outline_of
from explorer.profile import Shape, check_profile, profile
from explorer.profile_alternation import PATTERNS
from explorer.remeasure import Way
from explorer.weave import Loom

# Where every motif goes its own way.
OWN = "own"
_TARGET = re.compile(r"(?:([ABC])|m(\d{1,5}))", re.ASCII)
Profile = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """What the profile editor works on.

    Attributes:
        letters: which outlines take turns, or ``OWN``.
        target: ``A``, ``B``, ``C`` for every motif of that outline, or ``m3`` for the motif at
            place 3.
        profile: its dangle lengths.
        profiles: the lengths of all outlines in turn.
        mirrored: whether motifs past the middle are mirror images.
    """

    letters: str
    target: str
    profile: Profile
    profiles: tuple[Profile, ...]
    mirrored: bool


def scope_of(pattern: Pattern, picked: str, target: str) -> Scope:
    """What is edited: what was picked, as far as the piece still has it.

    Args:
        pattern: the piece.
        picked: ``OWN`` where single motifs are edited.
        target: the outline or the motif that was picked last.
    """
    rule = pattern.outlines
    profiles = _profiles(rule, pattern.run.width)
    letter, motif = _parts(target)
    if picked == OWN:
        place = motif if motif is not None and motif < pattern.run.motifs else 0
        number, own = f"m{place}", lengths_of(pattern, place)
        return Scope(
            letters=OWN, target=number, profile=own, profiles=profiles, mirrored=rule.mirrored
        )
    number = "ABC"[letter if letter is not None and letter < len(profiles) else 0]
    return Scope(
        letters=rule.letters,
        target=number,
        profile=profiles["ABC".index(number)],
        profiles=profiles,
        mirrored=rule.mirrored,
    )


def _profiles(rule: OutlineRule, width: int) -> tuple[Profile, ...]:
    return tuple(outline.at(width) for outline in rule.outlines)


def lengths_of(pattern: Pattern, motif: int) -> Profile:
    """The beads of a motif's dangles as they are woven."""
    return tuple(map(len, Loom(pattern).dangles(motif, pattern.by_hand(motif))))


def _parts(target: str) -> tuple[int | None, int | None]:
    found = _TARGET.fullmatch(target)
    if not found:
        return None, None
    return (
        None if found[1] is None else "ABC".index(found[1]),
        None if found[2] is None else int(found[2]),
    )


def letters_for(motifs: int) -> tuple[str, ...]:
    """The turns that so many motifs can show: each letter must come before the middle."""
    return tuple(p for p in PATTERNS if max(map(p.index, p)) < (motifs + 1) // 2)


def with_profile(pattern: Pattern, scope: Scope, lengths: Profile) -> changes.Changed:
    """The pattern with other lengths where the scope is.

    Raises:
        BriefError: lengths that cannot be, or the motif is locked.
    """
    letter, motif = _parts(scope.target)
    wanted = outline_of(check_profile(lengths))
    if letter is None and len(lengths) != (width := pattern.width(motif or 0)):
        raise BriefError(
            "profile",
            f"{len(lengths)} dangles",
            f"{width} dangles, as motif {(motif or 0) + 1} has",
            "Write one number of beads for each dangle.",
        )
    if letter is None:
        return changes.outline(pattern, wanted, motif=motif or 0)
    return changes.outline(pattern, wanted, letter=letter)


def with_letters(pattern: Pattern, scope: Scope, letters: str) -> changes.Changed:
    """The pattern with other turns: they begin with the outline that is edited.

    Outlines that the piece has keep their letters; a new one is the counterpart of the one before.
    """
    known = pattern.outlines.outlines
    if len(known) < 2 or letters == "A":
        known = (outline_of(scope.profile),)
    return changes.alternation(pattern, letters, known)


def with_length_at(lengths: Profile, place: int, value: int, *, mirror: bool) -> Profile:
    """Lengths with one of them changed, and its mirror image too where both sides are alike."""
    changed = list(lengths)
    changed[place] = value
    if mirror:
        changed[len(lengths) - 1 - place] = value
    return tuple(changed)


def shape_of(lengths: Profile) -> Shape | None:
    """The shape that gives these lengths between their own least and most, if one does."""
    return outline_of(lengths).shape


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
    pattern = work.piece.pattern
    rule = pattern.outlines
    outlines = list(rule.outlines)
    for place, outline in enumerate(outlines):
        lengths = outline.at(pattern.run.width)
        if max(lengths) > most:
            outlines[place] = outline_of(stretched(lengths, min(*lengths, most), most))
    after = replace(pattern, outlines=replace(rule, outlines=tuple(outlines)))
    longest = max(max(outline.at(pattern.run.width)) for outline in outlines)
    if longest + rule.growth > most:
        after = replace(after, outlines=replace(after.outlines, growth=min(0, rule.growth)))
    for motif in range(after.run.motifs):
        lengths = lengths_of(after, motif)
        if max(lengths) > most and not changes.is_locked(after, motif):
            shorter = outline_of(stretched(lengths, min(*lengths, most), most))
            after = changes.outline(after, shorter, motif=motif).pattern
    return work if after == pattern else with_pattern(work, after)


def with_way(work: Work, way: Way, beads: int, length_mm: float) -> Work:
    """The work on one way on after measuring half-way; the boxes hold what was measured."""
    sizing = replace(
        work.sizing, swatch_beads=beads, swatch_length=f"{length_mm:.6g} mm", quick=False
    )
    return replace(with_pattern(work, way.pattern), sizing=sizing)


def with_pattern(work: Work, pattern: Pattern) -> Work:
    """The work with its piece changed."""
    return replace(work, piece=meant(work.piece, pattern))


def with_margin(work: Work, margin: int | None) -> Work:
    """The work with so many plain base beads at each end, or as many as fill; the fit follows."""
    sizing = replace(work.sizing, plain_ends=margin is None, margin=margin or 0, quick=False)
    return steps.resized(work, sizing)
