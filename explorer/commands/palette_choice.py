"""From ``--palette`` or ``--colours`` to the beads of a brief."""

from dataclasses import replace

from explorer.errors import BriefError
from explorer.hexes import parse_colours
from palettes.beads import Bead, BeadKind
from palettes.charts import palette, palette_names
from palettes.difference import delta_e_2000
from palettes.finishes import Finish
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab
from palettes.swatches import Swatch

# Base beads to fall back on where a palette suggests none; chosen by us: quiet, light to dark.
QUIET_BASES = (
    Swatch(name="Oat", hex="#e9e0cf", finish=Finish.MATTE),
    Swatch(name="Pebble", hex="#8d8a84", finish=Finish.MATTE),
    Swatch(name="Slate", hex="#39424b", finish=Finish.MATTE),
)


def swatches(
    name: str | None, colours: str | None
) -> tuple[tuple[Swatch, ...], tuple[Swatch, ...]]:
    """Motif colours and base colours, from a palette's name or from hex colours.

    Raises:
        BriefError: neither or both are given, or what is given is unknown.
    """
    if (name is None) == (colours is None):
        raise BriefError(
            "palette",
            "both" if name else "neither",
            "one of --palette, --colours and --tray",
            f"Name one of {', '.join(palette_names())}, or list hex colours.",
        )
    if colours is not None:
        hexes = parse_colours(colours)
        return tuple(Swatch(name=text, hex=text) for text in hexes), ()
    spelled = str(name).strip().lower()
    if spelled not in palette_names():
        raise BriefError(
            "palette", name, f"one of {', '.join(palette_names())}", "Choose a name from the list."
        )
    chosen = palette(spelled)
    return chosen.swatches, chosen.bases


def best_base(motifs: tuple[Swatch, ...], bases: tuple[Swatch, ...]) -> Swatch:
    """The base colour that stands apart most from the motif colour nearest to it."""
    choices = bases or QUIET_BASES
    lab = srgb1_to_lab(hexes_to_srgb1([swatch.hex for swatch in motifs]))
    base_lab = srgb1_to_lab(hexes_to_srgb1([swatch.hex for swatch in choices]))
    nearest = delta_e_2000(base_lab[:, None, :], lab[None, :, :]).min(axis=1)
    return choices[int(nearest.argmax())]


def bead(swatch: Swatch, kind: BeadKind) -> Bead:
    """A bead of that kind in a swatch's colour and finish."""
    return Bead(name=swatch.name, kind=kind, hex=swatch.hex, finish=swatch.finish)


def beads(chosen: tuple[Swatch, ...], kind: BeadKind) -> tuple[Bead, ...]:
    """Beads of one kind in the colours chosen."""
    return tuple(bead(swatch, kind) for swatch in chosen)


def as_divider(base: Bead, kind: BeadKind) -> Bead:
    """The small bead under the dividers: the base bead's colour in the dangles' kind."""
    return replace(base, kind=kind)
