"""What browsers may send to the server: only what a page of ours has asked for, and so much of it.

The framework gives each file that a page asks for an address of its own, which nobody can guess.
It takes files at made-up addresses too, bounds each by itself and not all together, and holds them
in memory until the session ends. Here only addresses that were given out are known, each for one
file, and what is held is bounded for a session and for all of them. Where a session has no room
left for one more file, its oldest ones make room: a page reads a file when it comes.
"""

import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from typing import Any

# 1024 times 1024 bytes: exact by definition.
MB = 1024 * 1024
# Chosen by us: of one session two files of the largest size that is taken (60 MB, see
# explorer.app.start), because the one that is looked at and the next have room then; of all
# sessions together what a small computer can spare beside the server's own 400 MB.
MOST_OF_SESSION, MOST_OF_ALL = 120 * MB, 360 * MB
# Chosen by us: more files than anyone picks in one go, so that addresses cannot pile up either.
MOST_FILES = 200


class _Stage(Enum):
    AWAITED = auto()
    COMING = auto()
    HELD = auto()


@dataclass(slots=True, kw_only=True)
class _File:
    """One file that a page asked for; ``size`` is what it takes of the room, in bytes."""

    session: str
    name: str
    stage: _Stage = _Stage.AWAITED
    size: int = 0


class Uploads:
    """The files of every session: awaited, on their way, held."""

    def __init__(self) -> None:
        self._remove: Callable[[str, str], object] | None = None
        # Sessions end in whichever thread drops them.
        self._lock = threading.RLock()
        # By address, the oldest first.
        self._files: dict[str, _File] = {}
        # When each session's browser was last seen.
        self._seen: dict[str, float] = {}

    def guard(self, manager: Any) -> None:
        """Have the framework's holder of files keep to the bounds.

        Args:
            manager: ``streamlit.runtime.get_instance().uploaded_file_mgr``; its four calls that
                are changed here are those of the framework's protocol ``UploadedFileManager``.
        """
        ask, add = manager.get_upload_urls, manager.add_file
        remove, end = manager.remove_file, manager.remove_session_files
        self._remove = remove

        def get_upload_urls(session_id: str, file_names: Sequence[str]) -> Any:
            found = ask(session_id, list(file_names)[:MOST_FILES])
            self.give_out(session_id, {one.upload_url: one.file_id for one in found})
            return found

        def add_file(session_id: str, file: Any) -> None:
            if self.take(session_id, file.file_id, len(file.data)):
                add(session_id, file)

        def remove_file(session_id: str, file_id: str) -> None:
            self.drop(session_id, file_id)
            remove(session_id, file_id)

        def remove_session_files(session_id: str) -> None:
            self.end_session(session_id)
            end(session_id)

        for call in (get_upload_urls, add_file, remove_file, remove_session_files):
            setattr(manager, call.__name__, call)

    def give_out(self, session: str, addresses: Mapping[str, str]) -> None:
        """A page of a session asks for files: one address each, with the file's id."""
        with self._lock:
            for address, name in addresses.items():
                self._files[address] = _File(session=session, name=name)
            own = [one for one in self._of(session) if one.stage is not _Stage.COMING]
            for one in own[: max(0, len(own) - MOST_FILES)]:
                self._let_go(one)

    def knows(self, address: str) -> bool:
        """Whether an address was given out, its file not taken back, its session not over."""
        with self._lock:
            return address in self._files

    def begin(self, address: str, length: int) -> bool:
        """Make room for a file that is about to come; whether there is any.

        Args:
            address: where it is sent to.
            length: its bytes, with what they are wrapped in.
        """
        with self._lock:
            found = self._files.get(address)
            if found is None or found.stage is not _Stage.AWAITED:
                return False
            for one in self._of(found.session):
                if self._held(found.session) + length <= MOST_OF_SESSION:
                    break
                if one.stage is _Stage.HELD:
                    self._let_go(one)
            full = self._held(found.session) + length > MOST_OF_SESSION
            if full or self.held + length > MOST_OF_ALL:
                return False
            found.stage, found.size = _Stage.COMING, length
            return True

    def end(self, address: str) -> None:
        """The file has come, or will not come any more."""
        with self._lock:
            found = self._files.get(address)
            if found is not None and found.stage is _Stage.COMING:
                found.stage, found.size = _Stage.AWAITED, 0

    def take(self, session: str, name: str, size: int) -> bool:
        """A file has come whole; False where nobody waits for it any more."""
        with self._lock:
            for one in self._of(session):
                if one.name == name and one.stage is _Stage.COMING:
                    one.stage, one.size = _Stage.HELD, size
                    return True
            return False

    def drop(self, session: str, name: str) -> None:
        """A page has taken a file back."""
        self._keep(lambda one: (one.session, one.name) != (session, name))

    def end_session(self, session: str) -> None:
        """A session is over, and with it all that it sent."""
        self._keep(lambda one: one.session != session)

    def sweep(self, here: Callable[[str], bool], now: float, patience_s: float) -> None:
        """Let the files go of sessions whose browser has been away for long.

        The framework lets them go too when it drops a session, but it can be late with that.

        Args:
            here: whether a session's browser is connected.
            now: the time in seconds.
            patience_s: how long a browser may be away and come back.
        """
        with self._lock:
            sessions = {one.session for one in self._files.values()}
            self._seen = {
                session: now if here(session) else self._seen.get(session, now)
                for session in sessions
            }
            for session in sessions:
                if now - self._seen[session] > patience_s:
                    for one in self._of(session):
                        self._let_go(one)

    @property
    def held(self) -> int:
        """The bytes that are held or on their way, of all sessions."""
        with self._lock:
            return sum(one.size for one in self._files.values())

    def _held(self, session: str) -> int:
        return sum(one.size for one in self._of(session))

    def _of(self, session: str) -> list[_File]:
        return [one for one in self._files.values() if one.session == session]

    def _keep(self, stays: Callable[[_File], bool]) -> None:
        with self._lock:
            self._files = {at: one for at, one in self._files.items() if stays(one)}

    def _let_go(self, one: _File) -> None:
        self.drop(one.session, one.name)
        if self._remove is not None:
            self._remove(one.session, one.name)
