"""What a customer may choose from: the piece on the table, kept proposals, pieces on the shelf."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal

from explorer.app.assumed import reckoned
from explorer.app.choosing import Choosing
from explorer.app.handing import Handing, amount, box_value
from explorer.app.state import Work
from explorer.app.wording import sentence
from explorer.buying import buying
from explorer.counts import counts
from explorer.customer_page import MOST_OFFERS, Offer, bead_cost
from explorer.errors import BriefError
from explorer.kit_tray import gram_prices, held_in
from explorer.piece import MOST_NAME, Piece
from explorer.shelf import Saved
from explorer.thread import weaving_time_s
from palettes.tray import Tray

_TENTH = Decimal("0.1")
_HOUR_S = 3600.0  # by definition


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A piece that can be offered, and how long it took if somebody knows."""

    piece: Piece
    minutes: int | None = None


def candidates(
    work: Work, choosing: Choosing, shelved: Mapping[int, tuple[Saved, Piece]]
) -> dict[str, Candidate]:
    """Every candidate by the page's own id, the one on the table first."""
    found = {"table": Candidate(piece=work.piece)}
    for number, proposal in enumerate(choosing.kept, 1):
        name = f"{number}. {sentence(proposal.reason).removesuffix('.')}"[:MOST_NAME]
        pattern = replace(proposal.pattern, worn=work.piece.pattern.worn)
        piece = replace(work.piece, name=name, pattern=pattern, notes="")
        found[f"kept {number}"] = Candidate(piece=piece)
    for number, (saved, piece) in shelved.items():
        named = replace(piece, name=saved.name)
        found[f"shelf {number}"] = Candidate(piece=named, minutes=saved.making.minutes)
    return found


def usual_materials(work: Work, piece: Piece, tray: Tray | None = None) -> Decimal | None:
    """What the beads are worth by the maker's own prices; None where one is not known."""
    known = reckoned(work.assumed)
    lines = buying(
        piece.design,
        counts(piece.design, known.spares),
        offers=dict(known.packs),
        spread=known.per_gram,
        gram_prices=gram_prices(held_in(tray or Tray())),
    )
    cost = bead_cost(lines)
    return None if cost is None else cost.quantize(Decimal("0.01"), ROUND_HALF_UP)


def usual_hours(work: Work, one: Candidate) -> Decimal:
    """The hours it took, else those at the maker's pace."""
    if one.minutes is not None:
        seconds = one.minutes * 60.0
    else:
        pace = reckoned(work.assumed).pace_s
        seconds = weaving_time_s(counts(one.piece.design).total, pace)
    return max(_TENTH, Decimal(seconds / _HOUR_S).quantize(_TENTH, ROUND_HALF_UP))


def offer(
    work: Work, handing: Handing, key: str, one: Candidate, tray: Tray | None = None
) -> Offer:
    """A candidate with what its materials cost and its hours.

    Where the maker wrote no sum beside it, they are its beads alone, by the maker's prices.

    Raises:
        BriefError: the cost of its materials is not known, or a box makes no sense.
    """
    typed = str(box_value(handing, f"materials:{key}")).strip()
    usual = usual_materials(work, one.piece, tray)
    if not typed and usual is None:
        raise BriefError(
            f"materials:{key}",
            "",
            f"what the materials of “{one.piece.name}” cost",
            "Write it beside the piece, or prices beside the packs on the Counting page or with "
            "your beads.",
        )
    hours = str(box_value(handing, f"hours:{key}")).strip()
    return Offer(
        piece=one.piece,
        materials=amount(typed, f"materials:{key}", "an amount") if typed else usual or Decimal(0),
        hours=amount(hours, f"hours:{key}", "hours") if hours else usual_hours(work, one),
        wear=one.piece.worn_as,
        beads_alone=not typed,
    )


def chosen(offered: tuple[str, ...], found: Mapping[str, Candidate]) -> tuple[str, ...]:
    """What was chosen and is still there, no more than a customer can choose from."""
    return tuple(key for key in offered if key in found)[:MOST_OFFERS]
