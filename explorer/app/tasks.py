"""Heavy work as pure functions of small values, done by a helper process or by a thread.

Each is told to with ``told``: called with the part that is done, 0 to 1, it answers whether to go
on. Nothing here knows pages or sessions, and nothing here loads what draws pages.
"""

import multiprocessing
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from explorer.app import drawings
from explorer.app.drawings import Seen
from explorer.brief import Brief
from explorer.candidates import TRIES_PER_PROPOSAL
from explorer.design import Design
from explorer.fit import NoFit
from explorer.propose import Proposals, propose
from explorer.relatives import Like
from palettes.choose_from import Request, from_free, from_mood, from_picks
from palettes.choose_picked import Picked
from palettes.choose_types import NoChoice
from palettes.choose_watch import Sofar
from palettes.moods import moods
from palettes.schemes import Scheme
from palettes.viewing import Condition

Told = Callable[[float], bool]

# What drawing one thumbnail takes, in tries of a search; chosen by us, for the line that tells how
# far it is.
_DRAWING = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Sought:
    """What a search led to.

    Attributes:
        found: its result.
        stopped: whether it was ended early.
        thumbnails: pictures of the first proposals, as many as were drawn.
    """

    found: Proposals | NoFit
    stopped: bool
    thumbnails: tuple[bytes, ...]


def search(brief: Brief, like: Like | None, *, told: Told) -> Sought:
    """Proposals for a brief, or relatives of a piece, and in a helper their thumbnails too.

    In the server itself a page draws each as it shows it.

    Raises:
        BriefError: the colour demands cannot stand together.
    """
    wanted, pictures = True, multiprocessing.parent_process() is not None
    steps = brief.count * (TRIES_PER_PROPOSAL + (_DRAWING if pictures else 0))

    def step(done: int, _: int) -> bool:
        nonlocal wanted
        wanted = told(min(1.0, done / max(1, steps)))
        return wanted

    found = propose(brief, like=like, keep_going=step)
    designs = [] if isinstance(found, NoFit) else [one.design for one in found.proposals]
    thumbnails = []
    for number, design in enumerate(designs if pictures else ()):
        if not wanted:
            break
        thumbnails.append(drawings.thumbnail(design))
        told(1.0 - (len(designs) - number - 1) * _DRAWING / max(1, steps))
    return Sought(found=found, stopped=not wanted, thumbnails=tuple(thumbnails))


@dataclass(frozen=True, slots=True, kw_only=True)
class PaletteQuestion:
    """A palette that is searched for.

    Attributes:
        request: what every source is asked for.
        seed: where chance begins.
        mood: the name of a mood; none for colours that stand apart most, or around picks.
        picks: colours that the others are found for, as hex.
        scheme: how they go with the first pick.
    """

    request: Request
    seed: int
    mood: str | None = None
    picks: tuple[str, ...] = ()
    scheme: Scheme | None = None


def palette(question: PaletteQuestion, *, told: Told) -> Picked | NoChoice:
    """The palette that is asked for; the best so far, marked as stopped, where it was ended early.

    Raises:
        ValueError: a scheme around a grey.
    """
    rng = np.random.default_rng(question.seed)

    def step(sofar: Sofar) -> bool:
        return told(sofar.part)

    if question.mood is not None:
        return from_mood(question.request, moods()[question.mood], rng, step)
    if question.picks:
        return from_picks(question.request, question.picks, rng, question.scheme, step)
    return from_free(question.request, rng, step)


def strips(
    design: Design, looks: tuple[Condition, ...], backing: str | None, narrow: bool, *, told: Told
) -> tuple[Seen, ...]:
    """The strip under each look; fewer where it was ended early."""
    drawn: list[Seen] = []
    for look in looks:
        drawn.append(drawings.seen_strip(design, look, backing, narrow))
        if not told(len(drawn) / len(looks)):
            break
    return tuple(drawn)


def warm() -> None:
    """Load what the first task would have to load."""
    from explorer.app.demo import demo

    drawings.thumbnail(demo().piece.design)
