"""The same blocks as one self-contained web page: no script, nothing fetched, all text escaped."""

import base64
from dataclasses import replace
from html import escape

from gallery.page import (
    Blanks,
    Block,
    Boxes,
    Break,
    Card,
    Cards,
    Cell,
    Chip,
    Document,
    Facts,
    Figure,
    Figures,
    Heading,
    Note,
    Ruler,
    Steps,
    Table,
    Text,
    Title,
    TrueSize,
)
from gallery.page_ink import WHITE, Drawing, Mark, OneBead, Oval, Path, Words
from gallery.scene import PlacedBead, Scene, Srgb1
from gallery.vector import to_svg
from palettes.spaces import srgb1_to_hex

# A user unit of our drawings is a millimetre; type sizes are in points, 1/72 inch by definition.
_MM_PER_PT = 25.4 / 72.0
_STYLE = """
:root { color-scheme: light; }
body { margin: 0 auto; max-width: 46rem; padding: 2rem 1.2rem 4rem; background: #fff;
  color: #2a2723; font: 1.06rem/1.5 "Source Sans 3", "Source Sans Pro", "Segoe UI", sans-serif;
  font-variant-numeric: tabular-nums; }
h1 { font-size: 2.1rem; line-height: 1.2; margin: 0; }
h2 { font-size: 1.3rem; margin: 2.2rem 0 .6rem; }
h2 b { color: #1f5f5b; margin-right: .5rem; }
header { border-bottom: 3px solid #1f5f5b; padding-bottom: .8rem; display: flex; gap: 1rem;
  justify-content: space-between; align-items: flex-start; flex-wrap: wrap; }
.quiet, header p, figcaption, th, dt, footer { color: #625c52; }
p { margin: .5rem 0; } header p { margin: .2rem 0 0; }
dl { display: grid; grid-template-columns: minmax(7rem, 22%) 1fr; gap: .2rem 1rem;
  margin: .6rem 0; }
dd { margin: 0; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; margin: .8rem 0; }
th { font-weight: 400; text-align: left; border-bottom: 1px solid #625c52; vertical-align: bottom; }
td { border-bottom: 1px solid #ccc7bd; vertical-align: top; }
th, td { padding: .3rem .9rem .3rem 0; }
.right { text-align: right; } .sum td { font-weight: 600; }
ul { list-style: none; padding: 0; } li { margin: .5rem 0; display: flex; gap: .6rem; }
.box { flex: none; display: inline-block; width: .9em; height: .9em; margin-top: .25em;
  border: 1px solid #2a2723; }
figure { margin: .6rem 1.4rem .6rem 0; } .row { display: flex; flex-wrap: wrap; }
img { max-width: 100%; height: auto; vertical-align: middle; }
aside { border-left: 4px solid #2a2723; padding-left: 1rem; margin: 1.4rem 0; }
footer { margin-top: 3rem; border-top: 1px solid #ccc7bd; padding-top: .6rem; font-size: .95rem; }
"""


def to_html(document: Document) -> str:
    """A document as the text of an HTML file.

    Args:
        document: what it says; blanks to write on and page breaks are left out.
    """
    body = "\n".join(_block(block) for block in document.blocks)
    foot = f"<footer>{escape(document.foot)}</footer>" if document.foot else ""
    return (
        '<!doctype html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        # Even a slip of ours could not fetch or run anything.
        '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; '
        "img-src data:; style-src 'unsafe-inline'\">\n"
        f"<title>{escape(document.title)}</title>\n<style>{_STYLE}</style>\n</head>\n"
        f"<body>\n{body}\n{foot}\n</body>\n</html>\n"
    )


def _block(block: Block) -> str:  # noqa: C901 - a line a kind
    match block:
        case Title():
            corner = (
                "" if block.corner is None else _image(drawing_svg(block.corner), "code to scan")
            )
            under = f"<p>{escape(block.under)}</p>" if block.under else ""
            return f"<header><div><h1>{escape(block.text)}</h1>{under}</div>{corner}</header>"
        case Heading():
            number = f"<b>{escape(block.number)}</b>" if block.number else ""
            return f"<h2>{number}{escape(block.text)}</h2>"
        case Text():
            text = f"<b>{escape(block.text)}</b>" if block.bold else escape(block.text)
            return f'<p class="quiet">{text}</p>' if block.quiet else f"<p>{text}</p>"
        case Facts():
            rows = (f"<dt>{escape(a)}</dt><dd>{escape(b)}</dd>" for a, b in block.rows)
            return f"<dl>{''.join(rows)}</dl>"
        case Table():
            return _table(block)
        case Steps():
            items = (f'<li><span class="box"></span>{escape(text)}</li>' for text in block.texts)
            return f"<ul>{''.join(items)}</ul>"
        case TrueSize():
            return f"<p>{_image(to_svg(_on_white(block.scene)), 'the piece')}</p>"
        case Figures():
            return f'<div class="row">{"".join(map(_figure, block.figures))}</div>'
        case Note():
            texts = "".join(f"<p>{escape(text)}</p>" for text in block.texts)
            return f"<aside><b>{escape(block.title)}</b>{texts}</aside>"
        case Cards():
            return "".join(map(_card, block.cards))
        case Ruler() | Blanks() | Break():
            return ""


