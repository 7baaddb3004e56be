"""Pictures of a piece as files: how it is seen, what the picture is for, and what it lies on."""

from dataclasses import dataclass
from enum import StrEnum

from explorer.design import Design
from explorer.errors import BriefError
from explorer.graphemes import told_signs
from explorer.layout import loop_scene, motif_scene, rows_scene, strip_scene
from explorer.layout_columns import Hang
from explorer.layout_worn import worn_scene
from gallery.files import to_png, undrawn
from gallery.framing import framed
from gallery.grounds import on_ground
from gallery.page import A4, LETTER
from gallery.raster import draw
from gallery.scene import Ground, Scene, Srgb1
from gallery.social import social
from gallery.steps import Progress
from gallery.true_size import MM_PER_INCH, TRUE_SIZE_DPI, true_size_png
from palettes.spaces import hex_to_srgb1

# A tone of the middle of a published scale; see palettes/data/skin_tones.toml.
MIDDLE_SKIN = "#a07e56"
# Rows of a long strip, and motifs of a close view. Chosen by us, because each fills about a square.
_ROWS, _CLOSE = 3, 3
# The longer side. Chosen by us, because they are a screen's width, a stamp's, and more than a print
# of a page takes at 300 dpi.
USUAL_PX, LEAST_PX, MOST_PX = 2000, 200, 6000


class View(StrEnum):
    """How a piece is seen."""

    STRIP = "strip"
    ROWS = "rows"
    LOOP = "loop"
    CLOSE = "close"
    WORN = "worn"


class Use(StrEnum):
    """What a picture is for."""

    SCREEN = "screen"
    SQUARE = "square"
    UPRIGHT = "upright"
    TRUE_SIZE = "true-size"
    CLEAR = "clear"
    VECTOR = "vector"


_SHOWN_AROUND = (Use.SQUARE, Use.UPRIGHT)
# Seen from an eye's place, so that nothing in it has the size of life or an outline of its own.
_NOT_WORN = (Use.TRUE_SIZE, Use.CLEAR, Use.VECTOR)


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureAsk:
    """All that a picture's file depends on.

    Attributes:
        design: the piece.
        girth_mm: round the bare limb, for the worn view.
        view, use: how it is seen, and what for.
        ground: what it lies on; a clear picture and one of lines have none.
        skin: the skin's colour, where there is skin.
        alike: draw every bead alike, without the small irregularities of real ones.
        caption: up to two lines under a picture to show around.
        longer_px: the longer side of a picture for a screen or without ground.
    """

    design: Design
    girth_mm: float | None = None
    view: View = View.STRIP
    use: Use = Use.SCREEN
    ground: Ground = Ground.PAPER
    skin: str = MIDDLE_SKIN
    alike: bool = False
    caption: str = ""
    longer_px: int = USUAL_PX


def view_scene(
    design: Design,
    view: View,
    *,
    girth_mm: float | None = None,
    skin: str = MIDDLE_SKIN,
    hang: Hang = Hang.FREE,
) -> Scene:
    """A view of a piece as a scene.

    Raises:
        BriefError: the piece is to be worn, and the girth is not known or it does not go round.
    """
    match view:
        case View.LOOP:
            return loop_scene(design, hang=hang)
        case View.ROWS:
            return rows_scene(design, rows=min(_ROWS, len(design.motifs)), hang=hang)
        case View.CLOSE:
            first = min(1, len(design.motifs) - 1)
            return motif_scene(design, first, min(_CLOSE, len(design.motifs) - first), hang=hang)
        case View.STRIP:
            return strip_scene(design, hang=hang)
        case View.WORN:
            return _worn(design, girth_mm, skin, hang)


def _worn(design: Design, girth_mm: float | None, skin: str, hang: Hang) -> Scene:
    if girth_mm is None:
        raise BriefError(
            "view", View.WORN, "a piece that was measured for someone",
            "Write a measurement on the Size page, or choose another view.",
        )  # fmt: skip
    try:
        return worn_scene(design, girth_mm, skin_srgb1=_colour(skin), hang=hang)
    except ValueError as error:
        raise BriefError(
            "view", View.WORN, f"a piece that goes round ({error})",
            "Fit it with more ease or a closure first, or choose another view.",
        ) from error  # fmt: skip


def _colour(hex_: str) -> Srgb1:
    red, green, blue = hex_to_srgb1(hex_).tolist()
    return red, green, blue


