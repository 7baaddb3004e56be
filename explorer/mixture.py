"""A proposal before its colour order is found, and how one rule of it is chosen anew."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypeVar

import numpy as np

from explorer.brief import Brief, HowMuch
from explorer.colouring import Colouring
from explorer.crowding import Touch, touch_of
from explorer.design import MOST_DIVIDER_BEADS
from explorer.fit import Fit
from explorer.motif_looks import face_of, shares
from explorer.pattern import outline_of
from explorer.profile import Shape, profile
from explorer.profile_alternation import counterpart
from explorer.profile_scores import drop_mm
from explorer.rules import NO_RULES, Rules
from explorer.sequence_types import Arrangement
from explorer.subsets import Subset
from palettes.beads import Bead, BeadKind
from palettes.charts import bead_kinds
from palettes.difference import delta_e_2000
from palettes.forms import Form
from palettes.spaces import hexes_to_srgb1, lab_to_lch, srgb1_to_lab

# Fewer motifs show no turns and no growth. Chosen by us, by looking at strips.
_FEWEST_MOTIFS = 5
_FEWEST_FOR_THREE = 7
# Beads that the middle is longer by, where there is room: fewer are not seen, more are another
# piece. Chosen by us, by looking at strips.
_GROWTHS = (2, 3)
# A turning bead's colour shows from so much CIEDE2000 on, and takes at most that share of a motif.
# Chosen by us, by looking at thumbnails.
_TIP_APART, _TIP_SHARE = 18.0, 0.4
# A round turning bead is seen to be larger from so many times the dangle's width on, and one of
# another form may be a little narrower. Chosen by us, by looking at strips.
_TIP_LARGER, _TIP_NARROWER = 1.15, 0.9
# Two colours of the base are seen as two and stay one ground between these two CIEDE2000; a colour
# above that chroma draws the eye from the motifs. Chosen by us, by looking at sheets of 24.
_BASE_APART, _BASE_TOGETHER, _QUIET_CHROMA = 20.0, 50.0, 40.0
# How often no rule, one or two are varied. Chosen by us, by looking at sheets of 24.
_OFTEN = {HowMuch.LITTLE: (0.6, 0.32, 0.08), HowMuch.MORE: (0.15, 0.45, 0.4)}


_T = TypeVar("_T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mixture:
    """A candidate before its colour order is found."""

    outline: str
    profile: tuple[int, ...]
    second: tuple[int, ...] = ()
    fit: Fit
    group: Subset
    arrangement: Arrangement
    colouring: Colouring
    rules: Rules = NO_RULES

    @property
    def outlines(self) -> tuple[tuple[int, ...], ...]:
        """The dangle lengths of the outlines that take turns."""
        return tuple(filter(None, (self.profile, self.second, self.rules.third)))

    @property
    def longest(self) -> int:
        """The longest dangle that any motif has."""
        return max(map(max, self.outlines)) + max(0, self.rules.growth)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What a rule is chosen for.

    Attributes:
        brief: what is asked for.
        rng: decides.
        keep: whether everything but the rule stays, outlines' lengths and colouring too.
    """

    brief: Brief
    rng: np.random.Generator
    keep: bool = False

    def one(self, options: Sequence[_T]) -> _T:
        """One of some."""
        return options[int(self.rng.integers(len(options)))]


def with_extras(mixed: Mixture, brief: Brief, rng: np.random.Generator) -> Mixture:
    """The mixture with as many rules varied as the maker wishes; one that does not suit is not."""
    often = _OFTEN.get(brief.extras)
    if often is None:
        return mixed
    many = int(rng.choice(len(often), p=often))
    chosen = set(rng.choice(list(RULES), size=many, replace=False).tolist())
    choice = Choice(brief=brief, rng=rng)
    # In one order, as growth and turns settle what room there is for tips.
    for rule in filter(chosen.__contains__, RULES):
        mixed = RULES[rule](mixed, choice)
    return mixed


def _shortened(lengths: tuple[int, ...], most: int) -> tuple[int, ...]:
    """An outline with its longest dangle cut to so many beads; none where it has no shape."""
    outline = outline_of(lengths)
    if max(lengths) <= most:
        return lengths
    if outline.shape is None or most < 1:
        return ()
    return profile(outline.shape, len(lengths), min(outline.least, most), most)


def _all_shortened(mixed: Mixture, most: int) -> Mixture | None:
    """The mixture with all outlines cut; None where they cannot be, or come to look alike."""
    rows = [_shortened(lengths, most) for lengths in mixed.outlines]
    if not all(rows) or len(set(rows)) < len(rows):
        return None
    rows += [()] * (3 - len(rows))
    return replace(
        mixed, profile=rows[0], second=rows[1], rules=replace(mixed.rules, third=rows[2])
    )


