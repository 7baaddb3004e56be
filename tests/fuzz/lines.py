"""Command lines over all commands and options that the parsers declare: good, odd and hostile ones.

The commands, their options and what is required are read from the parsers themselves, so that a new
option is drawn without a change here. What is good for an option stands in ``GOOD`` by its name, or
is taken from its help where that lists words, or from the kind of value that it names.
"""

import argparse
import random
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from explorer.command_line import COMMANDS, _parser
from explorer.commands.shelf import acts
from palettes.charts import bead_kinds, palette_names
from tests.fuzz.nasty import COLOURS, LENGTHS, NUMBERS, NUMERALS, TEXTS

APP = "the app"
# Relative names in the folder that ``tests.fuzz.ground`` makes, by what they hold.
PIECES = ("small.json", "small.json", "./a small piece ✿.json", "proposed.json", "everything.json")
PHOTOS = ("photo.jpg", "photo.png", "a photo.webp")
TRAYS = ("tray.csv", "a tray.csv")
ROSTERS = ("roster.csv", "a roster.csv")
SHELVES = ("own.sqlite3", "v1.sqlite3", "v5.sqlite3")
BAD_FILES = (
    "", ".", "folder", "none.json", "none/none.json", "fifo", "loop", "dangling", "huge.json",
    "/dev/zero", "/dev/null", "/dev/urandom", "/proc/self/mem", "cut.png", "bomb.png", "text.png",
    "empty.json", "list.json", "deep.json", "digits.json", "newer.json", "zeros.json", "latin.json",
    "half.json", "bytes.csv", "nul.csv", "quote.csv", "huge.csv", "minus.csv", "inf.csv",
    "open.csv", "text.jpg", "broken-1.json", "broken-2.json", "broken-3.json", "broken-4.json",
    "broken-1.csv", "broken-2.csv", "broken-3.csv", "broken.jpg", "faults.csv", "broken.zip",
    "damaged-1.sqlite3", "damaged-2.sqlite3", "damaged-3.sqlite3", "another's.sqlite3",
    "newer.sqlite3", "small.json/under", "x" * 300, "a\0b", "\udcff.json", *SHELVES, *PIECES,
    *TRAYS, *ROSTERS, *PHOTOS, "shelf.zip",
)  # fmt: skip
_LENGTHS = ("12", "10 mm", "1,5 cm", "1/2 in", "¾ in")
_COLOURS = ("d7263d,1b998b,2e294e", "#d7263d, #1b998b, #f46036", "d7263d,1b998b,000,fff,1f8a83")
GOOD: dict[str, tuple[str, ...]] = {
    "snug": ("214", "100", "62 mm", "16 cm", "8 1/2 in", "6½ in"),
    "ease": ("0", "10", "1 cm", "1/4 in"),
    "closure": ("0", "12", "1 cm"),
    "closure_kind": ("toggle", "breakaway clasp", "anneau ✿"),
    "base": ("cube 3", "round 8/0", "Cube  4", *bead_kinds()),
    "hanging": ("round 8/0", "round 11/0", *bead_kinds()),
    "kind": ("round 8/0", "round 11/0"),
    "pitch": ("3.1", "2.9 mm", "1/8 in"),
    "swatch": ("20 beads measure 62 mm", "20 = 6.1 cm", "10 beads measure 30 mm"),
    "dangles": ("5", "3", "1", "7"),
    "divider": ("0", "1", "2"),
    "profile": ("2,4,5,4,2", "1,2,1", "3", "1, 2, 3, 2, 1"),
    "thread": ("0.15", "0.2 mm"),
    "needle": ("0.4", "0.5 mm"),
    "working_length": ("1500", "2 m", "60 in"),
    "spares": ("0", "10", "50"),
    "spares_least": ("0", "2"),
    "wear": ("bracelet", "anklet", "child's piece", "Child"),
    "colours": _COLOURS,
    "motifs": ("5", "9", "13", "4"),
    "least": ("0", "1"),
    "most": ("9", "13", "20"),
    "gap": ("0", "1", "2"),
    "fix": ("0=d7263d", "1=#1b998b", "3=d7263d"),
    "several": ("1", "2", "3"),
    "see": ("typical", "protan,deutan,tritan", "deutan:0.6,grey"),
    "light": ("daylight", "lamplight,led", "fluorescent"),
    "distance": ("2.5 m", "400", "3 in"),
    "backing": ("fff", "#000000"),
    "finishes": ("opaque", "matte", "metallic", "opaque,matte,opaque"),
    "palette": ("rockpool", *palette_names()),
    "count": ("1", "2"),
    "seed": ("1", "42", "4294967295"),
    "shortest": ("1", "2"),
    "longest": ("4", "6", "9"),
    "drop": ("30", "2 cm", "1 in"),
    "like": PIECES,
    "tray": TRAYS,
    "piece": PIECES,
    "photo": PHOTOS,
    "roster": ROSTERS,
    "picks": ("d7263d", "d7263d,1b998b", "#fff"),
    "size": ("2", "3"),
    "each": ("0", "1", "5"),
    "budget": ("100", "12,50", "99.5"),
    "steps": ("0", "3", "20"),
    "girth": ("152", "8 in", "21 cm"),
    "longer": ("200", "300"),
    "skin": ("#a07e56", "fff"),
    "caption": ("", "For Wren", "two\nlines ✿"),
    "dated": ("", "3 May", "2026-01-02"),
    "band": ("150-165:1", "6-6.5 in: 1"),
    "colours_each": ("1", "3"),
    "port": ("8501", "65535"),
    "listen": ("127.0.0.1", "::1"),
    "act": acts(),
    "motif": ("1", "2", "3"),
    "other": ("4", "2", "1"),
    "to": ("1", "3"),
    "dangle": ("1", "2", "3"),
    "bead": ("1", "2", "1"),
    "beads": ("1", "3", "7", "-1"),
    "change divider bead": ("Ember", "round 11/0 in Deep", "drop 3.4 in Dew 88aacc", "fff"),
    "change links bead": ("Slate", "round 11/0 in Deep", "Moss 556b2f matte"),
    "change recolour base": ("Slate", "39424b"),
    "change closure kind": ("toggle", "breakaway clasp", ""),
    "change closure length": ("0", "3 mm", "12"),
    "change order length": ("2", "1", "3"),
    "change strip dangles": ("1", "2", "3", "5"),
    "colour": ("Ember", "d7263d", "Moss #556b2f", "Dew 88aacc transparent", "slate"),
    "old": ("Ember", "1b998b"),
    "new": ("Moss #556b2f", "Deep", "fff"),
    "outline": ("1,2,3", "peak", "twin peaks 1-4", "valley 2 - 3", "4,4,4"),
    "letters": ("A", "AB", "ABCB", "ab"),
    "letter": ("A", "b"),
    "on": ("on", "off"),
    "shelf": SHELVES,
}
# What is written where, by command; a new command writes a folder.
_OUT = {
    "change": ("out.json", "made/out.json", "made here/new ✿.json"),
    "palette": ("out.toml", "out.gpl", "made/out.toml"),
    "picture": ("out.png", "made/out ✿.png", "small.png", "out.svg"),
    "sheet": ("out.pdf", "made/a sheet.pdf"),
    "shelf": ("out.json", "out.zip", "out.sqlite3"),
}
_BAD_OUT = (
    "", " ", ".", "..", "folder", "folder.png", "small.json", "small.json/out.png", "fifo.png",
    "none/none/out.png", "loop/out.pdf", "dangling", "out.exe", "-", "-out.png", "x" * 250 + ".png",
    "é" * 200 + ".pdf", "\udcff.png", "out\n.pdf", "out\x1b[2J.png", "a\0.png", ".png", "..png",
    "folder/../out.zip", "own.sqlite3", "photo.png", "con.pdf",
)  # fmt: skip
# Ways to ask for what a command needs at least; required options and files are added by themselves.
_WAYS: dict[str, tuple[tuple[str, ...], ...]] = {
    "judge": (("piece",), ("colours",), ("colours",)),
    "palette": (
        ("photo", "size"), ("photo", "size"), ("starter", "free", "size"), ("tray", "free", "size"),
        ("tray", "picks", "size"), ("mood", "tray", "size", "steps"), ("picks", "size", "scheme"),
        ("starter", "mood", "size"), ("free", "size"), ("mood", "size"), ("picks", "size"),
    ),
    "propose": (
        ("palette", "count"), ("colours", "count"), ("starter", "count"), ("tray", "count"),
        ("like", "count"),
    ),
    "gallery": (("out",),),
    "picture": (("longer",),),
    "change colour": (
        ("out", "motif"), ("json", "motif", "dangle"), ("out", "motif", "dangle", "bead"),
        ("json", "motif", "dangle", "base"), ("out", "all"),
    ),
    "change tips": (("out", "kind"), ("json", "colour"), ("out", "plain")),
    "change order": (("out",), ("json",), ("json", "colours")),
    "change for": (("out", "snug"), ("json", "ease"), ("out", "wear")),
    "change turns": (("out", "outline"), ("json",)),
    "change divider": (("out", "bead"), ("json",)),
    "change strip": (("out", "dangles"), ("json", "base"), ("json", "hanging")),
}  # fmt: skip
# What any other change of a piece needs.
_CHANGED = (("out",), ("json",))
# Shares of the lines. Chosen by us: what takes longer is drawn less often.
_SHARES = {
    "fit": 15.0, "order": 14.0, "judge": 15.0, "palette": 5.0, "propose": 4.0, "gallery": 0.1,
    "picture": 2.5, "sheet": 0.5, "kit": 0.8, "shelf": 36.0, "change": 2.0, APP: 7.0,
}  # fmt: skip
# Chosen by us: all changes of a piece together as often as a command.
_SHARE_OF_A_CHANGE = 0.6
_HOSTILE = (
    "--", "-", "1e3", "2147483648", "3 parsec", "21 °", "f00,,0f0,", "1,,2", "0", "0,0", "=f00",
    "0=", "0=red", "x=f00", "99999=f00", "deutan:-1", "deutan:nan", "grey:", "led,", "20 = -3",
    "0 = 0", "0 beads measure 0 mm", "150-:1", "165-150:2", "150:0", "150-165:9999", "--json",
    "--help", "-h", "\x1b[2J", "\x07\x9b", "a\nb", "a\r\nb", "::", "fe80::1", "80", "Ǆ", "İ", "ß",
    *LENGTHS, *NUMERALS, *COLOURS, *TEXTS, *(f"{number:g}" for number in NUMBERS[:-2] if
                                             abs(number) < 10**300),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Option:
    """What a parser declares.

    Attributes:
        name: its name in the parsed line.
        flag: as it is typed; empty for what stands by its place.
        valued: whether a value belongs to it.
        required: whether there is no line without it.
        good: values that can be taken.
    """

    name: str
    flag: str
    valued: bool
    required: bool
    good: tuple[str, ...]


@cache
def options() -> dict[str, tuple[Option, ...]]:
    """All options by command, as the parsers declare them; those of the app without a command.

    A command of a command, such as a change of a piece, stands for itself: ``change colour``.
    """
    found = {APP: _of(APP, _parser([]))}
    for command in COMMANDS:
        parser = _beneath(_parser([command]))[command]
        found[command] = _of(command, parser)
        for word, deeper in _beneath(parser).items():
            found[f"{command} {word}"] = _of(f"{command} {word}", deeper)
    return found


def _beneath(parser: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    """The commands that a parser knows, by their words."""
    return {
        word: deeper
        for action in parser._actions
        if isinstance(action, argparse._SubParsersAction)
        for word, deeper in action.choices.items()
    }


def _of(command: str, parser: argparse.ArgumentParser) -> tuple[Option, ...]:
    return tuple(
        Option(
            name=action.dest,
            flag=action.option_strings[-1] if action.option_strings else "",
            valued=action.nargs != 0,
            required=action.required and action.nargs != "*",
            good=_good(command, action),
        )
        for action in parser._actions
        if not isinstance(action, argparse._SubParsersAction)
    )


def _good(command: str, action: argparse.Action) -> tuple[str, ...]:
    if action.dest == "out":
        return _OUT.get(command.partition(" ")[0], ("made", "made here/new ✿"))
    for name in (f"{command} {action.dest}", action.dest):
        if name in GOOD:
            return GOOD[name]
    words = re.sub(r"\(.*|^.*: ", "", action.help or "").strip()
    if ", " in words:
        return tuple(words.split(", "))
    metavar = str(action.metavar or "")
    return _LENGTHS if metavar == "L" else ("1", "2") if len(metavar) == 1 else ("a word",)


class Drawing:
    """Draws one line after the other; the same number and seed give the same line.

    Args:
        seed: where chance starts from.
        here: the folder that the lines are run in, in its full name.
    """

    def __init__(self, seed: int, here: str) -> None:
        self._seed = seed
        self._here = here

    def line(self, number: int) -> tuple[str, list[str]]:
        """The command of a line, and its arguments."""
        rng = random.Random(f"{self._seed}/{number}")  # noqa: S311 - lines to try out
        shares = [
            _SHARES.get(name, _SHARE_OF_A_CHANGE if name.startswith("change ") else 5)
            for name in options()
        ]
        command = rng.choices(list(options()), shares)[0]
        mood = rng.random()
        arguments = self._arguments(rng, command, hostile=0.0 if mood < 0.2 else 0.35)
        if mood > 0.65:
            arguments = self._shuffled(rng, command, arguments)
        return command, self._held(arguments)

    def _arguments(self, rng: random.Random, command: str, *, hostile: float) -> list[str]:
        known = {option.name: option for option in options()[command]}
        if command == "shelf":
            return self._shelf(rng, known, hostile)
        head, _, change = (command, "", "") if command == APP else command.partition(" ")
        ways = _WAYS.get(command, _CHANGED if change else ((),))
        names = list(rng.choice(ways))
        names += [name for name, option in known.items() if option.required and name not in names]
        free = [name for name in known if name not in ("help", *names)]
        # "json" is as likely as not, in every place.
        names += rng.sample(free, min(len(free), rng.choice((0, 1, 1, 1, 2, 3, 6))))
        if rng.random() < 0.4 and "json" in known and "json" not in names:
            names.append("json")
        if rng.random() < 0.004:
            names.append("help")
        rng.shuffle(names)
        if change:
            # What stands by its place keeps it, most of the time.
            order = list(known)
            names.sort(key=lambda name: bool(known[name].flag) or order.index(name) - len(order))
        parts: list[str] = []
        for name in names:
            parts += self._typed(rng, known[name], hostile)
        if command == APP:
            return parts
        if change:
            piece = next(option for option in options()[head] if option.name == "piece")
            parts = [*self._typed(rng, piece, hostile), change, *parts]
        return [*self._before(rng), head, *parts]

    def _before(self, rng: random.Random) -> list[str]:
        """Options of the app, which may stand before a command."""
        if rng.random() > 0.04:
            return []
        return self._typed(rng, rng.choice([o for o in options()[APP] if o.name != "help"]), 0.2)

    def _shelf(self, rng: random.Random, known: dict[str, Option], hostile: float) -> list[str]:
        """A line on the shelf: every act has its own words and options."""
        act = rng.choice(known["act"].good)
        numbers = [str(rng.choice((1, 1, 2, 3, 4, 5, 6, 7, 9, 12)))] * rng.randint(1, 2)
        numbers[-1] = str(rng.randint(1, 9))
        files = rng.sample((*PIECES, "shelf.zip", "shelf.zip", *SHELVES), rng.randint(1, 2))
        what = {
            "list": rng.sample(("piece", "Wren", "Ολυμπία", "x", "none such"), rng.randint(0, 2)),
            "export": numbers if rng.random() < 0.7 else [],
            "import": files,
            "rescue": [rng.choice((*SHELVES, "damaged-1.sqlite3", "damaged-2.sqlite3"))],
        }.get(act, numbers)
        what = [self._hostile(rng, word, file=True) if rng.random() < hostile else word
                for word in what]  # fmt: skip
        parts = ["shelf", act, *what]
        out = "out.sqlite3" if act == "rescue" else "out.json" if len(what) == 1 else "out.zip"
        likely = {
            "out": 0.97 if act in ("export", "rescue") else 0.02,
            "thrown_away": 0.4 if act == "list" else 0.02,
            "shelf": 0.02 if act == "rescue" else 0.3,
        }
        for name, option in known.items():
            if option.flag and name != "help" and rng.random() < likely.get(name, 0.4):
                good = (out, out, *option.good) if name == "out" else option.good
                parts += self._typed(rng, Option(name, option.flag, option.valued, False, good),
                                     hostile)  # fmt: skip
        return parts

    def _typed(self, rng: random.Random, option: Option, hostile: float) -> list[str]:
        """An option with its value, as it may be typed."""
        if not option.valued:
            return [option.flag]
        value = rng.choice(option.good)
        if option.name in ("out", "like", "tray", "piece") and rng.random() < 0.1:
            value = f"{self._here}/{value}"
        if rng.random() < hostile:
            value = self._hostile(rng, value, file="." in value, out=option.name == "out")
        if not option.flag:
            return [value]
        return [f"{option.flag}={value}"] if rng.random() < 0.4 else [option.flag, value]

    def _hostile(
        self, rng: random.Random, good: str, *, file: bool = False, out: bool = False
    ) -> str:
        """Something strange in place of a good value."""
        if out and rng.random() < 0.8:
            return rng.choice(_BAD_OUT)
        if file and rng.random() < 0.7:
            return rng.choice(BAD_FILES)
        kind = rng.randrange(6)
        if kind == 0:
            return rng.choice(_HOSTILE) + good
        if kind == 1:
            return good + rng.choice(_HOSTILE)
        if kind == 2 and good:
            at = rng.randrange(len(good))
            return good[:at] + rng.choice(("", good[at] * 2, "\x00", "½", "-", ".", ",", " ", "=")
                                          ) + good[at + 1 :]  # fmt: skip
        if kind == 3:
            # What is good for another option is another unit, another kind of file, another word.
            other = rng.choice(options()[rng.choice(list(options()))])
            return rng.choice(other.good)
        return rng.choice(_HOSTILE)

    def _shuffled(self, rng: random.Random, command: str, arguments: list[str]) -> list[str]:
        """The same with words left out, doubled, moved, or others between them."""
        arguments = list(arguments)
        for _ in range(rng.choice((1, 1, 2, 4))):
            at = rng.randrange(len(arguments) + 1)
            kind = rng.randrange(5)
            if kind == 0:
                del arguments[at : at + 1]
            elif kind == 1:
                arguments[at:at] = arguments[at : at + 2]
            elif kind == 2:
                rng.shuffle(arguments)
            elif kind == 3:
                option = rng.choice(options()[command])
                arguments[at:at] = self._typed(rng, option, 0.3)
            else:
                word = rng.choice((*_HOSTILE, *COMMANDS, *BAD_FILES, "--jso", "--JSON", "--json=1"))
                arguments.insert(at, word)
        return arguments

    def _held(self, arguments: list[str]) -> list[str]:
        """The line, kept to its own folder, and without what is known to take hours.

        ``--patient`` alone searches for as long as it takes, by its own words: it comes with few
        steps or, where steps are refused, not at all.
        """
        if any(word.startswith(("--out", "--shelf")) for word in arguments):
            arguments = [self._inside(word) for word in arguments]
        if "--patient" in arguments:
            searching = {"--tray", "--starter", "--mood", "--from"}
            named = {word.partition("=")[0] for word in arguments}
            if named & searching:
                arguments = [*arguments, "--steps=3"]
            else:
                arguments = [word for word in arguments if word != "--patient"]
        return arguments

    def _inside(self, word: str) -> str:
        start, equals, value = word.partition("=") if word.startswith("--") else ("", "", word)
        if value.startswith("/") and not value.startswith(self._here):
            return f"{start}{equals}none{value}"
        return word


def used(command: str, arguments: Sequence[str]) -> frozenset[str]:
    """The flags of a command that stand in a line."""
    flags = {option.flag for option in options()[command] if option.flag}
    return frozenset(flags & {word.partition("=")[0] for word in arguments})
