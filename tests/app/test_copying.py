"""The shelf is copied beside the pages: none waits for it, and the end waits for what was begun."""

import asyncio
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from explorer.app import copying
from explorer.shelf import Shelf
from explorer.shelf_copies import copies, start_copy
from tests.app.conftest import running

if TYPE_CHECKING:
    from tests.app.conftest import Windows

# The app with copies that wait for a word: a file in its folder.
_SLOW = """
import sys, time
from pathlib import Path
from explorer.app import copying
from explorer.app.start import start

def slow(work):
    def done(*given):
        Path("begun").touch()
        while not Path("go").exists():
            time.sleep(0.05)
        # So long that the server is being ended by then.
        time.sleep(1)
        return work(*given)
    return done

copying.keep_at_start = slow(copying.keep_at_start)
copying.keep_for_the_day = slow(copying.keep_for_the_day)
sys.exit(start(int(sys.argv[1]), False))
"""


def _filled(folder: Path) -> Path:
    shelf = Shelf(folder / "danglewise" / "shelf.sqlite3")
    shelf.put("one", "{}")
    return shelf.path


def test_the_server_answers_while_the_shelf_is_copied_and_ends_after_it(tmp_path: Path) -> None:
    path = _filled(tmp_path)
    with running(tmp_path, _SLOW):
        # It answers by now, and the copy has not been let go on.
        for _ in range(200):
            if (tmp_path / "begun").exists():
                break
            time.sleep(0.05)
        assert (tmp_path / "begun").exists()
        assert not start_copy(path).exists()
        (tmp_path / "go").touch()
    assert [saved.name for saved in Shelf(start_copy(path)).find()] == ["one"]
    assert len(copies(path)) == 1


@pytest.mark.browser
def test_the_first_page_is_done_while_the_shelf_is_copied(
    windows: "Windows", tmp_path: Path
) -> None:
    path = _filled(tmp_path)
    with running(tmp_path, _SLOW) as address:
        with windows.page() as page:
            page.goto(f"{address}/size")
            page.get_by_role("heading", name="Size").wait_for()
            page.locator("[data-test-script-state=notRunning]").wait_for()
        assert not start_copy(path).exists()
        (tmp_path / "go").touch()


def test_a_run_only_says_that_a_copy_may_be_due(monkeypatch: pytest.MonkeyPatch) -> None:
    done: list[tuple[str, str]] = []
    looked = threading.Event()

    def at_start() -> None:
        done.append(("start", threading.current_thread().name))

    def daily() -> None:
        done.append(("day", threading.current_thread().name))
        looked.set()

    monkeypatch.setattr(copying, "at_start", at_start)
    monkeypatch.setattr(copying, "daily", daily)

    async def server() -> None:
        async with copying.copied_beside():
            copying.used()
            await asyncio.to_thread(looked.wait, 20)

    # In a thread of its own: a browser's test leaves a loop of events running in this one.
    with ThreadPoolExecutor(max_workers=1) as aside:
        aside.submit(lambda: asyncio.run(server())).result()
    assert done == [("start", "copying"), ("day", "copying")]
    # Afterwards nobody looks any more.
    copying.used()
    assert not [one for one in threading.enumerate() if one.name == "copying"]
