"""The answer: which two neighbours, to whom, in which light, from how far, and what to do."""

import streamlit as st

from explorer.app import session
from explorer.app.cache_judging import Question, close_up, mended, pair_from
from explorer.app.labels import as_html, as_label, isolated
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.judging_asked import Meant
from explorer.app.parts.judging_words import (
    button_words,
    distance_words,
    light_words,
    look_words,
    number,
    pair_name,
    sure_words,
    verdict_words,
    whom_words,
)
from explorer.app.parts.notes import note
from explorer.app.parts.tables import chip
from explorer.app.parts.tray import hanging_kind
from explorer.app.state import Work
from explorer.contrast_piece import Neighbours, PieceJudgement
from explorer.contrast_words import parts, summary, tenths
from explorer.design import motif_bead
from explorer.suggest import Suggestion
from palettes.beads import Bead
from palettes.difference import Verdict
from palettes.sizes import ROOM_M
from palettes.viewing import TYPICAL_DAYLIGHT, Condition

# The pair that the maker picked, as meeting and motif; None follows the weakest.
PAIR = "judging_pair"
# Chosen by us: more changes are no help in choosing one.
_MOST_CHANGES = 3
_ALIKE = (Verdict.SAME, Verdict.CLOSE)


def question_of(work: Work, meant: Meant) -> Question:
    """What the judgement of this work depends on."""
    return Question(
        design=work.piece.design,
        looks=meant.looks,
        backing=meant.backing,
        distance_m=meant.distance_m,
    )


def answer(
    work: Work, question: Question, judgement: PieceJudgement, row: Neighbours | None
) -> None:
    """Draw the answer for one pair, the weakest or the one that was picked."""
    st.html(f'<p class="dw-answer">{as_html(shown(summary(judgement)))}</p>')
    if row is None:
        return
    left, right = st.columns([4, 5], gap="large")
    with left:
        _close_ups(question, row)
        _pick(judgement, row)
    with right, st.container(gap="xsmall", key="judging_answer"):
        st.html(_facts(work, row))
        _what_to_do(work, question, row)


def rows_of(judgement: PieceJudgement) -> tuple[Neighbours, ...]:
    """Each two neighbouring motifs, weakest first; then facing dangles; then motifs that repeat.

    Facing dangles of a plain motif are its very colour, so they say nothing more.
    """
    motifs = {row.i: row for row in judgement.motifs}
    facing = [
        row
        for row in judgement.dangles
        if (row.left_hex, row.right_hex) != (motifs[row.i].left_hex, motifs[row.i].right_hex)
    ]
    judged = [row for row in judgement.motifs if not row.alike_by_choice]
    return (*judged, *facing, *judgement.motifs[len(judged) :])


def picked(judgement: PieceJudgement) -> Neighbours | None:
    """The pair that the maker picked, else the weakest; None where nothing is to compare."""
    rows = rows_of(judgement)
    wanted = st.session_state.get(PAIR)
    found = (row for row in rows if (row.meeting, row.i) == wanted)
    return next(found, judgement.weakest)


def _pick(judgement: PieceJudgement, row: Neighbours) -> None:
    rows = {(one.meeting, one.i): one for one in rows_of(judgement)}
    keys = list(rows)

    def take() -> None:
        chosen = keys[int(st.session_state["judging_pick"])]
        st.session_state[PAIR] = None if chosen == keys[0] else chosen

    at = keys.index((row.meeting, row.i)) if (row.meeting, row.i) in rows else 0
    st.session_state["judging_pick"] = at
    st.selectbox(
        "The two neighbours, weakest motifs first",
        range(len(keys)),
        format_func=lambda place: shown(pair_name(rows[keys[place]])) if place < len(keys) else "",
        key="judging_pick",
        on_change=take,
    )


def _close_ups(question: Question, row: Neighbours) -> None:
    """The two motifs as most people see them in daylight, as they look worst, and from afar."""
    looks = tuple(dict.fromkeys((TYPICAL_DAYLIGHT, row.worst_look)))
    with st.container(horizontal=True, gap="small", key="judging_close_ups"):
        for look in looks:
            with st.container(gap="xxsmall"):
                _close_up(question, row, look)
        with st.container(gap="xxsmall"):
            _from_afar(question, row)


def _close_up(question: Question, row: Neighbours, look: Condition) -> None:
    value = row.delta_e_2000 if look == TYPICAL_DAYLIGHT else row.worst
    words = look_words(look)
    caption = f"{words[0].upper()}{words[1:]}"
    st.image(
        close_up(question.design, row.i, look, question.backing),
        width="stretch",
        output_format="PNG",
        alt=f"Motifs {row.i + 1} and {row.j + 1} to {words}",
    )
    note(f"{caption}, motifs {row.i + 1} and {row.j + 1}", kind="small")
    note(f"{verdict_words(value)} (difference {tenths(value)})", kind="small")


def _from_afar(question: Question, row: Neighbours) -> None:
    far_m = question.distance_m or ROOM_M
    where = shown(f"from {far_m:g} m")
    st.image(
        pair_from(question.design, row.i, question.backing, far_m),
        width="stretch",
        output_format="PNG",
        alt=f"Motifs {row.i + 1} and {row.j + 1} {where}",
    )
    note(f"Most people, {where}", kind="small")
    note("As blurred as an ordinary eye sees it from there.", kind="small")


def _facts(work: Work, row: Neighbours) -> str:
    design = work.piece.design
    beads = [design.beads[motif_bead(design.motifs[motif])] for motif in (row.i, row.j)]
    two = " and ".join(f"{chip(bead)}{as_html(isolated(bead.name or bead.hex))}" for bead in beads)
    found = f"{verdict_words(row.worst)}, difference {shown(number(row))}"
    facts = (
        ("Which two", f"{as_html(parts(row))}: {two}<br>{as_html(found)}"),
        ("To whom", as_html(whom_words(row))),
        ("Which light", as_html(light_words(row))),
        ("From how far", as_html(shown(distance_words(row)))),
        ("How sure", as_html(shown(sure_words(row)))),
    )
    lines = "".join(f"<dt>{name}</dt><dd>{text}</dd>" for name, text in facts)
    return f'<dl class="dw-facts">{lines}</dl>'


def at_hand(work: Work) -> tuple[Bead, ...]:
    """The tray's colours as dangle beads."""
    kind = hanging_kind(work)
    return tuple(
        Bead(name=swatch.name, kind=kind, hex=swatch.hex, finish=swatch.finish)
        for swatch in work.tray.swatches
    )


def _what_to_do(work: Work, question: Question, row: Neighbours) -> None:
    changes = mended(work.piece.pattern, question, row, at_hand(work), _MOST_CHANGES)
    st.html('<p class="dw-do">What to do</p>')
    if row.alike_by_choice:
        note("They hold the same beads. If that is not meant, give one another colour.")
    elif row.worst_verdict in _ALIKE:
        note("One of these parts them; Undo takes it back." if changes else _NO_HELP)
    else:
        note("Nothing has to change." + (" These would part them more:" if changes else ""))
    for place, change in enumerate(changes):
        st.button(
            as_label(button_words(change, lambda value: shown(tenths(value)))),
            key=f"judging_do_{place}",
            on_click=_do,
            args=(change,),
            width="stretch",
        )


_NO_HELP = (
    "No swap and no colour at hand parts them without making other neighbours alike. "
    "Add a colour on the Colours page."
)


def _do(change: Suggestion) -> None:
    """Make the change; the pair that is shown is the weakest again."""
    st.session_state[PAIR] = None
    session.commit_changed(change.changed)
