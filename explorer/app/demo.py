"""The piece that lies on the table at a first visit: an invented anklet for an invented wearer."""

from explorer.app.sizing import Measured, Sizing, measured
from explorer.app.state import Tray, Work
from explorer.design import build
from explorer.fit import Fit
from explorer.piece import piece_of
from palettes.beads import Bead
from palettes.charts import palette
from palettes.swatches import Swatch

# An invented scenario: 205 mm round the ankle, 22 mm ease, which allows for an 18 mm clasp. It
# leaves 209 mm for the strip: 11 motifs of five dangles with a divider of one, 67 base beads.
SIZING = Sizing(snug="205 mm", ease="22 mm", closure="18 mm", dangles=5, divider=1)
PALETTE = "rockpool"
# Two outlines in turn, chosen by eye: a long drop, and a low scoop that gives it air.
_PROFILES = ((2, 4, 7, 4, 2), (4, 3, 2, 3, 4))
# The palette's colours by place, chosen by eye.
_ORDER = (3, 1, 6, 0, 4, 5, 2, 3, 0, 6, 1)
NAME = "Anklet for Ottilie"


def tray_of(name: str) -> Tray:
    """A palette's colours as a tray, on the base bead that suits it best."""
    chosen = palette(name)
    base = chosen.bases[0] if chosen.bases else chosen.swatches[0]
    return Tray(swatches=chosen.swatches, base=base, palette=name)


def bead_of(swatch: Swatch, to: Measured, *, base: bool = False) -> Bead:
    """A bead of the chosen kind in a swatch's colour."""
    kind = to.strip.base if base else to.hanging
    return Bead(name=swatch.name, kind=kind, hex=swatch.hex, finish=swatch.finish)


def demo() -> Work:
    """The demo piece with the boxes and the colours that made it."""
    to = measured(SIZING)
    if not isinstance(to, Measured):
        raise TypeError(f"the demo's own sizes are wrong: {to!r}")
    fit = to.strip.fit(to.wearer, to.closure)
    if not isinstance(fit, Fit):
        raise TypeError(f"the demo does not fit its wearer: {fit!r}")
    tray = tray_of(PALETTE)
    beads = (bead_of(tray.base, to, base=True), *(bead_of(s, to) for s in tray.swatches))
    design = build(
        beads=beads,
        base=0,
        base_pitch_mm=fit.pitch_mm,
        profiles=_PROFILES,
        order=tuple(1 + _ORDER[i % len(_ORDER)] for i in range(fit.motifs)),
        divider_base_beads=fit.repeat.divider,
        closure=to.closure,
    )
    piece = piece_of(design, name=NAME, wearer=to.wearer, plain_ends=True)
    return Work(piece=piece, sizing=SIZING, tray=tray)
