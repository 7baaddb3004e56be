"""A search for proposals beside the page, which can be watched and ended."""

from explorer.app import cache, tasks
from explorer.app.heavy import LINE, Line
from explorer.app.tasks import Sought
from explorer.brief import Brief
from explorer.fit import NoFit
from explorer.propose import Proposals
from explorer.recipe import Recipe


class Search:
    """One session's wish for proposals; who wishes the same waits for the same work.

    Attributes:
        brief: what is sought.
        like: whose relatives are sought, if any.
        stopped: whether it ended before its end; what was found by then is its result.
    """

    def __init__(self, brief: Brief, like: Recipe | None, line: Line = LINE) -> None:
        self.brief = brief
        self.like = like
        self.stopped = False
        self._line = line
        self._found = cache.proposals.get(brief, like)
        self._job = None if self._found is not None else line.join(tasks.search, brief, like)

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

    def result(self) -> Proposals | NoFit | None:
        """What it found, once it is over; None where it was stopped before it found anything.

        Raises:
            BriefError: the colour demands cannot stand together.
            HelperLostError: the computer ended the work, twice.
            RuntimeError: it is not over.
        """
        if self._found is not None or self._job is None:
            return self._found
        if not self._job.wait(0.0):
            if self.stopped:
                return None
            raise RuntimeError("a search has no result before it is over; wait for it first")
        sought: Sought | None = self._job.result()
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
