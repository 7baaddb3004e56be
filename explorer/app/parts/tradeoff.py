"""The picture of proposals over two scores; the one that is picked stands beside it."""

from importlib.resources import files
from typing import Any

import streamlit as st

from explorer.app import address, cache, session
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import note
from explorer.app.parts.putting import put_on_table
from explorer.app.tradeoff import SCORES, Mark, Score, Tradeoff, scores_from, tradeoff
from explorer.app.wording import sentence
from explorer.design import Design
from explorer.propose import Proposal

KEY = "tradeoff"
# The design that was picked; none follows the first that nothing beats.
PICKED = "tradeoff_picked"
_COUNT = "tradeoff_count"

_PARTS = files("explorer.app.parts")
_component = st.components.v2.component(
    "danglewise_tradeoff",
    html=(_PARTS / "tradeoff.html").read_text(encoding="utf-8"),
    css=(_PARTS / "tradeoff.css").read_text(encoding="utf-8"),
    js=(_PARTS / "tradeoff.js").read_text(encoding="utf-8"),
)


_SCALES = (
    "Apart is the difference of motifs side by side, each as a whole (CIEDE2000): from 10 they can "
    "be told apart, from 20 they stand well apart, across a room too. Colours go together from "
    "below 0, which clashes, to about 1.2 at best."
)


def tradeoff_picture(proposals: tuple[Proposal, ...], seed: int) -> None:
    """Draw it, with the boxes for the scores and the proposal that is picked.

    Args:
        proposals: in the order in which their cards are numbered.
        seed: what they were made from.
    """
    left, right = st.columns([5, 3], gap="large")
    with left:
        across, up = _scores()
        found = tradeoff(proposals, across, up)
        if not found.marks:
            note("These proposals have no neighbours to compare: one motif has none.")
            return
        at = _picked(proposals, found)
        _draw(proposals, found, at)
        note(
            "Better lies to the right and upward. A filled diamond: no other proposal is as good "
            "in both and better in one. Marks that would hide each other move aside.",
            kind="small",
        )
        note(_SCALES, kind="small")
    with right, st.container(key="tradeoff_card", gap="small"):
        _card(proposals[at], at, seed)


def _scores() -> tuple[str, str]:
    across, up = scores_from(address.read(address.SCORES))

    def take() -> None:
        names = [str(st.session_state[key]) for key in ("tradeoff_across", "tradeoff_up")]
        if names[0] == names[1]:
            # The axis that was not touched takes what the other had.
            names = [names[0], across] if names[0] != across else [up, names[1]]
        address.write(address.SCORES, "~".join(names))

    st.session_state["tradeoff_across"], st.session_state["tradeoff_up"] = across, up
    grid = st.grid(min_column_width=230, gap="small", key="tradeoff_scores")
    for label, key in (("To the right", "tradeoff_across"), ("Upward", "tradeoff_up")):
        with grid.cell():
            st.selectbox(
                label,
                list(SCORES),
                format_func=lambda name: SCORES[name].label,
                key=key,
                on_change=take,
            )
    return across, up


def _picked(proposals: tuple[Proposal, ...], found: Tradeoff) -> int:
    design: Design | None = st.session_state.get(PICKED)
    places = [mark.place for mark in found.marks]
    same = (place for place in places if proposals[place].design == design)
    first = next(mark.place for mark in found.marks if mark.unbeaten)
    return next(same, first)


def _draw(proposals: tuple[Proposal, ...], found: Tradeoff, at: int) -> None:
    across, up = (SCORES[name] for name in scores_from(address.read(address.SCORES)))

    def heard() -> None:
        held = st.session_state.get(KEY)
        sent = held.get("chosen") if held is not None else None
        place = sent.get("place") if isinstance(sent, dict) else None
        if isinstance(place, int) and 0 <= place < len(proposals):
            st.session_state[_COUNT] = st.session_state.get(_COUNT, 0) + 1
            st.session_state[PICKED] = proposals[place].design

    data: dict[str, Any] = {
        "label": f"Proposals: {across.label} to the right, {up.label} upward",
        "names": [across.label, up.label],
        "ticks": [[[place, shown(text)] for place, text in axis] for axis in found.ticks],
        "marks": [
            {
                "place": mark.place,
                "across": mark.across,
                "up": mark.up,
                "unbeaten": mark.unbeaten,
                "label": shown(mark_words(mark, proposals[mark.place].reason, (across, up))),
            }
            for mark in found.marks
        ],
        "chosen": at,
        "count": st.session_state.get(_COUNT, 0),
    }
    _component(key=KEY, data=data, on_chosen_change=heard)


def mark_words(mark: Mark, reason: str, scores: tuple[Score, Score]) -> str:
    """One mark in words: its number, why it is here, both scores, whether anything beats it."""
    values = "; ".join(
        f"{score.label}: {value}" for score, value in zip(scores, mark.values, strict=True)
    )
    best = " Nothing beats it." if mark.unbeaten else ""
    return f"{mark.place + 1}: {sentence(reason)} {values}.{best}"


def _card(proposal: Proposal, place: int, seed: int) -> None:
    on_table = session.work().piece.design == proposal.design

    def put() -> None:
        put_on_table(proposal, seed)

    st.image(
        cache.thumbnail(proposal.design),
        width="stretch",
        output_format="PNG",
        alt=shown(f"Proposal {place + 1}: {proposal.reason}"),
    )
    note(shown(f"{place + 1}. {sentence(proposal.reason)}"))
    st.button(
        "On the table now" if on_table else "Put on the table",
        key="tradeoff_put",
        on_click=put_on_table,
        args=(proposal, seed),
        disabled=on_table,
        type="primary",
        width="stretch",
    )
