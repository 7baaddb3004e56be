"""A profile's scores, and the names of patterns and shapes, in words."""

from explorer.lengths import millimetres
from explorer.profile_scores import ProfileScores, silhouette_difference

PATTERN_WORDS = {
    "A": "All alike",
    "AB": "Two in turn",
    "ABCB": "Three in turn",
    "own": "Each its own",
}
# Words for smoothness; the limits chosen by us by eye, looking at all shapes in three widths.
_EVEN, _LIVELY = 0.7, 0.4
# Chosen by us, because nobody sees a lean below this.
_LEAN = 0.02


def score_words(scores: ProfileScores) -> str:
    """A profile's figures in a line."""
    return " · ".join(
        (
            f"hangs {millimetres(scores.drop_mm)} at its longest",
            f"{scores.beads} beads a motif",
            f"{edge_words(scores.smoothness)} edge ({100.0 * scores.smoothness:.0f} % smooth)",
            lean_words(scores.lean),
        )
    )


def edge_words(smoothness: float) -> str:
    """How the lower edge runs."""
    if smoothness >= _EVEN:
        return "an even"
    return "a lively" if smoothness >= _LIVELY else "a pointed"


def lean_words(lean: float) -> str:
    """To which side the weight lies."""
    if abs(lean) < _LEAN:
        return "balanced about its middle"
    side = "end" if lean > 0.0 else "start"
    return f"leans to its {side} ({100.0 * abs(lean):.0f} %)"


def difference_words(profiles: tuple[tuple[int, ...], ...]) -> str:
    """How unlike the outlines in turn look; nothing where there is one."""
    pairs = [(i, k) for k in range(len(profiles)) for i in range(k)]
    return " · ".join(
        f"{'ABC'[i]} and {'ABC'[k]} differ in "
        f"{100.0 * silhouette_difference(profiles[i], profiles[k]):.0f} % of their area"
        for i, k in pairs
    )


def target_words(target: str, pattern: str, motifs: int) -> str:
    """Which motifs the bars stand for."""
    if target.startswith("m"):
        return f"Motif {int(target[1:]) + 1} of {motifs}"
    if pattern == "A":
        return "Every motif"
    numbers = [
        place + 1
        for place in range(motifs)
        if pattern[min(place, motifs - 1 - place) % len(pattern)] == target
    ]
    return (
        f"Outline {target}: motif{'s' if len(numbers) > 1 else ''} {', '.join(map(str, numbers))}"
    )
