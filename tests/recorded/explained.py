"""Why some commands and flows answer otherwise than when beads were kept instead of rules."""

from tests.recorded.commands import BAD, COMMANDS

_BOTH_ENDS = (
    "Outlines in turn are counted from both ends at every size, so that both ends match; before, a "
    "larger size took the motifs round again, and a smaller one cut them off."
)
_SHAPE = "An outline that is a shape stays that shape in another width, instead of being resampled."
_RULE_HOLDS = (
    "A rule once set holds: colours inside a motif stay spread as they were when the motif is "
    "painted, mended, lengthened or shortened."
)
_TIPS = "Turning beads that have a colour or a kind of their own keep it when a motif is painted."
_FOLLOWS = "A small bead under a divider that has the base's colour follows the base."
_BESIDE = "What goes with a colour inside a motif is chosen anew from the new colours."
_AT_ITS_PLACE = (
    "A bead painted by hand stays at its place; beads that are added are the motif's own."
)
_OWN_STAYS = (
    "A motif with an outline of its own keeps it when outlines take turns, and that is told."
)
_OWN = (
    "Relatives count the colours in the piece's own palette, and keep its turning beads, dividers "
    "and edits; so the search meets them in another order."
)
_PAIR = "What reads apart is named: it is the pair of motifs."
_ONCE = "A bead that is base bead and dangle bead at once is listed once."
_CODE = (
    "The code to scan on a sheet is a shorter one, and a bead of the palette that the piece does "
    "not use is no longer listed with nought."
)
_AT_HAND = "From beads at hand outlines and colours inside motifs vary as in other proposals."
_NEWER = "This is version 2; the file of a newer version is told by its number."
_WORN = "A code says what the piece is worn as by its size, which itself does not go along."
_WHOLE_CAPTIONS = "A caption too long for its picture goes on below, instead of being cut."
_LETTERS = "Words in pictures are set in the printed pages' font, which has more letters."
_ROOM = "Motifs are labelled as far as there is room."
_NOT_IN_IT = "What an archive leaves out is told in the same words everywhere."
_COLOUR_BY_LOOK = "Colours of the piece are told by their beads, name and finish too."

EXPLAINED: dict[str, str] = {
    "a larger ankle and back": _BOTH_ENDS,
    "too small, then a slip of the pen": _BOTH_ENDS,
    "another closure, chain and curve": _BOTH_ENDS,
    "wider motifs and dividers": _SHAPE,
    "one dangle to a motif": _SHAPE,
    "another base bead brings its partner": _BOTH_ENDS,
    "dangle beads of the maker's own": _BOTH_ENDS,
    "a measured swatch": _BOTH_ENDS,
    "the quick rule": _BOTH_ENDS,
    "plain ends by hand": _BOTH_ENDS,
    "a neighbouring fit": _BOTH_ENDS,
    "a palette on a piece of bands": _BESIDE,
    "a palette on a faded piece": _BESIDE,
    "another base": _BOTH_ENDS,
    "a base like a dangle": _FOLLOWS,
    "dangles of the base's own beads": _BESIDE,
    "lengths of painted dangles": _AT_ITS_PLACE,
    "lengths in an example of bands": _RULE_HOLDS,
    "one motif its own way": _OWN_STAYS,
    "profiles of a banded piece": _RULE_HOLDS,
    "suggestions for a faded piece": _RULE_HOLDS,
    "measured half-way, shorter": _BOTH_ENDS,
    "measured half-way, longer": _BOTH_ENDS,
    "tips of some motifs": _TIPS,
    "tips in the body's own colour": _RULE_HOLDS,
    "propose --snug 214 --like proposals/proposal-01.json --count 2 --out like --json": _OWN,
    "propose --snug 214 --like tide-anklet.json --count 2 --out tides --json": _OWN,
    "propose --snug 190 --like kite-close.json --count 2": _OWN,
    "propose --snug 205 --palette ember-and-rime --drop '12 mm' --base 'cube 4' --count 2 --json": (
        _ONCE
    ),
    "propose --snug 205 --tray tray.csv --count 2 --out held --json": _AT_HAND,
    "propose --snug 205 --starter --count 2 --mood calmer --json": _AT_HAND,
    "judge tides/proposal-01.json --json": _OWN,
    **{
        line: _CODE
        for line in COMMANDS
        if line.startswith(("sheet ", "kit ")) and line not in BAD and "--no-code" not in line
    },
    "judge harbour-worn.json --see deutan --light lamplight --json": _RULE_HOLDS,
    "judge fade-bracelet.json --json": _RULE_HOLDS,
    "judge ember-bands.json --json": _RULE_HOLDS,
    "judge newer.json": _NEWER,
    "propose --snug 152 --ease 10 --palette kite-day --count 2 --out wrist --closure 18": (
        _WHOLE_CAPTIONS
    ),
    "propose --snug 205 --colours d7263d,1b998b,2e294e --count 2 --out own --json": _WHOLE_CAPTIONS,
    (
        "propose --snug 205 --palette long-dusk --swatch '20 beads measure 62 mm' --count 1 "
        "--out swatch"
    ): _WHOLE_CAPTIONS,
    "half-way with small beads to link with": _WORN,
    "a proposal on the table": _WORN,
    "propose --snug 205 --like tide-anklet.json --colours d7263d,1b998b --json": _COLOUR_BY_LOOK,
    "propose --snug 214 --palette rockpool --count 3 --out proposals": _LETTERS,
    "propose --snug 214 --palette rockpool --count 3 --out again --json": _LETTERS,
    "propose --snug 205 --palette rockpool --alternate --count 2 --out two --json": _LETTERS,
    (
        "propose --snug 205 --palette rockpool --arrangement mirror --count 2 --out mirror --json"
    ): _LETTERS,
    (
        "propose --snug 205 --palette rockpool --gap 2 --no-plain-ends --count 2 --out gap --json"
    ): _LETTERS,
    (
        'propose --snug 140 --palette lolly-van --wear "child\'s piece" --count 1 --out '
        "child --json"
    ): _LETTERS,
    (
        "propose --snug 205 --palette first-thaw --closure-adds --closure 20 --curve "
        "--count 1 --out curve"
    ): _LETTERS,
    (
        "picture harbour-worn.json --out square.png --view loop --use square --caption "
        "'Für Zoë' --longer 600"
    ): _LETTERS,
    "picture child/proposal-01.json --out own/true.png --use true-size --json": _LETTERS,
    "sheet lemonade-child.json --out child.pdf --dated '' --no-code --json": _ROOM,
    "shelf export --out all.zip": _NOT_IN_IT,
    "judge tide-anklet.json": _PAIR,
    (
        "judge thaw-mirror.json --see typical,protan,deutan,tritan,grey --light daylight,lamplight"
    ): _PAIR,
    "judge hush-bracelet.json --backing 7a4a2b": _PAIR,
    "judge melon-blocks.json --distance '3 m'": _PAIR,
    "judge lemonade-child.json": _PAIR,
    (
        "judge proposals/proposal-02.json --see typical,protan,deutan,tritan,grey "
        "--light daylight,lamplight"
    ): _PAIR,
    "judge held/proposal-01.json --see grey": _PAIR,
    "judge two/proposal-01.json": _PAIR,
}
