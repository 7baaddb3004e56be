"""Every change of ``explorer.changes`` as it is asked for: its word, what it is told, and how.

One table for all who ask, so that a change has one name and one way to be told. What is told
arrives as text. Motifs, dangles and beads count from 1.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from explorer.brief import (
    LEAST_BARE_MM,
    LEAST_PITCH_MM,
    LEAST_SNUG_MM,
    MOST_CLOSURE_MM,
    MOST_DANGLES,
    MOST_DIVIDER,
    MOST_EASE_MM,
    MOST_PITCH_MM,
    MOST_SNUG_MM,
    Strip,
    Wearer,
    whole,
)
from explorer.cautions import Wear
from explorer.changes import (
    Changed,
    Kept,
    TooShort,
    alternation,
    arrange,
    check_divider_beads,
    divider_beads,
    for_wearer,
    grow,
    in_order,
    insert,
    lengthen,
    links,
    lock,
    move,
    outline,
    paint_all,
    paint_base,
    paint_base_bead,
    paint_bead,
    paint_dangle,
    paint_motif,
    recolour,
    refit,
    remove,
    replace_colour,
    resize,
    spread_colours,
    swap,
    swap_colours,
    swatch_of,
    tips,
    turn_outlines,
    two_in_turn,
    unlock,
    wear_as,
)
from explorer.colouring import Colouring
from explorer.design import MOST_BASE_BEADS, MOST_DANGLE_BEADS, MOST_DIVIDER_BEADS, MOST_LINKS
from explorer.errors import BriefError
from explorer.fit import NoFit, Repeat
from explorer.lengths import at_least, millimetres, parse_mm
from explorer.pattern import MOST_GROWTH, Outline, Pattern, outline_of
from explorer.profile import Shape, check_profile
from explorer.sequence_types import MOST_COLOURS, Arrangement
from explorer.weave import weave
from palettes.beads import BeadKind
from palettes.charts import bead_kinds
from palettes.finishes import Finish
from palettes.spaces import parse_hex
from palettes.swatches import Swatch

T = TypeVar("T")
# What stands for the colour of a bead that is typed with its kind: ``drop 3.4 in Dew``.
_IN = " in "
_NAMED = re.compile(
    r"(?:(?P<name>.+?)\s+)?(?P<hex>#?[0-9a-f]{6}|#[0-9a-f]{3})(?:\s+(?P<finish>.+))?", re.IGNORECASE
)
_SHORT = re.compile(r"(?P<hex>[0-9a-f]{3})", re.IGNORECASE)
_STRETCHED = re.compile(r"(?P<shape>\D+?)\s*(?P<least>\d+)\s*-\s*(?P<most>\d+)", re.ASCII)
# Chosen by us, because it is printed in a line with its length.
_MOST_KIND = 40
_USUAL = "usual"
WEARS = {**{wear.value: wear for wear in Wear}, "child": Wear.CHILD}
_INSIDE = {way.name.lower(): way for way in Colouring}
_ORDERS = {
    "free": Arrangement.FREE,
    "mirror": Arrangement.MIRROR,
    "repeat": Arrangement.UNIT,
    "fade": Arrangement.RUN,
    "run": Arrangement.RUN,
    "blocks": Arrangement.BLOCKS,
}
_TWO, _GIVEN = "two", "given"
# Orders in which something is so many motifs long.
_LONG = ("repeat", "blocks")
_ON = {"on": True, "off": False}


@dataclass(frozen=True, slots=True, kw_only=True)
class Argument:
    """One thing that a change is told.

    Attributes:
        name: its name, in errors too.
        help: what it is, in a few words.
        sign: what stands for its value; empty for what is said or not.
        named: whether it is told by its name, in any order; else by its place.
        needed: whether there is no such change without it.
        many: whether several may be told.
    """

    name: str
    help: str
    sign: str = ""
    named: bool = True
    needed: bool = False
    many: bool = False


Told = Mapping[str, str | bool | Sequence[str] | None]


class Given:
    """What a change was told, read for one piece; ``BriefError`` for what cannot be taken.

    Args:
        pattern: the piece.
        told: the texts, by the names of arguments.
    """

    def __init__(self, pattern: Pattern, told: Told) -> None:
        self.pattern = pattern
        self._told = told

    def text(self, name: str) -> str | None:
        """What was told; None where nothing was."""
        found = self._told.get(name)
        return found if isinstance(found, str) else None

    def needed(self, name: str) -> str:
        """What has to be told."""
        found = self.text(name)
        if found is None:
            raise BriefError(name, "nothing", "a value", f"Say which {name}.")
        return found

    def said(self, name: str) -> bool:
        """Whether something was said that has no value."""
        return bool(self._told.get(name))

    def texts(self, name: str) -> tuple[str, ...]:
        """All that was told of what may be several."""
        found = self._told.get(name)
        return tuple(found) if isinstance(found, Sequence) and not isinstance(found, str) else ()

    def alone(self, name: str, *others: str) -> None:
        """Refuse what was told beside something that says otherwise."""
        if self._told.get(name) in (None, False):
            return
        for other in others:
            if self._told.get(other) not in (None, False):
                wanted = f"only one of {name} and {other}"
                raise BriefError(other, "both", wanted, "Leave out one of the two.")

    def beside(self, name: str, other: str) -> None:
        """Refuse what says nothing without something else."""
        if self._told.get(name) not in (None, False) and self._told.get(other) is None:
            raise BriefError(
                other, "nothing", f"the {other} that is meant, beside {name}", f"Add --{other}."
            )

    # Numbers and words.

    def number(self, name: str, least: int, most: int) -> int:
        """A whole number."""
        return whole(name, self.needed(name), least, most)

    def motif(self, name: str = "motif") -> int:
        """A motif of the piece, from 0."""
        return whole(name, self.needed(name), 1, self.pattern.run.motifs) - 1

    def a_motif(self) -> int | None:
        """A motif, if one was told."""
        return None if self.text("motif") is None else self.motif()

    def place(self, name: str) -> int:
        """A dangle or a bead of a motif, from 0; whether it is there is the change's to say."""
        return self.number(name, 1, MOST_BASE_BEADS) - 1

    def on(self, name: str) -> bool:
        """On or off; on where neither was told."""
        return self.text(name) is None or word(_ON, name, self.needed(name))

    def length(self, name: str, least_mm: float, most_mm: float, bare_mm: float = 0.0) -> float:
        """A length in millimetres."""
        return parse_mm(
            self.needed(name), name, least_mm=least_mm, most_mm=most_mm, least_bare_mm=bare_mm
        )

    def wearer(self) -> Wearer:
        """The measurement of the piece."""
        found = self.pattern.worn.wearer
        if found is None:
            wanted = "a piece that was made for a measurement"
            raise BriefError("snug", "nothing", wanted, "Say whose it is first, with `for`.")
        return found

    # Colours, kinds and outlines.

    def colour(self, name: str = "colour") -> Swatch:
        """A colour."""
        return colour(self.pattern, self.needed(name), name)

    def a_colour(self, name: str = "colour") -> Swatch | None:
        """A colour, if one was told."""
        return None if self.text(name) is None else self.colour(name)

    def colours(self, name: str = "colours") -> tuple[Swatch, ...]:
        """Colours with commas between; none where none were told."""
        text = self.text(name)
        if text is None:
            return ()
        parts = [text] if _fold(text) in _names(self.pattern) else text.split(",")
        return tuple(colour(self.pattern, part, name) for part in parts)

    def kind(self, name: str = "kind") -> BeadKind | None:
        """A kind of bead, if one was told."""
        text = self.text(name)
        return None if text is None else kind(self.pattern, text, name)

    def bead(self, text: str, name: str) -> tuple[Swatch, BeadKind]:
        """A bead: its colour, and before it its kind where that is not the dangles' own."""
        before, found, after = text.partition(_IN)
        if found and _fold(before) in _kinds(self.pattern):
            return colour(self.pattern, after, name), kind(self.pattern, before, name)
        named = _fold(text) in _names(self.pattern) or _NAMED.fullmatch(text.strip())
        if found and not named:
            kind(self.pattern, before, name)
        return colour(self.pattern, text, name), self.pattern.hanging

    def outline(self, text: str, width: int, usual: Outline) -> Outline:
        """An outline for motifs so wide: beads of every dangle, or a shape.

        Args:
            text: what was told.
            width: dangles of the motifs.
            usual: whose shortest and longest dangle a shape takes that has none of its own.
        """
        stretched = _STRETCHED.fullmatch(text.strip())
        name = _fold(stretched["shape"] if stretched else text)
        if name in {*Shape}:
            lengths = usual.at(width)
            least, most = min(lengths), max(lengths)
            if stretched:
                least = whole("shortest", stretched["least"], 1, MOST_DANGLE_BEADS)
                most = whole("longest", stretched["most"], least, MOST_DANGLE_BEADS)
            return Outline(shape=Shape(name), least=least, most=most)
        parts = text.split(",")
        if not all(part.strip().isdigit() for part in parts):
            wanted = f"the beads of every dangle, such as 2,4,5,4,2, or one of {', '.join(Shape)}"
            raise BriefError("outline", text, wanted, "Write it so; a shape may say 'peak 1-6'.")
        found = check_profile([whole("outline", part, 1, MOST_DANGLE_BEADS) for part in parts])
        if len(found) != width:
            raise BriefError(
                "outline",
                text,
                f"{width} dangles, as the motifs have",
                "Write one number of beads for each dangle.",
            )
        return outline_of(found)


