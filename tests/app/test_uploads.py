"""What browsers send is bounded, and taken only where a page has asked for it."""

import asyncio
import sys
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

import pytest
import streamlit
from streamlit.runtime.memory_uploaded_file_manager import MemoryUploadedFileManager
from streamlit.runtime.uploaded_file_manager import UploadedFileRec

from explorer.app.uploads import MB, MOST_FILES, MOST_OF_ALL, MOST_OF_SESSION, Uploads
from tests.bench import load
from tests.bench.uploads import Browser, asked_for, made_up

T = TypeVar("T")
LARGE = MOST_OF_SESSION // 2


class Holder:
    """The framework's holder of files under our bounds, and files that come to it."""

    def __init__(self) -> None:
        self.manager = MemoryUploadedFileManager("/upload")
        self.uploads = Uploads()
        self.uploads.guard(self.manager)

    def ask(self, session: str, count: int = 1) -> list[str]:
        found = self.manager.get_upload_urls(session, [f"{n}.jpg" for n in range(count)])
        return [one.upload_url for one in found]

    def put(self, address: str, size: int) -> bool:
        """A file comes as the server lets it in, whole."""
        if not self.uploads.begin(address, size):
            return False
        _, session, file = address.rsplit("/", 2)
        self.manager.add_file(session, record(file, size))
        self.uploads.end(address)
        return True

    def held(self) -> int:
        """What the framework really holds."""
        files = self.manager.file_storage.values()
        return sum(len(one.data) for held in files for one in held.values())


class Zeros(bytes):
    """A file that is large and takes no memory."""

    size: int

    def __new__(cls, size: int) -> "Zeros":
        made = super().__new__(cls)
        made.size = size
        return made

    def __len__(self) -> int:
        return self.size


def record(file: str, size: int) -> UploadedFileRec:
    return UploadedFileRec(file_id=file, name="a.jpg", type="image/jpeg", data=Zeros(size))


@pytest.fixture
def holder() -> Holder:
    return Holder()


def test_a_file_comes_where_it_was_asked_for_once(holder: Holder) -> None:
    (address,) = holder.ask("one")
    assert holder.put(address, 5)
    assert not holder.put(address, 5)
    assert holder.held() == holder.uploads.held == 5


def test_a_made_up_address_is_not_known(holder: Holder) -> None:
    (address,) = holder.ask("one")
    for other in (made_up(address), "/upload/two/1", "/upload/one", "", "/"):
        assert not holder.uploads.knows(other)
        assert not holder.put(other, 5)
    # Whatever else brings a file to the framework's holder: it is not kept.
    holder.manager.add_file("one", record("made-up", 5))
    holder.manager.add_file("nobody", record("made-up", 5))
    assert holder.held() == 0


def test_the_oldest_files_of_a_session_make_room(holder: Holder) -> None:
    addresses = holder.ask("one", 5)
    assert all(holder.put(address, LARGE) for address in addresses)
    assert holder.held() == holder.uploads.held == MOST_OF_SESSION
    assert [holder.uploads.knows(address) for address in addresses] == [False] * 3 + [True] * 2


def test_no_file_is_larger_than_a_session_may_hold(holder: Holder) -> None:
    first, second = holder.ask("one", 2)
    assert not holder.put(first, MOST_OF_SESSION + 1)
    assert holder.put(second, MOST_OF_SESSION)


