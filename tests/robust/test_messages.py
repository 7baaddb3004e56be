"""Each message of the program in one listing: what, got, allowed, and what to do next.

The listing is read from the sources, so a new message stands in it by itself.
"""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = ("palettes", "gallery", "explorer")
# A remedy tells what to do: it begins with one of these, or names what to do after a condition.
_DOES = (
    "Add", "Allow", "Ask", "Begin", "Change", "Check", "Choose", "Close", "Copy", "Count",
    "Draw", "Export", "Fill", "Free", "Give", "Leave", "Lengthen", "Let", "Look", "Make",
    "Mark", "Measure", "Mend", "Move", "Name", "Open", "Part", "Pick", "Press", "Put", "Remove",
    "Rename", "Replace", "Run", "Save", "Say", "See", "Set", "Settle", "Share", "Shorten",
    "Spell", "Take", "Tap", "Tell", "Time", "Try", "Turn", "Type", "Unpin", "Update", "Use",
    "Weigh", "Widen", "Write",
)  # fmt: skip


@dataclass(frozen=True)
class Message:
    """A message as the source has it; ``{}`` stands for what is put in."""

    place: str
    kind: str
    parts: tuple[str, ...]


def _text(node: ast.expr) -> str:
    """A text in the source with ``{}`` for what is put in; ``{}`` alone for what is worked out."""
    if isinstance(node, ast.Constant):
        return str(node.value)
    if isinstance(node, ast.JoinedStr):
        return "".join(_text(v) if isinstance(v, ast.Constant) else "{}" for v in node.values)
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        return _text(node.left) + _text(node.right)
    return "{}"


def _read() -> Iterator[Message]:
    for package in PACKAGES:
        for path in sorted((ROOT / package).rglob("*.py")):
            tree = ast.parse(path.read_text("utf-8"))
            for node in ast.walk(tree):
                if not isinstance(node, ast.Call):
                    continue
                name = getattr(node.func, "id", "")
                if name in ("BriefError", "ChartError", "PhotoError", "ShelfError"):
                    if any(isinstance(arg, ast.Starred) for arg in node.args):
                        continue
                    keywords = [k.value for k in node.keywords]
                    place = f"{path.relative_to(ROOT)}:{node.lineno}"
                    parts = tuple(_text(arg) for arg in [*node.args, *keywords])
                    yield Message(place, name, parts)


@cache
def messages() -> tuple[Message, ...]:
    """All of them; read once, and not before a test asks."""
    return tuple(_read())


def _of(kind: str) -> list[Message]:
    return [message for message in messages() if message.kind == kind]


def test_the_listing_is_whole() -> None:
    kinds = {kind: len(_of(kind)) for kind in {message.kind for message in messages()}}
    assert kinds["BriefError"] > 60
    assert kinds["ChartError"] > 40
    assert set(kinds) == {"BriefError", "ChartError", "PhotoError", "ShelfError"}


def _worked_out(text: str) -> bool:
    return not text.replace("{}", "").strip(" .,:;()")


def test_a_makers_fault_says_field_got_allowed_and_what_to_do() -> None:
    doing = {*_DOES, *(verb.lower() for verb in _DOES)}
    for message in _of("BriefError"):
        field, _got, wanted, remedy = message.parts
        assert field, message
        assert wanted, message
        # The sentence round it has its own full stop.
        assert not wanted.endswith("."), message
        if _worked_out(remedy):
            continue
        assert remedy[0].isupper() or remedy.startswith("{}"), message
        assert remedy.endswith((".", "?", "}", ")")), message
        sentences = [part.strip() for part in remedy.replace("?", ".").split(". ")]
        words = {word.strip(",.:;`'") for sentence in sentences for word in sentence.split()}
        assert words & doing, f"tells nothing to do: {message}"


def test_a_files_fault_says_file_place_and_why() -> None:
    for message in _of("ChartError"):
        path, entry, why = message.parts
        assert path, message
        assert entry, message
        assert _worked_out(why) or len(why.split()) >= 3, message


def test_a_photographs_fault_says_got_wanted_and_what_to_do() -> None:
    for message in _of("PhotoError"):
        got, wanted, remedy = message.parts
        assert got, message
        assert wanted, message
        assert remedy.endswith("."), message


def test_no_message_speaks_like_a_machine() -> None:
    for message in messages():
        told = " ".join(message.parts[1:])
        for word in ("None", "NoneType", "null", "traceback", "exception", "invalid", "illegal"):
            assert word not in told.split(), (message.place, word)
