"""The whole shelf as one archive, and pieces and archives put on it."""

import streamlit as st

from explorer.app import copying, network, session
from explorer.app.parts.notes import note
from explorer.app.parts.shelf_acts import attempt, say
from explorer.shelf_archive import MOST_ARCHIVE_BYTES, not_taken_words, to_archive
from explorer.shelf_import import all_entries, entries_in, put_new
from palettes.errors import ChartError

_KEY = "shelf_import"
# Chosen by us: hundreds of pieces with their photographs; more go through the command line.
_MOST_MB = 200
# Chosen by us: a few lines; the command line names them all.
_MOST_NAMED = 5


def shelf_files(*, empty: bool) -> None:
    """Both ways; an empty shelf has nothing to take along."""
    with st.expander("Take the shelf along, or bring pieces in"):
        if not empty:
            st.download_button(
                "Download all pieces and photographs (ZIP)",
                _packed,
                file_name="danglewise-shelf.zip",
                mime="application/zip",
                on_click="ignore",
            )
            note(
                "With who each is for, measurements and notes: for yourself, not for others. "
                + not_taken_words(network.told_place(session.shelf().path)),
                kind="small",
            )
        _say_copies()
        st.file_uploader(
            "Bring in a piece (JSON) or an archive (ZIP)",
            type=["json", "zip"],
            key=_KEY,
            on_change=_bring,
            max_upload_size=_MOST_MB,
        )
        note(
            f"A file of more than {_MOST_MB} MB comes in by the command line, up to "
            f"{MOST_ARCHIVE_BYTES // 1_000_000} MB: danglewise shelf import FILE",
            kind="small",
        )


def say_copy_fault() -> None:
    """That the shelf could not be copied, if it could not: nobody else would notice."""
    fault = copying.fault()
    if fault:
        note(f"The shelf could not be copied today: {fault}.", kind="fault")


def _say_copies() -> None:
    day = copying.last_day()
    if day:
        note(
            "The shelf is copied beside itself at each start of the app, and once a day while it "
            f"is used; the newest copy is of {day}.",
            kind="small",
        )


def _packed() -> bytes:
    """Packed when it is asked for; a piece that cannot be read stays on the shelf alone."""
    good, _ = all_entries(session.shelf())
    return to_archive(good)


def _bring() -> None:
    upload = st.session_state[_KEY]
    if upload is None:
        return

    def bring() -> None:
        left_out: list[ChartError] = []
        entries = entries_in(upload.getvalue(), upload.name, left_out)
        done = put_new(session.shelf(), entries)
        left_out += done.left_out
        named = [f"Left out: {error}." for error in left_out[:_MOST_NAMED]]
        more = len(left_out) - len(named)
        say(" ".join((f"{done.words}.", *named, f"And {more} more." if more else "")).strip())

    attempt(bring)
