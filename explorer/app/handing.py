"""What a maker chooses when a piece is handed on, box by box as typed, and what the boxes mean."""

import re
from dataclasses import dataclass, fields, replace
from decimal import Decimal
from typing import Any

from explorer.app.assumed import reckoned
from explorer.app.state import Work
from explorer.brief import MOST_EASE_MM, MOST_SNUG_MM, whole
from explorer.child_page import Level
from explorer.customer_page import PriceRule
from explorer.errors import BriefError
from explorer.graphemes import told_signs
from explorer.lengths import parse_mm
from explorer.picture_files import MIDDLE_SKIN, Use, View
from explorer.project_page import Sizes
from explorer.share import link, to_code
from explorer.sheet_facts import SheetOptions
from gallery.page import A4, LETTER, Paper
from gallery.scene import Ground

_AMOUNT = re.compile(r"(?P<whole>\d{1,7})(?:[.,](?P<part>\d{1,4}))?", re.ASCII)
# Chosen by us, because a longer line does not fit one line of a sheet.
MOST_LINE = 120
# Chosen by us, because a customer may change a piece a few times, not twenty.
_MOST_CHANGES = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Handing:
    """The boxes of the page.

    Attributes:
        kind: what is handed on.
        letter, large, child_large: US Letter instead of A4; large type.
        dated: the date to print.
        with_code: whether a code to scan stands on the sheet.
        with_name, with_measure: what a link carries beside the beads.
        of_whom: whom the sheet is for.
        level: how hard the child's page is.
        offered: what the customer chooses from, by the page's own ids.
        materials, hours: for each of these, as typed.
        hourly, overheads, currency, changes: the maker's rule for prices.
        to_whom: the customer.
        least, most, step: the girths of a project.
        pasted: a link to open.
        roster, class_ease, colours_each, class_wear, own_outline, leave_out: of a class.
        class_beads: what a class's colours come from: the ``piece``, ``mine`` or a ``table``.
        band, band_kits: rows to add for learners who are not measured yet.
        picture_view, picture_use, picture_ground, picture_skin, picture_caption, picture_alike: of
            a picture as a file; see ``explorer.picture_files``.
    """

    kind: str = "sheet"
    letter: bool = False
    large: bool = False
    child_large: bool = True
    dated: str = ""
    with_code: bool = True
    with_name: bool = False
    with_measure: bool = False
    of_whom: str = ""
    level: str = Level.EASIER.value
    offered: tuple[str, ...] = ("table",)
    materials: tuple[tuple[str, str], ...] = ()
    hours: tuple[tuple[str, str], ...] = ()
    hourly: str = ""
    overheads: str = "0"
    currency: str = ""
    changes: str = "1"
    to_whom: str = ""
    least: str = "140 mm"
    most: str = "240 mm"
    step: str = "10 mm"
    pasted: str = ""
    roster: str = ""
    class_ease: str = ""
    colours_each: str = "3"
    class_wear: str = ""
    own_outline: bool = False
    leave_out: bool = False
    class_beads: str = "piece"
    band: str = ""
    band_kits: str = "4"
    picture_view: str = View.WORN.value
    picture_use: str = Use.SCREEN.value
    picture_ground: str = Ground.PAPER.value
    picture_skin: str = MIDDLE_SKIN
    picture_caption: str = ""
    picture_alike: bool = False


# What belongs to the maker and not to a piece, and is kept for the next time.
PRICE_BOXES = ("hourly", "overheads", "currency", "changes")


def with_box(handing: Handing, box: str, value: Any) -> Handing:
    """The boxes with one of them filled anew; ``materials:<id>`` and ``hours:<id>`` are boxes."""
    row, colon, key = box.partition(":")
    if not colon:
        change: dict[str, Any] = {box: value}
        return replace(handing, **change)
    rows = {name: held for name, held in getattr(handing, row) if name != key}
    change = {row: (*rows.items(), (key, value))}
    return replace(handing, **change)


def box_value(handing: Handing, box: str) -> Any:
    """What stands in a box."""
    row, colon, key = box.partition(":")
    held = getattr(handing, row)
    return dict(held).get(key, "") if colon else held


def boxes() -> tuple[str, ...]:
    """The names of all boxes."""
    return tuple(box.name for box in fields(Handing))


def paper_of(handing: Handing) -> Paper:
    """The paper chosen."""
    return LETTER if handing.letter else A4


def line(handing: Handing, box: str) -> str:
    """A line of text to print.

    Raises:
        BriefError: it is too long, or holds signs that cannot be seen.
    """
    text = " ".join(str(box_value(handing, box)).split())
    if len(text) > MOST_LINE:
        raise BriefError(box, text[:40], f"a line of at most {MOST_LINE} signs", "Shorten it.")
    unseen = "".join(dict.fromkeys(one for one in text if not one.isprintable()))
    if unseen:
        raise BriefError(box, told_signs(unseen), "signs that can be seen", "Leave these out.")
    return text


def sheet_options(work: Work, handing: Handing) -> SheetOptions:
    """The making sheet's options with the maker's own figures.

    Raises:
        BriefError: a line cannot be printed.
    """
    known = reckoned(work.assumed)
    return SheetOptions(
        dated=line(handing, "dated"),
        wear=work.piece.worn_as,
        spares=known.spares,
        setup=known.setup,
        pace_s=known.pace_s,
        large=handing.large,
        link=link(to_code(work.piece)) if handing.with_code else "",
        of_whom=line(handing, "of_whom"),
    )


def amount(text: str, box: str, what: str) -> Decimal:
    """An amount of money or of hours.

    Args:
        text: digits with a point or a comma.
        box: the name of its box.
        what: what is wanted there.

    Raises:
        BriefError: it is none.
    """
    found = _AMOUNT.fullmatch(text.strip())
    if not found:
        raise BriefError(box, text, f"{what}, such as 12 or 12.50", "Write digits only.")
    return Decimal(f"{found['whole']}.{found['part'] or 0}")


def price_rule(handing: Handing) -> PriceRule:
    """The maker's rule.

    Raises:
        BriefError: a box makes no sense.
    """
    return PriceRule(
        hourly=amount(handing.hourly, "hourly", "what an hour costs"),
        overheads_percent=amount(handing.overheads or "0", "overheads", "a part in percent"),
        currency=line(handing, "currency"),
        changes=whole("changes", handing.changes or "1", 0, _MOST_CHANGES),
    )


def sizes(work: Work, handing: Handing) -> Sizes:
    """The girths of a project, with ease and closure as the piece on the table has them.

    Raises:
        BriefError: a box makes no sense.
    """

    def girth(box: str, least_mm: float) -> float:
        return parse_mm(str(box_value(handing, box)), box, least_mm=least_mm, most_mm=MOST_SNUG_MM)

    wearer = work.piece.wearer
    return Sizes(
        least_mm=girth("least", 40.0),
        most_mm=girth("most", 40.0),
        step_mm=girth("step", 1.0),
        ease_mm=0.0 if wearer is None else min(wearer.ease_mm, MOST_EASE_MM),
        closure=work.piece.design.closure,
        closure_counted=True if wearer is None else wearer.closure_counted,
    )