def word(words: Mapping[str, T], field: str, text: str) -> T:
    """What a word stands for; ``BriefError`` for one that is not among them."""
    found = words.get(_fold(text))
    if found is None:
        raise BriefError(field, text, f"one of {', '.join(words)}", "Choose from the list.")
    return found


def _fold(text: str) -> str:
    return " ".join(text.casefold().split())


def _names(pattern: Pattern) -> dict[str, list[Swatch]]:
    """The piece's colours by their names."""
    found: dict[str, list[Swatch]] = {}
    for one in pattern.colours:
        found.setdefault(_fold(one.name), []).append(swatch_of(pattern, one.key))
    return found


def colour(pattern: Pattern, text: str, field: str) -> Swatch:
    """A colour as it is told: the name of one that the piece has, or a hex with a name or without.

    A hex that the piece has is that colour, with its name and finish, unless it is given others.

    Raises:
        BriefError: it is neither, or the piece has two colours of that name.
    """
    named = list(dict.fromkeys(_names(pattern).get(_fold(text), [])))
    if len(named) == 1:
        return named[0]
    if named:
        hexes = ", ".join(one.hex for one in named)
        raise BriefError(field, text, f"one colour; {hexes} are called so", "Write its hex.")
    found = _NAMED.fullmatch(text.strip()) or _SHORT.fullmatch(text.strip())
    if not found:
        known = ", ".join(dict.fromkeys(one.name for one in pattern.colours if one.name.strip()))
        raise BriefError(
            field,
            text,
            f"a hex colour such as 1f8a83, or one of the piece: {known}",
            "Write six digits 0-9 a-f, a name before them if it is to have one.",
        )
    parts = found.groupdict()
    hex_, name, finish = parse_hex(parts["hex"]), parts.get("name"), parts.get("finish")
    swatch = Swatch(name=name or hex_, hex=hex_)
    if not name and not finish:
        alike = (swatch_of(pattern, one.key) for one in pattern.colours if one.hex == hex_)
        return next(alike, swatch)
    if finish:
        finishes = {one.value: one for one in Finish}
        swatch = replace(swatch, finish=word(finishes, "finish", finish))
    return swatch


