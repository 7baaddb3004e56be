"""Draws what stands at the ends of a strip: link beads, thread, and the fastening's metal."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from explorer.design import Closure, Design
from explorer.layout_columns import BASE_LAYER, THREAD_LAYER, place_bead
from explorer.layout_tags import BeadTag, Spot
from gallery.scene import MetalRing, PlacedBead, Point, Thread

# Chosen by us: the clasp's share of a clasp with its ring; a barrel's halves are alike.
_CLASP_SHARE = 0.6
_BARREL_SHARE = 0.5
# Closures of two halves that meet as a barrel.
_BARRELS = ("magnet", "breakaway")
# As extender chains and the tails of a plain tie look; by eye.
_CHAIN_LINK_MM = 3.2
_TAIL_MM = 9.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Lead:
    """A way outward from an end of the strip: a start, a heading, and the bend per millimetre.

    ``heading_deg`` is clockwise from the right; ``bend_deg_per_mm`` lets the way follow a loop.
    """

    x_mm: float
    y_mm: float
    heading_deg: float
    bend_deg_per_mm: float = 0.0

    def at(self, along_mm: float) -> tuple[Point, float]:
        """The point so far along, and the heading there."""
        bend = math.radians(self.bend_deg_per_mm)
        start = math.radians(self.heading_deg)
        heading = start + bend * along_mm
        if abs(bend) < 1e-9:
            ahead, aside = along_mm * math.cos(start), along_mm * math.sin(start)
        else:
            ahead = (math.sin(heading) - math.sin(start)) / bend
            aside = (math.cos(start) - math.cos(heading)) / bend
        return (self.x_mm + ahead, self.y_mm + aside), math.degrees(heading)


@dataclass(frozen=True, slots=True, kw_only=True)
class EndParts:
    """What was drawn at one end, and how far out it reaches."""

    beads: tuple[PlacedBead, ...]
    threads: tuple[Thread, ...]
    rings: tuple[MetalRing, ...]


def links_mm(design: Design, side: int) -> float:
    """The length of the link beads at the start (0) or the end (1)."""
    links = design.end_links if side else design.start_links
    return sum(design.beads[bead].kind.pitch_mm for bead in links)


def _is_barrel(closure: Closure) -> bool:
    return any(word in closure.kind.lower() for word in _BARRELS)


def _share(closure: Closure, side: int) -> float:
    start = _BARREL_SHARE if _is_barrel(closure) else _CLASP_SHARE
    return start if side == 0 else 1.0 - start


def end_mm(design: Design, side: int) -> float:
    """How far an end reaches beyond its last base bead; a plain tie leaves a tail of thread."""
    closure = design.closure
    if closure.length_mm == 0.0:
        return links_mm(design, side) + _TAIL_MM
    share = _share(closure, side)
    extender = closure.extender_mm if side else 0.0
    return links_mm(design, side) + share * closure.length_mm + extender


def end_parts(design: Design, side: int, lead: Lead) -> EndParts:
    """Link beads along the lead, then thread into the clasp (start) or the ring (end)."""
    beads = tuple(_link_beads(design, side, lead))
    out = links_mm(design, side)
    closure = design.closure
    if closure.length_mm == 0.0:
        steps = [out + _TAIL_MM * part / 6.0 for part in range(7)]
        tail = Thread(points_mm=tuple(lead.at(s)[0] for s in [0.0, *steps]), layer=THREAD_LAYER)
        return EndParts(beads=beads, threads=(tail,), rings=())
    share = _share(closure, side)
    rings = tuple(_metal(lead, out, share * closure.length_mm, side, closure))
    thread = Thread(points_mm=(lead.at(0.0)[0], lead.at(out + 0.5)[0]), layer=THREAD_LAYER)
    return EndParts(beads=beads, threads=(thread,), rings=rings)


def _link_beads(design: Design, side: int, lead: Lead) -> Iterator[PlacedBead]:
    out = 0.0
    for number, index in enumerate(design.end_links if side else design.start_links):
        bead = design.beads[index]
        point, heading = lead.at(out + bead.kind.pitch_mm / 2.0)
        tag = str(BeadTag(spot=Spot.LINK, index=side, column=number))
        yield place_bead(bead, point, heading + 90.0, tag, BASE_LAYER)
        out += bead.kind.pitch_mm


def _ring(lead: Lead, middle: float, length: float, height: float, wire: float) -> MetalRing:
    (x, y), heading = lead.at(middle)
    return MetalRing(
        x_mm=x, y_mm=y, width_mm=length, height_mm=height, wire_mm=wire, turn_deg=heading,
        layer=BASE_LAYER,
    )  # fmt: skip


def _metal(
    lead: Lead, out: float, length: float, side: int, closure: Closure
) -> Iterator[MetalRing]:
    """A small ring, then this end's half of the fastening, as its kind looks."""
    small = min(4.0, length * 0.45)
    yield _ring(lead, out + small / 2.0, small, small * 0.9, 0.6)
    at, rest = out + small * 0.8, length - small * 0.8
    kind = closure.kind.lower()
    if side == 1:
        yield from _chain(lead, at, closure.extender_mm)
        at += closure.extender_mm
    if _is_barrel(closure):
        yield from _barrel(lead, at, rest)
    elif "toggle" in kind:
        yield from _toggle(lead, at, rest, bar=side == 1)
    elif side == 0:
        yield _ring(lead, at + rest / 2.0, rest, min(6.0, rest * 0.62), 1.1)
        yield _ring(lead, at + rest * 0.86, rest * 0.22, rest * 0.2, 0.7)
    else:
        yield _ring(lead, at + rest / 2.0, rest, rest * 0.94, 0.8)


def _chain(lead: Lead, at: float, length: float) -> Iterator[MetalRing]:
    """An extender: links that lie flat and on edge in turn."""
    links = round(length / _CHAIN_LINK_MM)
    for number in range(links):
        thin = 1.1 if number % 2 else 2.2
        middle = at + (number + 0.5) * length / links
        yield _ring(lead, middle, length / links * 1.25, thin, 0.55)


def _barrel(lead: Lead, at: float, length: float) -> Iterator[MetalRing]:
    """Half of a barrel: a solid, rounded end piece with a groove round it."""
    high = max(2.0, length)
    yield _ring(lead, at + length / 2.0, length, high, min(length, high) / 2.0)
    yield _ring(lead, at + length * 0.3, 0.5, high * 0.9, 0.4)


def _toggle(lead: Lead, at: float, length: float, *, bar: bool) -> Iterator[MetalRing]:
    """A wide ring, or the bar that is put through it, on a short link."""
    if not bar:
        yield _ring(lead, at + length / 2.0, length, length, 1.25)
        return
    yield _ring(lead, at + length * 0.4, length * 0.8, 1.2, 0.55)
    yield _ring(lead, at + length * 0.85, 1.8, max(10.0, length * 1.9), 0.9)