def ending_of(use: Use) -> str:
    """How the name of a picture's file ends, without the dot."""
    return "svg" if use is Use.VECTOR else "png"


def check_ask(ask: PictureAsk) -> None:
    """Refuse what can be seen to be no picture before anything is drawn.

    Raises:
        BriefError: that view cannot be had for that use, the longer side is none of ours, or the
            caption holds signs that we cannot draw.
    """
    missing = undrawn(ask.caption)
    if missing:
        raise BriefError(
            "caption", told_signs(missing), "signs that the font of our pictures has",
            "Leave these out, or write them in letters.",
        )  # fmt: skip
    if ask.view is View.WORN and ask.use in _NOT_WORN:
        raise BriefError(
            "use", ask.use, "a flat view for this use",
            "Choose the strip, the loop or the motifs close up.",
        )  # fmt: skip
    if not LEAST_PX <= ask.longer_px <= MOST_PX:
        raise BriefError(
            "longer_px", ask.longer_px, f"{LEAST_PX} to {MOST_PX} pixels", "Choose another size."
        )


def picture_file(ask: PictureAsk, *, progress: Progress | None = None) -> tuple[str, bytes]:
    """The picture: its file ending and its bytes.

    Args:
        ask: all that it depends on.
        progress: told how many hundredths are done; not of lines (SVG), which take no time.

    Raises:
        BriefError: that view cannot be had for that use, or the picture would be too large.
    """
    check_ask(ask)
    hang = Hang.REGULAR if ask.alike else Hang.FREE
    scene = view_scene(ask.design, ask.view, girth_mm=ask.girth_mm, skin=ask.skin, hang=hang)
    ground_colour = _colour(ask.skin) if ask.ground is Ground.SKIN else None
    try:
        content = _file(ask, on_ground(scene, ask.ground, ground_colour), progress)
    except ValueError as error:
        raise BriefError(
            "use", ask.use, f"a picture that can be drawn ({error})",
            "Choose another view, such as rows or the motifs close up.",
        ) from error  # fmt: skip
    return ending_of(ask.use), content


def printed_size(content: bytes) -> str:
    """How large a picture at true size is printed, and what holds it where no sheet does.

    Args:
        content: the PNG file.
    """
    # The width and height in its head (ISO/IEC 15948, IHDR).
    wide, high = (int.from_bytes(content[at : at + 4], "big") for at in (16, 20))
    wide_mm, high_mm = (px * MM_PER_INCH / TRUE_SIZE_DPI for px in (wide, high))
    size = (
        f"{wide_mm:.1f} x {high_mm:.1f} mm "
        f"({wide_mm / MM_PER_INCH:.2f} x {high_mm / MM_PER_INCH:.2f} in), {wide} x {high} pixels"
    )
    longer, shorter = max(wide_mm, high_mm), min(wide_mm, high_mm)
    if any(longer <= one.height_mm and shorter <= one.width_mm for one in (A4, LETTER)):
        return size
    return (
        f"{size}; larger than a sheet of {A4.name} or {LETTER.name} paper: the making sheet prints "
        "the strip in parts"
    )


def _file(ask: PictureAsk, scene: Scene, progress: Progress | None) -> bytes:
    if ask.use is Use.VECTOR:
        from gallery.vector import to_svg

        return to_svg(scene).encode("utf-8")
    if progress is None:
        return _png(ask, scene, None)

    def told(done: int, total: int) -> None:
        # The last hundredth is the file's.
        progress(99 * done // total, 100)

    content = _png(ask, scene, told)
    progress(100, 100)
    return content


def _png(ask: PictureAsk, scene: Scene, progress: Progress | None) -> bytes:
    seed = None if ask.alike else 0
    if ask.use is Use.TRUE_SIZE:
        return true_size_png(scene, seed=seed, progress=progress)
    if ask.use in _SHOWN_AROUND:
        return to_png(
            social(scene, ask.use.value, caption=ask.caption, seed=seed, progress=progress)
        )
    scale = ask.longer_px / max(scene.width_mm, scene.height_mm)
    exact, px_per_mm = framed(
        scene, max(1, round(scene.width_mm * scale)), max(1, round(scene.height_mm * scale))
    )
    clear = ask.use is Use.CLEAR
    return to_png(draw(exact, px_per_mm, seed=seed, clear=clear, progress=progress))
