"""A class at once: everybody's fit, order and counts, what to buy, and who lacks what.

Counts come from each learner's own design, and totals are their sums, so that a bag, a sheet and
the shopping list cannot disagree.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from explorer.brief import Strip, Wearer
from explorer.buying import PER_GRAM_SPREAD
from explorer.buying_packs import Pack
from explorer.cautions import Wear
from explorer.counts import Counts, Spares, counts
from explorer.design import Closure, Design, build
from explorer.errors import BriefError
from explorer.fit import Fit, NoFit
from explorer.kit_colours import Colours
from explorer.kit_roster import Learner
from explorer.kit_totals import Needs, Short, Total, short_of, totals_of
from explorer.kit_tray import Held, gram_prices
from explorer.piece import Piece, piece_of
from explorer.profile import Shape, profile
from explorer.profile_generator import usual_longest
from explorer.sitting import Sitting, sitting
from explorer.thread import ThreadPlan, thread_plan
from explorer.thread_setup import ThreadSetup
from explorer.wearers import place_of, usual_class_wear, usual_ease_mm, usual_wear
from palettes.beads import Bead, BeadKind

# Middle of what is used for children's kits (from memory: 15-20 %).
CHILD_SPARES = Spares(percent=15.0)
# Chosen by us: longer dangles than six beads are slow work for a class.
_MOST_DANGLE = 6

Progress = Callable[[int, int], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class KitBrief:
    """What is the same for everyone in a class.

    Attributes:
        strip: base, pitch and repeat.
        hanging: the kind of the dangles' beads.
        base_bead: the base bead in its colour.
        divider_bead: the small bead under the dividers; none for bare dividers.
        colours: beads to choose from; of the kind ``hanging``.
        tray: the beads at hand; empty where nobody has looked.
        ease_mm: for whoever has none of their own; None for what is usual where it is worn.
        closure: the fastening.
        closure_counted: whether the ease allows for it.
        profile: dangle lengths; empty for a peak that hangs as low as is usual for the wear.
        colours_each: how many colours are chosen for whoever picked none; 3 chosen by us, because a
            child tells three apart and a tray's packs go round.
        wear: what the pieces are worn as; None for what each measurement is usual for.
        spares, setup: the rule for spares, and the thread.
        packs: what a shop has, by the name of a kind; kinds not named have the usual packs.
        per_gram: how far beads per gram may be off, as a part.
    """

    strip: Strip
    hanging: BeadKind
    base_bead: Bead
    colours: tuple[Bead, ...]
    divider_bead: Bead | None = None
    tray: tuple[Held, ...] = ()
    ease_mm: float | None = None
    closure: Closure = field(default_factory=Closure)
    closure_counted: bool = True
    profile: tuple[int, ...] = ()
    colours_each: int = 3
    wear: Wear | None = None
    spares: Spares = CHILD_SPARES
    setup: ThreadSetup = field(default_factory=ThreadSetup)
    packs: tuple[tuple[str, tuple[Pack, ...]], ...] = ()
    per_gram: float = PER_GRAM_SPREAD

    @property
    def lengths(self) -> tuple[int, ...]:
        """The dangle lengths of every motif."""
        if self.profile:
            return self.profile
        most = usual_longest(self.wear or Wear.CHILD, self.hanging)
        return profile(Shape.PEAK, self.strip.repeat.dangles, 1, most)


@dataclass(frozen=True, slots=True, kw_only=True)
class LearnerKit:
    """One learner's piece and what goes into their bag.

    Attributes:
        learner: who.
        piece: their piece; for a size band, the piece of its upper end.
        fit: the strip.
        counts: its beads, with spares.
        plan: its thread.
        least_motifs: the motifs of the band's lower end; those of the piece where it is measured.
    """

    learner: Learner
    piece: Piece
    fit: Fit
    counts: Counts
    plan: ThreadPlan
    least_motifs: int

    @property
    def sitting(self) -> Sitting:
        """How the piece sits on the limb; for a size band, on its upper end."""
        if self.piece.wearer is None:
            raise TypeError("a learner's piece has a measurement")
        return sitting(self.piece.design, self.piece.wearer)

    def needs(self) -> Needs:
        """Beads in the piece and spares, by bead."""
        found: dict[Bead, tuple[int, int]] = {}
        for entry in self.counts.by_bead:
            if entry.used:
                bead = self.piece.design.beads[entry.bead]
                used, spares = found.get(bead, (0, 0))
                found[bead] = (used + entry.used, spares + entry.spares)
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfit:
    """A learner whose measurement is too short for one motif, and the least that would do."""

    learner: Learner
    needs_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Kit:
    """A class kit.

    Attributes:
        brief: what it was worked out from.
        learners: everybody for whom a piece fits, in the roster's order.
        totals: every bead in use.
        short: who lacks what; nobody where there is enough or no tray was given.
        unfit: who is measured too short.
    """

    brief: KitBrief
    learners: tuple[LearnerKit, ...]
    totals: tuple[Total, ...]
    short: tuple[Short, ...]
    unfit: tuple[Unfit, ...]


def make_kit(
    learners: Sequence[Learner], brief: KitBrief, keep_going: Progress | None = None
) -> Kit:
    """A class kit.

    Args:
        learners: from ``explorer.kit_roster``.
        brief: what is the same for everyone.
        keep_going: called after every learner with how many are done and how many there are;
            False ends the work there.

    Raises:
        BriefError: somebody picked a bead that is not there, or nobody's measurement suffices.
    """
    colours = Colours(brief.colours, brief.hanging, brief.colours_each)
    kits: list[LearnerKit] = []
    unfit: list[Unfit] = []
    for place, learner in enumerate(learners):
        made = _learner_kit(learner, place, brief, colours)
        if isinstance(made, Unfit):
            unfit.append(made)
        else:
            kits.append(made)
        if keep_going is not None and not keep_going(place + 1, len(learners)):
            break
    if not kits:
        needs = min(one.needs_mm for one in unfit)
        raise BriefError(
            "roster",
            f"{len(unfit)} learners, all measured too short",
            f"at least {math.ceil(needs)} mm snug for one motif",
            "Take fewer dangles, a smaller base bead, or more ease.",
        )
    needs_of = [kit.needs() for kit in kits]
    held = {entry.bead: entry.count for entry in brief.tray}
    return Kit(
        brief=brief,
        learners=tuple(kits),
        totals=totals_of(
            needs_of, held, dict(brief.packs), brief.per_gram, gram_prices(brief.tray)
        ),
        short=short_of([kit.learner.name for kit in kits], needs_of, held) if held else (),
        unfit=tuple(unfit),
    )


def _learner_kit(
    learner: Learner, place: int, brief: KitBrief, colours: Colours
) -> LearnerKit | Unfit:
    least, most = (
        brief.strip.fit(_wearer(mm, learner, brief), brief.closure) for mm in _ends(learner)
    )
    if isinstance(most, NoFit):
        return Unfit(learner=learner, needs_mm=most.snug_needs_mm)
    beads = colours.of(learner, place)
    design = _design(brief, most, beads, colours.order(beads, most.motifs))
    return LearnerKit(
        learner=learner,
        piece=piece_of(
            design=design,
            name=learner.name,
            wearer=_wearer(learner.most_mm, learner, brief),
            wear=brief.wear or usual_class_wear(learner.most_mm),
            plain_ends=brief.strip.plain_ends,
            pitch_measured=brief.strip.measured_pitch_mm is not None,
        ),
        fit=most,
        counts=counts(design, brief.spares),
        plan=thread_plan(design, brief.setup),
        least_motifs=0 if isinstance(least, NoFit) else least.motifs,
    )


def _ends(learner: Learner) -> tuple[float, float]:
    return learner.least_mm, learner.most_mm


def _wearer(snug_mm: float, learner: Learner, brief: KitBrief) -> Wearer:
    ease_mm = brief.ease_mm if learner.ease_mm is None else learner.ease_mm
    if ease_mm is None:
        ease_mm = usual_ease_mm(place_of(brief.wear or usual_wear(snug_mm), snug_mm))
    return Wearer(
        snug_mm=snug_mm,
        ease_mm=ease_mm,
        closure_counted=brief.closure_counted,
    )


def _design(brief: KitBrief, fit: Fit, beads: tuple[Bead, ...], order: tuple[int, ...]) -> Design:
    """Beads in use, then the base, then the divider's bead."""
    margins = fit.repeat.margins
    divider = () if brief.divider_bead is None else (brief.divider_bead,)
    return build(
        beads=(*beads, brief.base_bead, *divider),
        base=len(beads),
        base_pitch_mm=fit.pitch_mm,
        profiles=(brief.lengths,),
        order=order,
        divider_base_beads=fit.repeat.divider,
        divider_hangs=(len(beads) + 1,) if divider else (),
        margins=(margins // 2, margins - margins // 2),
        closure=brief.closure,
    )