def test_all_sessions_together_are_bounded_and_cost_no_other_its_files(holder: Holder) -> None:
    sessions = [f"{n}" for n in range(MOST_OF_ALL // MOST_OF_SESSION)]
    for session in sessions:
        assert all(holder.put(address, LARGE) for address in holder.ask(session, 2))
    (late,) = holder.ask("late")
    assert not holder.put(late, MB)
    assert holder.held() == MOST_OF_ALL
    holder.manager.remove_session_files(sessions[0])
    assert holder.held() == holder.uploads.held == MOST_OF_ALL - MOST_OF_SESSION
    assert holder.put(late, MB)


def test_what_is_on_its_way_counts(holder: Holder) -> None:
    first, second, third = holder.ask("one", 3)
    assert holder.uploads.begin(first, LARGE)
    assert holder.uploads.begin(second, LARGE)
    assert not holder.uploads.begin(third, 1)
    # One breaks off: it may be sent again, and there is room.
    holder.uploads.end(first)
    assert holder.uploads.begin(third, 1)
    holder.uploads.end(third)
    assert holder.uploads.begin(first, LARGE)


def test_files_end_with_their_session_even_those_on_their_way(holder: Holder) -> None:
    first, second, third = holder.ask("one", 3)
    assert holder.put(first, 7)
    assert holder.uploads.begin(second, 7)
    holder.manager.remove_session_files("one")
    file = second.rpartition("/")[2]
    holder.manager.add_file("one", record(file, 7))
    holder.uploads.end(second)
    assert holder.held() == holder.uploads.held == 0
    assert not any(holder.uploads.knows(address) for address in (first, second, third))


def test_files_end_a_while_after_their_browser_has_gone(holder: Holder) -> None:
    for session in ("stays", "goes", "comes back"):
        assert all(holder.put(address, 10) for address in holder.ask(session, 2))
    for now in range(0, 200, 10):
        here = {"stays"} if now == 60 else {"stays", "comes back"}
        holder.uploads.sweep(here.__contains__, float(now), 120.0)
        assert holder.held() == holder.uploads.held == (60 if now <= 120 else 40)
    assert "goes" not in {path.split("/")[2] for path in holder.uploads._files}


def test_a_file_that_a_page_takes_back_is_gone(holder: Holder) -> None:
    (address,) = holder.ask("one")
    assert holder.put(address, 7)
    holder.manager.remove_file("one", address.rpartition("/")[2])
    assert holder.held() == holder.uploads.held == 0
    assert not holder.uploads.knows(address)


def test_addresses_do_not_pile_up(holder: Holder) -> None:
    assert len(holder.ask("one", 10 * MOST_FILES)) == MOST_FILES
    addresses = [holder.ask("one", MOST_FILES) for _ in range(20)][-1]
    assert all(holder.uploads.knows(address) for address in addresses)
    assert len(holder.uploads._files) == MOST_FILES
    # Empty files take no bytes, and are bounded all the same.
    for _ in range(5):
        for address in holder.ask("one", MOST_FILES):
            holder.put(address, 0)
    assert len(holder.manager.file_storage["one"]) <= MOST_FILES


def run(work: Coroutine[Any, Any, T]) -> T:
    """Do it in a thread of its own: the browser's driver keeps a loop in the tests' own thread."""
    with ThreadPoolExecutor(1) as threads:
        return threads.submit(asyncio.run, work).result()


@pytest.mark.skipif(
    not streamlit.__version__.startswith(load.PINNED) or sys.platform != "linux",
    reason="the framework's messages are known for one version",
)
def test_the_server_takes_files_from_its_own_pages_only(address: str) -> None:
    small = b"x" * 1000

    async def asked() -> dict[str, int]:
        browser = await asyncio.to_thread(Browser, address)
        session = await load.opened(address)
        await session.rerun(page="")
        given = await asked_for(session, 8)

        async def sent(path: str, **how: Any) -> int:
            return (await asyncio.to_thread(browser.send, path, small, **how))[0]

        cookies = dict(one.split("=", 1) for one in browser.cookie.split("; "))
        sealed = next(name for name in cookies if name.startswith("danglewise"))
        xsrf = f"_streamlit_xsrf={browser.token}"
        found = {
            "made up": await sent(made_up(given[0])),
            "no cookie": await sent(given[0], Cookie=xsrf),
            "a cookie made up": await sent(given[0], Cookie=f"{xsrf}; {sealed}=00.00"),
            "another port": await sent(given[0], Origin="http://127.0.0.1:3000"),
            "no origin": await sent(given[0], Origin=None),
            "another name": await sent(given[0], Host="evil.example"),
            "no length": await sent(given[0], Content_Length=None),
            "a length that is none": await sent(given[0], Content_Length="-5"),
            "too large": await sent(given[0], Content_Length=str(200 * MB)),
            "posted": await sent(given[0], method="POST"),
            "deleted, made up": await sent(made_up(given[0]), method="DELETE"),
            "right": await sent(given[0]),
            "again": await sent(given[0]),
            "deleted": await sent(given[0], method="DELETE"),
            "after that": await sent(given[0]),
        }
        await session.link.close()
        return found

    assert run(asked()) == {
        "made up": 403,
        "no cookie": 403,
        "a cookie made up": 403,
        "another port": 403,
        "no origin": 403,
        "another name": 403,
        "no length": 411,
        "a length that is none": 400,
        "too large": 413,
        "posted": 405,
        # It is gone, as the page wants it: a server that was started anew knows no file.
        "deleted, made up": 204,
        "right": 204,
        "again": 413,
        "deleted": 204,
        "after that": 403,
    }
