"""Command lines whose answers are recorded, in the order in which they run in one folder.

Beside the example pieces and a photograph that folder holds ``FILES``; later lines work with what
earlier ones made.
"""

FILES = {
    "tray.csv": (
        "name,kind,colour,finish,grams,count,price\n"
        "Ember,round 8/0,#d7263d,opaque,20,,0.12\nDeep,round 8/0,#1b998b,matte,20,,0.2\n"
        "Sun,round 8/0,#f4d35e,metallic,,300,0.1\nFoam,round 8/0,#e8f1f2,pearl,,90,0.05\n"
        "Plum,round 8/0,#7a2f5c,silver-lined,20,,0.2\nSlate,cube 3,#39424b,matte,60,,0.02\n"
    ),
    "wrong.csv": "name,kind,colour\nEmber,round 8/0,#d7263d\nMist,no kind,#zz\n",
    "roster.csv": (
        "name,snug,ease,picks,colours\nWren,152 mm,10 mm,,\nIda,6 in,,Ember;Deep,\n"
        "Zoë,15.2 cm,,2,\nNils,140-165,10,,\n"
    ),
    "picked.csv": "name,snug,picks\nMia,150,Starfish Coral;Foam Edge\nBo,162,\n",
    "list.json": "[]",
    "newer.json": '{"danglewise_piece": 3}',
    "cut.json": '{"danglewise_piece": 1, "name": "Cut',
}

_SIZES = """
fit --snug '9 1/4 in' --ease '3/4 in'
fit --snug 214 --json
fit --snug 214 --plain-ends --closure 16 --closure-kind 'lobster clasp'
fit --snug 214 --plain-ends --closure 16 --closure-adds --json
fit --snug 152 --ease 10 --base 'cube 1.8' --json
fit --snug '16 cm' --curve
fit --snug 205 --pitch 3.1 --json
fit --snug 205 --swatch '20 beads measure 62 mm'
fit --snug 205 --dangles 7 --divider 2 --json
fit --snug 205 --profile 2,4,5,4,2 --json
fit --snug 205 --hanging 'round 11/0'
fit --snug 205 --thread 0.2 --needle 0.4 --working-length 1200 --json
fit --snug 205 --spares 15 --spares-least 8
fit --snug 140 --wear "child's piece" --json
fit --snug 500 --dangles 9 --divider 0 --json
fit --snug 60 --dangles 3 --ease 0
"""

_COLOURS = """
order --colours d7263d,1b998b,2e294e,f46036 --motifs 13
order --colours d7263d,1b998b,2e294e,f46036 --motifs 13 --json
order --colours d7263d,1b998b,2e294e,f46036 --motifs 12 --ring --gap 1 --json
order --colours d7263d,1b998b,2e294e --motifs 9 --arrangement mirror
order --colours d7263d,1b998b,2e294e --motifs 10 --arrangement run --json
order --colours d7263d,1b998b,2e294e --motifs 9 --arrangement blocks --json
order --colours d7263d,1b998b,2e294e,f46036 --motifs 11 --fix 0=d7263d --fix 10=d7263d --json
order --colours d7263d,1b998b,2e294e,f46036 --motifs 9 --several 3
order --colours d7263d,1b998b --motifs 9 --least 2 --most 7 --json
judge --colours d7263d,1b998b,2e294e
judge --colours d7263d,1b998b,2e294e --see typical,protan,deutan:0.6,grey --light lamplight --json
judge --colours d7263d,1b998b --finishes metallic,transparent --backing f1c27d --distance '2.5 m'
palette --from d7263d --scheme triad --size 4
palette --mood shoreline --starter --size 5 --kind 'round 8/0' --json
palette --free --tray tray.csv --size 3 --each 40 --json
palette photo.jpg --size 4 --out photo.toml
"""

_PIECES = """
propose --snug 214 --palette rockpool --count 3 --out proposals
propose --snug 214 --palette rockpool --count 3 --out again --json
propose --snug 152 --ease 10 --palette kite-day --count 2 --out wrist --closure 18
propose --snug 205 --colours d7263d,1b998b,2e294e --count 2 --out own --json
propose --snug 205 --tray tray.csv --count 2 --out held --json
propose --snug 205 --starter --count 2 --mood calmer --json
propose --snug 205 --palette hush --count 2 --mood bolder --seed 7
propose --snug 214 --like proposals/proposal-01.json --count 2 --out like --json
propose --snug 214 --like tide-anklet.json --count 2 --out tides --json
propose --snug 190 --like kite-close.json --count 2
propose --snug 205 --palette rockpool --alternate --count 2 --out two --json
propose --snug 205 --palette rockpool --arrangement mirror --count 2 --out mirror --json
propose --snug 205 --palette rockpool --fix 0=f0694f --count 2
propose --snug 205 --palette rockpool --gap 2 --no-plain-ends --count 2 --out gap --json
propose --snug 205 --palette melon-shade --profile 1,3,5,3,1 --count 2 --json
propose --snug 205 --palette melon-shade --dangles 7 --divider 2 --shortest 2 --longest 9 --count 2
propose --snug 205 --palette ember-and-rime --drop '12 mm' --base 'cube 4' --count 2 --json
propose --snug 140 --palette lolly-van --wear "child's piece" --count 1 --out child --json
propose --snug 205 --palette long-dusk --swatch '20 beads measure 62 mm' --count 1 --out swatch
propose --snug 205 --palette first-thaw --closure-adds --closure 20 --curve --count 1 --out curve
gallery --out examples
"""

