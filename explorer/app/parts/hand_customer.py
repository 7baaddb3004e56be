"""The customer's page: which pieces, what they cost by the maker's rule, and the page itself."""

import streamlit as st

from explorer.app import cache, session, stock_session
from explorer.app.asks import OfferAsk
from explorer.app.handing import line, price_rule
from explorer.app.offers import Candidate, candidates, chosen, offer, usual_hours, usual_materials
from explorer.app.parts.hand_boxes import handing, paper_boxes, set_box, text_box
from explorer.app.parts.hand_result import result
from explorer.app.parts.notes import note
from explorer.customer_page import MOST_OFFERS
from explorer.errors import BriefError
from explorer.piece import Piece
from explorer.shelf import Saved, ShelfError
from palettes.errors import ChartError

_ABOUT = (
    "One to three pieces with picture, size and materials, the price worked out as materials + "
    "hours + overheads (common practice, no source), what to take care of, and a line to agree."
)


def hand_customer() -> None:
    """Boxes at the left, the page at the right."""
    found = candidates(session.work(), session.choosing(), _shelved())
    left, right = st.columns([2, 3], gap="large")
    with left:
        keys = _pick(found)
        for key in keys:
            _figures(key, found[key])
        _rule()
        text_box("to_whom", "For (may stay empty)")
        paper_boxes(large="")
    with right:
        result(lambda: _ask(keys, found), _ABOUT)


def _shelved() -> dict[int, tuple[Saved, Piece]]:
    """The pieces on the shelf that can be read; none where the shelf cannot."""
    shelved: dict[int, tuple[Saved, Piece]] = {}
    try:
        saved_pieces = session.shelf().find()
    except ShelfError:
        return shelved
    for saved in saved_pieces:
        try:
            shelved[saved.number] = (saved, cache.read_piece(saved.document))
        except ChartError:
            continue
    return shelved


def _pick(found: dict[str, Candidate]) -> tuple[str, ...]:
    def picked() -> None:
        set_box("offered", tuple(st.session_state["hand_offered"]))

    keys = chosen(handing().offered, found)
    st.session_state["hand_offered"] = list(keys)
    where = {"table": "on the table", "kept": "kept", "shelf": "on the shelf"}
    st.multiselect(
        "Pieces to choose from, up to three",
        list(found),
        format_func=lambda key: f"{found[key].piece.name} ({where[key.split()[0]]})",
        key="hand_offered",
        max_selections=MOST_OFFERS,
        placeholder="Choose a piece",
        on_change=picked,
    )
    if len(found) == 1:
        note(
            "Keep proposals, or put pieces on the shelf, and they can be chosen too.", kind="small"
        )
    return keys


def _figures(key: str, one: Candidate) -> None:
    """What a piece's materials cost and how long it takes."""
    work = session.work()
    cost = usual_materials(work, one.piece, stock_session.tray())
    note(one.piece.name)
    left, right = st.columns(2)
    with left:
        text_box(
            f"materials:{key}",
            "Materials",
            "All of them: beads, thread, closure. Beads alone are reckoned by the prices on the "
            "Counting page and with your beads while this is empty, and the page says so.",
            hint="not known yet" if cost is None else f"{cost} (beads)",
        )
    with right:
        measured = "as it took" if one.minutes is not None else "at your pace"
        text_box(f"hours:{key}", "Hours", hint=f"{usual_hours(work, one)} ({measured})")


def _rule() -> None:
    st.subheader("Your rule for prices", anchor=False)
    left, right = st.columns(2)
    with left:
        text_box("hourly", "An hour")
        text_box("currency", "Money", hint="€, kr, pounds")
    with right:
        text_box("overheads", "Overheads, in percent")
        text_box("changes", "Changes within the price")
    note("The rule is kept for the next time.", kind="small")


def _ask(keys: tuple[str, ...], found: dict[str, Candidate]) -> OfferAsk:
    if not keys:
        raise BriefError("offers", "", "one to three pieces", "Choose what to show.")
    held, tray = handing(), stock_session.tray()
    return OfferAsk(
        offers=tuple(offer(session.work(), held, key, found[key], tray) for key in keys),
        rule=price_rule(held),
        to_whom=line(held, "to_whom"),
        dated=line(held, "dated"),
    )
