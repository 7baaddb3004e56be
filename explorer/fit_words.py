"""A fit in words, the same on screen and on the command line."""

from explorer.brief import Strip
from explorer.fit import Fit
from explorer.lengths import both, millimetres

# A measured pitch that differs from the kind's by more is rather of another bead. Chosen by us:
# three times what ladders of one kind are reckoned to differ by.
_OTHER_BEAD = 0.15


def swatch_doubt(strip: Strip) -> str:
    """That a measured pitch is hardly of this bead; empty where it may be."""
    pitch, own = strip.measured_pitch_mm, strip.base.ladder_pitch_mm
    if pitch is None or abs(pitch / own - 1.0) <= _OTHER_BEAD:
        return ""
    return (
        f"The swatch gives {pitch:.2f} mm a base bead, where a {strip.base.name} takes about "
        f"{own:.2f} mm: choose the base bead that it was woven of, or measure it again."
    )


def beads_words(fit: Fit) -> str:
    """Motifs and base beads, plain ones apart: ``10 motifs of 7 dangles, 81 + 2 plain ...``."""
    motifs, dangles = fit.motifs, fit.repeat.dangles
    words = (
        f"{motifs} motif{'s' * (motifs > 1)} of {dangles} dangle{'s' * (dangles > 1)}, "
        f"{fit.repeat_base_beads}"
    )
    if fit.repeat.margins:
        return f"{words} + {fit.repeat.margins} plain base beads"
    return f"{words} base bead{'s' * (fit.repeat_base_beads > 1)}"


def each_end_words(plain: int) -> str:
    """So many plain base beads at each end."""
    return f"{plain} plain base bead{'s' * (plain > 1)} at each end"


def quick_words(fit: Fit) -> str:
    """The rule of thumb beside the exact fit and what it would mean; empty where they agree."""
    rule = fit.quick_rule
    if not fit.quick_rule_differs or rule.motifs == 0:
        return ""
    more = rule.motifs - fit.motifs
    means = []
    if more:
        means.append(f"{more} motif{'s' * (more > 1)} more")
    if fit.repeat.divider != 1:
        means.append(f"one base bead at the end where the start has {fit.repeat.divider}")
    means.append(
        f"a strip of {both(rule.strip_mm)}, {millimetres(rule.excess_mm)} longer than there is "
        "room for"
        if rule.excess_mm
        else f"a strip of {both(rule.strip_mm)}, which there is room for"
    )
    return (
        f"The quick rule of the trade (length over repeat, rounded down, times the repeat, plus "
        f"one) gives {rule.base_beads} base beads. That would mean {', '.join(means)}."
    )
