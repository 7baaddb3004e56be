"""What must be said of safety, in one place and always in the same words."""

from explorer.cautions import Wear
from explorer.sheet_facts import SheetFacts
from gallery.page import Block, Note

# General information, not legal advice; the sources stand in the contributor's guide.
SMALL_PARTS = (
    "Small beads are small parts: not for children under three, who choke on them.",
    "Count needles out and in; an adult finishes the ends.",
)
FOR_CHILDREN = (
    (
        "A strip at a small child's wrist or ankle is worn only under someone's eye, not while "
        "asleep or bathing, and strong thread does not give: use a closure that comes open."
    ),
    "Magnetic closures never go on children's pieces: swallowed magnets injure.",
)
METAL = (
    "Metal parts can hold nickel, lead or cadmium: buy findings that are declared free of them.",
)
LAW = (
    (
        "This is general information; what the law where you live and sell asks for, and what a "
        "licensed professional advises, comes first."
    ),
)
ALL = (*SMALL_PARTS, *FOR_CHILDREN, *METAL, *LAW)


def care_blocks(facts: SheetFacts) -> list[Block]:
    """The piece's own cautions, then those of every piece."""
    child = FOR_CHILDREN if facts.options.wear is Wear.CHILD else FOR_CHILDREN[:1]
    texts = (*SMALL_PARTS, *child, *METAL, *LAW)
    return [*own_care(facts), Note(title="Take care", texts=texts)]


def own_care(facts: SheetFacts) -> list[Block]:
    """The piece's own cautions; nothing where there are none."""
    own = tuple(f"{caution.words} {caution.remedy}" for caution in facts.cautions)
    return [Note(title="Before you begin", texts=own)] if own else []