def _turns(mixed: Mixture, choice: Choice) -> Mixture:
    """Two or three outlines in turn, or one alone again."""
    motifs, first = mixed.fit.motifs, mixed.profile
    alone = replace(mixed, second=(), rules=replace(mixed.rules, third=(), letters=""))
    if choice.keep and mixed.second and choice.rng.random() < 0.5:
        return alone
    if motifs < _FEWEST_MOTIFS or motifs % 2 == 0 or choice.brief.profiles:
        return mixed
    shapes = choice.brief.shapes or tuple(Shape)
    least, most = min(first), max(first)
    others = [profile(shape, len(first), least, most) for shape in shapes]
    if not choice.brief.shapes:
        others += [counterpart(first)] * len(others)
    others = [
        row
        for row in others
        if row != first
        and choice.brief.least_beads <= min(row)
        and max(row) <= choice.brief.most_beads
    ]
    if not others:
        return mixed
    second = choice.one(others)
    thirds = [row for row in others if row != second]
    third: tuple[int, ...] = ()
    if motifs >= _FEWEST_FOR_THREE and thirds and choice.rng.random() < 1.0 / len(_GROWTHS):
        third = choice.one(thirds)
    return replace(alone, second=second, rules=replace(alone.rules, third=third))


def _growth(mixed: Mixture, choice: Choice) -> Mixture:
    """Dangles that grow toward the middle, within the brief's reach; or that do no longer."""
    if choice.keep and mixed.rules.growth and choice.rng.random() < 0.5:
        return replace(mixed, rules=replace(mixed.rules, growth=0))
    if mixed.fit.motifs < _FEWEST_MOTIFS:
        return mixed
    growth = choice.one([beads for beads in _GROWTHS if beads != mixed.rules.growth])
    room = choice.brief.most_beads - growth
    after = mixed if choice.keep else _all_shortened(mixed, room)
    if after is None or room < choice.brief.least_beads:
        return mixed
    if max(map(max, after.outlines)) > room:
        return mixed
    return replace(after, rules=replace(after.rules, growth=growth))


def _mirrored(mixed: Mixture, choice: Choice) -> Mixture:
    """Motifs past the middle as mirror images, of an outline that is not its own."""
    if choice.keep and mixed.rules.mirrored:
        return replace(mixed, rules=replace(mixed.rules, mirrored=False))
    if all(row == row[::-1] for row in mixed.outlines):
        leaning = [s for s in choice.brief.shapes or tuple(Shape) if s in _LEANING]
        if choice.keep or not leaning or choice.brief.profiles or mixed.second:
            return mixed
        shape, first = choice.one(leaning), mixed.profile
        row = profile(shape, len(first), min(first), max(first))
        if row == row[::-1]:
            return mixed
        mixed = replace(mixed, outline=shape.value, profile=row)
    return replace(mixed, rules=replace(mixed.rules, mirrored=True))


_LEANING = frozenset({Shape.SLOPE, Shape.SWEEP, Shape.WAVE})


def _tips(mixed: Mixture, choice: Choice) -> Mixture:
    """Turning beads of a colour that all share, of another kind, or both; or plain ones again."""
    rules = mixed.rules
    plain = replace(rules, tip=None, tip_kind=None)
    if choice.keep and rules != plain and choice.rng.random() < 0.5:
        return replace(mixed, rules=plain)
    kinds = [kind for kind in _tip_kinds(choice) if kind != rules.tip_kind]
    with_colour = not kinds or choice.rng.random() < 0.5
    if kinds and choice.rng.random() < 0.6:
        kind = choice.one(kinds)
        if drop_mm(mixed.longest, _hanging(choice), kind) > _lowest_mm(choice):
            cut = _all_shortened(mixed, mixed.longest - 1 - max(0, rules.growth))
            if choice.keep or cut is None:
                return mixed
            mixed = cut
        plain = replace(mixed.rules, tip=None, tip_kind=kind)
        with_colour = choice.rng.random() < 0.3
    if mixed.colouring is not Colouring.PLAIN:
        if choice.keep or plain.tip_kind is not None or not with_colour:
            return replace(mixed, rules=plain)
        mixed = replace(mixed, colouring=Colouring.PLAIN)
    colours = _tip_colours(mixed, plain.tip_kind, choice) if with_colour else []
    colours = [bead for bead in colours if bead != rules.tip]
    return replace(mixed, rules=replace(plain, tip=choice.one(colours) if colours else None))


def _hanging(choice: Choice) -> BeadKind:
    return choice.brief.colours[0].kind


def _lowest_mm(choice: Choice) -> float:
    """How far the longest dangle that the brief allows hangs."""
    return drop_mm(choice.brief.most_beads, _hanging(choice))


