"""Choosing among proposals: what is kept, what is put away, what relatives are asked for."""

import hashlib
import json
from dataclasses import asdict, dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from explorer.app.sizing import Sizing, with_repeat
from explorer.app.state import Work
from explorer.app.steps import brief_of
from explorer.app.units import Units, told
from explorer.brief import USUAL_EXTRAS, Brief, HowMuch
from explorer.contrast_piece import motifs_as_seen
from explorer.contrast_words import measure_words, possible_words, repeating_words
from explorer.design import Design, of_columns
from explorer.errors import BriefError
from explorer.fit import Repeat
from explorer.lift import lift
from explorer.pattern import Pattern
from explorer.piece import to_document
from explorer.propose import Proposal
from explorer.reading import Json
from explorer.reasons import ARRANGED
from explorer.relatives import Like, like_of, motif_beads_of

if TYPE_CHECKING:
    from pydantic import TypeAdapter

# Chosen by us: more do not lie side by side on a page.
MOST_KEPT = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Choosing:
    """Where the maker stands in choosing.

    Attributes:
        seed: the number that the proposals start from.
        kept: proposals to compare, in the order they were kept.
        away: marks of designs that were put away and are not shown again.
        like: whose relatives are asked for; none asks for all sorts.
        put: the repeat that these proposals were asked for, and the repeat of the one that was put
            on the table since; so that the others stay where they are.
        extras: how much they vary besides outline and colours.
    """

    seed: int = 1
    kept: tuple[Proposal, ...] = ()
    away: frozenset[str] = frozenset()
    like: Pattern | None = None
    put: tuple[Repeat, Repeat] | None = None
    extras: HowMuch = USUAL_EXTRAS


def with_kept(choosing: Choosing, proposal: Proposal) -> Choosing:
    """Keep a proposal, or let it go if it was kept; the oldest makes room."""
    others = tuple(p for p in choosing.kept if p.design != proposal.design)
    if len(others) < len(choosing.kept):
        return replace(choosing, kept=others)
    return replace(choosing, kept=(*others, proposal)[-MOST_KEPT:])


def with_away(choosing: Choosing, design: Design) -> Choosing:
    """Put a proposal away; it is kept no longer either."""
    kept = tuple(p for p in choosing.kept if p.design != design)
    return replace(choosing, kept=kept, away=choosing.away | {mark(design)})


def joined(one: Choosing, other: Choosing) -> Choosing:
    """A state with what was kept and put away in another one too; the first one's come first."""
    designs = {proposal.design for proposal in one.kept}
    more = tuple(p for p in other.kept if p.design not in designs)
    away = one.away | other.away
    return replace(one, kept=(*one.kept, *more)[:MOST_KEPT], away=away)


def with_put(choosing: Choosing, work: Work, proposal: Proposal) -> Choosing:
    """Remember what was asked for when a proposal goes on the table, with its own repeat.

    Args:
        choosing: the state before.
        work: the work before.
        proposal: what goes on the table.
    """
    asked = _asked_repeat(work, choosing)
    # Plain ends follow of themselves: they are none of the boxes.
    put = replace(proposal.fit.repeat, margins=asked.margins)
    return replace(choosing, put=(asked, put))


def _asked_repeat(work: Work, choosing: Choosing) -> Repeat:
    """The repeat in the boxes, or the one they had before a proposal changed them."""
    now = repeat_of(work.sizing)
    if choosing.put is not None and choosing.put[1] == now:
        return choosing.put[0]
    return now


def repeat_of(sizing: Sizing) -> Repeat:
    """The repeat in the boxes."""
    return Repeat(dangles=sizing.dangles, divider=sizing.divider, margins=2 * sizing.margin)


def shown(choosing: Choosing, proposals: tuple[Proposal, ...]) -> tuple[Proposal, ...]:
    """The proposals that were not put away."""
    if not choosing.away:
        return proposals
    return tuple(p for p in proposals if mark(p.design) not in choosing.away)


# What a mark is made of: marks stand in tables that were kept by version 1.
_MARKED = (
    *("beads", "base_pitch_mm", "motifs", "dividers", "start_margin", "end_margin"),
    *("start_links", "end_links", "closure"),
)


# A page of proposals asks for 24 in every run. Chosen by us: some pages of them.
@lru_cache(maxsize=200)
def mark(design: Design) -> str:
    """What a design is known by after a restart; the same beads in the same places share it."""
    whole = asdict(design)
    text = json.dumps({name: whole[name] for name in _MARKED}, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:20]


