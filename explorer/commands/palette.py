"""``danglewise palette``: where colours come from - free, a mood, a few picks, a photograph."""

import argparse
import math
from collections.abc import Iterator

import numpy as np

from explorer.brief import MOST_SEED, whole
from explorer.commands.answer import Answer, Json
from explorer.commands.files import read_bytes
from explorer.commands.options import typed
from explorer.commands.palette_file import palette_place, write_palette
from explorer.commands.tray_choice import add_tray, tray_asked, tray_of
from explorer.commands.watching import Watching
from explorer.contrast import looks_of
from explorer.contrast_words import possible_words, tenths
from explorer.errors import BriefError
from explorer.hexes import parse_colours
from palettes.choose_free import MOST_FREE
from palettes.choose_from import (
    MOST_PICKS,
    Request,
    from_free,
    from_mood,
    from_photo,
    from_picks,
)
from palettes.choose_picked import Picked, PickedColour
from palettes.choose_types import NoChoice
from palettes.choose_watch import Told
from palettes.moods import Mood, moods
from palettes.schemes import Scheme
from palettes.tray import NO_LIMIT, Tray, TrayBead
from palettes.tray_cells import plain

SUMMARY = "find colours: free ones, a mood's, some that suit a few picks, or a photograph's"

# Chosen by us: as many as a piece usually shows.
DEFAULT_SIZE = 6
# Chosen by us, because more would take weeks.
_MOST_STEPS = 10**12
# Whole types, since a palette that serves them serves milder forms.
DEFAULT_SEE = "typical,protan,deutan,tritan"


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("photo", nargs="?", metavar="PHOTO", help="a photograph (JPEG, PNG ...)")
    parser.add_argument("--mood", metavar="NAME", help=", ".join(moods()))
    parser.add_argument(
        "--from", dest="picks", metavar="HEX,...", help=f"one to {MOST_PICKS} colours to suit"
    )
    parser.add_argument("--scheme", metavar="NAME", help="with --from: " + ", ".join(Scheme))
    parser.add_argument("--free", action="store_true", help="those that stand apart most")
    add_tray(parser)
    parser.add_argument("--kind", metavar="TYPE", help="beads of this kind (the most frequent)")
    parser.add_argument("--each", metavar="N", help="beads wanted of each colour (1)")
    parser.add_argument("--one-per-finish", action="store_true", help="no finish twice")
    parser.add_argument(
        "--budget",
        metavar="SUM",
        help="what --each beads of every colour may cost together, by the tray's prices",
    )
    parser.add_argument("--size", metavar="K", help=f"how many colours ({DEFAULT_SIZE})")
    parser.add_argument("--see", metavar="WHO,...", help=f"whose eyes ({DEFAULT_SEE})")
    parser.add_argument("--light", metavar="LIGHT,...", help="in which lights (daylight)")
    parser.add_argument("--patient", action="store_true", help="search for long")
    parser.add_argument(
        "--steps", metavar="N", help="end the search so many steps after its first answer"
    )
    parser.add_argument("--seed", metavar="S", help="the number that chance starts from (1)")
    parser.add_argument("--out", metavar="FILE", help="write the palette: .toml or .gpl")


def run(options: argparse.Namespace) -> Answer:
    """The palette; ``BriefError`` for wrong options and for palettes that cannot be."""
    source = _source(options)
    seed = whole("seed", typed(options.seed, "1"), 0, MOST_SEED)
    request = _request(options)
    out = None if options.out is None else palette_place(options.out)
    # Around picks it is first found how far apart colours can lie, and then they are made to suit.
    words = "such colours can differ by" if source == "from" else "best so far: difference"
    with Watching(words) as watching:
        found = _found(source, options, request, np.random.default_rng(seed), watching)
    if isinstance(found, NoChoice):
        raise BriefError(
            "size" if request.tray is None else "tray",
            request.size if request.tray is None else f"{len(request.tray.beads)} beads",
            f"colours that serve ({found.why})",
            "Ask for fewer colours, fewer demands, or choose from more beads.",
        )
    named = found.palette("palette", "Palette")
    changed = () if out is None else write_palette(named, out)
    echo: Json = {
        "source": source,
        "size": request.size,
        "tray": options.tray or ("starter" if options.starter else None),
        "kind": None if request.tray is None else request.tray.beads[0].kind.name,
        "see": typed(options.see, DEFAULT_SEE),
        "light": typed(options.light, "daylight"),
        "patient": options.patient,
        "steps": request.most_steps,
        "seed": seed,
    }
    return Answer(
        changed=changed,
        document={"brief": echo, **palette_document(found)},
        lines=tuple(palette_lines(found)),
    )


def palette_document(found: Picked) -> Json:
    """A palette as plain values."""
    return {
        "colours": [_colour_document(colour) for colour in found.colours],
        "weakest_by_view": {
            str(look): None if math.isinf(value) else value for look, value in found.weakest_by_view
        },
        "weakest": None if math.isinf(found.weakest) else found.weakest,
        "bound": None if found.bound is None or math.isinf(found.bound) else found.bound,
        "proven": found.proven,
        "strongest": found.strongest,
        "gave_up_for": found.gave_up_for or None,
        "stopped": found.stopped,
        "harmony": found.harmony,
    }


def _colour_document(colour: PickedColour) -> Json:
    origin = colour.origin
    more = {
        "wanted": origin.wanted,
        "difference": origin.difference,
        "region": origin.region,
        "miss": origin.miss,
        "share": origin.share,
        "at": None if origin.x is None else [origin.x, origin.y],
    }
    document: Json = {"hex": colour.hex, "name": colour.name, "finish": colour.finish.value}
    if colour.bead is not None:
        document["bead"] = _bead_document(colour.bead)
    return document | {key: value for key, value in more.items() if value is not None}


