"""Taps on a photograph of beads beside a white card or a chart, and the colour they give."""

from dataclasses import dataclass, replace

from explorer.app.photographs import Photo
from palettes.measure import Measured, NoMeasure, Place, measure_by_card
from palettes.measure_chart import measure_by_chart

CARD, CHART = "card", "chart"
# Chosen by us, because nobody taps more beads of one photograph.
_MOST_TAPS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Taps:
    """Where a photograph was tapped, in fractions of width and height.

    Attributes:
        mark: of the photograph.
        way: ``card`` or ``chart``.
        reach: how far round each tap to look, as a fraction of the longer side; the middle one of
            three, chosen by us by trial.
        white: the card, or the four corners of the chart.
        beads: the beads.
    """

    mark: str = ""
    way: str = CARD
    reach: float = 0.015
    white: tuple[Place, ...] = ()
    beads: tuple[Place, ...] = ()

    @property
    def whites(self) -> int:
        """How many taps the card or the chart takes."""
        return 1 if self.way == CARD else 4

    def with_tap(self, place: Place) -> "Taps":
        """After one more tap: first the card or the corners, then beads."""
        if len(self.white) < self.whites:
            return replace(self, white=(*self.white, place))
        return replace(self, beads=(*self.beads, place)[-_MOST_TAPS:])

    @property
    def next(self) -> str:
        """What to tap now."""
        if len(self.white) < self.whites:
            if self.way == CARD:
                return "Tap the white card."
            left = 4 - len(self.white)
            return f"Tap the middles of the four patches at the chart's corners: {left} to go."
        return "Tap the beads." if not self.beads else "Tap more of the same beads, or use it."


def measured(taps: Taps, shot: Photo) -> Measured | NoMeasure | None:
    """The colour, why there is none, or None while taps are wanting."""
    if len(taps.white) < taps.whites or not taps.beads:
        return None
    height, width = shot.pixels.shape[:2]
    white = [(x * width, y * height) for x, y in taps.white]
    beads = [(x * width, y * height) for x, y in taps.beads]
    radius_px = max(1.0, taps.reach * max(width, height))
    try:
        if taps.way == CARD:
            return measure_by_card(shot.pixels, white[0], beads, radius_px=radius_px)
        return measure_by_chart(shot.pixels, white, beads, radius_px=radius_px)
    except ValueError:
        # The taps lie on the picture, so only corners in a line are left.
        return NoMeasure(
            why="the corners lie on a line",
            remedy="Tap the middles of the four patches at its corners.",
        )
