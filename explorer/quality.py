"""How good a candidate is by itself, by what the maker is after."""

from explorer.brief import Mood
from explorer.candidates import Candidate
from explorer.colouring import Colouring

# Chosen by us: from a weakest neighbour of 20 on ("clearly apart") more contrast makes no piece
# better; below it, quality falls in proportion, but never to nothing, since quiet is a wish too.
ENOUGH_CONTRAST = 20.0
LEAST_QUALITY = 0.15
# Chosen by us: what a bold piece aims at, and the floor of palette research that a calm one keeps.
BOLD_MEAN, CALM_LEAST, CALM_MEAN = 55.0, 10.0, 20.0
# Colours inside motifs bring motifs' averages nearer, and are no calmer for that. Chosen by us, by
# looking at calmer sheets of 24 from a tray.
_RESTLESS = 0.5
# Chosen by us: a whole repeat left over costs as much as a third of the contrast.
_LEFT_OVER_COST = 0.3


def quality(candidate: Candidate, mood: Mood = Mood.AS_IT_COMES) -> float:
    """From ``LEAST_QUALITY`` to 1: contrast first, then how little of the strip is left over.

    Bolder asks for a high mean difference besides; calmer for a mean that is low, as long as the
    weakest pair can still be told apart, and for motifs of one colour.
    """
    weakest, mean = candidate.order.weakest, candidate.order.mean
    if weakest is None or mean is None:
        contrast = 1.0
    elif mood is Mood.BOLDER:
        contrast = min(1.0, weakest / ENOUGH_CONTRAST) * min(1.0, mean / BOLD_MEAN)
    elif mood is Mood.CALMER:
        contrast = min(1.0, weakest / CALM_LEAST) * min(1.0, CALM_MEAN / max(mean, 1e-9))
        recipe = candidate.recipe
        mixed = recipe.colouring is not Colouring.PLAIN or recipe.rules.tip is not None
        contrast *= _RESTLESS if mixed else 1.0
    else:
        contrast = min(1.0, weakest / ENOUGH_CONTRAST)
    left_over = candidate.fit.slack_mm / (candidate.fit.repeat.base_beads * candidate.fit.pitch_mm)
    return max(LEAST_QUALITY, contrast * (1.0 - _LEFT_OVER_COST * min(1.0, left_over)))
