"""Where a photograph comes from: a file or the camera. What was read stays until another is."""

import streamlit as st

from explorer.app.parts.notes import fault, note
from explorer.app.photographs import Photo, read
from explorer.errors import BriefError
from gallery.photos import ENDINGS

# Chosen by us: large enough to aim with, small enough that its button is on the same screen.
_CAMERA_PX = 480
_NO_CAMERA = (
    "No picture above? The browser asks before it lets a page use the camera: allow it beside the "
    "address, then put the camera away and take it out again. Or take the photograph first and "
    "choose its file."
)


def photo_intake(label: str, key: str) -> Photo | None:
    """The boxes for a photograph, and the one that was brought last.

    Args:
        label: what it is for.
        key: under which all of it is held.
    """
    held_key, fault_key, camera_key = f"{key}_photo", f"{key}_fault", f"{key}_camera_on"

    def take(widget: str) -> None:
        brought = st.session_state.get(widget)
        if brought is None:
            return
        st.session_state.pop(fault_key, None)
        try:
            st.session_state[held_key] = read(brought.getvalue(), brought.name)
        except BriefError as error:
            st.session_state[fault_key] = error

    def turn() -> None:
        st.session_state[camera_key] = not st.session_state.get(camera_key, False)

    st.file_uploader(label, type=ENDINGS, key=f"{key}_file", on_change=take, args=(f"{key}_file",))
    camera = bool(st.session_state.get(camera_key, False))
    st.button(
        "Put the camera away" if camera else "Or take one with the camera",
        key=f"{key}_turn",
        on_click=turn,
        type="tertiary",
    )
    if camera:
        st.camera_input(
            "Take a photograph",
            key=f"{key}_shot",
            on_change=take,
            args=(f"{key}_shot",),
            width=_CAMERA_PX,
        )
        note(_NO_CAMERA, kind="small")
    error = st.session_state.get(fault_key)
    if isinstance(error, BriefError):
        fault(error)
    held = st.session_state.get(held_key)
    return held if isinstance(held, Photo) else None
