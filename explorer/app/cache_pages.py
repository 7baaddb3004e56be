"""Printed pages that are kept, so that looking again and downloading cost nothing."""

from dataclasses import dataclass

import streamlit as st

from explorer.app.asks import Ask
from explorer.app.decimals import Decimal
from explorer.app.heavy import in_turn
from explorer.app.page_decimals import document_written
from explorer.app.store import kept
from explorer.kit import Kit
from explorer.kit_pages import class_page
from explorer.picture_files import PictureAsk, picture_file
from explorer.sheet_facts import SheetOptions
from gallery.files import to_png
from gallery.page import Document, Paper
from gallery.page_picture import drawing_picture, page_picture
from gallery.page_qr import code_drawing
from gallery.steps import Progress

# In megabytes. Chosen by us: what a few makers try in a row, at some 300 kB each.
_PAGES = 12.0
# Chosen by us: codes are small, and a piece has one or two.
_CODES = 30
_PREVIEW_PX = 1000  # by eye: a page's words can be read
# In megabytes. Chosen by us: half a dozen pictures of some 2 to 6 MB.
_PICTURES = 24.0
_CODE_PX = 440  # by eye: a phone reads it off a screen


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A printed document.

    Attributes:
        label, stem: as ``asks.Named`` has them.
        pdf: the file.
        pages: how many.
        lacking: characters that our font lacks.
        png: its first page as a picture.
        html: the same as a web page, if one was asked for.
    """

    label: str
    stem: str
    pdf: bytes
    pages: int
    lacking: tuple[str, ...]
    png: bytes
    html: str | None


def printed(ask: Ask, paper: Paper, decimal: Decimal, told: Progress) -> tuple[Made, ...]:
    """Everything that was asked for; what cannot be made is raised and not kept.

    Args:
        ask: what is printed.
        paper: on what.
        decimal: how figures are written.
        told: told how many pages of a document are drawn, of how many.
    """
    return _printed.made(lambda: _print(ask, paper, decimal, told), ask, paper, decimal)


def _print(ask: Ask, paper: Paper, decimal: Decimal, told: Progress | None) -> tuple[Made, ...]:
    from gallery.page_html import to_html
    from gallery.pdf import to_pdf

    found = []
    for named in ask.documents():
        document = document_written(named.document, decimal)
        done = to_pdf(document, paper, progress=told)
        found.append(
            Made(
                label=named.label,
                stem=named.stem,
                pdf=done.pdf,
                pages=done.pages,
                lacking=done.lacking,
                png=first_page(document, paper),
                html=to_html(document) if named.web else None,
            )
        )
    return tuple(found)


@kept(_PAGES)
def _printed(ask: Ask, paper: Paper, decimal: Decimal) -> tuple[Made, ...]:
    return _print(ask, paper, decimal, None)


def first_page(document: Document, paper: Paper) -> bytes:
    """The first page as a PNG file."""
    return to_png(page_picture(document, paper, width_px=_PREVIEW_PX))


def class_preview(kit: Kit, options: SheetOptions, paper: Paper, decimal: Decimal) -> bytes:
    """The first of the teacher's pages as a PNG file."""
    return first_page(document_written(class_page(kit, options), decimal), paper)


def picture(ask: PictureAsk, told: Progress) -> tuple[str, bytes]:
    """A picture's file ending and its bytes; what cannot be drawn is raised and not kept.

    Args:
        ask: all that it depends on.
        told: told how many hundredths are done.
    """
    return _pictures.made(lambda: in_turn(picture_file)(ask, progress=told), ask)


def picture_made(ask: PictureAsk) -> bool:
    """Whether a picture need not be drawn any more."""
    return _pictures.get(ask) is not None


@kept(_PICTURES)
def _pictures(ask: PictureAsk) -> tuple[str, bytes]:
    return picture_file(ask)


@st.cache_data(max_entries=_CODES, show_spinner=False)
def code_picture(text: str) -> bytes | None:
    """A code to scan as a PNG file; None where the text is too long for one."""
    drawing = code_drawing(text)
    return None if drawing is None else to_png(drawing_picture(drawing, _CODE_PX))
