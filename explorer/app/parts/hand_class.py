"""Kits for a class: who learns, everyone's fit, what to buy, who lacks what, and all the pages."""

import streamlit as st

from explorer.app import cache_pages, session
from explorer.app.class_kit import ClassAsk, Job, class_ask, read_roster
from explorer.app.parts.class_beads import class_beads
from explorer.app.parts.class_tables import everyone_table, lacks_table, totals_table
from explorer.app.parts.decimal_box import chosen_decimal
from explorer.app.parts.hand_boxes import (
    choice_box,
    handing,
    paper_boxes,
    set_box,
    text_box,
    tick_box,
)
from explorer.app.parts.hand_result import lacking_words, sheet_of_paper
from explorer.app.parts.notes import fault, kept_place, note
from explorer.brief import whole
from explorer.cautions import Wear
from explorer.errors import BriefError
from explorer.kit import Kit, make_kit
from explorer.kit_roster import MOST_BYTES, Roster, band_mm
from explorer.lengths import millimetres
from palettes.tray import Tray

_JOB = "class_job"
_KIT = "class_kit"
_ASKED = "class_asked"
_FILE = "class_file"
_FILE_FAULT = "class_file_fault"
_BAND_FAULT = "class_band_fault"
# Chosen by us, because a class of thirty has a few bands of size and no course has two hundred.
_MOST_BANDS = 200
_HINT = "Ada, 152 mm\nBo, 6 1/4 in\n7, 148\nnot measured yet, 150 - 165"


def hand_class() -> None:
    """Roster and boxes at the left, the kit at the right."""
    left, right = st.columns([2, 3], gap="large")
    with left:
        roster = _roster()
        beads = _same_for_all()
    with right:
        _kit(roster, beads)


def _roster() -> Roster | None:
    """The learners to go on with, after what is wrong with the others was said."""
    text_box(
        "roster",
        "Learners, one a line: name, measurement",
        "Also, if wanted: ease, picks, colours. A first line may name the columns.",
        hint=_HINT,
        area=True,
        most=MOST_BYTES,
    )
    roster = _read(handing().roster)
    _from_file()
    return roster


def _read(text: str) -> Roster | None:
    """The good rows, after what is wrong with the others; none until it is said what to do."""
    if not text.strip():
        return None
    roster, faults = read_roster(text)
    for error in faults:
        got = str(error.got)
        note(f"{got[:1].upper()}{got[1:]}. Wanted: {error.wanted}. {error.remedy}", kind="fault")
    if faults and roster is not None:
        rows = f"row{'s' * (len(faults) > 1)}"
        tick_box("leave_out", f"Go on without the {len(faults)} {rows} named above")
        if not handing().leave_out:
            return None
    for remark in roster.remarks if roster is not None else ():
        note(f"{remark}.", kind="small")
    return roster


def _from_file() -> None:
    def opened() -> None:
        upload = st.session_state[_FILE]
        st.session_state.pop(_FILE_FAULT, None)
        if upload is None:
            return
        content = upload.getvalue()
        if len(content) > MOST_BYTES:
            st.session_state[_FILE_FAULT] = f"{upload.name} is larger than any roster."
            return
        try:
            set_box("roster", content.decode("utf-8-sig"))
        except UnicodeDecodeError:
            st.session_state[_FILE_FAULT] = (
                f"{upload.name} is no text in UTF-8. Save it as “CSV UTF-8”."
            )

    with st.expander("From a CSV file, or for learners not measured yet"):
        st.file_uploader(
            "Take the rows from a CSV file", type=["csv", "txt", "tsv"], key=_FILE, on_change=opened
        )
        words = st.session_state.get(_FILE_FAULT, "")
        if words:
            note(words, kind="fault")
        _bands()


def _bands() -> None:
    """Rows for a size band, added to those that stand there."""

    def add() -> None:
        st.session_state.pop(_BAND_FAULT, None)
        held = handing()
        try:
            band_mm(held.band)
            kits = whole("band_kits", held.band_kits, 1, _MOST_BANDS)
        except BriefError as error:
            st.session_state[_BAND_FAULT] = error
            return
        band = " ".join(held.band.replace(",", ".").split())
        rows = [f"{band} kit {number}, {band}" for number in range(1, kits + 1)]
        before = [held.roster.rstrip()] if held.roster.strip() else []
        set_box("roster", "\n".join([*before, *rows]))

    with st.container(horizontal=True, vertical_alignment="bottom"):
        with st.container(width=150):
            text_box("band", "Size band", hint="150 - 165 mm")
        with st.container(width=80):
            text_box("band_kits", "Kits")
        st.button("Add rows", key="class_band_add", on_click=add)
    error = st.session_state.get(_BAND_FAULT)
    if isinstance(error, BriefError):
        fault(error)


