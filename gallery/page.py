"""What a printable document is made of: plain blocks, one after the other, and the paper.

Whoever writes a document knows nothing of PDF or of pages; whoever prints it knows nothing of
beadwork. All text is plain: nothing in it is ever read as markup.
"""

import math
from dataclasses import dataclass

from gallery.page_ink import Drawing, Look
from gallery.scene import PlacedBead, Scene


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet of paper, upright, and the margin that printers need."""

    name: str
    width_mm: float
    height_mm: float
    margin_mm: float = 15.0  # chosen by us: wider than any printer's own, narrow enough for strips

    @property
    def room_mm(self) -> float:
        """The width between the margins."""
        return self.width_mm - 2.0 * self.margin_mm


A4 = Paper(name="A4", width_mm=210.0, height_mm=297.0)  # ISO 216
LETTER = Paper(name="Letter", width_mm=215.9, height_mm=279.4)  # ANSI/ASME Y14.1, size A


@dataclass(frozen=True, slots=True, kw_only=True)
class Title:
    """The head of a document; ``corner`` stands at its right, such as a code to scan."""

    text: str
    under: str = ""
    corner: Drawing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """The head of a part; ``number`` is set before it."""

    text: str
    number: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A paragraph; ``leads`` keeps its end on the page of what follows it."""

    text: str
    quiet: bool = False
    bold: bool = False
    leads: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is what: rows of a label and its value; ``leads`` as in a ``Text``."""

    rows: tuple[tuple[str, str], ...]
    leads: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Chip:
    """A bead drawn as it looks with a letter beside it, which reads in grey too."""

    letter: str
    bead: PlacedBead


@dataclass(frozen=True, slots=True, kw_only=True)
class Boxes:
    """Empty squares to tick."""

    count: int = 1


Cell = str | Chip | Boxes | Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """The head of a table's column: its words, its share of the width, whether figures stand in it.

    Attributes:
        text: the words.
        share: of the width, against the other columns' shares.
        right: whether cells are set to the right, as figures are.
    """

    text: str
    share: float
    right: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows of cells; its head is set again on every page. ``rules`` draws a line under every row.

    Attributes:
        heads: one a column.
        rows: each as many cells as there are heads.
        bold_last: whether the last row is a sum.
    """

    heads: tuple[Head, ...]
    rows: tuple[tuple[Cell, ...], ...]
    bold_last: bool = False

    def __post_init__(self) -> None:
        if any(len(row) != len(self.heads) for row in self.rows):
            raise ValueError(f"every row has {len(self.heads)} cells, as many as the table's heads")


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """Things to do, each with a box to tick."""

    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Words over a stretch of a scene, from left to right in its own millimetres."""

    text: str
    left_mm: float
    right_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TrueSize:
    """A scene at the size of life, in as many rows and pages as it takes.

    Attributes:
        scene: what is shown.
        labels: words over it.
        breaks_mm: where it may be parted, in the scene's own x; the best first choice.
        fine_breaks_mm: where it may be parted if the former lie too far apart.
        look: glass or outlines.
    """

    scene: Scene
    labels: tuple[Label, ...] = ()
    breaks_mm: tuple[float, ...] = ()
    fine_breaks_mm: tuple[float, ...] = ()
    look: Look = Look.GLASS


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruler:
    """A line of known length, to check the print with.

    50 mm chosen by us, because a printer that scales by a hundredth is half a millimetre off on it.
    """

    length_mm: float = 50.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.length_mm) and 10.0 <= self.length_mm <= 150.0):
            raise ValueError(f"a ruler on paper has 10 to 150 mm; got {self.length_mm!r}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing, or a scene as a picture of that width, with words under it.

    60 mm chosen by us, because two stand side by side on either paper.
    """

    picture: Drawing | Scene
    caption: str = ""
    width_mm: float = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """Figures side by side, in rows."""

    figures: tuple[Figure, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """What must not be missed, in a frame."""

    title: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Blanks:
    """Lines to write on, each with its label."""

    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A label to cut out: a name, a line under it, and rows of a chip, words and a figure."""

    title: str
    under: str = ""
    rows: tuple[tuple[Chip, str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Cards:
    """Labels to cut out, two beside each other."""

    cards: tuple[Card, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """What follows stands on a new page."""


Block = (
    Title
    | Heading
    | Text
    | Facts
    | Table
    | Steps
    | TrueSize
    | Ruler
    | Figures
    | Note
    | Cards
    | Blanks
    | Break
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """Blocks in order, and what stands at the foot of every page.

    Attributes:
        title: the document's name, for the file's own title.
        blocks: what it says.
        foot: the line at the foot of every page, beside the page's number.
        scale: of all text; 1 is 10.5 pt for reading, 1.45 is large type.
    """

    title: str
    blocks: tuple[Block, ...]
    foot: str = ""
    scale: float = 1.0

    def __post_init__(self) -> None:
        if not 0.8 <= self.scale <= 2.0:
            raise ValueError(f"text is printed at 0.8 to 2 times its size; got {self.scale!r}")


LARGE_TYPE = 1.5  # chosen by us: 10.5 pt becomes some 16 pt, as books in large print are set
