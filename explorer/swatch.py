"""A pitch measured by the maker: so many beads of a woven swatch take so much length."""

import re
from dataclasses import dataclass

from explorer.brief import LEAST_PITCH_MM, MOST_PITCH_MM, whole
from explorer.errors import BriefError
from explorer.lengths import parse_mm

# Chosen by us, because a ruler with millimetres is read to half of one.
READING_ERROR_MM = 0.5
# Chosen by us: fewer beads than five measure the ruler, not the beads.
LEAST_BEADS, MOST_BEADS = 5, 2000
_SENTENCE = re.compile(
    r"\s*(?P<beads>\S+)\s*(?:base\s+)?(?:beads?)?\s*(?:measures?|takes?|are|is|=|:|in)\s*(?P<length>.+)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Swatch:
    """Beads counted over a length.

    Attributes:
        beads: how many, at least five.
        length_mm: what they measure together.
        reading_mm: how far off the ruler may have been read.
    """

    beads: int
    length_mm: float
    reading_mm: float = READING_ERROR_MM

    def __post_init__(self) -> None:
        whole("swatch", self.beads, LEAST_BEADS, MOST_BEADS)
        if not LEAST_PITCH_MM <= self.length_mm / self.beads <= MOST_PITCH_MM:
            raise BriefError(
                "swatch",
                f"{self.beads} beads in {self.length_mm:g} mm",
                f"{LEAST_PITCH_MM:g} to {MOST_PITCH_MM:g} mm a bead",
                "Count the beads and measure their length again.",
            )

    @property
    def pitch_mm(self) -> float:
        """The strip's length per base bead."""
        return self.length_mm / self.beads

    @property
    def spread(self) -> float:
        """How far the pitch may be off, as a fraction of it."""
        return self.reading_mm / self.length_mm


def parse_swatch(text: str) -> Swatch:
    """A swatch from a sentence such as ``20 beads measure 39.5 mm`` or ``20 = 39.5 mm``.

    Raises:
        BriefError: it is no such sentence, or its numbers make no sense.
    """
    found = _SENTENCE.fullmatch(text)
    if not found:
        raise BriefError(
            "swatch",
            text,
            "a sentence such as: 20 beads measure 39.5 mm",
            "Count twenty beads of a woven strip and measure their length.",
        )
    beads = whole("swatch", found["beads"], LEAST_BEADS, MOST_BEADS)
    length_mm = parse_mm(
        found["length"],
        "swatch",
        least_mm=beads * LEAST_PITCH_MM,
        most_mm=beads * MOST_PITCH_MM,
    )
    return Swatch(beads=beads, length_mm=length_mm)
