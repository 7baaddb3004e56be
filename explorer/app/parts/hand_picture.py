"""A picture of the piece as a file: worn or laid out, for a screen, to show around or to print."""

import streamlit as st

from explorer.app import cache_pages, session
from explorer.app.handing import Handing, line
from explorer.app.parts.bead_pick import pick_one
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.hand_boxes import choice_box, handing, set_box, text_box, tick_box
from explorer.app.parts.notes import fault, note
from explorer.app.parts.waiting import telling
from explorer.app.state import Work
from explorer.app.wording import file_stem
from explorer.errors import BriefError
from explorer.picture_files import MIDDLE_SKIN, PictureAsk, Use, View, printed_size
from gallery.scene import Ground
from palettes.charts import skin_tones

_VIEWS = {
    View.WORN.value: "Worn",
    View.LOOP.value: "Laid in a loop",
    View.STRIP.value: "As a strip",
    View.ROWS.value: "In rows",
    View.CLOSE.value: "Close up",
}
_USES = {
    Use.SCREEN.value: "For a screen",
    Use.SQUARE.value: "To show, square",
    Use.UPRIGHT.value: "To show, upright",
    Use.TRUE_SIZE.value: "To print at true size",
    Use.CLEAR.value: "Without a background",
    Use.VECTOR.value: "As lines (SVG)",
}
_GROUNDS = {
    Ground.PAPER.value: "Paper",
    Ground.LINEN.value: "Linen",
    Ground.SLATE.value: "Slate",
    Ground.SKIN.value: "Skin",
}
_CAPTIONED = (Use.SQUARE, Use.UPRIGHT)
_MIME = {"png": "image/png", "svg": "image/svg+xml"}


def hand_picture() -> None:
    """Boxes at the left, the picture and its file at the right."""
    left, right = st.columns([2, 3], gap="large")
    with left:
        view = View(choice_box("picture_view", "How it is seen", _VIEWS))
        use = Use(handing().picture_use)
        pick_one(
            "What the picture is for", _USES, use.value, "hand_picture_use",
            lambda chosen: set_box("picture_use", chosen),
        )  # fmt: skip
        ground = Ground(choice_box("picture_ground", "What it lies on", _GROUNDS))
        if view is View.WORN or ground is Ground.SKIN:
            _skin()
        if use in _CAPTIONED:
            text_box("picture_caption", "Words under it (may stay empty)")
        tick_box(
            "picture_alike",
            "Every bead alike",
            "Without the small differences that real beads and hand-made things have.",
        )
    with right:
        try:
            _picture(_ask(session.work(), handing(), view, use, ground))
        except BriefError as error:
            fault(error)


def _skin() -> None:
    names = {skin.hex: skin.name.capitalize() for skin in skin_tones()}
    pick_one(
        "Skin tone", names, handing().picture_skin, "hand_picture_skin",
        lambda chosen: set_box("picture_skin", chosen),
    )  # fmt: skip
    note("Monk Skin Tone Scale, CC BY 4.0.", kind="small")


def _ask(work: Work, held: Handing, view: View, use: Use, ground: Ground) -> PictureAsk:
    wearer = work.piece.wearer
    return PictureAsk(
        design=work.piece.design,
        girth_mm=None if wearer is None else wearer.snug_mm,
        view=view,
        use=use,
        ground=ground,
        skin=held.picture_skin or MIDDLE_SKIN,
        alike=held.picture_alike,
        caption=line(held, "picture_caption") if use in _CAPTIONED else "",
    )


def _picture(ask: PictureAsk) -> None:
    name = session.work().piece.name
    shown_at, file_at = st.container(), st.empty()
    with shown_at, telling("Drawing the picture") as told:
        if not cache_pages.picture_made(ask):
            # The file of the one before is not offered while another is drawn.
            file_at.empty()
        ending, content = cache_pages.picture(ask, told)
    alt = f"{name}, {_VIEWS[ask.view].lower()}"
    with shown_at:
        if ending == "png":
            st.image(content, width="stretch", output_format="PNG", alt=alt)
        else:
            st.image(content.decode("utf-8"), width="stretch", alt=alt)
        if ask.use is Use.TRUE_SIZE:
            note(shown(f"Printed: {printed_size(content)}."), kind="small")
    file_at.download_button(
        f"Download the picture ({ending.upper()}, {_size(len(content))})",
        content,
        file_name=f"{file_stem(name)}-{ask.view}.{ending}",
        mime=_MIME[ending],
        on_click="ignore",
        type="primary",
    )


def _size(many: int) -> str:
    """A file's size as phones and mail programs tell it."""
    return shown(f"{many / 1e6:.1f} MB") if many >= 1e6 else f"{max(1, round(many / 1e3))} kB"
