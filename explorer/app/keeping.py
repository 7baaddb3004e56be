"""Keeps what lies on the table after every step, and never over what another tab has kept.

Two tabs can show one table. The one that comes second to keep something finds a revision that it
has not seen; what it has goes to a table of its own at once, so that both are kept whichever way
the maker then chooses.
"""

import re
import secrets
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import streamlit as st

from explorer import shelf_tables
from explorer.app import drafts, network, state
from explorer.app.choosing import Choosing, joined
from explorer.app.demo import demo
from explorer.app.kept import choosing_from, from_text, to_text, typed_from, who_from
from explorer.app.kept_steps import Packer
from explorer.app.state import History, Work
from explorer.shelf import ShelfError
from palettes.errors import ChartError

_MARK = re.compile("[0-9a-f]{16}")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lying:
    """What lies on a table, with the revision that it was kept as; 0 for a new one."""

    history: History
    stitch: int = 0
    choosing: Choosing = field(default_factory=Choosing)
    typed: tuple[drafts.Draft, ...] = ()
    who: str = ""
    revision: int = field(default=0, compare=False)


@dataclass(slots=True, kw_only=True)
class _Memory:
    """What this tab knows of its table on the shelf.

    One object that changes, since the framework can end a run at any use of the session: what was
    kept and that it was kept must not come apart.

    Attributes:
        mark: the table's.
        kept: what was last seen there.
        packer: what packs the steps.
        elsewhere: the table that this tab had before another one changed it; empty for none.
        taken: what was taken from there last.
        lost: why what was kept of the table cannot be read, until something else is kept.
    """

    mark: str
    kept: _Lying
    packer: Packer
    elsewhere: str = ""
    taken: Work | None = None
    lost: str = ""


def begin(mark: str) -> None:
    """Lay on the table what was kept of it, or the demo on a new one.

    Args:
        mark: from the address, so it can be anything.
    """
    memory = _Memory(mark=_new_mark(), kept=_Lying(history=History(now=demo())), packer=Packer())
    st.session_state[state.SHELF_FAULT] = _why_not(_look)
    if _MARK.fullmatch(mark) and not unkept():
        found = _lying_on(mark, memory)
        if found is not None:
            memory.mark, memory.kept = mark, found
    st.session_state[state.KEPT] = memory
    _lay(memory.kept)
    if memory.kept.typed:
        # The words stand there again, and not behind another press.
        st.session_state[state.OPENED] = memory.kept.typed[-1].seen.number


def _lay(lying: _Lying) -> None:
    st.session_state[state.PLACE] = lying.stitch
    st.session_state[state.CHOOSING] = lying.choosing
    _lay_typed(lying.typed)
    st.session_state[state.WHO] = lying.who
    # Last, for a session that has a history has begun.
    st.session_state[state.HISTORY] = lying.history


def _lay_typed(typed: tuple[drafts.Draft, ...]) -> None:
    st.session_state[state.DRAFTS] = {draft.seen.number: draft for draft in typed}


def _memory() -> _Memory:
    held: _Memory = st.session_state[state.KEPT]
    return held


def mark() -> str:
    """The mark of the table."""
    return _memory().mark


def changed_elsewhere() -> bool:
    """Whether another tab changed the table, and this one stands on a table of its own since."""
    return bool(_memory().elsewhere)


def taken() -> Work | None:
    """What was taken from the other tab last."""
    return _memory().taken


def lost() -> str:
    """Why what was kept of this table cannot be read; empty where it can."""
    return _memory().lost


def unkept() -> str:
    """Why nothing on the table is being kept, and what to do; empty where it is."""
    held: str = st.session_state.get(state.SHELF_FAULT, "")
    return held


def _new_mark() -> str:
    return secrets.token_hex(8)


def _lying_on(mark: str, memory: _Memory) -> _Lying | None:
    """What was kept of a table, if it can still be read."""
    try:
        kept = shelf_tables.kept(network.shelf(), mark)
        if kept is None:
            return None
        now, stitch = from_text(kept.document)
    except (ShelfError, ChartError) as error:
        memory.lost = str(error)
        return None
    return _Lying(
        history=memory.packer.unpacked(kept.steps, now),
        stitch=stitch,
        choosing=choosing_from(kept.document),
        typed=typed_from(kept.document),
        who=who_from(kept.document),
        revision=kept.revision,
    )


