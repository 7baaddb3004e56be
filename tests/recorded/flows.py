"""What a maker does with a piece, step by step, in words that say nothing of how it is done.

A flow begins with the demo or with an example piece; each step is a word and what belongs to it.
Motifs, dangles, beads and colours of the tray are places from 0. ``tests.recorded.record.do`` knows
what each word means.
"""

from typing import Any

Step = tuple[str, dict[str, Any]]
Flow = tuple[str, tuple[Step, ...]]
DEMO = "demo"


def _flow(start: str, *steps: Step) -> Flow:
    return start, steps


def _s(word: str, **arguments: Any) -> Step:
    return word, arguments


_CORAL = {"name": "Coral", "hex": "#f0694f"}
_SILVER = {"name": "Frost", "hex": "#dfe6ea", "finish": "silver-lined"}
_INK = {"name": "Ink", "hex": "#1f2c44", "finish": "matte"}
_MUD = {"name": "Boot Mud", "hex": "#574231", "finish": "matte"}
# Named as a colour that is typed by hand, so that base and dangle beads can be the same.
_TYPED = {"name": "#f0694f", "hex": "#f0694f"}
_PEAK = (1, 3, 5, 3, 1)

FLOWS: dict[str, Flow] = {
    # The wearer and the boxes of the Size page.
    "a larger ankle and back": _flow(
        DEMO, _s("size", snug="230 mm"), _s("size", snug="250 mm"), _s("size", snug="205 mm")
    ),
    "a smaller wrist and back": _flow(
        DEMO, _s("size", snug="150 mm", ease="10 mm"), _s("size", snug="205 mm", ease="22 mm"),
        _s("size", snug="62 mm"), _s("size", snug="205 mm"),
    ),
    "too small, then a slip of the pen": _flow(
        DEMO, _s("size", snug="40 mm", ease="0"), _s("size", snug="wide"), _s("size", snug="180"),
    ),
    "another closure, chain and curve": _flow(
        DEMO, _s("size", closure="10 mm + 8 mm", fastening="toggle clasp"),
        _s("size", extender="50.8 mm"), _s("size", curvature=True),
        _s("size", closure_counted=False),
    ),
    "wider motifs and dividers": _flow(
        DEMO, _s("size", dangles=7), _s("size", divider=2), _s("size", divider=0),
        _s("size", dangles=5, divider=1),
    ),
    "one dangle to a motif": _flow(
        DEMO, _s("size", dangles=1), _s("size", dangles=9), _s("size", dangles=4)
    ),
    "another base bead brings its partner": _flow(
        DEMO, _s("size", base="cube 4"), _s("size", base="cube 1.8"), _s("size", base="cube 3")
    ),
    "dangle beads of the maker's own": _flow(
        DEMO, _s("size", hanging="round 11/0"), _s("size", base="cube 4"),
        _s("size", hanging="round 6/0"), _s("size", base="no such bead"),
    ),
    "a measured swatch": _flow(
        DEMO, _s("size", swatch_length="61 mm"), _s("size", swatch_length="65 mm", reading="1 mm"),
        _s("size", swatch_length=""),
    ),
    "the quick rule": _flow(
        DEMO, _s("size", quick=True), _s("size", snug="220 mm"), _s("size", quick=False)
    ),
    "plain ends by hand": _flow(
        DEMO, _s("margin", margin=2), _s("margin", margin=0), _s("margin", margin=5),
        _s("margin", margin=None),
    ),
    "a neighbouring fit": _flow(
        DEMO, _s("another fit", place=0), _s("another fit", place=1), _s("size", snug="215 mm")
    ),
    "what goes round": _flow(
        DEMO, _s("size", ease="0", snug="199 mm"), _s("what goes round"), _s("margin", margin=0),
        _s("what goes round"),
    ),
    # Another wearer, straight through the piece.
    "a mirrored piece for others and back": _flow(
        "thaw-mirror", _s("for", snug_mm=160.0, ease_mm=12.0),
        _s("for", snug_mm=300.0, ease_mm=25.0), _s("for", snug_mm=214.0, ease_mm=25.0),
    ),
    "an example for a child and back": _flow(
        "tide-anklet", _s("for", snug_mm=130.0, ease_mm=10.0),
        _s("for", snug_mm=130.0, ease_mm=10.0, plain_ends=False),
        _s("for", snug_mm=214.0, ease_mm=25.0, plain_ends=True),
    ),
    "a changed piece is its own first form": _flow(
        "signal-bracelet", _s("for", snug_mm=230.0, ease_mm=20.0),
        _s("paint", at=(0,), colour=2), _s("for", snug_mm=150.0, ease_mm=12.0),
        _s("for", snug_mm=230.0, ease_mm=20.0),
    ),
    "no motif fits": _flow(
        "ember-bands", _s("for", snug_mm=42.0, ease_mm=0.0), _s("for", snug_mm=60.0, ease_mm=0.0),
        _s("for", snug_mm=214.0, ease_mm=25.0),
    ),
    # Colours of the tray.
    "through the palettes": _flow(
        DEMO, _s("palette", name="hush"), _s("palette", name="kite-day"),
        _s("palette", name="long-dusk"), _s("palette", name="rockpool"),
    ),
    "colours typed by hand": _flow(
        DEMO, _s("own colours", text="d7263d,1b998b,2e294e", base=_INK),
        _s("own colours", text="#fff; #000", base=_SILVER), _s("own colours", text="zz", base=_INK),
    ),
    "a palette on a piece of bands": _flow(
        "ember-bands", _s("palette", name="first-thaw"), _s("swatch", place=1, hex_="#102030"),
        _s("palette", name="dye-garden"),
    ),
    "a palette on a faded piece": _flow(
        "fade-bracelet", _s("palette", name="sunny-spell"), _s("base", **_INK),
        _s("palette", name="meadow-hum"), _s("fill", motif=0, colours=(1, 1)), _s("swap"),
    ),
    "one swatch by hand, near and far": _flow(
        DEMO, _s("swatch", place=0, hex_="#15525e"), _s("swatch", place=0, hex_="#d02020"),
        _s("swatch", place=3, hex_="#d02020"), _s("swatch", place=6, hex_="#eef2e6"),
    ),
    "two swatches become one colour": _flow(
        "melon-blocks", _s("swatch", place=0, hex_="#335577"),
        _s("swatch", place=1, hex_="#335577"),
        _s("swatch", place=0, hex_="#113311"), _s("save and open"),
    ),
    "another base": _flow(
        DEMO, _s("base", **_INK), _s("base", **_SILVER), _s("size", snug="190 mm"),
        _s("base", **_CORAL),
    ),
    "a base like a dangle": _flow(
        "thaw-mirror", _s("base", **_MUD), _s("swatch", place=5, hex_="#113355"),
        _s("base", **_SILVER), _s("paint", at=(0,), colour=3),
    ),
    # Painting on the picture.
    "paint a motif, a dangle, a bead": _flow(
        DEMO, _s("paint", at=(2,), colour=0), _s("paint", at=(3, 1), colour=4),
        _s("paint", at=(3, 1, 0), colour=5), _s("paint", at=(3, 1, 1), colour=5),
        _s("paint", at=(99,), colour=0), _s("paint", at=(0,), colour=99),
    ),
    "paint the last of a colour away": _flow(
        DEMO, _s("paint", at=(6,), colour=0), _s("paint", at=(3,), colour=1),
        _s("paint", at=(1, 0), colour=0), _s("paint", at=(1, 4), colour=0),
        _s("suggestion", place=0), _s("fill", motif=9, colours=(6, 6)), _s("swap"),
    ),
    "paint inside an example": _flow(
        "dyer-zigzag", _s("paint", at=(1, 2, 0), colour=0), _s("paint", at=(1, 2), colour=1),
        _s("paint", at=(1,), colour=2), _s("size", snug="180 mm"),
    ),
    "dangles of the base's own beads": _flow(
        "harbour-worn", _s("own colours", text="f0694f,ffffff", base=_TYPED),
        _s("size", hanging="cube 3"), _s("paint", at=(0,), colour=0),
        _s("swatch", place=0, hex_="#2050a0"), _s("paint", at=(1,), colour=0), _s("base", **_INK),
        _s("palette", name="hush"),
    ),
    "lengths, here and everywhere": _flow(
        DEMO, _s("length", at=(0, 2), beads=9), _s("length", at=(0, 2), beads=3, everywhere=True),
        _s("length", at=(4, 0), beads=1), _s("length", at=(4, 0), beads=6),
        _s("length", at=(4, 0), beads=41), _s("length", at=(1, 4), beads=12, everywhere=True),
    ),
    "lengths of painted dangles": _flow(
        DEMO, _s("paint", at=(0, 2, 6), colour=0), _s("paint", at=(0, 2, 0), colour=4),
        _s("length", at=(0, 2), beads=10), _s("length", at=(0, 2), beads=2),
        _s("length", at=(0, 2), beads=1), _s("length", at=(0, 2), beads=5),
    ),
    "lengths in an example of bands": _flow(
        "ember-bands", _s("length", at=(0, 1), beads=8, everywhere=True),
        _s("length", at=(2, 0), beads=1), _s("paint", at=(2, 0), colour=1),
        _s("length", at=(2, 0), beads=4),
    ),
    # The profile editor.
    "one outline for all": _flow(
        DEMO, _s("pattern", pattern="A"), _s("profile", pattern="A", target="A", lengths=_PEAK),
        _s("profile", pattern="A", target="A", lengths=(1, 0, 1, 0, 1)),
        _s("mirror", mirrored=True),
    ),
    "two outlines in turn": _flow(
        DEMO, _s("profile", pattern="AB", target="B", lengths=(1, 2, 3, 4, 5)),
        _s("mirror", mirrored=True), _s("profile", pattern="AB", target="A", lengths=_PEAK),
        _s("mirror", mirrored=False), _s("pattern", pattern="ABCB"),
    ),
    "one motif its own way": _flow(
        DEMO, _s("profile", pattern="own", target="m3", lengths=(6, 6, 6, 6, 6)),
        _s("profile", pattern="own", target="m0", lengths=(1, 1)), _s("pattern", pattern="AB"),
        _s("within", most=4),
    ),
    "patterns of an example": _flow(
        "tide-anklet", _s("pattern", pattern="AB"), _s("pattern", pattern="ABCB"),
        _s("pattern", pattern="A"), _s("within", most=3),
    ),
    "stretched and within": _flow(
        DEMO, _s("stretch", pattern="AB", target="A", least=1, most=12), _s("within", most=9),
        _s("within", most=5), _s("within", most=1),
    ),
    "one dangle and its mirror image": _flow(
        DEMO, _s("dangle", pattern="AB", target="A", place=0, beads=6, mirror=True),
        _s("dangle", pattern="AB", target="B", place=1, beads=8, mirror=False),
        _s("dangle", pattern="own", target="m10", place=2, beads=2, mirror=True),
    ),
    "profiles of a banded piece": _flow(
        "ember-bands", _s("within", most=3), _s("pattern", pattern="AB"),
        _s("stretch", pattern="AB", target="A", least=2, most=8), _s("size", snug="230 mm"),
    ),
    # Choosing together.
    "motif after motif": _flow(
        DEMO, _s("fill", motif=0, colours=(3, 3, 1)), _s("mend"),
        _s("fill", motif=9, colours=(2, 5, 6, 0, 0)), _s("swap"),
    ),
    "all in one colour and a surprise": _flow(
        DEMO, _s("all in", colour=2), _s("mend"), _s("surprise", seed=5),
        _s("surprise", seed=6), _s("swap"),
    ),
    "a surprise on an example": _flow(
        "lolly-child", _s("surprise", seed=1), _s("fill", motif=2, colours=(0, 0)), _s("swap"),
        _s("mend"), _s("all in", colour=1),
    ),
    "alike neighbours are exchanged": _flow(
        DEMO, _s("paint", at=(1,), colour=3), _s("swap"), _s("paint", at=(5,), colour=0),
        _s("paint", at=(6,), colour=0), _s("swap"), _s("mend"),
    ),
    "alike neighbours are mended": _flow(
        DEMO, _s("swatch", place=1, hex_="#f0704f"), _s("mend"),
        _s("paint", at=(8,), colour=3), _s("mend"), _s("fill", motif=4, colours=(6, 6)),
        _s("mend"),
    ),
    # Suggestions.
    "the first suggestion, again and again": _flow(
        DEMO, _s("suggestion", place=0), _s("suggestion", place=0), _s("suggestion", place=0)
    ),
    "suggestions for many eyes and lights": _flow(
        DEMO, _s("suggestion", place=0, see="typical,protan,deutan,tritan", light="lamplight"),
        _s("suggestion", place=1, see="grey", light="daylight"),
        _s("suggestion", place=0, see="deutan", light="led"),
    ),
    "suggestions with beads at hand": _flow(
        "hush-bracelet", _s("suggestion", place=0, at_hand=(_CORAL, _SILVER, _INK)),
        _s("suggestion", place=1, at_hand=(_CORAL, _SILVER, _INK)),
        _s("suggestion", place=2, at_hand=(_CORAL,)), _s("suggestion", place=0),
    ),
    "a suggestion for beads that the base is of": _flow(
        DEMO, _s("own colours", text="f0694f,f07a5f", base=_TYPED), _s("size", hanging="cube 3"),
        _s("paint", at=(0,), colour=0), _s("suggestion", place=0, at_hand=(_SILVER, _INK)),
        _s("suggestion", place=0, at_hand=(_INK, _MUD)), _s("base", **_SILVER),
    ),
    "suggestions for a faded piece": _flow(
        "fade-bracelet", _s("suggestion", place=0), _s("suggestion", place=2),
        _s("paint", at=(0,), colour=1), _s("suggestion", place=0),
    ),
    # Half-way round.
    "measured half-way, shorter": _flow(
        DEMO, _s("half-way", beads=30, length_mm=88.0, place=0), _s("paint", at=(0,), colour=1),
        _s("size", snug="215 mm"),
    ),
    "measured half-way, longer": _flow(
        DEMO, _s("half-way", beads=30, length_mm=101.0, place=0),
        _s("half-way", beads=34, length_mm=110.0, place=1), _s("tips", kind="drop 3.4"),
    ),
    "half-way with small beads to link with": _flow(
        "sunny-loop", _s("divider beads", beads=(_CORAL,)),
        _s("half-way", beads=20, length_mm=58.5, place=0),
        _s("half-way", beads=20, length_mm=64.0, place=1), _s("share"),
    ),
    # Turning beads, dividers and ends.
    "drops at the tips": _flow(
        DEMO, _s("tips", kind="drop 3.4"), _s("tips", kind="drop 2.8", look=_SILVER),
        _s("length", at=(0, 0), beads=6), _s("size", hanging="round 11/0"), _s("tips", kind=None),
    ),
    "tips of some motifs": _flow(
        DEMO, _s("tips", kind="round 6/0", look=_INK, motifs=(0, 10)),
        _s("tips", kind=None, look=_CORAL, motifs=(1,)), _s("fill", motif=0, colours=(2, 2)),
        _s("palette", name="harbour-flags"),
    ),
    "tips in the body's own colour": _flow(
        "kite-close", _s("tips", kind=None, look=_CORAL), _s("tips", kind="drop 3.4"),
        _s("profile", pattern="own", target="m0", lengths=(1, 1, 1, 1, 1)), _s("tips", kind=None),
        _s("tips", kind="faceted 3", look=_CORAL),
    ),
    "small beads between motifs": _flow(
        DEMO, _s("divider beads", beads=(_CORAL, _SILVER)), _s("divider beads", beads=(_INK,)),
        _s("size", divider=2), _s("base", **_SILVER), _s("divider beads", beads=(_INK,) * 4),
        _s("divider beads", beads=()),
    ),
    "small beads in a motif's colour": _flow(
        "meadow-anklet", _s("divider beads", beads=(_CORAL,)),
        _s("own colours", text="f0694f,fff", base=_INK), _s("paint", at=(1,), colour=0),
        _s("swatch", place=0, hex_="#2050a0"), _s("share"),
    ),
    "link beads at the ends": _flow(
        DEMO, _s("links", bead=_SILVER, each_end=2), _s("links", bead=_INK, each_end=4),
        _s("palette", name="hush"), _s("base", **_SILVER), _s("size", hanging="round 11/0"),
        _s("size", snug="220 mm"), _s("links", bead=_INK, each_end=1),
        _s("links", bead=_INK, each_end=0),
    ),
    # Proposals, opening, handing on.
    "a proposal on the table": _flow(
        DEMO, _s("propose", seed=1, place=0), _s("paint", at=(0,), colour=0),
        _s("size", snug="190 mm"), _s("propose", seed=2, place=2), _s("share"),
    ),
    "examples opened one after the other": _flow(
        DEMO, _s("open", stem="harbour-worn"), _s("size", snug="240 mm"),
        _s("open", stem="lolly-child"), _s("propose", seed=3, place=1), _s("save and open"),
    ),
}  # fmt: skip
