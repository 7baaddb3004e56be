"""The rules that a recipe may have besides outline, colours and order; each is one choice."""

from dataclasses import dataclass

from palettes.beads import Bead, BeadKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """What proposals vary besides outline and colours; a rule that is not set is the brief's own.

    Attributes:
        third: the third outline's dangle lengths, where three take turns.
        letters: which outline in turn, where that is not ``A``, ``AB`` or ``ABCB``.
        mirrored: whether motifs past the middle are mirror images.
        growth: beads that a dangle of the middle motif has more than one of the first.
        tip: the bead whose colour all turning beads share; none for what each dangle gives.
        tip_kind: the turning beads' kind; none for that of the dangles.
        dividers: the small beads under a divider, from the base down; none for the brief's own.
        base: the base beads in turn; none for the brief's alone.
        by_motif: whether they change from motif to motif; else from bead to bead.
    """

    third: tuple[int, ...] = ()
    letters: str = ""
    mirrored: bool = False
    growth: int = 0
    tip: Bead | None = None
    tip_kind: BeadKind | None = None
    dividers: tuple[Bead, ...] | None = None
    base: tuple[Bead, ...] = ()
    by_motif: bool = False

    @property
    def varied(self) -> tuple[bool, ...]:
        """Which rules are set."""
        outlines = bool(self.third), self.mirrored, bool(self.growth)
        tips = self.tip is not None, self.tip_kind is not None
        return (*outlines, *tips, self.dividers is not None, len(self.base) > 1)

    @property
    def words(self) -> tuple[str, ...]:
        """What is set, each in a few words."""
        found = []
        if self.growth:
            found.append("longer toward the middle" if self.growth > 0 else "longer at the ends")
        if self.mirrored:
            found.append("halves mirrored")
        if self.tip is not None:
            found.append(f"tips in {self.tip.name or self.tip.hex}")
        if self.tip_kind is not None:
            found.append(f"{self.tip_kind.name} at the tips")
        if self.dividers is not None:
            found.append(_under(self.dividers))
        if len(self.base) > 1:
            found.append(f"base in two colours {'by motif' if self.by_motif else 'in turn'}")
        return tuple(found)


NO_RULES = Rules()


def _under(beads: tuple[Bead, ...]) -> str:
    if not beads:
        return "bare dividers"
    named = " and ".join(dict.fromkeys(bead.name or bead.hex for bead in beads))
    return f"dividers with {named}" if len(beads) == 1 else f"dividers with {len(beads)} {named}"
