"""Text that is not ours in headings and labels, which the framework reads as Markdown.

Every name, note or word of a maker's or a file's that stands in one goes through ``as_label``. What
goes into HTML of our own goes through ``as_html``, or ``as_attribute``. A name that
holds writing from right to left is set apart from the words beside it (``isolated``), so that it
reads the same everywhere and turns nothing else round; boxes, lists to choose from and our
components show text as it is.
"""

import html
import re
import unicodedata

# Unicode's WORD JOINER: nothing is seen or read of it, and no two signs beside it belong together
# for who looks for a link, an icon or a dash.
JOINER = "\N{WORD JOINER}"
# What the framework makes of plain text after it has read the Markdown, so that no backslash helps
# (mdast-util-gfm-autolink-literal, remark-emoji, and its own icons, colours and arrows). A joiner
# comes after the first group of each.
_BROKEN = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        # Icons, emoji, colours; the address of a page.
        r"(:)(?=[\w+/\-])",
        # An address without its beginning, and one of a mailbox.
        r"(www)(?=\.)",
        r"(@)(?=\w)",
        # A link or picture; what a link further on would mean.
        r"(\])(?=[(\[:]|$)",
        # Dashes, arrows and signs of comparing.
        r"(<)(?=-)",
        r"(-)(?=[->])",
        r"([<>~])(?==)",
    )
)
# What would begin a list, a heading or a quotation (CommonMark 4 and 5).
_BEGINS = re.compile(r"(?=[-+*>]|#{1,6}(\s|$)|\d{1,9}[.)](\s|$)|[=_]+\s*$)")
# Emphasis, code, formulas, what is struck out, tags and entities (CommonMark 2.4, 2.5, 6; GFM 6.5).
# An underscore within a word is none of them. A colon is one where words in brackets follow, which
# would be coloured (remark-directive).
_SIGNS = re.compile(r"[\\`*~$]|(?<![^\W_])_|_(?![^\W_])|<(?=[\w/!?])|&(?=#?\w+;)|:(?=[\w\-]*[\[{])")


# What turns writing round, or says that what stands beside it is of another direction (Unicode
# Standard Annex 9, "Directional Formatting Characters"): it would reach beyond the name it is in.
_TURNS = re.compile(r"[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
# Those of them that set text apart, as ours do (the same, "Explicit Directional Isolates").
_ISOLATES = re.compile(r"[\u2066-\u2069]")
_ISOLATED = re.compile(r"\u2068([^\u2066-\u2069]*)\u2069")
# Letters and figures written from right to left (the same, table 4).
_FROM_RIGHT = frozenset({"R", "AL", "AN"})
# Words of it in a row: the blocks whose signs are taken for such letters, whatever they will be
# (Unicode Character Database, DerivedBidiClass.txt, "@missing").
_LETTERS = "[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff]+"
_RUN = re.compile(rf"{_LETTERS}(?:\s+{_LETTERS})*")


def isolated(name: str) -> str:
    """A name among words of ours: set apart where it would turn them round, or they would turn it.

    >>> isolated("abc"), isolated("abc\u202edef")
    ('abc', '\u2068abc\u202edef\u2069')
    """
    plain = _ISOLATES.sub("", name)
    turns = any(unicodedata.bidirectional(sign) in _FROM_RIGHT for sign in plain)
    return f"\u2068{plain}\u2069" if turns or _TURNS.search(plain) else plain


def as_html(words: str) -> str:
    """Words as HTML; those of others are set apart without a sign that would be copied along.

    What is not ``isolated`` changes no direction but that of its own letters: sentences of the
    core's hold names as they are.

    >>> as_html("“\u2068a\u202eb\u2069” & c\u202ed")
    '“<bdi>a\u202eb</bdi>” &amp; cd'
    """
    # Every second part is an isolated one.
    parts = _ISOLATED.split(words)
    return "".join(
        f"<bdi>{html.escape(part)}</bdi>"
        if place % 2
        else _RUN.sub(r"<bdi>\g<0></bdi>", html.escape(_TURNS.sub("", part)))
        for place, part in enumerate(parts)
    )


def as_attribute(words: str) -> str:
    """Words in an attribute of HTML, where nothing can be set apart: nothing in them turns round.

    >>> as_attribute('"a" & c\u202ed')
    '&quot;a&quot; &amp; cd'
    """
    return html.escape(_TURNS.sub("", words))


def as_label(name: str) -> str:
    r"""A name as a heading or a label shows it: as it was written, and nothing else.

    A label is also what a screen reader reads, so signs that mean nothing where they stand are left
    alone, and what can be broken without a sign to read is broken so. Only stars, dollars and their
    like get a backslash.

    >>> as_label("Blue (matt), 8/0: size #3")
    'Blue (matt), 8/0: size #3'
    >>> as_label("*x*")
    '\u2060\\*x\\*'
    """
    plain = " ".join(isolated(name).split())
    start = JOINER if _BEGINS.match(plain) else ""
    plain = _SIGNS.sub(r"\\\g<0>", plain)
    for pattern in _BROKEN:
        plain = pattern.sub(rf"\g<1>{JOINER}", plain)
    return start + plain
