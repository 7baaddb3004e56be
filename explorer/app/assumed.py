"""What a maker assumes when counting out and shopping, kept as typed, and what it means.

Every figure has a usual value that a maker can replace. A box that makes no sense keeps what was
typed; until it is mended, its usual value is reckoned with.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from functools import lru_cache
from typing import Any, TypeVar

from explorer.brief import whole
from explorer.buying_packs import USUAL_PACKS, Pack, choose_packs
from explorer.counts import Spares
from explorer.errors import BriefError
from explorer.lengths import parse_mm
from explorer.reading import Reader
from explorer.thread import weaving_time_s
from explorer.thread_setup import ThreadSetup
from palettes.beads import Bead

T = TypeVar("T")
_NUMBER = re.compile(r"\+?\d{1,9}([.,]\d{0,6})?|[.,]\d{1,6}", re.ASCII)
_PACK = re.compile(
    r"(?P<grams>[\d.,]+)\s*g(?:rams?)?\s*(?:=|:|at|for)?\s*(?P<price>[\d.,]+)?", re.ASCII
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """The boxes, each as it was typed.

    Attributes:
        spares, least: spare beads in percent, and at least so many of every bead.
        per_gram: how far beads per gram may be off, in percent.
        thread, needle, working, tail, closure_tail: lengths as text.
        allowance: thread for tension and handling, in percent.
        slack: slack of a dangle in beads.
        rounds: times through each closure.
        pace: seconds a bead.
        packs: what a shop has, by the name of a kind of bead.
        at_hand: beads at hand, by ``bead_key``.
    """

    spares: str = "10"
    least: str = "5"
    per_gram: str = "10"
    thread: str = "0.15 mm"
    needle: str = "0.36 mm"
    working: str = "1650 mm"
    tail: str = "150 mm"
    closure_tail: str = "250 mm"
    allowance: str = "10"
    slack: str = "0.5"
    rounds: str = "2"
    pace: str = "15"
    packs: tuple[tuple[str, str], ...] = ()
    at_hand: tuple[tuple[str, str], ...] = ()


USUAL = Assumed()
BOXES = tuple(f.name for f in fields(Assumed) if f.name not in {"packs", "at_hand"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Reckoned:
    """What the boxes mean; the usual value where one makes no sense.

    Attributes:
        spares, per_gram, setup, pace_s: as their boxes say.
        packs: offers by the name of a kind.
        at_hand: beads at hand by ``bead_key``.
        faults: what is wrong, by the name of its box, ``packs:<kind>`` or ``at_hand:<key>``.
    """

    spares: Spares
    per_gram: float
    setup: ThreadSetup
    pace_s: float
    packs: tuple[tuple[str, tuple[Pack, ...]], ...]
    at_hand: tuple[tuple[str, int], ...]
    faults: tuple[tuple[str, BriefError], ...]

    def fault(self, box: str) -> BriefError | None:
        """What is wrong with a box, if anything is."""
        return dict(self.faults).get(box)


def bead_key(bead: Bead) -> str:
    """A bead by everything that tells it from another in a tray."""
    return f"{bead.kind.name}|{bead.hex}|{bead.finish.value}|{bead.name}"


# Asked for by every page, several times; the boxes seldom change.
@lru_cache(maxsize=100)
def reckoned(assumed: Assumed) -> Reckoned:
    """What the boxes mean, and everything that is wrong with them."""
    faults: dict[str, BriefError] = {}

    def take(box: str, text: str, read: Callable[[str, str], T], usual: T) -> T:
        try:
            return read(text, box)
        except BriefError as error:
            faults[box] = error
            return usual

    setup = ThreadSetup()
    for box, (attribute, read) in _THREAD.items():
        part = take(box, getattr(assumed, box), _checked(attribute, read), None)
        if part is not None:
            setup = _with(setup, attribute, part)
    return Reckoned(
        spares=Spares(
            percent=take("spares", assumed.spares, _percent(1000.0), float(USUAL.spares)),
            least=take("least", assumed.least, _whole, int(USUAL.least)),
        ),
        per_gram=take("per_gram", assumed.per_gram, _percent(90.0), float(USUAL.per_gram)) / 100.0,
        setup=setup,
        pace_s=take("pace", assumed.pace, _pace, float(USUAL.pace)),
        packs=tuple(
            (kind, take(f"packs:{kind}", text, parse_packs, USUAL_PACKS))
            for kind, text in assumed.packs
            if text.strip()
        ),
        at_hand=tuple(
            (key, take(f"at_hand:{key}", text, _whole, 0))
            for key, text in assumed.at_hand
            if text.strip()
        ),
        faults=tuple(faults.items()),
    )


def number(text: str, field: str) -> float:
    """A decimal number from 0 with point or comma.

    Raises:
        BriefError: it is none.
    """
    plain = text.strip()
    if not _NUMBER.fullmatch(plain):
        raise BriefError(field, text, "a number from 0", "Type digits only.")
    return float("0" + plain.lstrip("+").replace(",", "."))


def parse_packs(text: str, field: str = "packs") -> tuple[Pack, ...]:
    """Packs as a shop lists them: ``5 g 1.20; 50 g 8``, prices left out where unknown.

    Raises:
        BriefError: no such list, or some packs have a price and some have none.
    """
    packs = []
    for part in filter(str.strip, re.split(r";|,\s|\n", text)):
        found = _PACK.fullmatch(part.strip())
        if not found:
            raise BriefError(
                field,
                part.strip(),
                "packs such as: 5 g 1.20; 50 g 8",
                "Write grams and, if known, a price; a semicolon between packs.",
            )
        price = found["price"]
        packs.append(
            Pack(
                weight_g=number(found["grams"], field),
                price=None if price is None else number(price, field),
            )
        )
    choose_packs(0.0, packs)
    return tuple(packs)


def _percent(most: float) -> Callable[[str, str], float]:
    def read(text: str, field: str) -> float:
        percent = number(text.removesuffix("%"), field)
        if percent > most:
            raise BriefError(field, text, f"0 to {most:g} percent", "Choose a smaller part.")
        return percent

    return read


def _whole(text: str, field: str) -> int:
    return whole(field, text, 0, 1_000_000)


def _pace(text: str, field: str) -> float:
    seconds = number(text, field)
    weaving_time_s(1, seconds)
    return seconds


def _tenths(text: str, field: str) -> float:
    return _percent(100.0)(text, field) / 100.0


def _with(setup: ThreadSetup, attribute: str, value: float) -> ThreadSetup:
    changes: dict[str, Any] = {attribute: value}
    return replace(setup, **changes)


def _checked(
    attribute: str, read: Callable[[str, str], float]
) -> Callable[[str, str], float | None]:
    """Reads a box of the thread's, in the limits that thread and needle have."""

    def checked(text: str, field: str) -> float | None:
        value = read(text, field)
        _with(ThreadSetup(), attribute, value)
        return value

    return checked


