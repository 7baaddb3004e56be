"""Patterns of every sort, and a driver that makes every change that there is.

All of it follows from one number, so that a run that fails is the same run the next time.
"""

import inspect
from collections.abc import Callable
from dataclasses import replace
from random import Random
from typing import Any

from explorer import changes
from explorer.brief import Wearer
from explorer.cautions import Wear
from explorer.colouring import Colouring
from explorer.design import Closure, Column, Design, of_columns
from explorer.fit import Repeat
from explorer.lift import lift
from explorer.pattern import (
    BaseRule,
    Colour,
    ColourRule,
    Ends,
    Hung,
    InsideRule,
    Outline,
    OutlineRule,
    Paint,
    Pattern,
    Relative,
    Run,
    TipRule,
    Way,
    Worn,
)
from explorer.profile import Shape
from explorer.sequence_types import Arrangement
from palettes.beads import Bead, BeadKind
from palettes.charts import bead_kinds
from palettes.finishes import Finish
from palettes.swatches import Swatch

KINDS: list[BeadKind] = list(bead_kinds().values())
# Invented; two look alike but for the name, and two but for the finish.
SWATCHES = [
    Swatch(name=name, hex=hex_, finish=finish)
    for name, hex_, finish in (
        ("chalk", "#f2efe6", Finish.OPAQUE), ("brick", "#a83226", Finish.OPAQUE),
        ("sea", "#1f5f8b", Finish.OPAQUE), ("moss", "#5b7a35", Finish.OPAQUE),
        ("straw", "#e3c75a", Finish.OPAQUE), ("plum", "#5a2a55", Finish.OPAQUE),
        ("soot", "#141414", Finish.OPAQUE), ("soot again", "#141414", Finish.OPAQUE),
        ("sea", "#1f5f8b", Finish.MATTE), ("rose", "#d98aa0", Finish.OPAQUE),
    )
]  # fmt: skip


def chance(seed: int) -> Random:
    """What to try, the same for the same number."""
    return Random(seed)  # noqa: S311 - what to try, no secret


def some(rng: Random, least: int, most: int) -> list[Swatch]:
    """A few different colours."""
    return rng.sample(SWATCHES, rng.randint(least, most))


def lengths_of(rng: Random, width: int) -> tuple[int, ...]:
    """The dangles of a motif, one by one."""
    return tuple(rng.randint(1, 6) for _ in range(width))


def outline_for(rng: Random, width: int) -> Outline:
    """An outline by a shape or by lengths."""
    if rng.random() < 0.5:
        least = rng.randint(1, 4)
        return Outline(shape=rng.choice(list(Shape)), least=least, most=least + rng.randint(0, 4))
    return Outline(lengths=lengths_of(rng, width))


def ruled(rng: Random) -> Pattern:
    """A pattern of rules alone."""
    colours = tuple(
        Colour(key=key, name=s.name, hex=s.hex, finish=s.finish)
        for key, s in enumerate(some(rng, 2, 6), 1)
    )
    keys = [colour.key for colour in colours]
    hanging, other = rng.sample(KINDS, 2)
    motifs, width = rng.randint(1, 8), rng.randint(1, 6)
    letters = rng.choice(["A", "A", "AB", "ABCB"])
    colouring = rng.choice([Colouring.PLAIN, *Colouring])
    base = BaseRule(
        kind=rng.choice(KINDS),
        pitch_mm=rng.choice([1.5, 2.0, 3.1]),
        keys=tuple(rng.choices(keys, k=rng.choice([1, 1, 2, 3]))),
        by_motif=rng.random() < 0.3,
    )
    beside = tuple((key, rng.choice(keys)) for key in keys)
    if colouring is Colouring.PLAIN and rng.random() < 0.5:
        beside = ()
    paints: list[Paint | None] = [None, *keys, Relative.OWN, Relative.BASE]
    paints += [Relative.BESIDE] if beside else []
    small_paints: list[Paint] = [Relative.BASE, *keys]
    pattern = Pattern(
        colours=colours,
        next_key=len(colours) + rng.randint(1, 3),
        hanging=hanging,
        base=base,
        run=Run(
            motifs=motifs,
            width=width,
            divider=rng.randint(0, 2),
            last_divider=rng.choice([None, None, 0, 3]),
            margins=(rng.randint(0, 2), rng.randint(0, 2)),
            fill=rng.random() < 0.3,
        ),
        outlines=OutlineRule(
            outlines=tuple(outline_for(rng, width) for _ in set(letters)),
            letters=letters,
            mirrored=rng.random() < 0.3,
            growth=rng.choice([0, 0, 2, -2, 5]),
        ),
        order=ColourRule(
            keys=tuple(rng.choices(keys, k=rng.randint(1, 8))), way=rng.choice(list(Way))
        ),
        inside=InsideRule(colouring=colouring, beside=beside),
        tip=TipRule(kind=rng.choice([None, other]), paint=rng.choice(paints)),
        divider=tuple(
            Hung(paint=rng.choice(small_paints), kind=rng.choice([None, other]))
            for _ in range(rng.randint(0, 3))
        ),
        ends=Ends(
            closure=Closure(kind="toggle clasp", length_mm=rng.choice([0.0, 12.0])),
            start=(Hung(paint=keys[0]),) * rng.randint(0, 2),
            end=(Hung(paint=Relative.BASE, kind=other),) * rng.randint(0, 3),
            for_motifs=motifs,
        ),
        worn=Worn(wearer=rng.choice([None, Wearer(snug_mm=150.0, ease_mm=10.0)])),
    )
    assert pattern.base_beads > 0
    return pattern