def _same_for_all() -> Tray | None:
    """The boxes for all together; the beads at hand, or none until it is said what to do."""
    st.subheader("The same for everyone", anchor=False)
    note("Strip and closure are those of the piece on the table.", kind="small")
    with kept_place():
        beads = class_beads()
    one, two = st.columns(2)
    with one:
        text_box("class_ease", "Ease, without their own", hint="usual for each")
    with two:
        text_box("colours_each", "Colours, without picks")
    by_size = {"": "what each measurement is usual for"}
    choice_box("class_wear", "Worn as", by_size | {wear.value: wear.value for wear in Wear})
    tick_box("own_outline", "The first motif's own outline, not the usual peak")
    paper_boxes()
    return beads


def _kit(roster: Roster | None, beads: Tray | None) -> None:
    if roster is None or beads is None:
        note(
            "A sheet for everyone with their own fit and order, labels for the bags, a plan of "
            "time, what to buy for all together, and who lacks what where the beads are short."
        )
        return
    try:
        ask = class_ask(session.work(), handing(), roster, beads, chosen_decimal())
        kit = _worked_out(ask)
    except BriefError as error:
        fault(error)
        return
    if kit is not None:
        _shown(ask, kit)


def _worked_out(ask: ClassAsk) -> Kit | None:
    """The kit, worked out when it is asked for and kept until another one is."""
    held = st.session_state.get(_KIT)
    if isinstance(held, tuple) and held[0] == ask and isinstance(held[1], Kit):
        return held[1]
    count = len(ask.learners)
    if st.session_state.get(_ASKED) != ask:
        note(f"{count} learner{'s' * (count > 1)}.")
        st.button("Work the kits out", type="primary", on_click=_want, args=(ask,))
        return None
    place = st.empty()
    with place.container():
        st.button("Cancel", key="class_stop", on_click=_stop)
        bar = st.progress(0.0, "Working out the first kit")

        def report(done: int, total: int) -> bool:
            bar.progress(done / total, f"Worked out {done} of {total}")
            return True

        kit = make_kit(ask.learners, ask.brief, report)
    place.empty()
    st.session_state[_KIT] = (ask, kit)
    return kit


def _want(ask: ClassAsk) -> None:
    st.session_state[_ASKED] = ask
    st.session_state.pop(_JOB, None)


def _stop() -> None:
    st.session_state.pop(_ASKED, None)
    st.session_state.pop(_JOB, None)


def _shown(ask: ClassAsk, kit: Kit) -> None:
    # Filled last, so that all that is known already can be read while the pages are printed.
    top = st.container()
    _tables(ask, kit)
    with top:
        _print(ask, kit)


def _tables(ask: ClassAsk, kit: Kit) -> None:
    """Who lacks what, what to buy, everyone, and the teacher's first page."""
    for one in kit.unfit:
        note(
            f"{one.learner.name} is measured too short for one motif: at least "
            f"{millimetres(one.needs_mm)} snug. No sheet is printed for them.",
            kind="care",
        )
    if ask.brief.tray:
        st.subheader("Who lacks what", anchor=False)
        if kit.short:
            note(
                "Shared so that nobody has more while somebody has less than needed; beads of the "
                "pieces first, then spares.",
                kind="small",
            )
            st.html(lacks_table(kit))
        else:
            note("Nobody: there is enough for everyone.")
    st.subheader("For all together", anchor=False)
    st.html(totals_table(kit))
    st.subheader("Everyone", anchor=False)
    st.html(everyone_table(kit))
    sheet_of_paper(_preview(ask, kit), "The first of the teacher's pages")


def _preview(ask: ClassAsk, kit: Kit) -> bytes:
    key = "class_preview"
    held = st.session_state.get(key)
    if not (isinstance(held, tuple) and held[0] == ask):
        held = (ask, cache_pages.class_preview(kit, ask.options, ask.paper, ask.decimal))
        st.session_state[key] = held
    png: bytes = held[1]
    return png


def _print(ask: ClassAsk, kit: Kit) -> None:
    """All pages as one file: asked for, being printed, or done."""
    job = st.session_state.get(_JOB)
    if not isinstance(job, Job) or job.ask != ask:
        st.button("Print everything", type="primary", on_click=_begin, args=(ask, kit))
        return
    if not job.archive:
        place = st.empty()
        with place.container():
            st.button("Cancel", key="class_stop_printing", on_click=_stop_printing)
            bar = st.progress(len(job.files) / job.total, f"Printed {len(job.files)}")
            for done in job.steps():
                bar.progress(done / job.total, f"Printed {done} of {job.total} documents")
        place.empty()
    sheets = len(kit.learners)
    st.download_button(
        f"Download everything (ZIP: {sheets} sheet{'s' * (sheets > 1)}, class, labels, figures)",
        job.archive,
        file_name="class-kit.zip",
        mime="application/zip",
        on_click="ignore",
        type="primary",
    )
    if job.lacking:
        note(lacking_words(tuple(job.lacking)), kind="care")


def _begin(ask: ClassAsk, kit: Kit) -> None:
    st.session_state[_JOB] = Job(ask=ask, kit=kit)


def _stop_printing() -> None:
    st.session_state.pop(_JOB, None)
