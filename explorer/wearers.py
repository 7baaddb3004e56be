"""Starting values for measurement and ease. A real measurement always wins, so ask for one."""

from dataclasses import dataclass
from enum import StrEnum

from explorer.brief import Wearer
from explorer.cautions import Wear
from explorer.lengths import MM_PER_INCH


class Place(StrEnum):
    """Where on the body a piece is worn."""

    WRIST = "wrist"
    ANKLE = "ankle"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limb:
    """A usual girth.

    Attributes:
        name: whose and where.
        girth_mm: the mean.
        spread_mm: one standard deviation; None where not even that is known.
        mark: how far to trust it.
        child: whether it is a child's.
    """

    name: str
    girth_mm: float
    spread_mm: float | None
    mark: str = "from memory; always measure"
    child: bool = False


# From memory, but for the one whose mark names a page.
LIMBS: tuple[Limb, ...] = (
    Limb(name="woman's wrist", girth_mm=155.0, spread_mm=8.0),
    Limb(name="man's wrist", girth_mm=176.0, spread_mm=9.0),
    Limb(name="woman's ankle", girth_mm=216.0, spread_mm=14.0),
    Limb(name="man's ankle", girth_mm=229.0, spread_mm=15.0),
    Limb(
        name="child's wrist at five",
        girth_mm=120.0,
        spread_mm=None,
        mark=(
            "Child's Bracelet Sizes, howtoadult.com: 5 3/4 in for four and five years, less the "
            "inch that it adds; always measure"
        ),
        child=True,
    ),
    Limb(name="child's wrist at eight", girth_mm=132.0, spread_mm=None, child=True),
    Limb(name="wrist at twelve", girth_mm=147.0, spread_mm=None, child=True),
    Limb(name="ankle at six", girth_mm=170.0, spread_mm=None, child=True),
    Limb(name="ankle at ten", girth_mm=195.0, spread_mm=None, child=True),
)
"""None under three: small beads are small parts, on which they choke."""


# From here up a strip is rather an ankle's. Chosen by us, because these lie midway between means
# above: a man's wrist and a woman's ankle; a wrist at twelve and an ankle at six.
_ANKLE_FROM_MM, _CHILD_ANKLE_FROM_MM = 195.0, 158.0
# Below it a wrist is a child's. Worked out from above: a woman's mean less three times its spread.
_GROWN_UP_FROM_MM = 131.0


def usual_wear(snug_mm: float | None) -> Wear:
    """What a piece is taken for where nobody says: by its measurement, an anklet without one."""
    if snug_mm is None or snug_mm >= _ANKLE_FROM_MM:
        return Wear.ANKLET
    return Wear.BRACELET if snug_mm >= _GROWN_UP_FROM_MM else Wear.CHILD


def usual_class_wear(snug_mm: float) -> Wear:
    """What a learner's piece is taken for: a child's wherever a child may measure so."""
    return Wear.CHILD if any(may_be_child(snug_mm, place) for place in Place) else Wear.ANKLET


def place_of(wear: Wear, snug_mm: float) -> Place:
    """Where a piece is worn; for a child, where a limb of that size most likely is."""
    if wear is Wear.CHILD:
        return Place.ANKLE if snug_mm >= _CHILD_ANKLE_FROM_MM else Place.WRIST
    return Place.ANKLE if wear is Wear.ANKLET else Place.WRIST


def may_be_child(girth_mm: float, place: Place) -> bool:
    """Whether a girth is one that children have as well; some grown-ups have it too.

    Args:
        girth_mm: the snug measurement.
        place: where it was taken.
    """
    return girth_mm <= max(li.girth_mm for li in LIMBS if li.child and place in li.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ease:
    """What is added to a snug measurement; pages of the trade differ."""

    limb: Place
    word: str
    least_in: float
    most_in: float

    @property
    def middle_mm(self) -> float:
        """The middle of the range."""
        return (self.least_in + self.most_in) / 2.0 * float(MM_PER_INCH)


# Ankle: Choosing the Right Anklet Size, thesize.net/anklets. Wrist, from memory and within what
# pages say, which differ: How To Measure Your Wrist, lcmathewsdesigns.com/measure.shtml (about 1/2
# in); Discover Your Perfect Bracelet Fit, horsefeathersgifts.com (1/4 to 1/2, loose 3/4 to 1); How
# to Determine Your Bracelet Size, tasitreasures.com (snug 1/4 to 1/2, comfortable 3/4 to 1).
EASES: tuple[Ease, ...] = (
    Ease(limb=Place.WRIST, word="close", least_in=0.25, most_in=0.25),
    Ease(limb=Place.WRIST, word="comfortable", least_in=0.375, most_in=0.5),
    Ease(limb=Place.WRIST, word="loose", least_in=0.75, most_in=0.75),
    Ease(limb=Place.ANKLE, word="snug", least_in=0.5, most_in=1.0),
    Ease(limb=Place.ANKLE, word="comfortable", least_in=1.0, most_in=1.5),
    Ease(limb=Place.ANKLE, word="loose", least_in=2.0, most_in=2.5),
)


def usual_ease_mm(place: Place) -> float:
    """The ease that is taken where none is given: comfortable, to the whole millimetre."""
    usual = next(ease for ease in EASES if ease.limb is place and ease.word == "comfortable")
    return float(round(usual.middle_mm))


def own_ease(wearer: Wearer | None, wear: Wear | None) -> bool:
    """Whether an ease is another than the usual one where the piece is worn."""
    if wearer is None:
        return False
    place = place_of(wear or usual_wear(wearer.snug_mm), wearer.snug_mm)
    return wearer.ease_mm != usual_ease_mm(place)