_JUDGED = """
judge tide-anklet.json
judge tide-anklet.json --json
judge thaw-mirror.json --json
judge thaw-mirror.json --see typical,protan,deutan,tritan,grey --light daylight,lamplight
judge harbour-worn.json --see deutan --light lamplight --json
judge fade-bracelet.json --json
judge hush-bracelet.json --backing 7a4a2b
judge hush-bracelet.json --backing 7a4a2b --light led --json
judge melon-blocks.json --distance '3 m'
judge ember-bands.json --json
judge lemonade-child.json
judge proposals/proposal-01.json --json
judge proposals/proposal-02.json --see typical,protan,deutan,tritan,grey --light daylight,lamplight
judge wrist/proposal-01.json --json
judge held/proposal-01.json --see grey
judge tides/proposal-01.json --json
judge two/proposal-01.json
"""

_DRAWN = """
picture tide-anklet.json --out tide.png --longer 600
picture tide-anklet.json --out rows.png --view rows --ground linen --longer 600
picture signal-bracelet.json --out loop.png --view loop --ground slate --longer 600 --json
picture dusk-worn.json --out worn.png --view worn --longer 600
picture dusk-worn.json --out skin.png --view worn --skin 8d5524 --girth 230 --longer 600 --json
picture kite-close.json --out close.png --view close --longer 600
picture thaw-mirror.json --out alike.png --alike --ground plain --longer 600
picture harbour-worn.json --out square.png --view loop --use square --caption 'Für Zoë' --longer 600
picture harbour-worn.json --out upright.png --view worn --use upright --longer 600
picture lolly-child.json --out clear.png --view rows --use clear --longer 600
picture meadow-anklet.json --out vector.svg --use vector
picture meadow-anklet.json --out rows.svg --use vector --view rows --json
picture meadow-anklet.json --out close.svg --use vector --view close
picture proposals/proposal-01.json --out own/strip.png --longer 600
picture wrist/proposal-01.json --out own/loop.png --view loop --ground skin --longer 600
picture child/proposal-01.json --out own/true.png --use true-size --json
picture mirror/proposal-01.json --out own/loop.svg --use vector --view loop
picture swatch/proposal-01.json --out own/worn.png --view worn --longer 600
sheet tide-anklet.json --out tide.pdf --dated ''
sheet thaw-mirror.json --out thaw.pdf --dated 'a day in May' --letter --json
sheet fade-bracelet.json --out fade.pdf --dated '' --large
sheet lemonade-child.json --out child.pdf --dated '' --no-code --json
sheet ember-bands.json --out bands.pdf --dated '' --thread 0.2 --working-length 1200 --json
sheet proposals/proposal-01.json --out own.pdf --dated '' --json
sheet wrist/proposal-01.json --out wrist.pdf --dated '' --spares 20 --spares-least 10 --json
sheet curve/proposal-01.json --out curve.pdf --dated '' --wear bracelet
kit roster.csv --out class --tray tray.csv --dated ''
kit roster.csv --out class2 --tray tray.csv --band 140-160:3 --letter --dated '' --json
kit picked.csv --out class3 --palette rockpool --dated '' --large --json
kit picked.csv --out class4 --palette rockpool --colours-each 2 --no-plain-ends --dated '' --json
"""

_KEPT = """
shelf list
shelf import tide-anklet.json
shelf import thaw-mirror.json proposals/proposal-01.json kite-close.json --json
shelf import tide-anklet.json --json
shelf list --json
shelf list sister
shelf export 1 --out one.json
shelf export 2 3 --out two.zip --json
shelf export --out all.zip
shelf throw-away 2
shelf throw-away 1 --json
shelf list --thrown-away
shelf bring-back 2 --json
shelf take-out 1
shelf import one.json --shelf lesson.sqlite3 --json
shelf import all.zip --shelf lesson.sqlite3
shelf list --shelf lesson.sqlite3 --json
shelf rescue lesson.sqlite3 --out saved.sqlite3
shelf list --shelf saved.sqlite3 --json
judge one.json --json
"""

_WRONG = """
fit --snug wide
fit --snug 30 --json
fit --snug 8 1/2
fit --snug 205 --base 'cube 9' --json
fit --snug 205 --profile 1,0,1
order --colours d7263d,zz --motifs 9 --json
order --colours d7263d,1b998b --motifs 9 --most 3
judge none.json
judge cut.json --json
judge newer.json
judge list.json --json
judge tide-anklet.json --see owl
propose --snug 205 --palette nowhere --json
propose --snug 205 --tray wrong.csv
propose --snug 205 --like tide-anklet.json --colours d7263d,1b998b --json
picture tide-anklet.json --out tide.jpg
picture tide-anklet.json --out tide2.png --view upside-down --json
sheet tide-anklet.json --out list.json/sheet.pdf
kit picked.csv --tray tray.csv --out class5 --json
shelf export 99 --out none.json --json
"""


def _lines(*texts: str) -> tuple[str, ...]:
    return tuple(line for text in texts for line in text.strip().splitlines())


BAD = _lines(_WRONG)
COMMANDS = (*_lines(_SIZES, _COLOURS, _PIECES, _JUDGED, _DRAWN, _KEPT), *BAD)