_THREAD: Mapping[str, tuple[str, Callable[[str, str], float]]] = {
    "thread": ("thread_mm", parse_mm),
    "needle": ("needle_mm", parse_mm),
    "working": ("working_mm", parse_mm),
    "tail": ("tail_mm", parse_mm),
    "closure_tail": ("closure_tail_mm", parse_mm),
    "allowance": ("allowance", _tenths),
    "slack": ("slack_beads", number),
    "rounds": ("rounds", _whole),
}


def with_box(assumed: Assumed, box: str, text: str) -> Assumed:
    """The boxes with one of them typed anew; ``packs:<kind>`` and ``at_hand:<key>`` are boxes too.

    An emptied list box is forgotten, any other emptied box has its usual value again.
    """
    row, colon, key = box.partition(":")
    if not colon:
        change: dict[str, Any] = {box: text if text.strip() else getattr(USUAL, box)}
        return replace(assumed, **change)
    rows = {name: held for name, held in getattr(assumed, row) if name != key}
    if text.strip():
        rows[key] = text
    change = {row: tuple(rows.items())}
    return replace(assumed, **change)


def box_text(assumed: Assumed, box: str) -> str:
    """What is typed in a box."""
    row, colon, key = box.partition(":")
    held = getattr(assumed, row)
    return str(dict(held).get(key, "") if colon else held)


def from_document(reader: Reader, value: object) -> Assumed:
    """The boxes as they were written down.

    Raises:
        ChartError: they are damaged.
    """
    table = reader.table(value, "assumed")
    texts = {name: reader.text(table, name) for name in BOXES}

    def pairs(name: str) -> tuple[tuple[str, str], ...]:
        found = []
        for row in reader.rows(table.get(name), name):
            pair = reader.rows(row, name)
            if len(pair) != 2 or not all(isinstance(part, str) for part in pair):
                raise reader.fail(name, "a name and a text", row)
            found.append((pair[0], pair[1]))
        return tuple(found)

    return Assumed(**texts, packs=pairs("packs"), at_hand=pairs("at_hand"))
