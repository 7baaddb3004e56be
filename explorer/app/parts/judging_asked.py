"""What a maker asks about colours: whose eyes, which lights, over what, from how far.

Kept as typed, so that a box never loses its text, and carried in the address of every page, so that
a reload brings it back. An address is input: what makes no sense in it is passed over.
"""

import contextlib
from collections.abc import Iterable
from dataclasses import dataclass, replace

from explorer.contrast import checked_distance
from explorer.errors import BriefError
from explorer.lengths import parse_mm
from palettes.charts import skin_tones
from palettes.lights import Light
from palettes.spaces import parse_hex
from palettes.viewing import TYPICAL_DAYLIGHT, Condition, conditions
from palettes.vision import Sight, Viewer

OWN = "own"
_MIXING = (Sight.PROTAN, Sight.DEUTAN, Sight.TRITAN)
# Whole and partial types; chosen by us, since finer steps look alike. Percent.
SEVERITIES = (20, 40, 60, 80, 100)
# Chosen by us, because what is typed into a box is a length or a colour, no letter to anyone.
MOST_TYPED = 40
_BETWEEN = "~"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """The choices of the Contrast page.

    Attributes:
        sights: whose eyes, in the order of ``Sight``; empty asks for most people.
        severity: how strong every colour-blind type is, in percent; whole types chosen by us,
            because colours that serve them serve milder ones.
        lights: which lights, in the order of ``Light``; empty asks for daylight.
        behind: the name of a skin tone, ``OWN``, or nothing for no backing.
        own: the backing's hex as typed, for ``OWN``.
        distance: one more distance as typed; nothing for none.
    """

    sights: tuple[Sight, ...] = (Sight.TYPICAL, Sight.PROTAN, Sight.DEUTAN, Sight.TRITAN)
    severity: int = 100
    lights: tuple[Light, ...] = (Light.DAYLIGHT, Light.LAMPLIGHT)
    behind: str = ""
    own: str = ""
    distance: str = ""


DEFAULT = Asked()


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """What the choices come to; where a box makes no sense, as if it were empty.

    Attributes:
        looks: every viewer in every light, at least one.
        backing: the hex behind the beads, or None.
        distance_m: one more distance, or None.
        faults: what is wrong with the boxes, each with its field.
    """

    looks: tuple[Condition, ...]
    backing: str | None
    distance_m: float | None
    faults: tuple[BriefError, ...]


def meant(asked: Asked) -> Meant:
    """The conditions, the backing and the distance that were asked for."""
    faults: list[BriefError] = []
    backing, distance_m = None, None
    try:
        backing = _backing(asked)
    except BriefError as error:
        faults.append(error)
    try:
        if asked.distance.strip():
            mm = parse_mm(asked.distance, "distance")
            distance_m = _in_reach(mm / 1000.0, asked.distance)
    except BriefError as error:
        faults.append(error)
    viewers = [
        Viewer(sight=sight, severity=asked.severity / 100.0 if sight in _MIXING else 1.0)
        for sight in asked.sights
    ]
    looks = conditions(
        viewers or [TYPICAL_DAYLIGHT.viewer], asked.lights or (TYPICAL_DAYLIGHT.light,)
    )
    return Meant(looks=looks, backing=backing, distance_m=distance_m, faults=tuple(faults))


def _backing(asked: Asked) -> str | None:
    if asked.behind != OWN:
        return {skin.name: skin.hex for skin in skin_tones()}.get(asked.behind)
    if not asked.own.strip():
        return None
    try:
        return parse_hex(asked.own)
    except ValueError as error:
        raise BriefError(
            "backing", asked.own, "a hex colour, six digits 0-9 a-f", "Write it such as #d7bd96."
        ) from error


def _in_reach(distance_m: float, typed: str) -> float:
    """The distance, or the fault with the words that were typed."""
    try:
        return checked_distance(distance_m)
    except BriefError as error:
        wanted = f"{error.wanted}, with its unit"
        raise BriefError("distance", typed, wanted, error.remedy) from error


def sights_in_order(chosen: Iterable[Sight]) -> tuple[Sight, ...]:
    """Each viewer once, in the order in which they are shown."""
    picked = set(chosen)
    return tuple(sight for sight in Sight if sight in picked)


def lights_in_order(chosen: Iterable[Light]) -> tuple[Light, ...]:
    """Each light once, in the order in which they are shown."""
    picked = set(chosen)
    return tuple(light for light in Light if light in picked)


def asks_for_mixing(asked: Asked) -> bool:
    """Whether the severity makes a difference."""
    return any(sight in _MIXING for sight in asked.sights)


def to_text(asked: Asked) -> str:
    """The choices as a line for the address; nothing for the usual ones."""
    if asked == DEFAULT:
        return ""
    parts = (
        " ".join(asked.sights),
        str(asked.severity),
        " ".join(asked.lights),
        asked.behind,
        asked.own,
        asked.distance,
    )
    return _BETWEEN.join(part.replace(_BETWEEN, " ") for part in parts)


def from_text(text: str) -> Asked:
    """The choices that ``to_text`` wrote; where a part makes no sense, the usual one."""
    parts = text.split(_BETWEEN)
    if len(parts) != 6:
        return DEFAULT
    sights, severity, lights, behind, own, distance = parts
    asked = replace(DEFAULT, own=own[:MOST_TYPED], distance=distance[:MOST_TYPED])
    with contextlib.suppress(ValueError):
        asked = replace(asked, sights=sights_in_order(Sight(s) for s in sights.split()))
    with contextlib.suppress(ValueError):
        asked = replace(asked, lights=lights_in_order(Light(s) for s in lights.split()))
    if severity in {str(known) for known in SEVERITIES}:
        asked = replace(asked, severity=int(severity))
    if behind in {"", OWN, *(skin.name for skin in skin_tones())}:
        asked = replace(asked, behind=behind)
    return asked
