"""A process of its own that does heavy work for the server: both its ends.

The server's end starts it, gives it one piece of work at a time, hears how far that is, and can
have it ended. The other end knows nothing of pages and sessions: it gets a task of
``explorer.app.tasks`` with its arguments and returns the result. It holds nothing of anyone's
between two tasks but pictures of single beads.

It is started afresh on every system alike ("spawn"): a copy of a server in the midst of its threads
could hang. It ends by itself when the server's end is gone, whatever way that went.
"""

import contextlib
import multiprocessing
import signal
from collections.abc import Callable
from multiprocessing.connection import Connection
from typing import Any, Protocol

# How often the server's end looks whether its work is still wanted, in seconds. Chosen by
# us, because nobody feels a twentieth of a second.
_LOOK_S = 0.05
# Told again when it has grown by so much. Chosen by us: one step of a line on the page.
_STEP = 0.01

_READY, _PART, _DONE, _FAILED, _STOP = "ready", "part", "done", "failed", "stop"


class HelperLostError(Exception):
    """The process ended before its work was done."""


class Work(Protocol):
    """What a helper needs to know of a piece of work."""

    task: Callable[..., Any]
    arguments: tuple[Any, ...]
    wanted: bool
    part: float


class Helper:
    """The server's end of a new process.

    Raises:
        OSError: the system starts no process.
    """

    def __init__(self) -> None:
        context = multiprocessing.get_context("spawn")
        self._link, theirs = context.Pipe()
        self._process = context.Process(
            target=serve, args=(theirs,), name="danglewise-helper", daemon=True
        )
        try:
            self._process.start()
        except BaseException:
            self._link.close()
            raise
        finally:
            theirs.close()

    @property
    def pid(self) -> int | None:
        """Its number in the system."""
        return self._process.pid

    def ready(self) -> bool:
        """Whether it came up; waits until it has, or has ended."""
        with contextlib.suppress(EOFError, OSError):
            return bool(self._link.recv()[0] == _READY)
        return False

    def do(self, work: Work) -> Any:
        """Have the work done and wait for its result.

        Raises:
            HelperLostError: the process ended meanwhile.
            Exception: whatever the work raised.
        """
        told = False
        try:
            self._link.send((work.task, work.arguments))
            while True:
                if not (work.wanted or told):
                    told = True
                    self._link.send(_STOP)
                if not self._link.poll(_LOOK_S):
                    continue
                kind, value = self._link.recv()
                if kind == _PART:
                    work.part = value
                elif kind == _DONE:
                    return value
                else:
                    break
        except (EOFError, OSError) as error:
            raise HelperLostError from error
        raise value

    def end(self) -> None:
        """End the process, whatever it does."""
        self._link.close()
        self._process.join(1.0)
        if self._process.is_alive():
            self._process.kill()
            self._process.join(5.0)


def serve(link: "Connection[Any, Any]") -> None:
    """The process's own end: do what comes, until the server's end is gone."""
    # Ctrl+C is for the server; when that ends, so does this.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    from explorer.app import memory, tasks

    memory.limit_heaps()
    tasks.warm()
    with contextlib.suppress(EOFError, OSError, KeyboardInterrupt):
        link.send((_READY, None))
        while True:
            task, arguments = link.recv()
            # A word that its last task was to end, come too late.
            if task != _STOP:
                _do(link, task, arguments)


def _do(link: "Connection[Any, Any]", task: Callable[..., Any], arguments: tuple[Any, ...]) -> None:
    teller = _Teller(link)
    try:
        answer = (_DONE, task(*arguments, told=teller))
    except (EOFError, OSError):
        raise
    except Exception as error:  # noqa: BLE001 - raised again where the work was asked for
        answer = (_FAILED, error)
    link.send(answer)


class _Teller:
    """Tells how far a task is, and hears whether it shall go on."""

    def __init__(self, link: "Connection[Any, Any]") -> None:
        self._link = link
        self._told = 0.0
        self._wanted = True

    def __call__(self, part: float) -> bool:
        """Tell the part that is done; False ends the task early."""
        if part - self._told >= _STEP:
            self._told = part
            self._link.send((_PART, part))
        if self._wanted and self._link.poll():
            self._link.recv()
            self._wanted = False
        return self._wanted
