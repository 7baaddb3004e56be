"""Pictures to pick from: palettes, colours, whatever is seen better than read."""

import base64
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

import streamlit as st

from explorer.app import state
from explorer.app.queued import news

_PARTS = files("explorer.app.parts")
_component = st.components.v2.component(
    "danglewise_choices",
    html=(_PARTS / "choices.html").read_text(encoding="utf-8"),
    css=(_PARTS / "choices.css").read_text(encoding="utf-8"),
    js=(_PARTS / "choices.js").read_text(encoding="utf-8"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One thing to pick: its id, its name, a line about it, and a PNG picture."""

    id: str
    label: str
    note: str = ""
    png: bytes = b""


def choices(
    label: str,
    items: tuple[Choice, ...],
    *,
    chosen: str,
    on_choice: Callable[[str], None],
    key: str,
    size: str = "card",
    brush: bool = False,
) -> None:
    """Draw the choices; a press calls ``on_choice`` with the id before the page is drawn again.

    Args:
        label: what is picked here, for those who hear the page.
        items: what there is.
        chosen: the id that is picked now; empty for none.
        on_choice: what to do with the id of a press; only ids of ``items`` come through.
        key: the component's own key.
        size: ``card``, ``small``, ``chip`` or ``bowl``.
        brush: whether the ids are places in the tray, and the one picked is what a tap on the
            picture gives from that moment on.
    """
    last = f"{key}_heard"
    ids = frozenset(item.id for item in items)

    def heard() -> None:
        held = st.session_state.get(key)
        presses = read_presses(
            held.get("chosen") if held is not None else None,
            ids,
            epoch=st.session_state[state.EPOCH],
            done=st.session_state.get(last, 0),
        )
        for number, id_ in presses:
            st.session_state[last] = number
            on_choice(id_)

    data = {
        "label": label,
        "chosen": chosen,
        "size": size,
        "brush": brush,
        "heard": st.session_state.get(last, 0),
        "epoch": st.session_state[state.EPOCH],
        "items": [
            {
                "id": item.id,
                "label": item.label,
                "note": item.note,
                "png": base64.b64encode(item.png).decode("ascii"),
            }
            for item in items
        ],
    }
    _component(key=key, data=data, on_chosen_change=heard)


def read_presses(
    sent: object, ids: frozenset[str], *, epoch: str, done: int
) -> tuple[tuple[int, str], ...]:
    """The presses that are new, by number, each with the id that was pressed.

    Args:
        sent: what the browser sent: a list of objects with ``n, epoch, id``.
        ids: the ids that there are; others are passed over.
        epoch: this session's mark.
        done: the highest number that was already heard.
    """

    def pressed(item: Mapping[str, Any]) -> str | None:
        id_ = item.get("id")
        return id_ if isinstance(id_, str) and id_ in ids else None

    return news(sent, pressed, epoch=epoch, done=done)
