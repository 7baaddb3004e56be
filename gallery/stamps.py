"""Lays beads on a canvas: each one's picture is taken from the store and stamped in its place."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gallery.looks import SMALL_PX, Look
from gallery.scene import PlacedBead, Pose, Srgb1
from gallery.solids import Floats
from gallery.sprites import Sprite, sprite
from palettes.forms import Form

# Variants of size and lean, by eye: hand-made beads differ while few looks are kept.
_VARIANTS = ((1.0, 0.0), (0.978, 0.8), (1.018, -0.7), (0.99, -0.3), (1.008, 0.5))
_VARIED_ABOVE_PX = 8.0
_SMALL_PX = 10.0
_TURN_STEPS_DEG = (0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 7.5, 9.0, 12.0)
# What one drawing keeps of its stamps. Chosen by us, because it is a fifth of the memory that a
# long strip at true size may take; its stamps fill some 80 MB.
_MOST_KEPT_BYTES = 100_000_000
# By definition of a stamp: ink and rest, four channels of four bytes.
_BYTES_PER_CELL = 2 * 4 * 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where a canvas lies in a picture.

    Attributes:
        left_mm, top_mm: the picture's upper left corner.
        px_per_mm: its scale.
        width, height: the canvas's size in pixels.
        left, top: how far the canvas lies from the picture's corner, in pixels.
    """

    left_mm: float
    top_mm: float
    px_per_mm: float
    width: int
    height: int
    left: int = 0
    top: int = 0

    def across_mm(self) -> NDArray[np.float64]:
        """Where the middle of each column lies; the same in every canvas that holds it."""
        columns = np.arange(self.left, self.left + self.width, dtype=np.float64)
        return self.left_mm + (columns + 0.5) / self.px_per_mm

    def down_mm(self) -> NDArray[np.float64]:
        """Where the middle of each row lies."""
        rows = np.arange(self.top, self.top + self.height, dtype=np.float64)
        return self.top_mm + (rows + 0.5) / self.px_per_mm


def _turn_step(size_px: float) -> float:
    """A step in degrees so small that no bead's rim is ever more than a quarter pixel off."""
    wanted = math.degrees((1.0 if size_px < _SMALL_PX else 0.7) / size_px)
    return max((step for step in _TURN_STEPS_DEG if step <= wanted), default=_TURN_STEPS_DEG[0])


def _size(size_px: float) -> float:
    """A size to the nearest step that nobody can see, so that near scales share looks."""
    step = 0.25 if size_px < _SMALL_PX else 0.05
    return max(step, round(round(size_px / step) * step, 2))


@dataclass(frozen=True, slots=True, eq=False)
class _Kind:
    """Beads of a scene that differ only in place and turn."""

    bead: PlacedBead
    casts: bool
    step_deg: float
    looks: dict[tuple[int, int], Look]

    def _turn(self, turn_deg: float, size_px: float) -> float:
        """The turn, less what makes no difference: like ends, a ring too small for its thread."""
        if self.bead.pose is Pose.END:
            ring = self.bead.form is not Form.CUBE and size_px < _SMALL_PX
            return 0.0 if ring else round(turn_deg % 360.0, 3)
        return round(turn_deg % (360.0 if self.bead.form is Form.DROP else 180.0), 3)

    def look(self, scale: float, turns: int, variant: int) -> Look:
        """The look at so many steps of turn, kept."""
        if (turns, variant) not in self.looks:
            grow, _ = _VARIANTS[variant]
            bead = self.bead
            along = grow if bead.pose is Pose.END else 2.0 - grow
            self.looks[turns, variant] = Look(
                bead.form,
                bead.pose,
                bead.finish,
                self._turn(turns * self.step_deg, bead.across_mm * scale),
                _size(bead.across_mm * scale * grow),
                _size(bead.along_mm * scale * along),
                _size(bead.hole_mm * scale),
                self.casts,
            )
        return self.looks[turns, variant]


# One stamp: a look in a colour, and the place within a pixel.
_Stamp = tuple[Look, Srgb1, tuple[int, int]]


