"""Figures with a decimal comma or point, as the maker's browser or the maker wants it."""

from typing import TYPE_CHECKING

import pytest

from explorer.app.decimals import Decimal, decimal_from, written
from explorer.lengths import parse_mm
from tests.app.conftest import Site

if TYPE_CHECKING:
    from tests.app.conftest import Windows


def test_figures_change_and_names_do_not() -> None:
    words = "Strip 207.7 mm, 1.3 mm left over; 0.05 to 12.25. 3.5"
    assert written(words, Decimal.POINT) == words
    told = written(words, Decimal.COMMA)
    assert told == "Strip 207,7 mm, 1,3 mm left over; 0,05 to 12,25. 3,5"
    for other in ("v1.2.3", "size1.5", "#1.5a", "8/0", "1 7/16 in", "no. 4. 5", "1.2.3", "ΔE 39"):
        assert written(other, Decimal.COMMA) == other


@pytest.mark.parametrize("value", ["0.5 mm", "170.25 mm", "12.7 cm"])
def test_what_is_shown_can_be_typed_back(value: str) -> None:
    assert parse_mm(written(value, Decimal.COMMA), "snug") == parse_mm(value, "snug")


def test_only_a_writing_is_a_writing() -> None:
    assert decimal_from("comma") is Decimal.COMMA
    assert [decimal_from(text) for text in ("", "Comma", None, 1, ["comma"])] == [None] * 5


@pytest.mark.browser
def test_the_browsers_own_writing_until_another_is_chosen(windows: "Windows", address: str) -> None:
    with windows.page(locale="de-DE") as page:
        site = Site(page, address, touch=False)
        site.open()
        site.page.locator(".dw-figures:has-text('Strip 207,7 mm, 1,3 mm left over')").wait_for()
        site.page.get_by_role("radio", name="1.5", exact=True).click()
        site.page.locator(".dw-figures:has-text('Strip 207.7 mm, 1.3 mm left over')").wait_for()
        site.settle()
        site.page.reload()
        site.ready()
        assert "Strip 207.7 mm, 1.3 mm left over" in site.figures()
        site.go("Piece")
        assert "Strip 207.7 mm" in site.figures()
