"""Inputs that nobody means: good samples with something broken in them, and plain noise."""

import copy
import math
from collections.abc import Sequence
from typing import Any

from hypothesis import strategies as st

# Numbers that trip conversions: edges of floats, denormals, more digits than Python turns to int.
NUMBERS: tuple[Any, ...] = (
    0, -0.0, -1, 1, 2**31, 2**53 + 1, 2**64, -(2**63), 10**30, 10**400, 1e308, -1e308, 5e-324,
    2.2e-308, 1e-9, 0.1, 1e9, 1e16, math.nan, math.inf, -math.inf, True, False,
)  # fmt: skip
TEXTS: tuple[str, ...] = (
    "", " ", "\x00", "\ud800", "\u202e", "\ufeff", "=1+1", "@x", "<script>alert(1)</script>",
    "']]--><svg/onload=1>", "../../etc/passwd", "C:\\con", "NaN", "Infinity", "-0", "1e999",
    "9" * 5000,
    "٣", "½", "1/0", "0/0", "12 mm\n", "#12345", "#GGGGGG", "#fff", "ﬁ", "e\u0301" * 50, "🧶" * 40,
    "a" * 20_000, "%s%n", "${x}", "\r\n\r\n", "\t", "'", '"', "\\", ",", ";", "|",
)  # fmt: skip
VALUES: tuple[Any, ...] = (
    *NUMBERS, *TEXTS, None, [], {}, [[]], [None], {"": None}, [0] * 3000, [[0, 1]], ["#000000"],
)  # fmt: skip
# What is typed for a length, a whole number or colours, and cannot be any.
LENGTHS = (
    "", " ", "1e3", "1e400", "-1", "0x10", "\u0662\u0661\u0664", "214 mm mm", "214 parsec",
    "1/0 in", "9" * 22, "2_14", "nan", "inf", "-inf", "\u221e", "214 \N{DEGREE SIGN}", "'; --",
    "\udcff", "1" * 5000,
)  # fmt: skip
NUMERALS = ("", " ", "1e9", "nan", "-1", "x", "9" * 30, "1/2", "\udcff", "0x1", "1;2")
COLOURS = (
    "",
    ",",
    "f00,,0f0",
    "ff0000ff",
    "red",
    "#12",
    "\uff46\uff10\uff10",
    "f00,\udcff",
    "," * 200,
)
_TOKENS = (
    b"", b"\x00", b"\xff\xfe", b"\xef\xbb\xbf", b"\xed\xa0\x80", b"[" * 3000, b"{\"a\":" * 2000,
    b"9" * 5000, b"NaN", b"-", b"\"", b"'", b",,,,", b";", b"\r", b"\n\n", b"=cmd", b"a.b=1\n" * 50,
    b"[[swatch]]\n", b"\\u0000", b"\\ud800", b"1e999", b"\x1b[2J", b"#", b"&#x0;", b"<!--",
)  # fmt: skip

small = st.integers(0, 2**32 - 1)


@st.composite
def broken(draw: st.DrawFn, samples: Sequence[bytes]) -> bytes:
    """A sample with up to four cuts, repeats, swaps and strange insertions; or noise."""
    if draw(st.integers(0, 9)) == 0:
        return draw(st.binary(max_size=200))
    content = draw(st.sampled_from(samples))
    for _ in range(draw(st.integers(0, 4))):
        at = draw(small) % (len(content) + 1)
        length = draw(st.sampled_from((1, 2, 7, 40, 400)))
        kind = draw(st.integers(0, 4))
        before, rest = content[:at], content[at:]
        if kind == 0:
            content = before + rest[length:]
        elif kind == 1:
            content = before + rest[:length] * 3 + rest[length:]
        elif kind == 2:
            content = before + draw(st.sampled_from(_TOKENS)) + rest
        elif kind == 3:
            content = before + bytes([draw(st.integers(0, 255))]) + rest[1:]
        else:
            content = before
    return content


def broken_text(samples: Sequence[str]) -> st.SearchStrategy[str]:
    """The same for text: broken samples, single strange texts, and any text at all."""
    parts = st.sampled_from(TEXTS)
    return st.one_of(
        broken([s.encode() for s in samples]).map(lambda b: b.decode("utf-8", "replace")),
        st.builds(lambda a, b, c: a + b + c, parts, st.sampled_from(list(samples)), parts),
        st.text(max_size=60),
    )


@st.composite
def broken_document(draw: st.DrawFn, samples: Sequence[Any]) -> Any:
    """A JSON document with up to three of its values exchanged, left out or doubled."""
    document = copy.deepcopy(draw(st.sampled_from(samples)))
    for _ in range(draw(st.integers(1, 3))):
        holder, key = _somewhere(draw, document)
        if holder is None:
            return draw(st.sampled_from(VALUES))
        kind = draw(st.integers(0, 5))
        if kind == 0:
            del holder[key]
        elif kind == 1 and isinstance(holder, list):
            holder.insert(key, holder[key])
        else:
            holder[key] = copy.deepcopy(draw(st.sampled_from(VALUES)))
    return document


def _somewhere(draw: st.DrawFn, node: Any) -> tuple[Any, Any]:
    """A place in a document: the list or table, and the index or key in it."""
    holder: Any = None
    key: Any = None
    while isinstance(node, dict | list) and node:
        if holder is not None and draw(st.integers(0, 2)) == 0:
            break
        holder = node
        key = draw(st.sampled_from(sorted(node) if isinstance(node, dict) else range(len(node))))
        node = node[key]
    return holder, key
