"""The usual closures and chains at both ends of a strip."""

from dataclasses import dataclass

from explorer.lengths import MM_PER_INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastening:
    """A usual closure in two parts, one for each end, measured closed.

    Attributes:
        kind: the trade's word.
        least_mm, most_mm: how long it usually is, both parts together (from memory).
    """

    kind: str
    least_mm: float
    most_mm: float

    @property
    def middle_mm(self) -> float:
        """The middle of the range."""
        return (self.least_mm + self.most_mm) / 2.0


# Comes open under a pull: what a child's piece closes with (common practice, no source).
BREAKAWAY = "breakaway clasp"
FASTENINGS = (
    Fastening(kind="lobster clasp", least_mm=15.0, most_mm=18.0),
    Fastening(kind=BREAKAWAY, least_mm=18.0, most_mm=25.0),
    Fastening(kind="toggle clasp", least_mm=15.0, most_mm=25.0),
    Fastening(kind="magnetic clasp", least_mm=6.0, most_mm=12.0),
)
# A wire guard keeps the thread from the ring's edge; one at each end (from memory).
WIRE_GUARD_MM = (4.0, 5.0)
# Extender chains as they are sold (from memory).
EXTENDERS_MM = tuple(inches * float(MM_PER_INCH) for inches in (1, 2, 3))