def _table(table: Table) -> str:
    heads = "".join(f"<th{_right(head.right)}>{escape(head.text)}</th>" for head in table.heads)
    rows = []
    for at, row in enumerate(table.rows):
        cells = "".join(
            f"<td{_right(head.right)}>{_cell(cell)}</td>"
            for head, cell in zip(table.heads, row, strict=True)
        )
        last = table.bold_last and at == len(table.rows) - 1
        rows.append(f'<tr class="sum">{cells}</tr>' if last else f"<tr>{cells}</tr>")
    return f'<div class="wide"><table><tr>{heads}</tr>{"".join(rows)}</table></div>'


def _card(card: Card) -> str:
    rows = "".join(
        f"<tr><td>{_cell(chip)}</td><td>{escape(words)}</td><td{_right(True)}>{escape(n)}</td></tr>"
        for chip, words, n in card.rows
    )
    head = f"<b>{escape(card.title)}</b><p>{escape(card.under)}</p>"
    return f"<section>{head}<table>{rows}</table></section>"


def _right(right: object) -> str:
    return ' class="right"' if right else ""


def _cell(cell: Cell) -> str:
    match cell:
        case str():
            return escape(cell).replace("\n", "<br>")
        case Chip():
            return f"<b>{escape(cell.letter)}</b> {_image(_bead_svg(cell.bead), '')}"
        case Boxes():
            return '<span class="box"></span>' * cell.count
        case Drawing():
            return _image(drawing_svg(cell), "")


def _figure(figure: Figure) -> str:
    picture = figure.picture
    text = drawing_svg(picture) if isinstance(picture, Drawing) else to_svg(_on_white(picture))
    width = "" if isinstance(picture, Drawing) else f' style="width:{figure.width_mm:g}mm"'
    caption = f"<figcaption>{escape(figure.caption)}</figcaption>" if figure.caption else ""
    return f"<figure>{_image(text, figure.caption, width)}{caption}</figure>"


def _on_white(scene: Scene) -> Scene:
    return replace(scene, ground_srgb1=WHITE)


def _image(svg: str, words: str, more: str = "") -> str:
    # As an image of its own, so that ids of one picture never meet those of another.
    data = base64.b64encode(svg.encode()).decode()
    return f'<img alt="{escape(words)}"{more} src="data:image/svg+xml;base64,{data}">'


def _bead_svg(bead: PlacedBead) -> str:
    side = max(bead.across_mm, bead.along_mm) + 0.6
    scene = Scene(
        left_mm=bead.x_mm - side / 2.0,
        top_mm=bead.y_mm - side / 2.0,
        width_mm=side,
        height_mm=side,
        beads=(bead,),
        ground_srgb1=(1.0, 1.0, 1.0),
    )
    return to_svg(scene)


def drawing_svg(drawing: Drawing) -> str:
    """A drawing as SVG at true size: 1 user unit is 1 mm."""
    wide, high = _n(drawing.width_mm), _n(drawing.height_mm)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 -1 {wide} {_n(drawing.height_mm + 2.0)}">'
    )
    return head + "".join(map(_mark, drawing.marks)) + "</svg>"


def _mark(mark: Mark) -> str:
    match mark:
        case Path():
            points = " ".join(f"{_n(x)},{_n(y)}" for x, y in mark.points_mm)
            name = "polygon" if mark.closed else "polyline"
            dash = f' stroke-dasharray="{_n(mark.dash_mm)}"' if mark.dash_mm else ""
            inks = _inks(mark.stroke, mark.fill, mark.width_mm)
            return f'<{name} points="{points}" stroke-linecap="round"{dash} {inks}/>'
        case Oval():
            place = f'cx="{_n(mark.x_mm)}" cy="{_n(mark.y_mm)}"'
            size = f'rx="{_n(mark.rx_mm)}" ry="{_n(mark.ry_mm)}"'
            return f"<ellipse {place} {size} {_inks(mark.stroke, mark.fill, mark.width_mm)}/>"
        case Words():
            return (
                f'<text x="{_n(mark.x_mm)}" y="{_n(mark.y_mm)}" text-anchor="{mark.anchor.value}" '
                f'font-size="{_n(mark.size_pt * _MM_PER_PT)}" font-family="sans-serif" '
                f'font-weight="{600 if mark.bold else 400}" fill="{srgb1_to_hex(mark.srgb1)}">'
                f"{escape(mark.text)}</text>"
            )
        case OneBead():
            raise ValueError("beads stand in tables and pictures, not in drawings of lines")
        case _:
            raise ValueError("a drawing holds no picture of a scene")


def _inks(stroke: Srgb1 | None, fill: Srgb1 | None, width_mm: float) -> str:
    line = "none" if stroke is None else srgb1_to_hex(stroke)
    area = "none" if fill is None else srgb1_to_hex(fill)
    return f'stroke="{line}" fill="{area}" stroke-width="{_n(width_mm)}"'


def _n(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")
