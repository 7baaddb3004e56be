"""The whole flow, from a brief to a spread of different pieces. Read this file first.

Text becomes a ``Brief`` (``explorer.brief``), its measurement a ``Fit`` (``explorer.fit``);
recipes mix outlines (``explorer.profile``), groups of colours (``explorer.subsets``) and exact
colour orders (``explorer.sequence``); each is scored, the best of each kind is kept, and a pick of
those that look different (``explorer.variety``) becomes the proposals. Everything else - picture,
counts, thread - is derived from a proposal's ``Design``.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from explorer.brief import Brief, Mood
from explorer.buying import weight_g
from explorer.candidates import TRIES_PER_PROPOSAL, Candidate, Choices, candidates, fits
from explorer.contrast_piece import all_as_seen
from explorer.counts import counts
from explorer.crowding import check_width
from explorer.demands import refused
from explorer.design import Design, motif_profile
from explorer.errors import BriefError
from explorer.fit import Fit, NoFit, Repeat
from explorer.orders import Orders
from explorer.pattern import Pattern
from explorer.profile_scores import ProfileScores, drop_mm, scores
from explorer.proposal_figures import figures_of
from explorer.quality import quality
from explorer.reasons import reasons
from explorer.recipe import Recipe, pattern_of
from explorer.relatives import (
    Like,
    base_beads_of,
    by_hand_alone,
    change_words,
    hand_words,
    hands_on,
    reckoned,
    related,
    relatives,
)
from explorer.subsets import subsets, thinned
from explorer.variety import Looks, looks, spread_pick
from explorer.weave import weave
from palettes.difference import DISTINCT_FROM, pairwise
from palettes.harmony import mean_harmony
from palettes.spaces import FloatArray, hexes_to_srgb1, srgb1_to_lab

# Colours of a large tray that a search looks at. Chosen by us: a pick of 120 leaves no bead of a
# tray of thousands without a near twin in it.
MOST_SEARCHED = 120

Progress = Callable[[int, int], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """One piece to choose from.

    Attributes:
        recipe: the choices that made it.
        pattern: the piece as it is meant.
        fit: its strip.
        weakest: CIEDE2000 of the weakest two neighbouring motifs as seen
            (``explorer.contrast_piece``); None for one motif, and where all neighbours repeat.
        weakest_pair: their places.
        proven: whether no order of these colours in this arrangement does better.
        strongest: the strongest weakest two that any order of its colours with its uses, gap,
            settled motifs and arrangement was found to have; None where ``weakest`` is.
        strongest_proven: whether no such order does better than ``strongest``.
        gave_up_for: in a word what the difference between the two was given up for; empty where
            nothing was.
        repeats: places of neighbouring motifs that repeat the same beads.
        mean: the mean over neighbours that do not repeat.
        harmony: mean harmony of its colours, shown apart from contrast.
        outline: the scores of the profile that hangs lowest.
        beads: all beads in dangles.
        weight_g: what all beads weigh, as beads per gram are given.
        reads_apart_to_m: up to where half the people tell the most alike neighbours apart; None for
            one motif.
        reason: why it is here, in one line.
        unbeaten: whether no other proposal has both more contrast and more harmony.
    """

    recipe: Recipe
    pattern: Pattern
    fit: Fit
    weakest: float | None
    weakest_pair: tuple[int, int] | None
    proven: bool
    strongest: float | None
    strongest_proven: bool
    gave_up_for: str
    repeats: tuple[tuple[int, int], ...]
    mean: float | None
    harmony: float
    outline: ProfileScores
    beads: int
    weight_g: float
    reads_apart_to_m: float | None
    reason: str
    unbeaten: bool

    @property
    def design(self) -> Design:
        """The piece, bead by bead."""
        return weave(self.pattern)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposals:
    """What a brief led to: the fit of its own repeat, and the proposals, the best first."""

    brief: Brief
    fit: Fit
    proposals: tuple[Proposal, ...]


def propose(
    brief: Brief, keep_going: Progress | None = None, *, like: Like | None = None
) -> Proposals | NoFit:
    """Different good pieces for a brief.

    Args:
        brief: what is asked for; its seed decides all choices by chance.
        keep_going: called between steps with steps done and steps in all; False ends the search
            early with what was found.
        like: what to find relatives of.

    Returns:
        Up to ``brief.count`` proposals, or what measurement would let one motif fit.

    Raises:
        BriefError: the colour demands cannot stand together, or a bead is wider than the strip.
    """
    base_beads = Repeat.strip_base_beads if like is None else base_beads_of(like)
    fit = brief.strip.fit(brief.wearer, brief.closure, base_beads)
    if isinstance(fit, NoFit):
        return fit
    for kind in {bead.kind for bead in brief.colours}:
        check_width(kind, fit.strip_mm)
    rng = np.random.default_rng(brief.seed)
    lab = srgb1_to_lab(hexes_to_srgb1([bead.hex for bead in brief.colours]))
    strips = fits(brief, fit, base_beads)
    choices, orders = _prepared(brief, strips, lab, like, rng)
    tries = (
        candidates(brief, choices, orders, rng)
        if like is None
        else relatives(brief, like, choices, orders, rng)
    )
    archive = best_of_each(_counted(tries, brief, keep_going), brief.mood)
    if not archive:
        raise _none_found(brief, orders)
    if like is not None:
        archive = _told_apart(archive, brief, like)
    qualities = np.array([quality(candidate, brief.mood) for candidate in archive])
    picked = spread_pick(_looks(brief, archive, lab), qualities, brief.count)
    return Proposals(
        brief=brief,
        fit=fit,
        proposals=_proposals(brief, [archive[i] for i in picked], lab, like),
    )


def _prepared(
    brief: Brief,
    strips: tuple[Fit, ...],
    lab: FloatArray,
    like: Like | None,
    rng: np.random.Generator,
) -> tuple[Choices, Orders]:
    """What to mix, and the orders to look up; large trays are thinned out, settled beads kept."""
    settled = [colour for _, colour in brief.fixed]
    searched = np.union1d(thinned(lab, MOST_SEARCHED), np.array(settled, dtype=np.intp))
    if brief.stock:
        searched = searched[np.array(brief.stock)[searched] > 0]
    alone = () if like is None else by_hand_alone(like, brief)
    searched = np.setdiff1d(searched, np.array(alone, dtype=np.intp))
    matrix = np.full((len(lab), len(lab)), np.nan)
    matrix[np.ix_(searched, searched)] = pairwise(lab[searched])
    must = tuple(dict.fromkeys(settled))
    groups = subsets(lab, matrix, searched, must=must, keep_all=brief.keep_palette, rng=rng)
    choices = Choices(strips=strips, groups=groups, lightness=tuple(lab[:, 0].tolist()))
    if like is None:
        return choices, Orders(brief, matrix)
    return choices, Orders(brief, matrix, partial(hands_on, like))


def _none_found(brief: Brief, orders: Orders) -> BriefError:
    refusal = orders.refusal()
    if refusal is not None:
        return refused(refusal)
    return BriefError(
        "stock" if brief.stock else "colours",
        f"{len(brief.colours)} beads",
        "beads that are enough for every motif, and the settled ones among them",
        "Choose more beads, shorter dangles or fewer motifs.",
    )


def _counted(
    tries: Iterable[Candidate], brief: Brief, keep_going: Progress | None
) -> Iterable[Candidate]:
    total = brief.count * TRIES_PER_PROPOSAL
    for done, candidate in enumerate(tries):
        yield candidate
        if keep_going is not None and not keep_going(done, total):
            return


def best_of_each(found: Iterable[Candidate], mood: Mood) -> list[Candidate]:
    """The best candidate of every kind; a kind is all of a recipe but the order."""
    archive: dict[tuple[object, ...], Candidate] = {}
    for candidate in found:
        recipe = candidate.recipe
        kind = (
            recipe.outline,
            recipe.palette,
            recipe.colouring,
            recipe.arrangement,
            bool(recipe.second),
            recipe.rules.varied,
        )
        held = archive.get(kind)
        if held is None or quality(candidate, mood) > quality(held, mood):
            archive[kind] = candidate
    return list(archive.values())


def _told_apart(archive: list[Candidate], brief: Brief, like: Like) -> list[Candidate]:
    """Relatives without neighbours that look alike, where there are any and the piece has none."""
    designs = [weave(related(brief, like, candidate.recipe)) for candidate in archive]
    own, *rows = [seen.weakest for seen in all_as_seen([weave(like.pattern), *designs])]
    if own is not None and own.worst < DISTINCT_FROM:
        return archive
    apart = (row is None or row.worst >= DISTINCT_FROM for row in rows)
    return [c for c, keeps in zip(archive, apart, strict=True) if keeps] or archive


def _looks(brief: Brief, archive: list[Candidate], lab: FloatArray) -> Looks:
    return looks(
        orders=[c.recipe.order for c in archive],
        labs=[lab[list(c.recipe.palette)] for c in archive],
        drops_mm=[_drops_mm(brief, c.recipe) for c in archive],
        details=[c.recipe.rules.varied for c in archive],
    )


def _drops_mm(brief: Brief, recipe: Recipe) -> list[float]:
    """The drop at every base bead but the margins'."""
    kind = brief.colours[0].kind
    hung = recipe.rules.dividers
    if hung is None:
        hung = () if brief.divider_bead is None else (brief.divider_bead,)
    divider = [drop_mm(len(hung), hung[0].kind) if hung else 0.0] * recipe.repeat.divider
    drops: list[float] = []
    for lengths in recipe.all_lengths():
        drops += divider + [drop_mm(beads, kind, recipe.rules.tip_kind) for beads in lengths]
    return drops + divider


