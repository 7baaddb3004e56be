"""What one browser session works on, and the pure steps from one state to the next.

Keys that the session keeps under stand here too, so that no two modules pick the same. None of them
belongs to a widget: a widget is filled from the state before it is drawn and reports back through
its callback, so that a page switch, a reload or an undo can never leave the two apart.
"""

from dataclasses import dataclass, field, replace

from explorer.app.assumed import USUAL, Assumed
from explorer.app.sizing import Sizing
from explorer.design import Design
from explorer.piece import Piece
from palettes.swatches import Swatch

HISTORY = "history"
CHOOSING = "choosing"
BRUSH = "brush"
REACH = "reach"
VIEW = "view"
EPOCH = "epoch"
BEGAN = "began"
DONE = "done"
EVERYWHERE = "everywhere"
TOOL = "tool"
OWN_TEXT = "own_text"
NEXT = "next"
TAPPED = "tapped"
SURPRISES = "surprises"
PLACE = "place"
MARK = "table"
KEPT = "kept"
SHELF_FAULT = "shelf_fault"
DRAFTS = "shelf_drafts"
OPENED = "shelf_opened"
WHO = "who_for_next"
PATTERN = "pattern"
TOLD = "told"
TARGET = "target"
BOTH_SIDES = "both_sides"
STROKES_DONE = "strokes_done"
LAST_DRAG = "last_drag"
OTHERS = "others"
GROUPING = "grouping"
REMEASURED = "remeasured"
SEARCH = "search"
PALETTE_SEARCH = "palette_search"
DECIMAL = "decimal_of_browser"

# Chosen by us: more steps than anyone goes back, and a few megabytes at the very most.
MOST_STEPS = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class Tray:
    """The colours at hand.

    Attributes:
        swatches: for the motifs, at least one.
        base: of the base beads.
        palette: the short name of the palette they come from; empty for the maker's own.
        at_hand: whether proposals keep to the beads that the maker has, and to their amounts.
    """

    swatches: tuple[Swatch, ...]
    base: Swatch
    palette: str = ""
    at_hand: bool = False

    def __post_init__(self) -> None:
        if not self.swatches:
            raise ValueError("a tray holds at least one colour; got none")


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Everything that an undo takes back: the piece, its colours, and what it is reckoned by.

    Attributes:
        piece: the piece on the table.
        sizing: the boxes of the Size page.
        tray: the colours at hand.
        assumed: what it is reckoned by.
        told: what the step to it had to give up; said once, and no part of the work.
    """

    piece: Piece
    sizing: Sizing
    tray: Tray
    assumed: Assumed = USUAL
    told: tuple[str, ...] = field(default=(), compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tapped:
    """What a tap or a button did last: to the beads as they are now, or it is not spoken of.

    Attributes:
        design: the beads after it.
        motif: the motif that it was about; the one that is next may be another.
        changed: whether it changed anything.
        words: what to say of it, where that is more than what the motif is like now.
    """

    design: Design
    motif: int
    changed: bool = True
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """The work as it stands, with what came before and what an undo took back, nearest last."""

    now: Work
    past: tuple[Work, ...] = field(default=())
    future: tuple[Work, ...] = field(default=())


def changed(history: History, work: Work) -> History:
    """The history after a step; a step that changes nothing is none."""
    if work == history.now:
        return history
    past = (*history.past, history.now)[-MOST_STEPS:]
    return History(now=replace(work, told=()), past=past)


def amended(history: History, work: Work) -> History:
    """The history with the present exchanged, for what is no step of its own, such as a name."""
    return replace(history, now=replace(work, told=()))


def undone(history: History) -> History:
    """One step back; the same where there is none."""
    if not history.past:
        return history
    return History(
        now=history.past[-1], past=history.past[:-1], future=(*history.future, history.now)
    )


def redone(history: History) -> History:
    """One step forward again; the same where nothing was taken back."""
    if not history.future:
        return history
    return History(
        now=history.future[-1], past=(*history.past, history.now), future=history.future[:-1]
    )
