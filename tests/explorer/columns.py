"""Designs with other columns than they had."""

from typing import Any

from explorer.design import Design, of_columns

_VIEWS = (
    *("beads", "base_pitch_mm", "motifs", "dividers", "start_margin", "end_margin"),
    *("start_links", "end_links", "closure"),
)


def with_columns(design: Design, **changes: Any) -> Design:
    """The design with some of the arguments of ``of_columns`` told anew."""
    return of_columns(**{name: getattr(design, name) for name in _VIEWS} | changes)
