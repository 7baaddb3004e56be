"""Printed pages with their figures in the maker's writing."""

from dataclasses import fields, is_dataclass, replace
from enum import Enum
from typing import Any

from explorer.app.decimals import Decimal, written
from gallery.page import Document
from gallery.scene import PlacedBead, Scene

# What holds no text that is printed; an enum's text is its name.
_PLAIN = (PlacedBead, Scene, Enum)


def document_written(document: Document, decimal: Decimal) -> Document:
    """A printable document with all its figures in that writing."""
    if decimal is Decimal.POINT:
        return document
    found: Document = _with_commas(document)
    return found


def _with_commas(part: Any) -> Any:
    """A part of a document, a comma in every figure of its texts."""
    if isinstance(part, _PLAIN):
        return part
    if isinstance(part, str):
        return written(part, Decimal.COMMA)
    if isinstance(part, tuple):
        return tuple(map(_with_commas, part))
    if not is_dataclass(part) or isinstance(part, type):
        return part
    held = {one.name: getattr(part, one.name) for one in fields(part) if one.init}
    after = {name: _with_commas(value) for name, value in held.items()}
    return replace(part, **{name: after[name] for name in held if after[name] is not held[name]})
