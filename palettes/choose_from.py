"""Where colours come from, one function a source: free, a mood, a few picks, a photograph.

Each takes the same request and gives the same kind of palette, with or without a tray of beads.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from palettes.choose import PATIENT_STEPS, STEPS, choose
from palettes.choose_complete import complete
from palettes.choose_free import PATIENT, QUICK, choose_free
from palettes.choose_match import match
from palettes.choose_mood import choose_for_mood, mood_colours
from palettes.choose_picked import Origin, Picked, Proof, picked
from palettes.choose_types import Choice, NoChoice, Wishes
from palettes.choose_watch import Sofar, Told
from palettes.extract import Pixels, extract
from palettes.moods import Mood
from palettes.schemes import Scheme, scheme_mood
from palettes.spaces import hexes_to_srgb1, srgb1_to_hex, srgb1_to_lab
from palettes.tray import Tray, TrayBead
from palettes.viewing import Condition

# Colours by chance that stand for all of sRGB around a few picks. Chosen by us: their nearest
# neighbours lie some 5 in CIEDE2000 apart.
_SAMPLES = 600
MOST_PICKS = 3  # chosen by us: more leave little to choose


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """What every source is asked for.

    Attributes:
        size: how many colours.
        looks: the ways of looking; the worst counts for every pair.
        tray: beads to choose from; none for free colours.
        patient: whether to search for long.
        most_steps: how much a search may try in all after its first answer; None for no limit. It
            does not count for free colours that stand apart most, whose climb has a length of its
            own.
        beads_each: beads wanted of each colour; a box with fewer is left out.
        one_per_finish: no two beads of one finish.
        most_cost: what ``beads_each`` of every colour may cost together; beads without a price are
            left out then.
        least_gap: every two differ by so much in L*.
        least_range: lightest and darkest differ by so much in L*.
    """

    size: int
    looks: Sequence[Condition]
    tray: Tray | None = None
    patient: bool = False
    most_steps: int | None = None
    beads_each: int = 1
    one_per_finish: bool = False
    most_cost: float | None = None
    least_gap: float = 0.0
    least_range: float = 0.0

    @property
    def steps(self) -> int:
        """How much searches may try."""
        return PATIENT_STEPS if self.patient else STEPS


def usable(request: Request) -> tuple[TrayBead, ...]:
    """The beads of the tray that there are enough of, and whose price is known if it matters."""
    beads = () if request.tray is None else request.tray.beads
    return tuple(
        bead
        for bead in beads
        if (bead.stock is None or bead.stock >= request.beads_each)
        and (request.most_cost is None or bead.price is not None)
    )


def from_free(
    request: Request, rng: np.random.Generator, told: Told | None = None
) -> Picked | NoChoice:
    """The colours that stand apart most: out of all of sRGB, or out of the tray.

    Args:
        request: what is asked for; of its demands only size and looks count without a tray.
        rng: where free colours start; a choice from a tray leaves nothing to chance.
        told: is told how the search stands, and ends it where it answers False; the best so far is
            the answer then.
    """
    if request.tray is None:
        effort = PATIENT if request.patient else QUICK
        ended = False

        def climbing(sofar: Sofar) -> bool:
            nonlocal ended
            ended = told is not None and not told(sofar)
            return not ended

        hexes = choose_free(request.size, request.looks, rng, effort=effort, told=climbing)
        return picked(hexes, request.looks, Proof(stopped=ended))
    beads = usable(request)
    found = choose(
        hexes_to_srgb1([bead.hex for bead in beads]),
        request.looks,
        wishes(request, beads),
        steps=request.steps,
        most=request.most_steps,
        told=told,
    )
    if isinstance(found, NoChoice):
        return found
    chosen = [beads[place] for place in found.places]
    return picked(chosen, request.looks, _proof(found))


def _proof(found: Choice) -> Proof:
    # Where two must-haves are the most alike, nothing else would be more.
    told = found.weakest >= found.reached
    return Proof(
        bound=found.bound,
        proven=found.proven,
        strongest=found.strongest if told else None,
        gave_up_for=found.gave_up_for if told else "",
        stopped=found.stopped,
    )


def from_mood(
    request: Request, mood: Mood, rng: np.random.Generator, told: Told | None = None
) -> Picked | NoChoice:
    """The palette for a mood, out of the tray or free; another seed gives another one."""
    return _by_mood(request, mood, (), rng, told)


def from_picks(
    request: Request,
    picks: Sequence[str],
    rng: np.random.Generator,
    scheme: Scheme | None = None,
    told: Told | None = None,
) -> Picked | NoChoice:
    """A palette around picks: with a scheme of the colour wheel, else one in harmony with them.

    With a tray each pick is the bead nearest to it, and the difference is told.

    Args:
        request: what is asked for; its size counts the picks.
        picks: one to three hex colours.
        rng: which free colours are looked at.
        scheme: hues around the first pick's, if wanted.
        told: as ``from_free`` takes it.

    Raises:
        ValueError: no pick or too many, one twice, or a scheme around a grey.
    """
    if not 1 <= len(picks) <= MOST_PICKS or len(set(picks)) != len(picks):
        raise ValueError(f"one to {MOST_PICKS} picks, each once; got {', '.join(picks)}")
    if scheme is not None:
        return _by_mood(request, scheme_mood(scheme, picks[0]), picks, rng, told)
    beads = usable(request)
    free = request.tray is None
    pool = _anything(picks, rng) if free else [bead.hex for bead in beads]
    if len(pool) < max(request.size, len(picks)):
        return NoChoice(why=f"{len(pool)} colours are left for {request.size}")
    musts = match(picks, pool)
    demands = wishes(request, beads, tuple(must.place for must in musts))
    if len(musts) > request.size:
        return NoChoice(why=f"{len(musts)} picks are more than {request.size} colours")
    found = complete(
        hexes_to_srgb1(pool),
        request.looks,
        demands,
        steps=request.steps,
        most=request.most_steps,
        told=told,
    )
    if isinstance(found, NoChoice):
        return found
    chosen: list[TrayBead | str] = [(beads or pool)[place] for place in found.choice.places]
    origins = {
        found.choice.places.index(must.place): Origin(wanted=pick, difference=must.difference)
        for must, pick in zip(musts, picks, strict=True)
    }
    return picked(chosen, request.looks, _proof(found.choice), origins)


def from_photo(request: Request, pixels: Pixels, rng: np.random.Generator) -> Picked | NoChoice:
    """The palette of a photograph; with a tray each colour is the bead nearest to it.

    Args:
        request: what is asked for; a photo decides the colours, so demands on them do not count.
        pixels: (h, w, 3 or 4) sRGB bytes.
        rng: where the grouping starts.

    Raises:
        ValueError: no picture.
    """
    colours = extract(pixels, request.size, rng)
    seen = [Origin(share=colour.share, x=colour.x, y=colour.y) for colour in colours]
    if request.tray is None:
        return picked([c.hex for c in colours], request.looks, Proof(), dict(enumerate(seen)))
    beads = usable(request)
    if len(beads) < len(colours):
        return NoChoice(why=f"{len(beads)} beads are left for {len(colours)} colours")
    matches = match([colour.hex for colour in colours], [bead.hex for bead in beads])
    origins = {
        place: replace(seen[place], wanted=colour.hex, difference=found.difference)
        for place, (colour, found) in enumerate(zip(colours, matches, strict=True))
    }
    return picked([beads[found.place] for found in matches], request.looks, Proof(), origins)


def wishes(request: Request, beads: Sequence[TrayBead], must: tuple[int, ...] = ()) -> Wishes:
    """The demands of a request on beads; without beads only its size and must-haves."""
    plain = Wishes(size=request.size, must=must)
    if not beads:
        return plain
    finishes = sorted({bead.finish for bead in beads})
    lightness = srgb1_to_lab(hexes_to_srgb1([bead.hex for bead in beads]))[:, 0]
    each = request.beads_each
    costed = request.most_cost is not None
    return replace(
        plain,
        never_both=tuple(finishes.index(bead.finish) for bead in beads)
        if request.one_per_finish
        else (),
        lightness=tuple(lightness.tolist()),
        least_gap=request.least_gap,
        least_range=request.least_range,
        costs=tuple((bead.bead_price or 0.0) * each for bead in beads) if costed else (),
        most_cost=float("inf") if request.most_cost is None else request.most_cost,
    )


def _by_mood(
    request: Request,
    mood: Mood,
    picks: Sequence[str],
    rng: np.random.Generator,
    told: Told | None,
) -> Picked | NoChoice:
    beads = usable(request)
    if request.tray is not None:
        pool = [bead.hex for bead in beads]
    else:
        pool = list(dict.fromkeys((*picks, *mood_colours(mood, rng))))
    if len(pool) < max(request.size, len(picks)):
        return NoChoice(why=f"{len(pool)} colours are left for {request.size}")
    musts = match(picks, pool)
    demands = wishes(request, beads, tuple(must.place for must in musts))
    if len(musts) > request.size:
        return NoChoice(why=f"{len(musts)} picks are more than {request.size} colours")
    found = choose_for_mood(
        hexes_to_srgb1(pool),
        mood,
        request.looks,
        demands,
        rng,
        steps=request.steps,
        most=request.most_steps,
        told=told,
    )
    if isinstance(found, NoChoice):
        return found
    origins = {
        place: Origin(region=mood.regions[region].name, miss=miss)
        for place, (region, miss) in enumerate(zip(found.regions, found.misses, strict=True))
    }
    for must, pick in zip(musts, picks, strict=True):
        place = found.choice.places.index(must.place)
        origins[place] = replace(origins[place], wanted=pick, difference=must.difference)
    chosen: list[TrayBead | str] = [(beads or pool)[place] for place in found.choice.places]
    # The proof is about the colours that this seed looked at, so none is claimed for the mood.
    return picked(chosen, request.looks, Proof(stopped=found.choice.stopped), origins)


def _anything(picks: Sequence[str], rng: np.random.Generator) -> list[str]:
    free = [srgb1_to_hex(colour) for colour in rng.random((_SAMPLES, 3))]
    return list(dict.fromkeys((*picks, *free)))
