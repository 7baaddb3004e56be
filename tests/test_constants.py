"""Every number that was chosen, read or remembered says so beside itself.

A constant is a name in capitals at the top of a module, or a default of a class's field, whose
value holds a number. 0, 1 and -1 are nothing, one and the last: a value of these alone asks for no
mark. There is no list of exceptions.
"""

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parent.parent
PACKAGES = ("palettes", "gallery", "explorer")
NAME = re.compile(r"_?[A-Z][A-Z0-9_]*")
MARK = re.compile(
    r"""
    chosen\ by\ us\b[^.]*?(?:\b(?:because|since|so\ that|for|likewise)\b|:)\W+\w+\W+\w+
    | chosen\ by\ us,\ likewise
    | \bby\ (?:eye|trial|looking|definition)\b
    | \bfrom\ memory\b | \bcommon\ practice,\ no\ source\b
    | \bworked\ out\b | \bmeasured\ (?:by|for|on|with)\b | \binvented\b
    # A source: a year, a standard or the address of a page.
    | \b(?:1[89]|20)\d\d\b
    | \b(?:ANSI|APPNOTE|CIE|CIPA|IEC|ISO|RFC|WCAG)\b
    | \b\w+\.(?:com|net|org|co|google)\b
    """,
    re.VERBOSE | re.IGNORECASE | re.DOTALL,
)


class Constant(NamedTuple):
    """A number with the words beside it."""

    place: str
    words: str


def has_number(value: ast.expr) -> bool:
    """Whether a value holds a number that is more than nothing, one or the last."""
    numbers = (node.value for node in ast.walk(value) if isinstance(node, ast.Constant))
    return any(type(n) in (int, float) and n not in (0, 1, -1) for n in numbers)


def assigned(node: ast.stmt) -> tuple[str, ast.expr] | None:
    """The first name that a statement gives a value, and the value."""
    if isinstance(node, ast.Assign):
        targets, value = node.targets, node.value
    elif isinstance(node, ast.AnnAssign) and node.value is not None:
        targets, value = [node.target], node.value
    else:
        return None
    names = [name.id for target in targets for name in ast.walk(target) if type(name) is ast.Name]
    return (names[0], value) if names else None


def beside(lines: list[str], body: list[ast.stmt], at: int) -> str:
    """Comments in a statement's lines and above it or above its group, and the string after it."""
    node = body[at]
    spans = [(other.lineno, other.end_lineno or 0) for other in body[: at + 1] if assigned(other)]
    words = [line.partition("#")[2] for line in lines[node.lineno - 1 : node.end_lineno]]
    above = node.lineno - 1
    while above and any(low <= above <= high for low, high in spans):
        above -= 1
    while above and lines[above - 1].strip().startswith("#"):
        words.insert(0, lines[above - 1].strip().lstrip("#"))
        above -= 1
    after = body[at + 1 : at + 2]
    if after and isinstance(after[0], ast.Expr) and isinstance(after[0].value, ast.Constant):
        words.append(str(after[0].value.value))
    return " ".join(" ".join(words).split())


def entry_of(docstring: str, field: str) -> str:
    """What a class's docstring says of a field; all of it where it has no list of fields."""
    _, found, listed = docstring.partition("Attributes:")
    if not found:
        return docstring
    entries = re.findall(r"^ {4}(\w[\w, ]*): (.*(?:\n {8}.*)*)", listed, re.MULTILINE)
    return " ".join(text for names, text in entries if field in names.replace(",", " ").split())


def constants_in(text: str, place: str) -> Iterator[Constant]:
    """The constants of a module."""
    lines, tree = text.splitlines(), ast.parse(text)
    for at, node in enumerate(tree.body):
        found = assigned(node)
        if found and NAME.fullmatch(found[0]) and has_number(found[1]):
            yield Constant(f"{place}: {found[0]}", beside(lines, tree.body, at))
    for made in ast.walk(tree):
        if not isinstance(made, ast.ClassDef):
            continue
        for at, node in enumerate(made.body):
            found = assigned(node)
            if found and has_number(found[1]):
                said = entry_of(ast.get_docstring(made) or "", found[0])
                words = " ".join(f"{said} {beside(lines, made.body, at)}".split())
                yield Constant(f"{place}: {made.name}.{found[0]}", words)


def unmarked(constants: Iterator[Constant]) -> list[str]:
    """Places of constants that do not say where they come from."""
    return [f"{c.place}: {c.words!r}" for c in constants if not MARK.search(c.words)]


@pytest.mark.parametrize("package", PACKAGES)
def test_every_constant_says_where_it_comes_from(package: str) -> None:
    found = [
        line
        for path in sorted((ROOT / package).rglob("*.py"))
        for line in unmarked(
            constants_in(path.read_text(encoding="utf-8"), path.relative_to(ROOT).as_posix())
        )
    ]
    assert not found, "\n".join(found)


def test_the_search_finds_what_it_should() -> None:
    text = '''
A = 3
# Chosen by us.
B = 4.5
# Chosen by us, because four is too few.
C, D = 5, (6, 7)
E = 1

# Some years later (CIE 15:2004).
F = {"a": 2}
G = 8  # from memory


class Box:
    """A box.

    Attributes:
        wide: how wide, chosen by us so that it fits.
        high: how high.
    """

    wide: float = 2.0
    high: float = 3.0
    deep: int = 0
    long: int = 5  # common practice, no source
'''
    places = [c.place.removeprefix("t: ") for c in constants_in(text, "t")]
    assert places == ["A", "B", "C", "F", "G", "Box.wide", "Box.high", "Box.long"]
    bad = [line.split(": ")[1] for line in unmarked(constants_in(text, "t"))]
    assert bad == ["A", "B", "Box.high"]


def figures(value: object) -> Iterator[tuple[bool, object]]:
    """Every number in a document, and whether a mark stands in its own table."""
    if isinstance(value, dict):
        marked = "mark" in value
        for part in value.values():
            yield from ((marked or own, number) for own, number in figures(part))
    elif isinstance(value, list):
        for part in value:
            yield from figures(part)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield False, value


def head(text: str) -> str:
    """The comment that a data file begins with."""
    lines = text.splitlines()
    end = next((i for i, line in enumerate(lines) if not line.startswith("#")), len(lines))
    return " ".join(line.lstrip("# ") for line in lines[:end])


def named_in_code(name: str) -> str:
    """The comments beside a file's name in the code: a maker's own form has no room for them."""
    for path in sorted(ROOT.glob("palettes/*.py")):
        lines = path.read_text(encoding="utf-8").splitlines()
        for i, line in enumerate(lines):
            if f'"{name}"' in line:
                return " ".join(lines[max(0, i - 3) : i + 1])
    return ""


@pytest.mark.parametrize("path", sorted(ROOT.glob("palettes/data/*")), ids=lambda path: path.name)
def test_every_table_says_where_its_numbers_come_from(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".toml" and all(own for own, _ in figures(tomllib.loads(text))):
        return  # no numbers, or each with its own mark
    words = head(text) or named_in_code(path.name)
    assert MARK.search(words), f"{path.name}: {words!r}"
