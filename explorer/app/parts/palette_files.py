"""Palettes as files: opened in any of the open forms, and the colours on the table saved."""

import streamlit as st

from explorer.app import session, state, steps
from explorer.app.parts.notes import note
from explorer.app.wording import file_stem
from palettes.errors import ChartError
from palettes.palette_files import MOST_LETTERS, parse_palette_text, to_gpl, to_toml
from palettes.swatches import Palette, Swatch

# More colours than this are no piece's: the first ones are taken. Chosen by us, because it is a
# colour wheel of 12 twice.
MOST_TAKEN = 24
_FAULT, _SAID, _TEXT = "palette_file_fault", "palette_file_said", "palette_text"


def palette_files() -> None:
    """The way in, by file or pasted, and the way out."""
    left, right = st.columns(2, gap="large")
    with left:
        st.file_uploader(
            "Open a palette (.toml, .gpl, .pal, or any text with hex colours in it)",
            type=["toml", "gpl", "pal", "txt", "css", "json", "csv", "svg", "html"],
            key="palette_file",
            on_change=_opened,
        )
    with right:
        st.session_state["palette_pasted"] = st.session_state.get(_TEXT, "")
        st.text_area(
            "Or paste anything with hex colours in it",
            key="palette_pasted",
            on_change=_pasted,
            height=120,
        )
    words = st.session_state.get(_FAULT, "")
    if words:
        note(f"{words} The colours on the table are as they were.", kind="fault")
    said = st.session_state.get(_SAID)
    if said and said[0] == session.work().tray.swatches:
        note(said[1], kind="small")
    _save()


def _save() -> None:
    tray, name = session.work().tray, file_stem(session.work().piece.name)
    palette = Palette(
        name=name, title=session.work().piece.name, swatches=_once(tray), bases=(tray.base,)
    )
    with st.container(horizontal=True):
        st.download_button(
            "Save these colours (.toml)",
            to_toml(palette),
            file_name=f"{name}.toml",
            mime="application/toml",
            on_click="ignore",
        )
        st.download_button(
            "For drawing programs (.gpl)",
            to_gpl(palette),
            file_name=f"{name}.gpl",
            mime="text/plain",
            on_click="ignore",
        )


def _once(tray: state.Tray) -> tuple[Swatch, ...]:
    """The colours, no name twice, as a file wants them."""
    return tuple({swatch.name: swatch for swatch in reversed(tray.swatches)}.values())[::-1]


def _opened() -> None:
    upload = st.session_state["palette_file"]
    if upload is None:
        return
    if upload.size > 4 * MOST_LETTERS:
        st.session_state[_FAULT] = f"{upload.name} is too long for a palette."
        return
    _take(upload.getvalue().decode("utf-8", "replace"), upload.name)


def _pasted() -> None:
    text = str(st.session_state["palette_pasted"])
    st.session_state[_TEXT] = text
    st.session_state.pop(_FAULT, None)
    if text.strip():
        _take(text, "what was pasted")


def _take(text: str, name: str) -> None:
    """Put a palette on the table; what is no palette changes nothing."""
    st.session_state.pop(_FAULT, None)
    try:
        palette = parse_palette_text(text, name)
    except ChartError as error:
        st.session_state[_FAULT] = f"{error}."
        return
    taken = palette.swatches[:MOST_TAKEN]
    work = session.work()
    base = palette.bases[0] if palette.bases else work.tray.base
    st.session_state.pop(state.BRUSH, None)
    session.commit(steps.with_tray(work, state.Tray(swatches=taken, base=base)))
    more = len(palette.swatches) - len(taken)
    rest = f"; {more} more were left out" if more else ""
    st.session_state[_SAID] = (taken, f"{palette.title}: {len(taken)} colours on the table{rest}.")
