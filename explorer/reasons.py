"""Why each proposal is here, in one line that tells it from the others."""

from collections.abc import Callable, Sequence

from explorer.candidates import Candidate
from explorer.colouring import Colouring
from explorer.proposal_figures import Figures
from explorer.sequence_types import Arrangement

# Less than any figure that is shown. Chosen by us, because lists tell tenths.
_SAME = 0.05

ARRANGED: dict[Arrangement, str] = {
    Arrangement.FREE: "well mixed",
    Arrangement.UNIT: "in a repeating unit",
    Arrangement.MIRROR: "mirrored about the middle",
    Arrangement.RUN: "in gentle steps from end to end",
    Arrangement.BLOCKS: "in blocks",
}


def plain_words(candidate: Candidate) -> str:
    """A candidate described by itself: outline, colours and arrangement."""
    recipe = candidate.recipe
    colours = len(set(recipe.order))
    many = f"{colours} colours {ARRANGED[recipe.arrangement]}" if colours > 1 else "one colour"
    inside = "" if recipe.colouring is Colouring.PLAIN else f", {recipe.colouring}"
    turn = " by turns" if recipe.second else ""
    return ", ".join((f"{recipe.outline}{turn}", f"{many}{inside}", *recipe.rules.words))


def reasons(
    picked: Sequence[Candidate], harmonies: Sequence[float], figures: Sequence[Figures]
) -> tuple[str, ...]:
    """One line each: what it is the most of among all, if anything, and what it is."""
    titles: dict[int, str] = {}
    tests: tuple[tuple[str, Callable[[int], float]], ...] = (
        ("strongest contrast", lambda i: figures[i].weakest or 0.0),
        ("most harmonious", lambda i: harmonies[i]),
        ("fewest colours", lambda i: -len(set(picked[i].recipe.order))),
        ("most colours", lambda i: len(set(picked[i].recipe.order))),
        ("quietest", lambda i: -(figures[i].mean or 0.0)),
        ("fewest beads", lambda i: -_beads(picked[i])),
        ("fullest fringe", lambda i: _beads(picked[i])),
        ("closes best", lambda i: -picked[i].fit.slack_mm),
    )
    for title, score in tests:
        most = max(range(len(picked)), key=score)
        # What others share by as good as the same figure is no title.
        alone = sum(score(i) > score(most) - _SAME for i in range(len(picked))) == 1
        # A piece that is the most of two things is told by the first.
        if alone:
            titles.setdefault(most, title)
    return tuple(
        f"{titles[i]}: {plain_words(c)}" if i in titles else plain_words(c)
        for i, c in enumerate(picked)
    )


def _beads(candidate: Candidate) -> int:
    return candidate.recipe.beads