@lru_cache(maxsize=1)
def _codec() -> "TypeAdapter[Choosing]":
    from pydantic import TypeAdapter

    return TypeAdapter(Choosing)


@lru_cache(maxsize=20)
def to_text(choosing: Choosing) -> str:
    """The state of choosing as JSON, for the shelf."""
    return _codec().dump_json(choosing).decode()


def from_text(text: object) -> Choosing:
    """The state that ``to_text`` wrote; a new one where the text makes no sense.

    Choosing can be done again, so damage here never stands in the way of the piece.
    """
    try:
        document = json.loads(text) if isinstance(text, str) else None
        return _codec().validate_json(json.dumps(_brought_up(document)), strict=True)
    except (ValueError, RecursionError, KeyError, TypeError, BriefError):
        return Choosing()


def _brought_up(document: object) -> object:
    """A state from before patterns: its designs lifted, and their figures judged anew."""
    if not isinstance(document, dict):
        return document
    like = document.get("like")
    if isinstance(like, dict) and "dividers" in like:
        document["like"] = _lifted(like)
    kept = document.get("kept")
    for plain in kept if isinstance(kept, list) else ():
        if not isinstance(plain, dict) or "design" not in plain:
            continue
        plain["pattern"] = _lifted(plain["design"])
        seen = motifs_as_seen(_design(plain.pop("design")))
        if "strongest" in plain:
            continue
        row = seen.weakest
        weakest = None if row is None else row.delta_e_2000
        plain |= {
            "weakest": weakest,
            "weakest_pair": None if row is None else [row.i, row.j],
            "proven": False,
            "strongest": weakest,
            "strongest_proven": False,
            "gave_up_for": "",
            "repeats": [list(pair) for pair in seen.repeats],
            "mean": seen.mean,
            "reads_apart_to_m": None if row is None else row.reads_apart_to_m,
        }
    return document


def _design(plain: Json) -> Design:
    from pydantic import validate_call

    return validate_call(of_columns)(**plain)


def _lifted(plain: Json) -> object:
    return to_document(lift(_design(plain)))


def asked(
    work: Work, choosing: Choosing, count: int
) -> tuple[Brief, Like | None] | tuple[BriefError, ...]:
    """The brief, and what relatives are wanted of; or what is wrong with the boxes.

    Relatives are sought among the colours of the piece that they shall be like, with the other
    colours of the tray beside them.
    """
    sizing = with_repeat(work.sizing, _asked_repeat(work, choosing))
    brief = brief_of(
        replace(work, sizing=sizing), seed=choosing.seed, count=count, extras=choosing.extras
    )
    if isinstance(brief, tuple) or choosing.like is None:
        return brief if isinstance(brief, tuple) else (brief, None)
    own = motif_beads_of(choosing.like, brief.colours[0].kind)
    try:
        brief = replace(brief, colours=tuple(dict.fromkeys((*own, *brief.colours))))
        return brief, like_of(choosing.like, brief)
    except BriefError as error:
        return (error,)


def neighbour_words(proposal: Proposal) -> str:
    """How a proposal's weakest neighbours stand apart, and what it gave up of that."""
    if proposal.weakest is None:
        return "all neighbours repeat" if proposal.repeats else "one motif, so no neighbours"
    words = measure_words(proposal.weakest)
    possible = possible_words(proposal.weakest, proposal.strongest, proposal.gave_up_for)
    return "; ".join(filter(None, (words, possible, repeating_words(len(proposal.repeats)))))


def differences(
    kept: tuple[Proposal, ...], units: Units = Units.MM
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What tells kept proposals apart: every figure that is not the same for all."""
    rows = (
        ("Motifs", tuple(str(p.fit.motifs) for p in kept)),
        ("Dangles in a motif", tuple(str(p.fit.repeat.dangles) for p in kept)),
        ("Lengths", tuple(", ".join(map(str, p.recipe.profile)) for p in kept)),
        ("Colours", tuple(str(len(set(p.recipe.order))) for p in kept)),
        ("Order", tuple(ARRANGED[p.recipe.arrangement] for p in kept)),
        ("Left over", tuple(told(p.fit.slack_mm, units) for p in kept)),
        (
            "Weakest neighbours",
            tuple(neighbour_words(p) for p in kept),
        ),
        ("Colours go together, to 1.2 at best", tuple(f"{p.harmony:.2f}" for p in kept)),
        ("Longest dangle", tuple(told(p.outline.drop_mm, units) for p in kept)),
        ("Dangle beads", tuple(str(p.beads) for p in kept)),
    )
    return tuple((name, values) for name, values in rows if len(set(values)) > 1)
