"""What every way of drawing a page's marks shares, whether as a picture or as a PDF."""

from abc import ABC, abstractmethod
from dataclasses import replace

from gallery.page_beads import beads_within, outline_mm
from gallery.page_ink import WHITE, Look, Mark, OneBead, Oval, Path, Photo, Shown, Words
from gallery.scene import MetalRing, PlacedBead, Scene, Srgb1, Thread

# By eye: the scene's own near-white thread is lost on white paper.
THREAD_GREY: Srgb1 = (0.55, 0.53, 0.49)
WIRE_GREY: Srgb1 = (0.42, 0.41, 0.39)


class Pen(ABC):
    """Puts marks on paper; each medium draws the kinds of marks in its own way."""

    def put(self, mark: Mark) -> None:
        """Draw one mark."""
        match mark:
            case Path():
                self._path(mark)
            case Oval():
                self._oval(mark)
            case Words():
                self._words(mark)
            case OneBead():
                self._bead(mark.bead, mark.x_mm + mark.bead.x_mm, mark.y_mm + mark.bead.y_mm)
            case Shown():
                self._shown(mark)
            case Photo():
                self._photo(mark)

    @abstractmethod
    def _path(self, mark: Path) -> None: ...

    @abstractmethod
    def _oval(self, mark: Oval) -> None: ...

    @abstractmethod
    def _words(self, mark: Words) -> None: ...

    @abstractmethod
    def _bead(self, bead: PlacedBead, x_mm: float, y_mm: float) -> None: ...

    @abstractmethod
    def _metal(self, mark: Shown, right_mm: float, down_mm: float) -> None:
        """Threads and rings of a scene, no further than its window reaches."""

    @abstractmethod
    def _photo(self, mark: Photo) -> None: ...

    def _shown(self, mark: Shown) -> None:
        right, down = mark.x_mm - mark.left_mm, mark.y_mm - mark.top_mm
        self._metal(mark, right, down)
        window = (mark.left_mm, mark.top_mm, mark.width_mm, mark.height_mm)
        for bead in beads_within(mark.scene, *window):
            if mark.look is Look.GLASS:
                self._bead(bead, bead.x_mm + right, bead.y_mm + down)
            else:
                points = tuple((x + right, y + down) for x, y in outline_mm(bead))
                self._path(Path(points_mm=points, closed=True, width_mm=0.18, fill=WHITE))


def on_white(scene: Scene) -> Scene:
    """The scene on paper."""
    return replace(scene, ground_srgb1=WHITE)


def thread_line(thread: Thread, right_mm: float, down_mm: float) -> Path:
    """A thread as a line that can be seen on paper."""
    points = tuple((x + right_mm, y + down_mm) for x, y in thread.points_mm)
    return Path(points_mm=points, width_mm=thread.width_mm, stroke=THREAD_GREY)


def wire_ring(
    ring: MetalRing, right_mm: float, down_mm: float, part: float = 1.0, ink: Srgb1 = WIRE_GREY
) -> Oval:
    """A ring of wire as a line along its middle, as wide as that part of the wire."""
    return Oval(
        x_mm=ring.x_mm + right_mm,
        y_mm=ring.y_mm + down_mm,
        rx_mm=max(ring.width_mm - ring.wire_mm, 0.1) / 2.0,
        ry_mm=max(ring.height_mm - ring.wire_mm, 0.1) / 2.0,
        width_mm=ring.wire_mm * part,
        stroke=ink,
    )