def _kinds(pattern: Pattern) -> dict[str, BeadKind]:
    """Kinds of bead by name; those of the piece have the figures that it was made with."""
    return {**bead_kinds(), **{_fold(b.kind.name): b.kind for b in weave(pattern).beads}}


def kind(pattern: Pattern, text: str, field: str) -> BeadKind:
    """The kind of bead of a name."""
    return word(_kinds(pattern), field, text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A change that can be asked for.

    Attributes:
        word: what makers call it.
        help: what it does, in a few words.
        arguments: what it is told.
        make: the change, of what it was told.
    """

    word: str
    help: str
    arguments: tuple[Argument, ...]
    make: Callable[[Given], Changed | TooShort]

    def change(self, pattern: Pattern, told: Told) -> Changed:
        """The piece changed as it was asked.

        Raises:
            BriefError: something that was told cannot be taken, or the change cannot be made.
        """
        found = self.make(Given(pattern, told))
        if isinstance(found, TooShort):
            raise BriefError(
                "snug",
                f"room for a strip of {millimetres(found.target_mm)}",
                f"at least {at_least(found.needs_mm)} for one motif",
                "Measure again, or take more ease or narrower motifs.",
            )
        return found


# What each change does with what it was told.


def _colour(given: Given) -> Changed:
    given.alone("all", "motif", "dangle", "bead", "base")
    given.alone("base", "bead")
    given.beside("base", "dangle")
    given.beside("bead", "dangle")
    given.beside("dangle", "motif")
    pattern, swatch = given.pattern, given.colour()
    if given.said("all"):
        return paint_all(pattern, swatch)
    if given.text("motif") is None:
        raise BriefError("motif", "nothing", "a motif, or all", "Add --motif, or --all.")
    motif = given.motif()
    if given.text("dangle") is None:
        return paint_motif(pattern, motif, swatch)
    dangle = given.place("dangle")
    if given.said("base"):
        return paint_base_bead(pattern, motif, dangle, swatch)
    if given.text("bead") is None:
        return paint_dangle(pattern, motif, dangle, swatch)
    return paint_bead(pattern, motif, dangle, given.place("bead"), swatch)


def _base(given: Given) -> Changed:
    given.alone("number", "by-motif")
    pattern, swatches, by_motif = given.pattern, given.colours(), given.said("by-motif")
    if given.text("number") is not None:
        keys = pattern.base.keys
        place = given.number("number", 1, len(keys)) - 1
        if len(swatches) != 1:
            wanted = "one colour beside number"
            raise BriefError("colours", len(swatches), wanted, "Name one, or leave out number.")
        held = [swatch_of(pattern, key) for key in keys]
        swatches, by_motif = (*held[:place], *swatches, *held[place + 1 :]), pattern.base.by_motif
    return paint_base(pattern, swatches, by_motif=by_motif)


def _length(given: Given) -> Changed:
    return lengthen(
        given.pattern,
        given.motif(),
        given.place("dangle"),
        given.number("beads", 1, MOST_DANGLE_BEADS),
        everywhere=given.said("everywhere"),
    )


def _outline(given: Given) -> Changed:
    given.alone("motif", "letter")
    pattern, text, motif = given.pattern, given.needed("outline"), given.a_motif()
    known = pattern.outlines.outlines
    if motif is not None:
        return outline(pattern, given.outline(text, pattern.width(motif), known[0]), motif=motif)
    letters = dict(zip("abc", range(len(known)), strict=False))
    letter = word(letters, "letter", given.text("letter") or "a")
    return outline(pattern, given.outline(text, pattern.run.width, known[letter]), letter=letter)


def _turns(given: Given) -> Changed:
    pattern, first = given.pattern, given.pattern.outlines.outlines[0]
    found = [given.outline(one, pattern.run.width, first) for one in given.texts("outline")]
    letters = given.needed("letters")
    if len(found) > len(set(letters.upper())):
        wanted = f"at most one outline for each letter of {letters}"
        raise BriefError("outline", f"{len(found)} outlines", wanted, "Leave some out.")
    return alternation(pattern, letters, found)


def _mirror_outlines(given: Given) -> Changed:
    return turn_outlines(given.pattern, mirrored=given.on("on"))


def _grow(given: Given) -> Changed:
    return grow(given.pattern, given.number("beads", -MOST_GROWTH, MOST_GROWTH))


def _inside(given: Given) -> Changed:
    ways = {**_INSIDE, **{one.value: one for one in Colouring}}
    way = ways.get(_fold(given.needed("way"))) or word(_INSIDE, "way", given.needed("way"))
    return spread_colours(given.pattern, way, motif=given.a_motif())


def _tips(given: Given) -> Changed:
    kind, swatch = given.kind(), given.a_colour()
    if kind is None and swatch is None and not given.said("plain"):
        wanted = "a kind or a colour, or that they are as their dangles"
        raise BriefError("tips", "nothing", wanted, "Add --kind, --colour or --plain.")
    otherwise = None if given.said("plain") else Kept.AS_IT_IS
    return tips(
        given.pattern, kind=kind or otherwise, swatch=swatch or otherwise, motif=given.a_motif()
    )


def _divider(given: Given) -> Changed:
    texts = given.texts("bead")
    check_divider_beads(len(texts), "bead")
    beads = [given.bead(text, "bead") for text in texts]
    return divider_beads(given.pattern, beads)


def _links(given: Given) -> Changed:
    pattern, text = given.pattern, given.text("bead")
    if text is not None:
        swatch, kind = given.bead(text, "bead")
    else:
        swatch, kind = swatch_of(pattern, pattern.base.keys[0]), pattern.base.kind
    return links(pattern, swatch, kind, given.number("count", 0, MOST_LINKS))


def _order(given: Given) -> Changed:
    pattern, swatches = given.pattern, given.colours()
    text = given.needed("order")
    way = _fold(text)
    for name, takes in (("length", _LONG), ("gap", _ORDERS)):
        if way in (*_ORDERS, _TWO, _GIVEN) and way not in takes and given.text(name) is not None:
            wanted = f"no {name} beside an order of {way}"
            raise BriefError(name, given.text(name), wanted, "Leave it out.")
    if way == _TWO:
        return two_in_turn(pattern, swatches)
    if way == _GIVEN:
        return _given_order(given, swatches)
    if way not in _ORDERS:
        wanted = f"one of {', '.join((*_ORDERS, _TWO, _GIVEN))}"
        raise BriefError("order", text, wanted, "Choose from the list.")
    sizes = {
        name: 0 if given.text(name) is None else given.number(name, 0, most)
        for name, most in (("length", pattern.run.motifs), ("gap", MOST_COLOURS))
    }
    found = arrange(pattern, _ORDERS[way], swatches, length=sizes["length"], gap=sizes["gap"])
    unit = len(found.pattern.order.keys)
    if _ORDERS[way] is Arrangement.UNIT and sizes["length"] not in {0, unit}:
        told = f"In this strip a unit of {unit} motif{'s' * (unit > 1)} gives the same colours."
        found = replace(found, gave_up=(*found.gave_up, told))
    return found


def _given_order(given: Given, swatches: tuple[Swatch, ...]) -> Changed:
    """Colours as they were told, one a motif, painted or not; fewer are a unit that repeats."""
    motifs = given.pattern.run.motifs
    if not 1 <= len(swatches) <= motifs:
        wanted = f"1 to {motifs} colours, in the order of the motifs"
        raise BriefError("colours", len(swatches), wanted, "Name them with --colours.")
    order = [slot % len(swatches) for slot in range(motifs)]
    each = len(swatches) == motifs
    way = Arrangement.FREE if each else Arrangement.UNIT
    return in_order(given.pattern, swatches, order, way, everywhere=each)


def _recolour(given: Given) -> Changed:
    pattern = given.pattern
    return recolour(pattern, given.colours(), given.a_colour("base"))


def _another_colour(given: Given) -> Changed:
    old, new = given.colour("old"), given.colour("new")
    design = weave(given.pattern)
    numbers = {number for motif in design.motifs for column in motif for number in column.beads}
    hanging = [design.beads[number] for number in numbers]
    seen = {Swatch(name=b.name.strip() or b.hex, hex=b.hex, finish=b.finish) for b in hanging}
    if old not in seen:
        known = ", ".join(sorted(one.name for one in seen))
        wanted = f"a colour that the motifs have: {known}"
        raise BriefError("old", given.text("old"), wanted, "Choose one of them.")
    return replace_colour(given.pattern, old, new)


def _insert(given: Given) -> Changed:
    return insert(given.pattern, given.motif(), given.a_colour())


def _wear(given: Given) -> Changed:
    return wear_as(given.pattern, word(WEARS, "wear", given.needed("wear")))


def _for(given: Given) -> Changed | TooShort:
    pattern, ease_mm = given.pattern, None
    snug_mm = (
        given.wearer().snug_mm
        if given.text("snug") is None
        else given.length("snug", LEAST_SNUG_MM, MOST_SNUG_MM)
    )
    ease = given.text("ease")
    if ease is not None and _fold(ease) == _USUAL:
        pattern = replace(pattern, worn=replace(pattern.worn, own_ease=False))
    elif ease is not None:
        ease_mm = given.length("ease", 0.0, MOST_EASE_MM, LEAST_BARE_MM)
    said = given.text("wear")
    wear = None if said is None else word(WEARS, "wear", said)
    return for_wearer(pattern, snug_mm, ease_mm=ease_mm, wear=wear)


def _closure(given: Given) -> Changed | TooShort:
    old = given.pattern.ends.closure
    named = old.kind if given.text("kind") is None else " ".join(given.needed("kind").split())
    if len(named) > _MOST_KIND or not named.isprintable():
        wanted = f"a word or two of at most {_MOST_KIND} signs"
        raise BriefError("kind", named[:_MOST_KIND], wanted, "Name it, such as 'toggle clasp'.")
    length_mm = old.length_mm
    if given.text("length") is not None:
        length_mm = given.length("length", 0.0, MOST_CLOSURE_MM, LEAST_BARE_MM)
    if length_mm >= MOST_CLOSURE_MM:
        wanted = f"less than {millimetres(MOST_CLOSURE_MM)}"
        raise BriefError("length", given.text("length"), wanted, "Measure it again.")
    closure = replace(old, kind=named, length_mm=length_mm)
    return resize(given.pattern, given.wearer(), closure=closure)


def _plain_ends(given: Given) -> Changed | TooShort:
    return resize(given.pattern, given.wearer(), fill=given.on("on"))


def _strip(given: Given) -> Changed:
    pattern, wearer, run = given.pattern, given.wearer(), given.pattern.run
    base = given.kind("base") or pattern.base.kind
    measured = pattern.base.measured and base == pattern.base.kind
    pitch_mm = pattern.base.pitch_mm if base == pattern.base.kind else base.ladder_pitch_mm
    if given.text("pitch") is not None:
        pitch_mm, measured = given.length("pitch", LEAST_PITCH_MM, MOST_PITCH_MM), True
    numbers = {
        name: now if given.text(name) is None else given.number(name, least, most)
        for name, now, least, most in (
            ("dangles", run.width, 1, MOST_DANGLES),
            ("divider", run.divider, 0, MOST_DIVIDER),
        )
    }
    repeat = Repeat(
        dangles=numbers["dangles"], divider=numbers["divider"], margins=sum(run.margins)
    )
    strip = Strip(base=base, measured_pitch_mm=pitch_mm, repeat=repeat, plain_ends=run.fill)
    fit = strip.fit(wearer, pattern.ends.closure)
    if isinstance(fit, NoFit):
        raise BriefError(
            "dangles",
            repeat.dangles,
            f"a motif that fits: one of this takes {at_least(fit.snug_needs_mm)} round the limb",
            "Take fewer dangles or a smaller base bead.",
        )
    return refit(
        pattern,
        wearer,
        repeat=fit.repeat,
        motifs=fit.motifs,
        base=base,
        pitch_mm=pitch_mm,
        measured=measured,
        hanging=given.kind("hanging") or pattern.hanging,
        closure=pattern.ends.closure,
        fill=run.fill,
    )


# What several changes are told.
_MOTIF = Argument(name="motif", sign="N", help="which motif", named=False, needed=True)
_ONE_MOTIF = Argument(name="motif", sign="N", help="this motif only")
_COLOUR = Argument(
    name="colour",
    sign="COLOUR",
    help="a hex, 'Name hex', or a colour's name",
    named=False,
    needed=True,
)
_WITH_COLOUR = replace(_COLOUR, named=True, needed=False)
_COLOURS = Argument(name="colours", sign="A,B,...", help="colours with commas between")
_SWITCH = Argument(name="on", sign="on|off", help="on (if left out) or off", named=False)
_OUTLINE = Argument(
    name="outline",
    sign="OUTLINE",
    named=False,
    needed=True,
    help="beads of every dangle, such as 2,4,5,4,2, or a shape, such as peak or 'peak 1-6'",
)

CHANGES: tuple[Asked, ...] = (
    Asked(
        word="colour",
        help="give a motif, a dangle, one bead or all motifs a colour",
        arguments=(
            _COLOUR,
            Argument(name="motif", sign="N", help="which motif"),
            Argument(name="dangle", sign="N", help="which of its dangles"),
            Argument(name="bead", sign="N", help="which bead of the dangle, from the base down"),
            Argument(name="base", help="the base bead that the dangle hangs from"),
            Argument(name="all", help="every motif, whatever was painted before"),
        ),
        make=_colour,
    ),
    Asked(
        word="base",
        help="give the base one colour, or several in turn",
        arguments=(
            replace(_COLOURS, named=False, needed=True),
            Argument(name="by-motif", help="in turn from motif to motif, not bead to bead"),
            Argument(name="number", sign="N", help="only this one of its colours in turn"),
        ),
        make=_base,
    ),
    Asked(
        word="length",
        help="give a dangle a length in beads",
        arguments=(
            Argument(name="beads", sign="BEADS", help="how many", named=False, needed=True),
            Argument(name="motif", sign="N", help="which motif", needed=True),
            Argument(name="dangle", sign="N", help="which of its dangles", needed=True),
            Argument(name="everywhere", help="the same dangle of every motif"),
        ),
        make=_length,
    ),
    Asked(
        word="outline",
        help="give all motifs, those of a letter or one another outline",
        arguments=(
            _OUTLINE,
            Argument(name="letter", sign="A", help="which, where outlines take turns (A)"),
            _ONE_MOTIF,
        ),
        make=_outline,
    ),
    Asked(
        word="turns",
        help="let outlines take turns over the motifs",
        arguments=(
            Argument(
                name="letters", sign="LETTERS", help="A, AB or ABCB", named=False, needed=True
            ),
            replace(_OUTLINE, needed=False, many=True),
        ),
        make=_turns,
    ),
    Asked(
        word="mirror-outlines",
        help="turn the outlines past the middle into mirror images",
        arguments=(_SWITCH,),
        make=_mirror_outlines,
    ),
    Asked(
        word="grow",
        help="let dangles grow toward the middle of the strip",
        arguments=(
            Argument(
                name="beads",
                sign="BEADS",
                help="how many; below 0 they shrink",
                named=False,
                needed=True,
            ),
        ),
        make=_grow,
    ),
    Asked(
        word="inside",
        help="spread the colours inside motifs in another way",
        arguments=(
            Argument(name="way", sign="WAY", help=", ".join(_INSIDE), named=False, needed=True),
            _ONE_MOTIF,
        ),
        make=_inside,
    ),
    Asked(
        word="tips",
        help="give dangles other turning beads; what is not named stays",
        arguments=(
            Argument(name="kind", sign="TYPE", help="their kind of bead"),
            _WITH_COLOUR,
            Argument(name="plain", help="as their dangles in what is not named"),
            _ONE_MOTIF,
        ),
        make=_tips,
    ),
    Asked(
        word="divider",
        help="hang small beads under the dividers; none for bare ones",
        arguments=(
            Argument(
                name="bead",
                sign="BEAD",
                named=False,
                many=True,
                help=f"from the base down, at most {MOST_DIVIDER_BEADS}: a colour, "
                "or 'TYPE in COLOUR'",
            ),
        ),
        make=_divider,
    ),
    Asked(
        word="links",
        help="put link beads at both ends",
        arguments=(
            Argument(name="count", sign="COUNT", help="at each end", named=False, needed=True),
            Argument(name="bead", sign="BEAD", help="a colour, or 'TYPE in COLOUR' (as the base)"),
        ),
        make=_links,
    ),
    Asked(
        word="order",
        help="lay the motifs' colours out anew, as evenly used as can be, to stand apart best",
        arguments=(
            Argument(
                name="order",
                sign="ORDER",
                named=False,
                needed=True,
                help=f"{', '.join(_ORDERS)}, {_TWO}, {_GIVEN}",
            ),
            replace(_COLOURS, help="colours with commas between (those that the motifs have)"),
            Argument(name="length", sign="N", help="motifs in what repeats, or in a block"),
            Argument(name="gap", sign="N", help="a colour not again within so many motifs"),
        ),
        make=_order,
    ),
    Asked(
        word="swap",
        help="let two motifs change places",
        arguments=(_MOTIF, replace(_MOTIF, name="other", help="the other")),
        make=lambda given: swap(given.pattern, given.motif(), given.motif("other")),
    ),
    Asked(
        word="move",
        help="move a motif to another place",
        arguments=(_MOTIF, replace(_MOTIF, name="to", help="the place that it takes")),
        make=lambda given: move(given.pattern, given.motif(), given.motif("to")),
    ),
    Asked(
        word="insert",
        help="put one more motif behind another",
        arguments=(_MOTIF, replace(_WITH_COLOUR, help="its colour (as that motif)")),
        make=_insert,
    ),
    Asked(
        word="remove",
        help="take a motif out",
        arguments=(_MOTIF,),
        make=lambda given: remove(given.pattern, given.motif()),
    ),
    Asked(
        word="lock",
        help="keep a motif as it is, whatever else is changed",
        arguments=(_MOTIF,),
        make=lambda given: lock(given.pattern, given.motif()),
    ),
    Asked(
        word="unlock",
        help="let a motif be changed again",
        arguments=(_MOTIF,),
        make=lambda given: unlock(given.pattern, given.motif()),
    ),
    Asked(
        word="swap-colours",
        help="exchange the colours of two motifs",
        arguments=(_MOTIF, replace(_MOTIF, name="other", help="the other")),
        make=lambda given: swap_colours(given.pattern, given.motif(), given.motif("other")),
    ),
    Asked(
        word="another-colour",
        help="take another colour wherever motifs have one; base, dividers and links keep theirs",
        arguments=(
            replace(_COLOUR, name="old", sign="OLD"),
            replace(_COLOUR, name="new", sign="NEW"),
        ),
        make=_another_colour,
    ),
    Asked(
        word="recolour",
        help="put the whole piece in other colours, in the order in which they are seen",
        arguments=(
            replace(_COLOURS, named=False, needed=True),
            replace(_WITH_COLOUR, name="base", help="the base's colour (as it is)"),
        ),
        make=_recolour,
    ),
    Asked(
        word="wear",
        help="say what the piece is worn as",
        arguments=(
            Argument(name="wear", sign="AS", help=", ".join(Wear), named=False, needed=True),
        ),
        make=_wear,
    ),
    Asked(
        word="for",
        help="make the piece for another measurement, by the same rules",
        arguments=(
            Argument(name="snug", sign="SNUG", help="round the limb (as it is)", named=False),
            Argument(name="ease", sign="L", help="added for comfort, or 'usual'"),
            Argument(name="wear", sign="AS", help=", ".join(Wear)),
        ),
        make=_for,
    ),
    Asked(
        word="closure",
        help="take another fastening, and the motifs that then fit",
        arguments=(
            Argument(name="length", sign="L", help="closed (as it is)", named=False),
            Argument(name="kind", sign="NAME", help="what it is, such as 'toggle clasp'"),
        ),
        make=_closure,
    ),
    Asked(
        word="plain-ends",
        help="fill what is left over with plain base beads at both ends",
        arguments=(_SWITCH,),
        make=_plain_ends,
    ),
    Asked(
        word="strip",
        help="put the piece on another strip: kinds of bead, pitch, dangles or dividers",
        arguments=(
            Argument(name="base", sign="TYPE", help="kind of base bead"),
            Argument(name="pitch", sign="L", help="strip per base bead, as measured"),
            Argument(name="hanging", sign="TYPE", help="kind of the dangles' beads"),
            Argument(name="dangles", sign="D", help="to a motif"),
            Argument(name="divider", sign="V", help="base beads to a divider"),
        ),
        make=_strip,
    ),
)


def change_of(name: str) -> Asked:
    """The change of a word; ``BriefError`` where there is none."""
    return word({one.word: one for one in CHANGES}, "change", name)