def strange(rng: Random) -> Design:
    """Any design at all: any bead anywhere, no two motifs alike on purpose."""
    beads = tuple(
        Bead(name=s.name, kind=rng.choice(KINDS[:4]), hex=s.hex, finish=s.finish)
        for s in rng.choices(SWATCHES, k=rng.randint(1, 7))
    )

    def row(least: int, most: int, fewest: int, longest: int) -> tuple[Column, ...]:
        return tuple(
            Column(
                base=rng.randrange(len(beads)),
                beads=tuple(
                    rng.choices(range(len(beads)), k=rng.randint(fewest, longest))
                ),
            )
            for _ in range(rng.randint(least, most))
        )  # fmt: skip

    motifs = tuple(row(1, 5, 1, 6) for _ in range(rng.randint(1, 6)))
    return of_columns(
        beads=beads,
        base_pitch_mm=rng.uniform(0.5, 10.0),
        motifs=motifs,
        dividers=tuple(row(0, 2, 0, 3) for _ in range(len(motifs) + 1)),
        start_margin=row(0, 3, 0, 0),
        end_margin=row(0, 3, 0, 0),
        start_links=tuple(rng.choices(range(len(beads)), k=rng.randint(0, 3))),
        end_links=tuple(rng.choices(range(len(beads)), k=rng.randint(0, 3))),
        closure=Closure(length_mm=rng.uniform(0.0, 50.0)),
    )


def any_pattern(rng: Random) -> Pattern:
    """Rules alone, what was lifted from rules, or what was lifted from anything."""
    from explorer.weave import weave

    which = rng.random()
    if which < 0.5:
        return ruled(rng)
    worn = Worn(wearer=Wearer(snug_mm=150.0, ease_mm=10.0))
    return lift(weave(ruled(rng)) if which < 0.75 else strange(rng), worn=worn)


Chooser = Callable[[Random, Pattern], dict[str, Any]]


def _motif(rng: Random, pattern: Pattern, *, open_: bool = True) -> int:
    """A motif that the piece has and that is not locked, but for one time in twenty."""
    motifs = pattern.run.motifs
    if rng.random() < 0.05:
        return rng.choice([-1, motifs, motifs + 7])
    free = [m for m in range(motifs) if not (open_ and changes.is_locked(pattern, m))]
    return rng.choice(free or list(range(motifs)))


def _dangle(rng: Random, pattern: Pattern, motif: int) -> int:
    width = pattern.width(motif) if 0 <= motif < pattern.run.motifs else 1
    return rng.randrange(width) if rng.random() > 0.05 else rng.choice([-1, width])


def _one(rng: Random) -> Swatch:
    return rng.choice(SWATCHES)


def _in_motif(rng: Random, pattern: Pattern) -> dict[str, Any]:
    motif = _motif(rng, pattern)
    return {"motif": motif, "dangle": _dangle(rng, pattern, motif), "swatch": _one(rng)}


