"""Millimetres or inches, for figures that are told in one of them."""

from enum import StrEnum

from explorer.lengths import inches, millimetres


class Units(StrEnum):
    """What lengths are told in."""

    MM = "mm"
    INCHES = "in"


def told(value_mm: float, units: Units) -> str:
    """A length in those units: tenths of a millimetre, sixteenths of an inch."""
    return inches(value_mm) if units is Units.INCHES else millimetres(value_mm)


def units_from(text: str) -> Units:
    """The units that an address names; millimetres where it names none that there are."""
    return Units.INCHES if text == Units.INCHES else Units.MM
