"""Lays beads on a canvas: each one's picture is taken from the store and stamped in its place."""

import math
from dataclasses import dataclass

from gallery.looks import Look
from gallery.scene import PlacedBead, Pose, Srgb1
from gallery.solids import Floats
from gallery.sprites import Sprite, sprite
from palettes.forms import Form

# Variants of size and lean, by eye: hand-made beads differ while few looks are kept.
_VARIANTS = ((1.0, 0.0), (0.978, 0.8), (1.018, -0.7), (0.99, -0.3), (1.008, 0.5))
_VARIED_ABOVE_PX = 8.0
_SMALL_PX = 10.0
_TURN_STEPS_DEG = (0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 7.5, 9.0, 12.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where a canvas lies: its upper left corner in mm, its scale, its size in pixels."""

    left_mm: float
    top_mm: float
    px_per_mm: float
    width: int
    height: int


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


def draw_beads(
    canvas: Floats,
    beads: list[tuple[int, PlacedBead]],
    frame: Frame,
    ground1: Srgb1,
    seed: int | None,
    *,
    casts: bool,
) -> None:
    """Draws beads in their order on the canvas.

    Args:
        canvas: (h, w, 4) premultiplied linear light, drawn on in place.
        beads: each with its number in the scene, which decides its irregularities.
        frame: where the canvas lies.
        ground1: the ground in linear light, seen through clear glass.
        seed: which irregularities; None draws every bead alike.
        casts: whether these beads stand forward of those drawn before.
    """
    scale = frame.px_per_mm
    kinds: dict[tuple[object, ...], _Kind] = {}
    stamps: dict[tuple[int, int, int, int, int], Sprite] = {}
    for number, bead in beads:
        key = (
            bead.across_mm, bead.along_mm, bead.hole_mm, bead.srgb1,
            bead.form, bead.pose, bead.finish,
        )  # fmt: skip
        kind = kinds.get(key)
        if kind is None:
            kind = kinds[key] = _Kind(bead, casts, _turn_step(bead.across_mm * scale), {})
        varied = seed is not None and bead.across_mm * scale > _VARIED_ABOVE_PX
        variant = _variant(number, seed or 0) if varied else 0
        turns = round((bead.turn_deg + _VARIANTS[variant][1]) / kind.step_deg)
        look = kind.look(scale, turns, variant)
        fine = look.fine
        x = round((bead.x_mm - frame.left_mm) * scale * fine)
        y = round((bead.y_mm - frame.top_mm) * scale * fine)
        stamp_key = (id(kind), turns, variant, x % fine, y % fine)
        stamp = stamps.get(stamp_key)
        if stamp is None:
            stamp = stamps[stamp_key] = sprite(look, bead.srgb1, ground1, (x % fine, y % fine))
        _stamp(canvas, stamp, x // fine + stamp.left, y // fine + stamp.top)


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
