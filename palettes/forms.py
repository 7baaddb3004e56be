"""The shapes that beads come in: the one vocabulary that materials and pictures share."""

from enum import StrEnum


class Form(StrEnum):
    """The shape of a bead, in the trade's words."""

    ROUND = "round"
    CYLINDER = "cylinder"
    CUBE = "cube"
    DROP = "drop"
    FACETED = "faceted"