def _bead(rng: Random, pattern: Pattern) -> dict[str, Any]:
    asked = _in_motif(rng, pattern)
    motif, dangle, length = asked["motif"], asked["dangle"], 1
    if 0 <= motif < pattern.run.motifs and 0 <= dangle < pattern.width(motif):
        length = changes._lengths(pattern, motif)[dangle]
    return {**asked, "bead": rng.randrange(length) if rng.random() > 0.05 else length}


def _lengthen(rng: Random, pattern: Pattern) -> dict[str, Any]:
    motif = _motif(rng, pattern)
    length = rng.randint(1, 8) if rng.random() > 0.05 else rng.choice([0, 201])
    return {
        "motif": motif, "dangle": _dangle(rng, pattern, motif), "length": length,
        "everywhere": rng.random() < 0.3,
    }  # fmt: skip


def _outline(rng: Random, pattern: Pattern) -> dict[str, Any]:
    if rng.random() < 0.5:
        motif = _motif(rng, pattern)
        there = 0 <= motif < pattern.run.motifs
        width = pattern.width(motif) if there and rng.random() > 0.05 else 9
        return {"wanted": outline_for(rng, width), "motif": motif}
    letters = len(pattern.outlines.outlines) + (rng.random() < 0.1)
    return {
        "wanted": outline_for(rng, pattern.run.width), "letter": rng.randrange(letters),
    }  # fmt: skip


def _alternation(rng: Random, pattern: Pattern) -> dict[str, Any]:
    letters = rng.choice(["A", "AB", "a b", "ABCB", "ABCB", "ABBA"])
    count = len(set(letters.upper()) - {" "})
    given = rng.random() < 0.5
    return {
        "letters": letters,
        "outlines": [outline_for(rng, pattern.run.width) for _ in range(count)] if given else (),
        "mirrored": rng.choice([None, True, False]),
    }


def _tips(rng: Random, pattern: Pattern) -> dict[str, Any]:
    return {
        "kind": rng.choice([None, *KINDS]), "swatch": rng.choice([None, _one(rng)]),
        "motif": _motif(rng, pattern) if rng.random() < 0.5 else None,
    }  # fmt: skip


def _arrange(rng: Random, pattern: Pattern) -> dict[str, Any]:
    asked = rng.random() < 0.7
    return {
        "arrangement": rng.choice(list(Arrangement)),
        "swatches": some(rng, 2, 4) if asked or pattern.run.motifs < 3 else (),
        "gap": rng.choice([0, 0, 0, 0, 0, 1, -1]),
    }


def _in_order(rng: Random, pattern: Pattern) -> dict[str, Any]:
    swatches = some(rng, 1, 4)
    order = rng.choices(range(len(swatches)), k=pattern.run.motifs)
    return {"swatches": swatches, "order": order, "arrangement": rng.choice(list(Arrangement))}


def _both(rng: Random, pattern: Pattern) -> dict[str, Any]:
    return {"one": _motif(rng, pattern), "other": _motif(rng, pattern)}


def _replace_colour(rng: Random, pattern: Pattern) -> dict[str, Any]:
    # A colour that a file gave no name has none as a swatch either.
    colour = rng.choice(pattern.colours)
    return {"old": changes.swatch_of(pattern, colour.key), "new": _one(rng)}


def _wearer(rng: Random) -> Wearer:
    return Wearer(snug_mm=rng.uniform(60.0, 230.0), ease_mm=rng.choice([0.0, 10.0, 25.0]))


def _refit(rng: Random, pattern: Pattern) -> dict[str, Any]:
    base = rng.choice(KINDS)
    too_long = rng.random() < 0.1
    dangles, divider = rng.randint(1, 7), rng.randint(0, 2)
    return {
        "wearer": _wearer(rng), "repeat": Repeat(dangles=dangles, divider=divider, margins=3),
        "motifs": 20_000 if too_long and dangles > 1 else max(1, min(8, pattern.run.motifs)),
        "base": base, "pitch_mm": base.ladder_pitch_mm, "measured": rng.random() < 0.5,
        "hanging": rng.choice(KINDS), "closure": Closure(length_mm=14.0),
        "fill": rng.random() < 0.5, "last_divider": rng.choice([None, divider, 4]),
    }  # fmt: skip