def _proposals(
    brief: Brief, picked: list[Candidate], lab: FloatArray, like: Like | None
) -> tuple[Proposal, ...]:
    patterns = [
        pattern_of(brief, c.recipe) if like is None else related(brief, like, c.recipe)
        for c in picked
    ]
    if like is not None:
        picked = [reckoned(c, p, brief) for c, p in zip(picked, patterns, strict=True)]
    designs = [weave(pattern) for pattern in patterns]
    harmonies = [mean_harmony(lab[list(c.recipe.palette)]) for c in picked]
    figures = figures_of(picked, designs, brief.colours)
    unbeaten = front(np.column_stack([[f.weakest or 0.0 for f in figures], harmonies]))
    lines = reasons(picked, harmonies, figures)
    if like is not None:
        words = [(change_words(like, one), hand_words(like, one)) for one in patterns]
        lines = tuple(
            ", ".join(filter(None, (line, *more))) for line, more in zip(lines, words, strict=True)
        )
    return tuple(
        Proposal(
            recipe=c.recipe,
            pattern=pattern,
            fit=c.fit,
            weakest=f.weakest,
            weakest_pair=f.weakest_pair,
            proven=f.proven,
            strongest=f.strongest,
            strongest_proven=f.strongest_proven,
            gave_up_for=f.gave_up_for,
            repeats=f.repeats,
            mean=f.mean,
            harmony=harmony,
            outline=_scores_of_longest(design, pattern),
            beads=counts(design).dangle_beads,
            weight_g=weight_of(design),
            reads_apart_to_m=f.reads_apart_to_m,
            reason=line,
            unbeaten=bool(best),
        )
        for c, pattern, design, f, harmony, line, best in zip(
            picked, patterns, designs, figures, harmonies, lines, unbeaten, strict=True
        )
    )


def _scores_of_longest(design: Design, pattern: Pattern) -> ProfileScores:
    """The scores of the motif that hangs lowest, the first of several."""
    lowest = max(map(motif_profile, design.motifs), key=max)
    return scores(lowest, pattern.hanging, pattern.tip.kind)


def weight_of(design: Design) -> float:
    """What all beads of a design weigh, as beads per gram are given."""
    tally = counts(design)
    return sum(weight_g(count.used, design.beads[count.bead]) for count in tally.by_bead)


def front(values: FloatArray) -> NDArray[np.bool_]:
    """Which rows of (m, 2) scores no other row beats in both, as a mask (m,)."""
    more = np.asarray((values[None, :, :] >= values[:, None, :]).all(axis=2))
    better = np.asarray((values[None, :, :] > values[:, None, :]).any(axis=2))
    return ~np.asarray((more & better).any(axis=1))