class Stamps:
    """The beads of one drawing, each with its stamp and its place, ready for any part of it.

    Args:
        beads: what to draw; a bead's number decides its irregularities.
        frame: where the whole picture lies.
        ground1: the ground in linear light, seen through clear glass.
        seed: which irregularities; None draws every bead alike.
        casts_above: beads of layers above this one stand forward of those drawn before.
    """

    def __init__(
        self,
        beads: Sequence[PlacedBead],
        frame: Frame,
        ground1: Srgb1,
        seed: int | None,
        *,
        casts_above: int,
    ) -> None:
        self._ground1 = ground1
        self._table: list[_Stamp] = []
        # One row a bead: x and y in pixels, layer, and its stamp's place in the table.
        rows = list(self._placed(beads, frame, seed, casts_above))
        self._rows = np.array(rows, np.int64).reshape(-1, 4)
        reach = np.array([look.cells // 2 + 1 for look, _, _ in self._table], np.int64)
        self._reach = reach[self._rows[:, 3]]
        self._widest = int(reach.max(initial=0))
        # By place across, so that a part of a long picture looks at its own beads only.
        self._order = np.argsort(self._rows[:, 0], kind="stable")
        self._across = self._rows[self._order, 0]
        self._kept: dict[int, Sprite] = {}
        self._kept_bytes = 0
        self._make_at_once()

    def _placed(
        self, beads: Sequence[PlacedBead], frame: Frame, seed: int | None, casts_above: int
    ) -> Iterator[tuple[int, int, int, int]]:
        scale = frame.px_per_mm
        kinds: dict[tuple[object, ...], _Kind] = {}
        found: dict[tuple[int, int, int, int, int], int] = {}
        for number, bead in enumerate(beads):
            casts = bead.layer > casts_above
            key = (
                bead.across_mm, bead.along_mm, bead.hole_mm, bead.srgb1,
                bead.form, bead.pose, bead.finish, casts,
            )  # fmt: skip
            kind = kinds.get(key)
            if kind is None:
                kind = kinds[key] = _Kind(bead, casts, _turn_step(bead.across_mm * scale), {})
            varied = seed is not None and bead.across_mm * scale > _VARIED_ABOVE_PX
            variant = _variant(number, seed or 0) if varied else 0
            turns = round((bead.turn_deg + _VARIANTS[variant][1]) / kind.step_deg)
            look = kind.look(scale, turns, variant)
            fine = look.fine
            x, right = divmod(round((bead.x_mm - frame.left_mm) * scale * fine), fine)
            y, down = divmod(round((bead.y_mm - frame.top_mm) * scale * fine), fine)
            stamp_key = (id(kind), turns, variant, right, down)
            stamp = found.get(stamp_key)
            if stamp is None:
                stamp = found[stamp_key] = len(self._table)
                self._table.append((look, bead.srgb1, (right, down)))
            yield x, y, bead.layer, stamp

    def _make_at_once(self) -> None:
        """Makes all stamps look by look, which is quickest, where they are few enough to keep."""
        # A small look is made for all places within a pixel together.
        held = {
            (look, colour, offset if look.across_px > SMALL_PX else None)
            for look, colour, offset in self._table
        }
        held_bytes = sum(
            look.cells**2 * _BYTES_PER_CELL * (look.fine**2 if offset is None else 1)
            for look, _, offset in held
        )
        if held_bytes <= _MOST_KEPT_BYTES:
            for number in sorted(range(len(self._table)), key=self._by_look):
                self._sprite(number)

    def _by_look(self, number: int) -> tuple[object, ...]:
        # What is dear to work out comes first: the solid, then its finish, then its place.
        look, colour, offset = self._table[number]
        solid = (look.form, look.pose, look.across_px, look.along_px, look.hole_px, look.turn_deg)
        return (*solid, look.casts, look.finish, offset, colour)

    def _sprite(self, number: int) -> Sprite:
        found = self._kept.get(number)
        if found is None:
            look, colour, offset = self._table[number]
            found = sprite(look, colour, self._ground1, offset)
            size = found.ink.nbytes + found.rest.nbytes
            if self._kept_bytes + size > _MOST_KEPT_BYTES:
                self._kept.clear()
                self._kept_bytes = 0
            self._kept[number] = found
            self._kept_bytes += size
        return found

    def within(self, frame: Frame) -> dict[int, list[int]]:
        """The numbers of the beads that may show on a canvas, in their order, by layer."""
        first, last = np.searchsorted(
            self._across, (frame.left - self._widest, frame.left + frame.width + self._widest)
        )
        near = np.sort(self._order[first:last])
        down, reach = self._rows[near, 1] - frame.top, self._reach[near]
        near = near[(down > -reach) & (down < frame.height + reach)]
        by_layer: dict[int, list[int]] = {}
        for number, layer in zip(near.tolist(), self._rows[near, 2].tolist(), strict=True):
            by_layer.setdefault(layer, []).append(number)
        return by_layer

    def lay(self, canvas: Floats, numbers: list[int], frame: Frame) -> None:
        """Draws beads in their order on a canvas.

        Args:
            canvas: (h, w, 4) premultiplied linear light, drawn on in place.
            numbers: which beads.
            frame: where the canvas lies.
        """
        for x, y, _, number in self._rows[numbers].tolist():
            stamp = self._sprite(number)
            _stamp(canvas, stamp, x - frame.left + stamp.left, y - frame.top + stamp.top)


def _variant(number: int, seed: int) -> int:
    # Knuth's multiplicative hash: a pure function that scatters neighbours (from memory).
    return ((number * 7919 + seed * 104729 + 1) * 2654435761 >> 7) % len(_VARIANTS)


def _stamp(canvas: Floats, picture: Sprite, left: int, top: int) -> None:
    """Lays a bead's picture over the canvas, cut off where it sticks out."""
    height, width = canvas.shape[:2]
    ink, rest = picture.ink, picture.rest
    high, wide = ink.shape[:2]
    if left < 0 or top < 0 or left + wide > width or top + high > height:
        cut = (
            slice(max(-top, 0), max(height - top, 0)),
            slice(max(-left, 0), max(width - left, 0)),
        )
        ink, rest = ink[cut], rest[cut]
        left, top = max(left, 0), max(top, 0)
    under = canvas[top : top + ink.shape[0], left : left + ink.shape[1]]
    under *= rest
    under += ink
