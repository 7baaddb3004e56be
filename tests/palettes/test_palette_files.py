"""Palettes as text: there and back, pasted lists, open formats, and what is none."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL.GimpPaletteFile import GimpPaletteFile

from palettes.charts import palette, palette_names, parse_palette
from palettes.errors import ChartError
from palettes.finishes import Finish
from palettes.palette_files import parse_palette_text, to_gpl, to_toml
from palettes.swatches import Palette, Swatch

TEXT = st.text(min_size=1, max_size=12).filter(str.strip)


@pytest.mark.parametrize("name", palette_names())
def test_our_own_form_comes_back(name: str) -> None:
    ours = palette(name)
    assert parse_palette_text(to_toml(ours), "x.toml") == ours


@given(st.lists(TEXT, min_size=1, max_size=4, unique=True), TEXT, st.sampled_from(list(Finish)))
def test_any_text_comes_back(names: list[str], title: str, finish: Finish) -> None:
    own = Palette(
        name="own",
        title=title,
        note=title,
        tags=(title,),
        swatches=tuple(Swatch(name=name, hex="#123456", finish=finish) for name in names),
    )
    try:
        to_toml(own).encode()
    except UnicodeEncodeError:
        # Half of a surrogate pair is no letter.
        return
    assert parse_palette(to_toml(own), "own.toml") == own


def test_the_open_text_format_is_read_as_pillow_reads_it() -> None:
    ours = palette("rockpool")
    text = to_gpl(ours)
    colours, mode = GimpPaletteFile(io.BytesIO(text.encode())).getpalette()
    assert mode == "RGB"
    wanted = b"".join(bytes.fromhex(hex_.removeprefix("#")) for hex_ in ours.hexes)
    assert colours[: len(wanted)] == wanted
    back = parse_palette_text(text, "folder/mine.gpl")
    assert (back.name, back.title, back.hexes) == ("mine", ours.title, ours.hexes)
    assert [s.name for s in back.swatches] == [s.name for s in ours.swatches]


def test_open_formats_as_others_write_them() -> None:
    gpl = (
        "GIMP Palette\r\nName: Two\r\nColumns: 2\r\n# a word\r\n\r\n"
        "255   0  0\tRed One\r\n  0  0 255\tUntitled\r\n255 0 0 again\r\n"
    )
    found = parse_palette_text(gpl, "two.gpl")
    assert found.hexes == ("#ff0000", "#0000ff")
    assert [swatch.name for swatch in found.swatches] == ["Red One", "bright blue"]
    pal = parse_palette_text("JASC-PAL\n0100\n2\n255 0 0\n1 2 3\n", "a.pal")
    assert pal.hexes == ("#ff0000", "#010203")


@pytest.mark.parametrize(
    "text",
    [
        "#ff0000 #00ff00\n#0000ff",
        "ff0000,00ff00,0000ff",
        "0xff0000; 0x00FF00; 0x0000FF",
        'a { color: #f00; background: #0f0 } b { fill: "#00f" }',
        '["#ff0000", "#00ff00", "#0000ff"]',
        "My colours are FF0000 and #00ff00, then\t#0000FF.",
        "\ufeff#ff0000#00ff00#0000ff#ff0000",
    ],
)
def test_hex_colours_pasted_from_anywhere(text: str) -> None:
    assert parse_palette_text(text, "pasted").hexes == ("#ff0000", "#00ff00", "#0000ff")


def test_names_are_made_once_each() -> None:
    found = parse_palette_text("#ff0000 #fe0000 #fd0000", "pasted")
    assert [swatch.name for swatch in found.swatches] == [
        "bright red",
        "bright red 2",
        "bright red 3",
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "0 colours"),
        ("hello &#123456; defaced0 12345 1234567", "0 colours"),
        ("GIMP Palette\n300 0 0 x\n", "line 2"),
        ("GIMP Palette\nred\n", "line 2"),
        ("JASC-PAL\n0100\n3\n255 0 0\n", "3 colours, and 1 follow"),
        ("JASC-PAL\n", "nothing"),
        ("[[swatch]]\nname = 3", "name"),
        ("#123456 " * 30_000, "letters"),
        (" ".join(f"#{i:06x}" for i in range(257)), "257 colours"),
    ],
)
def test_what_is_no_palette(text: str, told: str) -> None:
    with pytest.raises(ChartError, match=told):
        parse_palette_text(text, "x")