def _on_table() -> _Lying:
    opened = st.session_state.get(state.OPENED)
    # The piece whose details are open comes last, and with nothing typed too: a page outlives a
    # restart of the server, and what is in its boxes then needs what they were filled with.
    held = sorted(st.session_state[state.DRAFTS].items(), key=lambda one: one[0] == opened)
    return _Lying(
        history=st.session_state[state.HISTORY],
        stitch=st.session_state[state.PLACE],
        choosing=st.session_state[state.CHOOSING],
        typed=tuple(one for number, one in held if one.wanted or number == opened),
        who=st.session_state[state.WHO],
    )


def keep() -> None:
    """Keep what is new; the page begins anew where it has something to say about that."""
    memory, now = _memory(), _on_table()
    before = (unkept(), memory.mark, memory.lost)
    if now != memory.kept:
        st.session_state[state.SHELF_FAULT] = _why_not(lambda: _keep_new(memory, now))
    elif unkept():
        # It may have been mended by now.
        st.session_state[state.SHELF_FAULT] = _why_not(_look)
    if (unkept(), memory.mark, memory.lost) != before:
        st.rerun()


def _look() -> None:
    """Open the shelf, which tells whether it can be used at all."""
    with network.shelf().transaction():
        pass


def _why_not(act: Callable[[], object]) -> str:
    """Do something to the shelf; what is wrong with it and what to do, or nothing."""
    try:
        act()
    except ShelfError as error:
        where = network.told_place(network.shelf().path)
        return f"The shelf {where}: {error.why}. {error.remedy}"
    return ""


def _keep_new(memory: _Memory, now: _Lying) -> None:
    if _kept(memory, now, memory.mark, memory.kept.revision):
        return
    theirs = _lying_on(memory.mark, memory)
    if theirs is not None and any(_same_piece(theirs, one) for one in (memory.kept, now)):
        # The other tab only went on with the making, or somebody typed there about saved pieces:
        # that is taken over, unless this tab has a place, or words about that piece, of its own.
        if now.stitch == memory.kept.stitch:
            now = replace(now, stitch=theirs.stitch)
            st.session_state[state.PLACE] = theirs.stitch
        ours = () if now.typed == memory.kept.typed else now.typed
        who = theirs.who if now.who == memory.kept.who else now.who
        now = replace(now, typed=drafts.joined(ours, theirs.typed), who=who)
        _lay_typed(now.typed)
        st.session_state[state.WHO] = who
        if _kept(memory, now, memory.mark, theirs.revision):
            return
    own = _new_mark()
    _kept(memory, now, own, 0)
    memory.mark, memory.elsewhere = own, memory.mark


def _kept(memory: _Memory, now: _Lying, mark: str, seen: int) -> bool:
    """Keep it under a mark; whether nothing else was kept there meanwhile."""
    revision = shelf_tables.keep(
        network.shelf(),
        mark,
        to_text(now.history.now, now.stitch, now.choosing, now.typed, now.who),
        steps=memory.packer.packed(now.history),
        seen=seen,
    )
    if revision is None:
        return False
    memory.kept, memory.lost = replace(now, revision=revision), ""
    return True


def _same_piece(one: _Lying, other: _Lying) -> bool:
    return (one.history.now, one.choosing) == (other.history.now, other.choosing)


def take_elsewhere() -> None:
    """Lay the other tab's piece on this table as a step; from here on both show one table again."""
    memory, ours = _memory(), _on_table()
    theirs = _lying_on(memory.elsewhere, memory)
    if theirs is None:
        return
    memory.mark, memory.elsewhere, memory.kept = memory.elsewhere, "", theirs
    memory.taken = theirs.history.now
    after = state.changed(ours.history, theirs.history.now)
    _lay(
        replace(
            theirs,
            history=after,
            choosing=joined(theirs.choosing, ours.choosing),
            typed=drafts.joined(ours.typed, theirs.typed),
            who=ours.who or theirs.who,
        )
    )


def keep_mine() -> None:
    """Stay on the table of its own."""
    _memory().elsewhere = ""
