"""Heavy work of all sessions in one line: searches for proposals, and pictures by the dozen.

All sessions share one interpreter, which runs one thread at a time: were thirty searches to run in
it at once, a tap in another session would get a thirty-first of it. So heavy work stands in line,
first come first served, and each session stands there with one search at most. While only one has
something to do, a thread of the server does it. As soon as work has to wait, helper processes are
started (``explorer.app.helper``), and the line is theirs until nobody has needed them for a while:
then the server's own thread is left to light steps. Who asks for what another already waits for
shares that work and its result; both depend on nothing but what was asked.
"""

import contextlib
import os
import threading
import time
from collections.abc import Callable, Hashable
from functools import wraps
from typing import Any, ParamSpec, TypeVar

from explorer.app.helper import Helper, HelperLostError

P = ParamSpec("P")
R = TypeVar("R")

# Of helpers so many at most, however many cores there are: each takes some 130 MB. Chosen by us,
# because four more would fill a small machine.
_MOST_HELPERS = 4
# A helper that nobody has needed for so long ends; one that has done so much is exchanged. Chosen
# by us, so that no memory is held for good.
_IDLE_S, _WORN = 60.0, 300
# Work that was lost with its helper is tried again by another so often. Chosen by us, because what
# loses two helpers would lose the third.
_TRIES = 2
# What no page has waited for so long is not begun: its maker went on to another page, and asks
# again on coming back. Chosen by us, because a page looks several times a second.
_FORGOTTEN_S = 15.0
# One drawing at a time in this process, whoever asks: thirty at once would each hold a canvas, and
# none would be done sooner. The same thread may go through again.
_TURN = threading.RLock()


def in_turn(work: Callable[P, R]) -> Callable[P, R]:
    """The same work, done while no other work of this kind is done in this process."""

    @wraps(work)
    def waiting(*args: P.args, **kwargs: P.kwargs) -> R:
        with _TURN:
            return work(*args, **kwargs)

    return waiting


class Job:
    """A piece of work in the line.

    Attributes:
        task: a function of a module; called with the arguments and with ``told``, which takes the
            part that is done and answers whether to go on.
        arguments: small values that are never changed.
        part: how much of it is done, 0 to 1.
        wanted: whether somebody still wants it.
        forgotten: whether it was dropped before it began, since nobody waited for it.
    """

    def __init__(self, task: Callable[..., Any], arguments: tuple[Any, ...]) -> None:
        self.task = task
        self.arguments = arguments
        self.part = 0.0
        self.wanted = True
        self.forgotten = False
        self.tries = 0
        self.askers = 1
        self.looked_at = time.monotonic()
        self._result: Any = None
        self._error: Exception | None = None
        self._over = threading.Event()

    def told(self, part: float) -> bool:
        """Take down how much is done; whether to go on."""
        self.part = part
        return self.wanted

    def wait(self, seconds: float) -> bool:
        """Whether it is over, at the latest after so long."""
        self.looked_at = time.monotonic()
        return self._over.wait(seconds)

    def result(self) -> Any:
        """What came of it, once it is over; None where it ended before it had begun.

        Raises:
            HelperLostError: the process that did it ended, and another's after it.
            Exception: whatever the task raised.
        """
        if self._error is not None:
            raise self._error
        return self._result

    def finish(self, result: Any = None, error: Exception | None = None) -> None:
        """It is over."""
        self._result, self._error = result, error
        self._over.set()