def _bead_document(bead: TrayBead) -> Json:
    return {
        "name": bead.name,
        "kind": bead.kind.name,
        "lot": bead.lot,
        "kept": bead.kept,
        "stock": bead.stock,
    }


def palette_lines(found: Picked) -> Iterator[str]:
    """A palette for reading."""
    for colour in found.colours:
        yield f"{colour.hex}  {plain(colour.name)}, {colour.finish}{_why(colour)}"
    if math.isinf(found.weakest):
        return
    for look, value in found.weakest_by_view:
        yield f"most alike for {look}: difference {tenths(value)}"
    if found.proven:
        yield "no choice stands apart more (proved)"
    elif found.stopped:
        yield "ended early: the best found so far, not proved"
    possible = possible_words(found.weakest, found.strongest, found.gave_up_for)
    if possible:
        yield possible
    elif not found.proven and found.bound is not None and not math.isinf(found.bound):
        yield f"no choice passes {found.bound:.1f} (not proved that one reaches it)"


def _why(colour: PickedColour) -> str:
    origin, parts = colour.origin, []
    if origin.region is not None:
        parts.append(f"for {origin.region}")
    if origin.share is not None:
        parts.append(f"{origin.share:.0%} of the photograph")
    if origin.wanted is not None and origin.difference is not None:
        parts.append(f"for {origin.wanted}, difference {origin.difference:.1f}")
    if colour.bead is not None and colour.bead.kept:
        parts.append(f"kept in {plain(colour.bead.kept)}")
    return "".join(f"; {part}" for part in parts)


def _source(options: argparse.Namespace) -> str:
    """Which source is asked for; ``BriefError`` unless it is one."""
    given = {
        "photo": options.photo is not None,
        "mood": options.mood is not None,
        "from": options.picks is not None,
        "free": options.free,
    }
    asked = [name for name, is_given in given.items() if is_given]
    if len(asked) != 1:
        raise BriefError(
            "palette",
            " and ".join(asked) or "no source",
            "one of a photograph, --mood, --from and --free",
            "Name one source of colours.",
        )
    if options.scheme is not None and asked != ["from"]:
        raise BriefError("scheme", options.scheme, "a scheme with --from", "Add --from HEX.")
    return asked[0]


def _found(
    source: str,
    options: argparse.Namespace,
    request: Request,
    rng: np.random.Generator,
    told: Told,
) -> Picked | NoChoice:
    if source == "photo":
        return _from_photo(options.photo, request, rng)
    if source == "mood":
        return from_mood(request, _mood(options.mood), rng, told)
    if source == "free":
        return from_free(request, rng, told)
    picks = parse_colours(options.picks, "from")
    whole("from", len(picks), 1, min(MOST_PICKS, request.size))
    try:
        return from_picks(request, picks, rng, _scheme(options.scheme), told)
    except ValueError as error:
        raise BriefError(
            "from", options.picks, f"colours to start from ({error})", "Choose other colours."
        ) from error


def _from_photo(path: str, request: Request, rng: np.random.Generator) -> Picked | NoChoice:
    from gallery.photos import MOST_BYTES, PhotoError, read_photo

    content = read_bytes(path, "photo", MOST_BYTES)
    try:
        return from_photo(request, read_photo(content, name=path), rng)
    except PhotoError as error:
        raise BriefError("photo", error.got, error.wanted, error.remedy) from error
    except ValueError as error:
        raise BriefError(
            "photo", path, f"a picture with colours ({error})", "Choose another picture."
        ) from error


def _mood(text: str) -> Mood:
    name = text.strip().lower()
    if name not in moods():
        raise BriefError("mood", text, f"one of {', '.join(moods())}", "Choose from the list.")
    return moods()[name]


def _scheme(text: str | None) -> Scheme | None:
    if text is None:
        return None
    name = " ".join(text.replace("-", " ").lower().split())
    if name not in {scheme.value for scheme in Scheme}:
        raise BriefError("scheme", text, f"one of {', '.join(Scheme)}", "Choose from the list.")
    return Scheme(name)


def _request(options: argparse.Namespace) -> Request:
    tray = _tray(options)
    return Request(
        size=whole("size", typed(options.size, str(DEFAULT_SIZE)), 1, MOST_FREE),
        looks=looks_of(typed(options.see, DEFAULT_SEE), typed(options.light, "daylight")),
        tray=tray,
        patient=options.patient,
        most_steps=_most_steps(options),
        beads_each=whole("each", typed(options.each, "1"), 0, NO_LIMIT),
        one_per_finish=options.one_per_finish,
        most_cost=None if options.budget is None else _budget(options.budget),
    )


def _most_steps(options: argparse.Namespace) -> int | None:
    if options.steps is None:
        return None
    if options.photo is not None or (options.free and not tray_asked(options)):
        raise BriefError(
            "steps",
            options.steps,
            "a search among colours beside it",
            "Leave it out, or add --tray CSV or --starter to --free.",
        )
    return whole("steps", options.steps, 0, _MOST_STEPS)


def _budget(text: str) -> float:
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        value = math.nan
    if not 0.0 <= value < math.inf:
        raise BriefError("budget", text, "a sum of 0 or more", "Type digits, such as 12.50.")
    return value


def _tray(options: argparse.Namespace) -> Tray | None:
    """The beads of one kind to choose from, if a tray is asked for."""
    if not tray_asked(options):
        for field in ("keep_good", "kind", "each", "one_per_finish", "budget"):
            value = getattr(options, field)
            if value:
                name = field.replace("_", "-")
                raise BriefError(name, value, "a tray beside it", "Add --tray CSV or --starter.")
        return None
    return tray_of(options, options.kind, "kind")