# How to ask for each change.
CHOOSERS: dict[str, Chooser] = {
    "paint_motif": lambda rng, p: {"motif": _motif(rng, p), "swatch": _one(rng)},
    "paint_all": lambda rng, _: {"swatch": _one(rng)},
    "paint_dangle": _in_motif,
    "paint_bead": _bead,
    "paint_base_bead": _in_motif,
    "paint_strip_bead": lambda rng, p: {
        "bead": rng.randint(-1, p.base_beads), "swatch": _one(rng),
    },
    "lengthen": _lengthen,
    "outline": _outline,
    "alternation": _alternation,
    "turn_outlines": lambda rng, _: {"mirrored": rng.random() < 0.5},
    "grow": lambda rng, _: {"beads": rng.choice([-3, 0, 0, 1, 4, 61])},
    "spread_colours": lambda rng, p: {
        "colouring": rng.choice(list(Colouring)),
        "motif": _motif(rng, p) if rng.random() < 0.5 else None,
    },
    "tips": _tips,
    "divider_beads": lambda rng, _: {
        "beads": [(_one(rng), rng.choice(KINDS)) for _ in range(rng.choice([0, 1, 2, 3, 4]))]
    },
    "paint_base": lambda rng, _: {
        "swatches": some(rng, 0, 3), "by_motif": rng.random() < 0.5,
    },
    "links": lambda rng, _: {
        "swatch": _one(rng), "kind": rng.choice(KINDS),
        "each_end": rng.choice([-1, 0, 1, 2, 3, 4]),
    },
    "arrange": _arrange,
    "in_order": _in_order,
    "two_in_turn": lambda rng, _: {"swatches": some(rng, 1, 4) if rng.random() < 0.8 else ()},
    "recolour": lambda rng, _: {
        "swatches": some(rng, 0 if rng.random() < 0.1 else 1, 5), "base": _one(rng),
    },
    "replace_colour": _replace_colour,
    "restyle": _replace_colour,
    "swap": _both,
    "move": lambda rng, p: {"motif": _motif(rng, p), "to": _motif(rng, p, open_=False)},
    "insert": lambda rng, p: {
        "motif": _motif(rng, p, open_=False), "swatch": rng.choice([None, _one(rng)]),
    },
    "remove": lambda rng, p: {"motif": _motif(rng, p)},
    "swap_colours": _both,
    "lock": lambda rng, p: {"motif": _motif(rng, p)},
    "unlock": lambda rng, p: {"motif": _motif(rng, p, open_=False)},
    "resize": lambda rng, _: {
        "wearer": _wearer(rng), "fill": rng.choice([None, True, False]),
        "closure": rng.choice([None, Closure(length_mm=9.0), Closure(length_mm=190.0)]),
    },
    "wear_as": lambda rng, _: {"wear": rng.choice(list(Wear))},
    "for_wearer": lambda rng, _: {
        "snug_mm": rng.choice([20.0, *(rng.uniform(90.0, 230.0) for _ in range(4))]),
        "ease_mm": rng.choice([None, 0.0, 12.0]), "wear": rng.choice([None, *Wear]),
    },
    "refit": _refit,
}  # fmt: skip


def changes_that_there_are() -> set[str]:
    """Every public function that leads from a pattern to a changed one."""
    return {
        name
        for name, found in inspect.getmembers(changes, inspect.isfunction)
        if found.__module__ == changes.__name__
        and not name.startswith("_")
        and "Changed" in str(inspect.signature(found).return_annotation)
    }


def asked_change(rng: Random, pattern: Pattern, name: str) -> dict[str, Any]:
    """What to ask of a change, sensible most of the time."""
    return CHOOSERS[name](rng, pattern)


def taken(pattern: Pattern, name: str, asked: dict[str, Any]) -> Any:
    """What a change leads to."""
    return getattr(changes, name)(pattern, **asked)


def small(pattern: Pattern, most: int = 14) -> Pattern:
    """The pattern with so many motifs at most, so that a long run of changes stays short."""
    if pattern.run.motifs <= most:
        return pattern
    return replace(pattern, run=replace(pattern.run, motifs=most))