class Line:
    """The line, and those who do the work.

    Args:
        helpers: how many helper processes there may be; with 0 a thread does everything.
        idle_s: after so long without work a helper ends.
        make: starts a helper.
    """

    def __init__(
        self, helpers: int, *, idle_s: float = _IDLE_S, make: Callable[[], Helper] = Helper
    ) -> None:
        self._most = helpers
        self._idle_s = idle_s
        self._make = make
        self._changed = threading.Condition()
        self._waiting: list[Job] = []
        self._running: list[Job] = []
        self._by_key: dict[Hashable, Job] = {}
        # Helpers that are coming up or at work, and those of them that are ready.
        self._helpers = self._ready = 0
        self._own = False

    def join(self, task: Callable[..., Any], *arguments: Any) -> Job:
        """Ask for work; what is asked for already is joined.

        Args:
            task: a function of a module, as ``Job`` says.
            arguments: hashable values that are never changed.
        """
        key = (task, arguments)
        with self._changed:
            job = self._by_key.get(key)
            if job is not None and job.wanted:
                job.askers += 1
                return job
            job = self._by_key[key] = Job(task, arguments)
            self._waiting.append(job)
            if not self._own:
                self._own = True
                threading.Thread(target=self._by_itself, name="heavy", daemon=True).start()
            self._call_helpers()
            self._changed.notify_all()
        return job

    def leave(self, job: Job) -> None:
        """Want it no longer; it ends as soon as it can when nobody else wants it."""
        with self._changed:
            job.askers -= 1
            if job.askers > 0:
                return
            job.wanted = False
            if job in self._waiting:
                self._waiting.remove(job)
                self._done(job)

    def ahead(self, job: Job) -> int:
        """How many others are before it in the line; 0 once it is its turn."""
        with self._changed:
            return self._waiting.index(job) if job in self._waiting else 0

    @property
    def helpers(self) -> int:
        """How many helper processes are coming up or at work."""
        return self._helpers

    def _call_helpers(self) -> None:
        """Start a helper where work has to wait; work that nobody wants any more does not count."""
        asked = len(self._waiting) + sum(job.wanted for job in self._running)
        if asked > max(1, self._helpers) and self._helpers < self._most:
            self._helpers += 1
            threading.Thread(target=self._with_helper, name="helper", daemon=True).start()

    def _by_itself(self) -> None:
        """Do what is in the line as long as no helper is ready."""
        while True:
            with self._changed:
                self._changed.wait_for(lambda: not self._ready and self._any())
                job = self._next()
            try:
                result = job.task(*job.arguments, told=job.told)
            except Exception as error:  # noqa: BLE001 - raised again for whoever asked
                self._finish(job, error=error)
            else:
                self._finish(job, result)

    def _with_helper(self) -> None:
        """One helper's life."""
        helper, came_up = None, False
        try:
            # No process, whatever the reason: the server's own thread goes on alone.
            with contextlib.suppress(OSError, RuntimeError, ValueError):
                helper = self._make()
            came_up = helper is not None and helper.ready()
            if helper is None or not came_up:
                return
            with self._changed:
                self._ready += 1
            try:
                self._serve(helper)
            finally:
                with self._changed:
                    self._ready -= 1
        finally:
            with self._changed:
                self._helpers -= 1
                if not came_up:
                    # No more than are left; in one step, or two would count each other.
                    self._most = self._helpers
                if self._waiting:
                    self._call_helpers()
                self._changed.notify_all()
            if helper is not None:
                helper.end()

    def _serve(self, helper: Helper) -> None:
        """Do what is in the line until there is nothing to do for long, or the helper is lost."""
        for _ in range(_WORN):
            with self._changed:
                if not self._changed.wait_for(self._any, self._idle_s):
                    return
                job = self._next()
            try:
                result = helper.do(job)
            except HelperLostError as error:
                self._lost(job, error)
                return
            except Exception as error:  # noqa: BLE001 - raised again for whoever asked
                self._finish(job, error=error)
            else:
                self._finish(job, result)

    def _any(self) -> bool:
        """Whether there is work; what nobody waits for is dropped from the head of the line."""
        long_ago = time.monotonic() - _FORGOTTEN_S
        while self._waiting and self._waiting[0].looked_at < long_ago:
            job = self._waiting.pop(0)
            job.forgotten, job.wanted = True, False
            self._done(job)
        return bool(self._waiting)

    def _next(self) -> Job:
        job = self._waiting.pop(0)
        self._running.append(job)
        return job

    def _lost(self, job: Job, error: HelperLostError) -> None:
        """Put work that was lost with its helper at the head of the line, or give it up."""
        job.tries += 1
        if job.tries >= _TRIES or not job.wanted:
            self._finish(job, error=error)
            return
        with self._changed:
            self._running.remove(job)
            job.part = 0.0
            self._waiting.insert(0, job)

    def _finish(self, job: Job, result: Any = None, error: Exception | None = None) -> None:
        with self._changed:
            self._running.remove(job)
            self._done(job, result, error)

    def _done(self, job: Job, result: Any = None, error: Exception | None = None) -> None:
        key = (job.task, job.arguments)
        if self._by_key.get(key) is job:
            del self._by_key[key]
        job.finish(result, error)


def cores() -> int:
    """How many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


LINE = Line(min(_MOST_HELPERS, max(1, cores() - 1)))