def _tip_kinds(choice: Choice) -> list[BeadKind]:
    """Kinds that are seen to be others and do not crowd; none of beads at hand, which are one."""
    if choice.brief.stock:
        return []
    hanging, pitch_mm = _hanging(choice), choice.brief.strip.pitch_mm
    found = []
    for kind in bead_kinds().values():
        other = kind.form in {Form.DROP, Form.FACETED} and kind.form is not hanging.form
        least = _TIP_NARROWER if other else _TIP_LARGER
        seen = other or kind.form is hanging.form
        crowds = touch_of(kind.diameter_mm / pitch_mm) is Touch.RUFFLES
        if seen and kind.diameter_mm >= least * hanging.diameter_mm and not crowds:
            found.append(kind)
    return found


def _tip_colours(mixed: Mixture, kind: BeadKind | None, choice: Choice) -> list[Bead]:
    """Beads that stand apart from every dangle but one of their own colour."""
    brief = choice.brief
    face = face_of(kind, _hanging(choice))
    if any(
        shares(row, Colouring.PLAIN, tip=True, face=face)[1] > _TIP_SHARE for row in mixed.outlines
    ):
        return []
    palette = [brief.colours[place] for place in mixed.group.places]
    by_lightness = sorted(palette, key=lambda bead: _lab(bead.hex)[0])
    ground = replace(brief.base_bead, kind=_hanging(choice))
    options = [by_lightness[-1], by_lightness[0]]
    if not brief.stock or ground in brief.colours:
        options.append(ground)
    return [
        bead
        for bead in dict.fromkeys(options)
        if all(_apart(bead.hex, one.hex) >= _TIP_APART for one in palette if one != bead)
        # Where every motif has that colour, none shows a tip.
        and any(one != bead for one in palette)
    ]


def _dividers(mixed: Mixture, choice: Choice) -> Mixture:
    """Other small beads under the dividers, no longer than the dangles beside them; or none."""
    brief, rules = choice.brief, mixed.rules
    if not mixed.fit.repeat.divider:
        return mixed
    own = () if brief.divider_bead is None else (brief.divider_bead,)
    now = own if rules.dividers is None else rules.dividers
    ground = brief.divider_bead or replace(brief.base_bead, kind=_hanging(choice))
    palette = [brief.colours[place] for place in mixed.group.places]
    # The quietest colour: a divider that is louder than the motifs cuts the strip up.
    accent = min(palette, key=lambda bead: _chroma(bead.hex))
    accents = [(accent,)] if _chroma(accent.hex) <= _QUIET_CHROMA else []
    rows: list[tuple[Bead, ...]] = [(), *accents]
    if not brief.stock or ground in brief.colours or brief.divider_bead is not None:
        rows += [(ground,) * many for many in range(1, MOST_DIVIDER_BEADS + 1)]
        rows += [(ground, *row) for row in accents]
    if rules.tip is not None and rules.tip_kind is None:
        rows.append((rules.tip,))
    beside = min(min(row[0], row[-1]) for row in mixed.outlines)
    fitting = [row for row in rows if row != now and len(row) <= max(1, beside)]
    return replace(mixed, rules=replace(rules, dividers=choice.one(fitting))) if fitting else mixed


def _base(mixed: Mixture, choice: Choice) -> Mixture:
    """Two colours of base beads in turn, as one ground; or one again."""
    brief, rules = choice.brief, mixed.rules
    if choice.keep and len(rules.base) > 1 and choice.rng.random() < 0.5:
        return replace(mixed, rules=replace(rules, base=rules.base[:1], by_motif=False))
    ground = rules.base[0] if rules.base else brief.base_bead
    quiet = [
        bead
        for bead in dict.fromkeys(replace(bead, kind=ground.kind) for bead in brief.colours)
        if _BASE_APART <= _apart(bead.hex, ground.hex) <= _BASE_TOGETHER
        and _chroma(bead.hex) <= _QUIET_CHROMA
        and bead not in rules.base
        and (not brief.stock or bead in brief.colours)
    ]
    # Both ends of the strip are alike only where the number of beads, or of motifs, is odd.
    ways = [
        by_motif
        for by_motif, many in ((False, mixed.fit.base_beads), (True, mixed.fit.motifs))
        if many % 2
    ]
    if not quiet or not ways:
        return mixed
    base, by_motif = (ground, choice.one(quiet)), choice.one(ways)
    return replace(mixed, rules=replace(rules, base=base, by_motif=by_motif))


RULES: dict[str, Callable[[Mixture, Choice], Mixture]] = {
    "turns": _turns,
    "growth": _growth,
    "mirrored": _mirrored,
    "tips": _tips,
    "dividers": _dividers,
    "base": _base,
}


# Chosen by us: a search of a tray asks for the same few colours again and again.
@lru_cache(maxsize=5000)
def _lab(hex_: str) -> tuple[float, ...]:
    return tuple(srgb1_to_lab(hexes_to_srgb1([hex_]))[0].tolist())


def _chroma(hex_: str) -> float:
    return float(lab_to_lch(np.array(_lab(hex_)))[1])


@lru_cache(maxsize=20_000)  # chosen by us, likewise
def _apart(one: str, other: str) -> float:
    return float(delta_e_2000(np.array(_lab(one)), np.array(_lab(other))))
