"""From an order that cannot be to the error that a maker can act on."""

from explorer.errors import BriefError
from explorer.sequence_types import NoOrder


def refused(refusal: NoOrder) -> BriefError:
    """The maker's error for colour demands that cannot stand together."""
    remedy = " Or: ".join(change.words for change in refusal.changes[:3])
    return BriefError(
        refusal.demands[0] if refusal.demands else "colours",
        " with ".join(refusal.demands),
        f"demands that can stand together ({refusal.why.rstrip('.')})",
        remedy or "Ask for less: fewer motifs alike, more colours, or a smaller gap.",
    )
