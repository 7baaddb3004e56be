"""Proposals: different pieces for the same strip and colours, to keep, compare and put to work."""

import streamlit as st

from explorer.app import cache, session
from explorer.app.choosing import Choosing, asked, neighbour_words, shown, with_away, with_kept
from explorer.app.parts.at_hand import at_hand
from explorer.app.parts.compare import compare
from explorer.app.parts.decimal_box import shown as written
from explorer.app.parts.notes import fault, note
from explorer.app.parts.putting import put_on_table
from explorer.app.parts.search_line import searched
from explorer.app.parts.table import table
from explorer.app.parts.tradeoff import tradeoff_picture
from explorer.app.parts.units_box import chosen_units
from explorer.app.units import Units, told
from explorer.app.wording import sentence
from explorer.brief import MOST_SEED, HowMuch
from explorer.errors import BriefError
from explorer.fit import NoFit
from explorer.lengths import both
from explorer.propose import Proposal, Proposals

# Chosen by us: six rows of four on a wide page.
_COUNT = 24
_SETS = (
    "Note the number of a set to see the same one again. Put on the table makes one your "
    "piece; Undo brings the old one back."
)


def view() -> None:
    """The page."""
    table()
    st.header("Proposals", anchor=False)
    choosing = session.choosing()
    found = _found(choosing)
    if found is None:
        return
    _ask(choosing)
    compare(choosing)
    left = shown(choosing, found.proposals)
    if not left:
        note("All of these are hidden. Show others, or bring them back.")
    if len(left) > 1:
        with st.expander("All of them on a chart: weigh two things against each other"):
            tradeoff_picture(left, choosing.seed)
    grid = st.grid(min_column_width=230, gap="medium", key="proposals")
    for number, proposal in enumerate(left):
        with grid.cell(), st.container(gap="xsmall"):
            _card(number, proposal, choosing)


def _found(choosing: Choosing) -> Proposals | None:
    """The proposals, or None after saying what stands in their way."""
    question = asked(session.work(), choosing, _COUNT)
    if not question or isinstance(question[0], BriefError):
        note("Proposals wait for the boxes of the Size page:", kind="care")
        for error in question:
            if isinstance(error, BriefError):
                fault(error)
        return None
    brief, like = at_hand(question[0]), question[1]
    try:
        found = searched(brief, like)
    except BriefError as error:
        fault(error)
        return None
    if isinstance(found, NoFit):
        note(
            f"Not even one motif fits: the shortest strip with one is {both(found.needs_mm)}. "
            "Change the Size page first.",
            kind="fault",
        )
        return None
    return found


def _ask(choosing: Choosing) -> None:
    """What proposals to show: others, some more like one, a numbered set again."""
    st.session_state["proposals_seed"] = choosing.seed
    with st.container(horizontal=True, vertical_alignment="bottom"):
        st.button("Show others", on_click=_others, type="primary")
        if choosing.like is None:
            st.button("More like the piece above", on_click=_relatives_of_table)
        else:
            st.button("Back to all sorts", on_click=_all_sorts)
        if choosing.away:
            many = len(choosing.away)
            st.button(f"Bring back {many} hidden", on_click=_bring_back)
        st.number_input(
            "Number of this set",
            0,
            MOST_SEED,
            choosing.seed,
            step=1,
            key="proposals_seed",
            on_change=_typed_seed,
            width=160,
        )
        st.session_state["proposals_extras"] = choosing.extras
        st.segmented_control(
            "Tips, dividers, base, outlines in turn",
            list(HowMuch),
            key="proposals_extras",
            on_change=_picked_extras,
            # Relatives vary the rules of the piece that they are like.
            disabled=choosing.like is not None,
            required=True,
        )
    note(_SETS, kind="small")
    if choosing.like is not None:
        note("These are like it, the same but for one thing or two.")


def _others() -> None:
    session.choose(seed=(session.choosing().seed + 1) % (MOST_SEED + 1))


def _relatives_of_table() -> None:
    session.choose(like=session.work().piece.pattern)


def _all_sorts() -> None:
    session.choose(like=None)


def _bring_back() -> None:
    session.choose(away=frozenset())


def _picked_extras() -> None:
    session.choose(extras=HowMuch(st.session_state["proposals_extras"]))


def _typed_seed() -> None:
    session.choose(seed=int(st.session_state["proposals_seed"]))


def _card(number: int, proposal: Proposal, choosing: Choosing) -> None:
    on_table = session.work().piece.design == proposal.design
    kept = any(p.design == proposal.design for p in choosing.kept)
    st.image(
        cache.thumbnail(proposal.design),
        width="stretch",
        output_format="PNG",
        alt=written(f"Proposal {number + 1}: {proposal.reason}"),
    )
    note(written(f"{number + 1}. {sentence(proposal.reason)}"))
    note(card_figures(proposal, chosen_units()), kind="small")
    st.button(
        "On the table now" if on_table else "Put on the table",
        key=f"put_{number}",
        on_click=_put,
        args=(proposal, choosing.seed),
        disabled=on_table,
        width="stretch",
    )
    with st.container(horizontal=True, gap="small"):
        for label, name, act in (
            ("Kept" if kept else "Keep", "keep", _keep),
            ("More like it", "like", _like),
            ("Hide", "away", _away),
        ):
            st.button(
                label, key=f"{name}_{number}", on_click=act, args=(proposal,), type="tertiary"
            )


def _put(proposal: Proposal, seed: int) -> None:
    put_on_table(proposal, seed)


def _keep(proposal: Proposal) -> None:
    session.set_choosing(with_kept(session.choosing(), proposal))


def _like(proposal: Proposal) -> None:
    session.choose(like=proposal.pattern)


def _away(proposal: Proposal) -> None:
    session.set_choosing(with_away(session.choosing(), proposal.design))


def card_figures(proposal: Proposal, units: Units) -> str:
    """One proposal's figures in a line."""
    fit = proposal.fit
    parts = [f"{fit.motifs} motifs", f"{told(fit.slack_mm, units)} left over"]
    words = neighbour_words(proposal)
    parts.append(words if proposal.weakest is None else f"weakest neighbours {words}")
    return " · ".join(parts)
