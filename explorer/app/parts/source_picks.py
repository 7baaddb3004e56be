"""From one to three favourites to a palette that suits them and stands apart."""

import streamlit as st

from explorer.app import stock_session
from explorer.app.parts.bead_grid import bead_grid
from explorer.app.parts.chosen_beads import chosen_beads
from explorer.app.parts.notes import note
from explorer.app.parts.source_asked import asked, source_asked
from explorer.app.parts.source_search import source_search
from explorer.app.tasks import PaletteQuestion
from palettes.choose_from import MOST_PICKS, Request
from palettes.schemes import Scheme

_COLOURS, _BEADS, _SCHEME, _SEED = (
    "source_picks_colours",
    "source_picks_beads",
    "source_picks_scheme",
    "source_picks_seed",
)
# What the boxes begin with: three far apart on the wheel. Chosen by us.
_FIRST = ("#d1495b", "#1f8a83", "#f2c14e")
_SUIT = "in harmony"


def source_picks() -> None:
    """The favourites, how the others shall go with them, and the palette."""
    request = source_asked()
    if request is None:
        return
    picks = _colours() if request.tray is None else _beads(request)
    scheme = _scheme()
    if not picks:
        note("Pick one to three favourites, and the others are found for them.")
        return
    if len(picks) > request.size:
        note(f"{len(picks)} favourites need as many colours at least.", kind="care")
        return
    seed = int(st.session_state.get(_SEED, 1))

    def another() -> None:
        st.session_state[_SEED] = seed + 1

    # Out of beads in harmony the answer is one; else chance plays a part.
    varied = request.tray is None or scheme is not None
    question = PaletteQuestion(request=request, seed=seed, picks=picks, scheme=scheme)
    try:
        source_search(question, "source_picks", another=another if varied else None)
    except ValueError:
        note(
            f"The first favourite, {picks[0]}, is nearly grey, and a scheme needs a colour with a "
            f"hue. Pick another one first, or choose “{_SUIT}”.",
            kind="fault",
        )


def _colours() -> tuple[str, ...]:
    """Favourites as free colours."""
    held: tuple[str, ...] = st.session_state.get(_COLOURS, _FIRST[:2])

    def count() -> None:
        many = int(st.session_state["source_picks_many"])
        st.session_state[_COLOURS] = (*held, *_FIRST[len(held) :])[:many]

    def picked() -> None:
        st.session_state[_COLOURS] = tuple(
            str(st.session_state[f"source_pick_{place}"]).lower() for place in range(len(held))
        )

    st.session_state["source_picks_many"] = len(held)
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        st.segmented_control(
            "Favourites",
            list(range(1, MOST_PICKS + 1)),
            key="source_picks_many",
            required=True,
            on_change=count,
        )
        for place, hex_ in enumerate(held):
            st.session_state[f"source_pick_{place}"] = hex_
            st.color_picker(f"{place + 1}.", key=f"source_pick_{place}", on_change=picked)
    return tuple(dict.fromkeys(held))


def _beads(request: Request) -> tuple[str, ...]:
    """Favourites out of the beads at hand."""
    tray = stock_session.tray()
    held = chosen_beads(tray, _BEADS, "Your favourites", most=MOST_PICKS, kind=request.tray)

    def press(place: int) -> None:
        bead = tray.beads[place]
        keys = tuple(one.key for one in held if one.key != bead.key)
        st.session_state[_BEADS] = (*keys, bead.key)[-MOST_PICKS:]

    kind = request.tray.beads[0].kind.name if request.tray and request.tray.beads else ""
    with st.expander("Pick from my beads", expanded=len(held) < 1):
        bead_grid(tray, "source_picks", press, kind=kind)
    if asked().enough:
        few = [b.name for b in held if b.stock is not None and b.stock < request.beads_each]
        if few:
            note(
                f"There are too few of {', '.join(few)} for this piece, so the bead nearest to it "
                "stands in.",
                kind="care",
            )
    return tuple(dict.fromkeys(bead.hex for bead in held))


def _scheme() -> Scheme | None:
    options = [_SUIT, *(scheme.value for scheme in Scheme)]

    def picked() -> None:
        st.session_state[_SCHEME] = st.session_state["source_scheme"]

    st.session_state["source_scheme"] = st.session_state.get(_SCHEME, _SUIT)
    chosen = st.selectbox(
        "The others go with them",
        options,
        key="source_scheme",
        on_change=picked,
        width=260,
    )
    return None if chosen == _SUIT else Scheme(str(chosen))
