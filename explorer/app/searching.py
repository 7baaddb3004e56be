"""A search beside the page, for proposals or for a palette, which can be watched and ended."""

from collections.abc import Callable
from typing import Any

from explorer.app import cache, cache_sources, tasks
from explorer.app.heavy import LINE, Line
from explorer.app.tasks import PaletteQuestion, Sought
from explorer.brief import Brief
from explorer.fit import NoFit
from explorer.propose import Proposals
from explorer.relatives import Like
from palettes.choose_picked import Picked
from palettes.choose_types import NoChoice


class Watched:
    """One session's wish for heavy work; who wishes the same waits for the same work.

    Args:
        line: where it stands.
        task: the work, as ``explorer.app.heavy.Job`` takes it; None where its result is kept.
        arguments: what it is called with.

    Attributes:
        stopped: whether it ended before its end; what was found by then is its result.
    """

    def __init__(self, line: Line, task: Callable[..., Any] | None, *arguments: object) -> None:
        self.stopped = False
        self._line = line
        self._job = None if task is None else line.join(task, *arguments)

    @property
    def part(self) -> float:
        """How much of it is done, 0 to 1."""
        return 1.0 if self._job is None else self._job.part

    @property
    def ahead(self) -> int:
        """How many others' heavy work is done before it begins."""
        return 0 if self._job is None else self._line.ahead(self._job)

    @property
    def forgotten(self) -> bool:
        """Whether it was taken out of the line because no page waited for it."""
        return self._job is not None and self._job.forgotten

    def stop(self) -> None:
        """End it at its next step; what was found so far stays.

        Nothing is found yet of one that still waited, or that another session waits for too.
        """
        if self._job is not None and not self.stopped:
            self.stopped = True
            self._line.leave(self._job)

    def wait(self, seconds: float) -> bool:
        """Whether it is over, at the latest after so long."""
        if self._job is None or (self.stopped and self._job.wanted):
            return True
        return self._job.wait(seconds)

    def _result(self) -> Any:
        """What the work gave, once it is over; None where it was stopped before it gave anything.

        Raises:
            HelperLostError: the computer ended the work, twice.
            RuntimeError: it is not over.
            Exception: whatever the work raised.
        """
        if self._job is None or not self._job.wait(0.0):
            if self.stopped:
                return None
            raise RuntimeError("a search has no result before it is over; wait for it first")
        return self._job.result()


class Search(Watched):
    """A search for proposals.

    Attributes:
        brief: what is sought.
        like: whose relatives are sought, if any.
    """

    def __init__(self, brief: Brief, like: Like | None, line: Line = LINE) -> None:
        self.brief = brief
        self.like = like
        self._found = cache.proposals.get(brief, like)
        super().__init__(line, None if self._found is not None else tasks.search, brief, like)

    def result(self) -> Proposals | NoFit | None:
        """What it found, once it is over; None where it was stopped before it found anything.

        Raises:
            BriefError: the colour demands cannot stand together.
            HelperLostError: the computer ended the work, twice.
            RuntimeError: it is not over.
        """
        if self._found is not None:
            return self._found
        sought: Sought | None = self._result()
        if sought is None:
            return None
        self.stopped = sought.stopped
        self._found = sought.found
        if not sought.stopped:
            cache.proposals.put(sought.found, self.brief, self.like)
            if isinstance(sought.found, Proposals):
                for one, png in zip(sought.found.proposals, sought.thumbnails, strict=False):
                    cache.thumbnail.put(png, one.design)
        return self._found


class PaletteSearch(Watched):
    """A search for a palette.

    Attributes:
        question: what is sought.
        first: what there is to show meanwhile, where the search is long.
    """

    def __init__(self, question: PaletteQuestion, line: Line = LINE) -> None:
        self.question = question
        self._found = cache_sources.palette.get(question)
        self.first = None if self._found else cache_sources.first_palette(question)
        super().__init__(line, None if self._found else tasks.palette, question)

    def result(self) -> Picked | NoChoice | None:
        """What it found, once it is over; the first answer where it was stopped before it began.

        Raises:
            ValueError: a scheme around a grey.
            HelperLostError: the computer ended the work, twice.
            RuntimeError: it is not over.
        """
        if self._found is not None:
            return self._found
        found: Picked | NoChoice | None = self._result()
        if found is None:
            return self.first
        self._found = found
        if isinstance(found, Picked):
            # A Stop that came at the very end has ended nothing.
            self.stopped = found.stopped
        # What was ended early is no answer for whoever asks next.
        if not self.stopped:
            cache_sources.palette.put(found, self.question)
        return found
