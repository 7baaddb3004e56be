"""Whose eyes, which lights, over what and from how far: the boxes of the Contrast page."""

from dataclasses import replace
from typing import Any

import streamlit as st

from explorer.app import address
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.judging_asked import (
    MOST_TYPED,
    OWN,
    SEVERITIES,
    Asked,
    Meant,
    asks_for_mixing,
    from_text,
    lights_in_order,
    sights_in_order,
    to_text,
)
from explorer.app.parts.judging_words import LIGHTS, SIGHTS
from explorer.app.parts.notes import fault, kept_place, note
from palettes.charts import skin_tones
from palettes.lights import Light
from palettes.skin import typology_angle_deg, typology_group
from palettes.spaces import hex_to_srgb1, srgb1_to_lab
from palettes.vision import Sight


def asked() -> Asked:
    """The choices as they stand."""
    return from_text(address.read(address.JUDGING))


def _change(name: str, key: str) -> None:
    value: Any = st.session_state[key]
    if name == "sights":
        value = sights_in_order(value)
    elif name == "lights":
        value = lights_in_order(value)
    address.write(address.JUDGING, to_text(replace(asked(), **{name: value})))


def _filled(name: str, value: object) -> dict[str, Any]:
    """What every box has in common: filled from the choices, reporting back to them."""
    key = f"judging_{name}"
    st.session_state[key] = value
    return {"key": key, "on_change": _change, "args": (name, key)}


def choices(now: Asked, meant: Meant) -> None:
    """Draw the boxes, each with its fault right below it."""
    st.pills(
        "Whose eyes",
        list(Sight),
        selection_mode="multi",
        format_func=lambda sight: SIGHTS[sight],
        **_filled("sights", list(now.sights)),
    )
    st.pills(
        "In which light",
        list(Light),
        selection_mode="multi",
        format_func=lambda light: LIGHTS[light],
        **_filled("lights", list(now.lights)),
    )
    if not now.sights or not now.lights:
        note("Where nothing is picked, it is most people, in daylight.")
    grid = st.grid(min_column_width=220, gap="medium", key="judging_boxes")
    with grid.cell():
        _severity(now)
    with grid.cell():
        _behind(now, meant)
    with grid.cell():
        _distance(now, meant)


def _severity(now: Asked) -> None:
    st.select_slider(
        "How strong their colour-blindness is",
        SEVERITIES,
        format_func=lambda percent: "whole" if percent == 100 else f"{percent} %",
        disabled=not asks_for_mixing(now),
        help="Most red-green types are mild; the whole type is the strictest test.",
        **_filled("severity", now.severity),
    )


def _behind(now: Asked, meant: Meant) -> None:
    names = {"": "Nothing: colours as picked", OWN: "A colour of your own"}
    for skin in skin_tones():
        angle = float(typology_angle_deg(srgb1_to_lab(hex_to_srgb1(skin.hex))))
        names[skin.name] = f"{skin.name.capitalize()}, {typology_group(angle)}"
    st.selectbox(
        "What lies behind the beads",
        list(names),
        format_func=lambda name: names[name],
        help="Glass lets its backing through. Skin tones: Monk Skin Tone Scale, CC BY 4.0.",
        **_filled("behind", now.behind),
    )
    if now.behind == OWN:
        st.text_input(
            "Its hex colour",
            now.own,
            placeholder="#d7bd96",
            max_chars=MOST_TYPED,
            **_filled("own", now.own),
        )
        _fault(meant, "backing")


def _distance(now: Asked, meant: Meant) -> None:
    st.text_input(
        "One more distance to judge from",
        now.distance,
        placeholder="4 m",
        max_chars=MOST_TYPED,
        help=shown("Beside the hand (0.4 m), the table (1 m) and the room (2.5 m)."),
        **_filled("distance", now.distance),
    )
    _fault(meant, "distance")


def _fault(meant: Meant, field: str) -> None:
    with kept_place():
        for error in meant.faults:
            if error.field == field:
                fault(error)
