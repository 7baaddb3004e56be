"""Palettes as text: our own TOML, lists of hex colours pasted from anywhere, and open formats.

Besides our own, two plain formats that graphics libraries share are read, and the first of them
written: the text palette with ``GIMP Palette`` in its first line (extension gpl; numbers 0-255 and
a name a line) and the one with ``JASC-PAL`` (extension pal; a count, then numbers 0-255).
"""

import re

from palettes.charts import parse_palette
from palettes.errors import ChartError
from palettes.names import word_for
from palettes.spaces import hex_to_srgb1, parse_hex, srgb1_to_hex
from palettes.swatches import Palette, Swatch
from palettes.tray_cells import plain

# Chosen by us: a palette is a few lines, and a picture's full table of 256 colours a few thousand
# letters.
MOST_LETTERS = 200_000
MOST_COLOURS = 256
_HEX = re.compile(
    # After & it is a letter's number in a page, not a colour.
    r"(?<!&)#(?:[0-9a-f]{6}|[0-9a-f]{3})(?!\w)|(?<![\w#])(?:0x)?[0-9a-f]{6}(?!\w)",
    re.IGNORECASE,
)
_NUMBERS = re.compile(r"\s*(\d{1,3})\s+(\d{1,3})\s+(\d{1,3})(?:\s+(.*))?")


def parse_palette_text(text: str, path: str) -> Palette:
    """The palette in a text, whatever its form.

    Args:
        text: our TOML, a palette in one of the open formats, or anything with hex colours in it,
            such as a style sheet or a letter.
        path: the file's name, for messages and as the palette's name.

    Raises:
        ChartError: it is too long, damaged, or holds no colour.
    """
    if len(text) > MOST_LETTERS:
        raise ChartError(path, "the file", f"a palette has at most {MOST_LETTERS} letters")
    if "\x00" in text:
        # Pictures and programs hold it; among their bytes six hex digits may stand by chance.
        raise ChartError(path, "the file", "it is no text; open a picture as a photograph instead")
    lines = text.removeprefix("\ufeff").splitlines()
    first = lines[0].strip() if lines else ""
    if first == "GIMP Palette":
        return _with_names(lines[1:], path)
    if first == "JASC-PAL":
        return _counted(lines[1:], path)
    if re.search(r"^\s*\[\[swatch\]\]", text, re.MULTILINE):
        return parse_palette(text, path)
    return _palette(
        [(parse_hex(h.lower().removeprefix("0x")), "") for h in _HEX.findall(text)], path
    )


def to_toml(palette: Palette) -> str:
    """The palette in our own form, as ``palettes.charts.parse_palette`` takes it."""
    lines = [
        f"name = {_quoted(palette.name)}",
        f"title = {_quoted(palette.title)}",
        f"season = {_quoted(palette.season)}",
        f"tags = [{', '.join(_quoted(tag) for tag in palette.tags)}]",
        f"note = {_quoted(palette.note)}",
    ]
    for heading, swatches in (("swatch", palette.swatches), ("base", palette.bases)):
        for swatch in swatches:
            lines += [
                "",
                f"[[{heading}]]",
                f"name = {_quoted(swatch.name)}",
                f"hex = {_quoted(swatch.hex)}",
                f"finish = {_quoted(swatch.finish.value)}",
            ]
    return "\n".join(lines) + "\n"


def to_gpl(palette: Palette) -> str:
    """The motif colours in the open text format; finishes and base colours have no place in it."""
    lines = ["GIMP Palette", f"Name: {plain(palette.title)}", "#"]
    for swatch in palette.swatches:
        r, g, b = (round(255 * channel) for channel in hex_to_srgb1(swatch.hex).tolist())
        lines.append(f"{r:3d} {g:3d} {b:3d}\t{plain(swatch.name)}")
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    """A basic string of TOML 1.0: quotation marks, backslashes and control characters escaped."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    safe = (c if c >= " " and c != "\x7f" else f"\\u{ord(c):04x}" for c in escaped)
    return '"' + "".join(safe) + '"'


def _with_names(lines: list[str], path: str) -> Palette:
    title, found = "", []
    for number, line in enumerate(lines, start=2):
        head, colon, rest = line.partition(":")
        if colon and head.strip() in ("Name", "Columns"):
            title = rest.strip() if head.strip() == "Name" else title
        elif line.strip() and not line.lstrip().startswith("#"):
            found.append(_triple(line, number, path))
    return _palette(found, path, title)


def _counted(lines: list[str], path: str) -> Palette:
    rows = [(number, line) for number, line in enumerate(lines, start=2) if line.strip()]
    colours = [_triple(line, number, path) for number, line in rows[2:]]
    said = rows[1][1].strip() if len(rows) > 1 else "nothing"
    if said != str(len(colours)):
        raise ChartError(path, "line 3", f"it says {said} colours, and {len(colours)} follow")
    return _palette(colours, path)


def _triple(line: str, number: int, path: str) -> tuple[str, str]:
    found = _NUMBERS.fullmatch(line.rstrip())
    channels = [int(part) for part in found.groups()[:3]] if found else []
    if not found or max(channels) > 255:
        raise ChartError(path, f"line {number}", f"three numbers from 0 to 255; got {line[:60]!r}")
    return srgb1_to_hex([channel / 255.0 for channel in channels]), (found[4] or "").strip()


def _palette(colours: list[tuple[str, str]], path: str, title: str = "") -> Palette:
    """A palette of each colour once; what has no name is called by a word for its colour."""
    once: dict[str, str] = {}
    for hex_, name in colours:
        once.setdefault(hex_, name)
    if not 1 <= len(once) <= MOST_COLOURS:
        raise ChartError(
            path, "the file", f"it holds {len(once)} colours; 1 to {MOST_COLOURS} are wanted"
        )
    swatches: list[Swatch] = []
    for hex_, name in once.items():
        spelled = plain(name) if plain(name) not in ("", "Untitled") else ""
        wanted = spelled or word_for(hex_to_srgb1(hex_))
        taken = {swatch.name for swatch in swatches}
        numbered = (wanted if i == 1 else f"{wanted} {i}" for i in range(1, MOST_COLOURS + 2))
        swatches.append(Swatch(name=next(n for n in numbered if n not in taken), hex=hex_))
    stem = re.split(r"[\\/]", path)[-1].rsplit(".", 1)[0] or "palette"
    return Palette(name=stem, title=plain(title) or stem, swatches=tuple(swatches))
