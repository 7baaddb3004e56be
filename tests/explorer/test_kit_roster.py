"""Rosters in any hand: every fault names its line, and bands of measurements."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.errors import BriefError
from explorer.kit_roster import MOST_LEARNERS, band_mm, parse_roster


def fault(text: str) -> BriefError:
    with pytest.raises(BriefError) as caught:
        parse_roster(text)
    assert caught.value.field == "roster"
    return caught.value


def test_a_roster_in_any_hand() -> None:
    text = (
        "\ufeffSnug ; Name;colours\r\n\r\n150 mm;Mia;#f00,#00f\r\n;;\r\n6 1/2 in;Ολυμπία;\r\n"
        "15,2 cm;李雷;\r\n"
    )
    found = parse_roster(text)
    assert [one.name for one in found.learners] == ["Mia", "Ολυμπία", "李雷"]
    assert [one.most_mm for one in found.learners] == pytest.approx([150.0, 165.1, 152.0])
    assert found.learners[0].colours == ("#ff0000", "#0000ff")


def test_a_typed_roster_needs_no_head() -> None:
    found = parse_roster("Mia, 150\n7, 6 in, 10 mm, Coral;Sea\n")
    assert [(one.name, one.ease_mm, one.picks) for one in found.learners] == [
        ("Mia", None, ()),
        ("7", 10.0, ("Coral", "Sea")),
    ]


def test_doubled_names_are_numbered_and_told() -> None:
    found = parse_roster("name,snug\nMia,150\nMia (2),151\nMia,152\nMia,153\n")
    names = [one.name for one in found.learners]
    assert names == ["Mia", "Mia (2)", "Mia (3)", "Mia (4)"]
    assert len(found.remarks) == 2


def test_names_that_look_like_something_else_stay_names() -> None:
    nasty = ['=HYPERLINK("x")', "../../etc/passwd", "<b>Bob</b>", "a\tb", "CON", "%s{0}"]
    rows = "\n".join('"{}",150'.format(name.replace('"', '""')) for name in nasty)
    found = parse_roster("name,snug\n" + rows)
    assert [one.name for one in found.learners] == [*nasty[:3], "a b", *nasty[4:]]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "nobody"),
        ("name,snug\n,,\n", "nobody"),
        ("name,girth\nMia,150\n", "girth"),
        ("name,snug,snug\nMia,150,1\n", "snug"),
        ("name,ease\nMia,10\n", "ease"),
        ("name,snug\nMia,wide\n", "line 2, Mia, snug: wide"),
        ("name,snug\nMia,\n", "line 2, Mia, snug"),
        ("name,snug\nMia,150,10\n", "line 2: 3 cells"),
        ("name,snug\n,150\n", "line 2: ''"),
        ("name,snug,ease\nMia,150,-3\n", "line 2, Mia, ease"),
        ("name,snug,ease\nMia,150,3/4\n", "line 2, Mia, ease: 3/4"),
        ("name,snug,ease\nMia,150,0.75\n", "line 2, Mia, ease: 0.75"),
        ("name,snug\nMia,6 1/4\n", "line 2, Mia, snug: 6 1/4"),
        ("name,snug,colours\nMia,150,red\n", "line 2, Mia, colours"),
        ("name,snug,colours\nMia,150," + ";".join(f"{n:06x}" for n in range(13)), "colours"),
        ("name,snug\n" + "x" * 81 + ",150\n", "line 2"),
    ],
)
def test_every_fault_names_its_line(text: str, told: str) -> None:
    assert told in str(fault(text).got)


def test_a_band_in_inches_has_its_unit_at_the_end() -> None:
    assert band_mm("6 1/4 - 6 1/2 in") == pytest.approx((6.25 * 25.4, 6.5 * 25.4))
    assert band_mm("6\N{VULGAR FRACTION ONE HALF} - 7 in") == pytest.approx((165.1, 177.8))
    assert band_mm("6 - 6\N{VULGAR FRACTION ONE HALF} in") == pytest.approx((152.4, 165.1))


def test_ten_thousand_learners_are_too_many_and_told() -> None:
    error = fault("name,snug\n" + "\n".join(f"L{n},150" for n in range(10_000)))
    assert error.got == "10000 learners"
    assert str(MOST_LEARNERS) in error.wanted


@given(st.text(max_size=120))
def test_any_text_is_a_roster_or_refused(text: str) -> None:
    try:
        found = parse_roster(text)
    except BriefError:
        return
    assert len({one.name for one in found.learners}) == len(found.learners)


@pytest.mark.parametrize(
    ("text", "ends"),
    [
        ("150", (150.0, 150.0)),
        ("150-165", (150.0, 165.0)),
        ("150 - 165 mm", (150.0, 165.0)),
        ("15 to 16,5 cm", (150.0, 165.0)),
        ("6 in\N{EN DASH}6 1/2 in", (152.4, 165.1)),
        ("6-1/2 in", (165.1, 165.1)),
    ],
)
def test_bands(text: str, ends: tuple[float, float]) -> None:
    assert band_mm(text) == pytest.approx(ends)


@pytest.mark.parametrize("text", ["165-150", "150-", "150-160-170", "-150"])
def test_bands_that_cannot_be(text: str) -> None:
    with pytest.raises(BriefError):
        band_mm(text)
