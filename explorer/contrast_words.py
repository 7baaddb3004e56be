"""A judgement in words that a ten-year-old understands; people count motifs from 1."""

import math
from collections.abc import Sequence

from explorer.contrast_compare import Apart, light_change
from explorer.contrast_piece import Meeting, MotifsAsSeen, Neighbours, PieceJudgement
from palettes.difference import HYAB, Verdict, verdict
from palettes.lights import Light
from palettes.sizes import distances_tested_m
from palettes.viewing import Condition
from palettes.vision import Sight, prevalence

_LIGHTS = {
    Light.DAYLIGHT: "",
    Light.LAMPLIGHT: " in lamplight",
    Light.FLUORESCENT: " under a cool fluorescent tube",
    Light.LED: " under an LED lamp",
}
LOOKS = {
    Verdict.SAME: "look the same",
    Verdict.CLOSE: "look alike",
    Verdict.DISTINCT: "can be told apart",
    Verdict.CLEARLY_APART: "stand well apart",
}
# What is compared, wherever rows of it are shown.
MEASURE = (
    "Neighbouring motifs as seen: each motif as the average colour of its hanging beads, by the "
    "face that each shows. Motifs of the very same beads repeat, and are not compared."
)
_ALIKE = (Verdict.SAME, Verdict.CLOSE)
# Chosen by us: more runs of repeating motifs in one sentence nobody reads.
_MOST_RUNS = 5


def figure(delta_e: float) -> str:
    """A difference as a whole number, rounded down.

    No figure then seems to pass a limit that its words do not: 9.6 looks alike, and 10 does not.
    """
    return f"{math.floor(delta_e)}"


def tenths(delta_e: float) -> str:
    """A difference with one decimal, rounded down as ``figure`` does."""
    return f"{math.floor(10.0 * delta_e) / 10.0:.1f}"


def to_whom(look: Condition) -> str:
    """Whose eyes and which light, as the end of a sentence; empty for typical eyes in daylight."""
    return _eyes(look) + _LIGHTS[look.light]


def _eyes(look: Condition) -> str:
    viewer = look.viewer
    if viewer.sight is Sight.TYPICAL or viewer.severity == 0.0:
        return ""
    if viewer.sight is Sight.GREY:
        return " in a grey photo"
    if viewer.sight is Sight.TRITAN:
        return " to the very few people who mix up blue and green"
    how = "some" if viewer.severity >= 0.9 else "some slightly"
    return f" to {how} colour-blind people"


def parts(row: Neighbours) -> str:
    """The two things that meet, such as ``Motifs 4 and 5``."""
    one, other = row.i + 1, row.j + 1
    match row.meeting:
        case Meeting.MOTIFS:
            return f"Motifs {one} and {other}"
        case Meeting.DANGLES:
            return f"The facing dangles of motifs {one} and {other}"
        case Meeting.CLOSURE:
            return f"The last motif and the first ({one} and {other})"
        case Meeting.WITHIN:
            left, right = row.columns or (0, 1)
            return f"Dangles {left + 1} and {right + 1} of motif {one}"
        case Meeting.BASE:
            return f"Motif {one} and its base beads"
        case Meeting.BACKING:
            return f"Motif {one} and what lies behind it"


def sentence(row: Neighbours) -> str:
    """What a maker needs to know about one pair, in one sentence.

    A light that changes the pair by less than its uncertainty is not blamed: either the pair is
    alike without it, or it only may be alike.
    """
    if row.alike_by_choice:
        return f"{parts(row)} are made of the same beads."
    if row.verdict in _ALIKE:
        # Alike already to most people in daylight: no need to look for a special case.
        return f"{parts(row)} {LOOKS[row.verdict]}."
    look, sure = _settled(row)
    if sure in _ALIKE:
        return f"{parts(row)} {LOOKS[sure]}{to_whom(look)}."
    if row.worst_verdict in _ALIKE:
        return f"{parts(row)} may {LOOKS[row.worst_verdict]}{to_whom(row.worst_look)}."
    return f"{parts(row)} {LOOKS[row.worst_verdict]}{_for_all(row)}."


def _settled(row: Apart) -> tuple[Condition, Verdict]:
    """The worst condition and its verdict, in daylight where the light changes too little."""
    in_daylight = Condition(viewer=row.worst_look.viewer)
    twin = dict(row.by_view).get(str(in_daylight))
    if twin is None or light_change(twin, row.worst) != 0.0:
        return row.worst_look, row.worst_verdict
    return in_daylight, verdict(twin)


def _for_all(row: Neighbours) -> str:
    return " for everyone who was asked" if len(row.by_view) > 1 else ""


def who(look: Condition) -> str:
    """How many people see so, as a sentence of its own; empty for typical eyes."""
    if look.viewer.sight is Sight.TYPICAL or look.viewer.severity == 0.0:
        return ""
    words = prevalence(look.viewer)
    return f"{words[0].upper()}{words[1:]}."


def reach(row: Apart) -> str:
    """From how far a pair still reads apart, to whom it is worst, and how sure that is."""
    whom = to_whom(row.reach_look)
    if row.reads_apart_to_m == 0.0:
        return f"does not read apart at any distance{whom}"
    if row.beyond_tested:
        near, far = distances_tested_m(row.width_mm)
        if row.reads_apart_to_m > far:
            return f"reads apart to {far:.1f} m and more{whom} (beyond the tested range)"
        return f"reads apart only nearer than {near:.1f} m{whom} (beyond the tested range)"
    return f"reads apart to {row.reads_apart_to_m:.1f} m{whom}"


def reach_sentence(row: Apart) -> str:
    """From how far a pair still reads apart, after what it looks like at first."""
    closely = row.worst_verdict in _ALIKE and row.reads_apart_to_m > 0.0
    return f"{'Looked at closely, the pair' if closely else 'The pair'} {reach(row)}"


def measure_words(delta_e: float) -> str:
    """A difference in words and as a number, as every place tells it: CIEDE2000, rounded down."""
    return f"{LOOKS[verdict(delta_e)]} (difference {tenths(delta_e)})"


def weakest_words(seen: MotifsAsSeen) -> str:
    """The figure of a piece for typical eyes in daylight, as the end of a line.

    Args:
        seen: the piece's neighbouring motifs for typical eyes in daylight.
    """
    if not seen.rows:
        return "one motif, so no neighbours"
    if seen.weakest is None:
        return "all motifs of the same beads"
    words = f"weakest neighbours, most people by day: {measure_words(seen.weakest.worst)}"
    return "; ".join(filter(None, (words, repeating_words(len(seen.repeats)))))


def repeating_words(pairs: int) -> str:
    """That so many pairs of neighbours are of the same beads; empty for none."""
    if not pairs:
        return ""
    return f"{'1 pair repeats' if pairs == 1 else f'{pairs} pairs repeat'} the same beads"


def possible_words(weakest: float | None, strongest: float | None, gave_up_for: str) -> str:
    """What an order or a choice could have reached, where it gave some up; else nothing.

    Args:
        weakest: CIEDE2000 of its own weakest pair.
        strongest: that of the strongest.
        gave_up_for: what it gave that up for, in a word; empty for nothing.
    """
    if weakest is None or strongest is None or not gave_up_for:
        return ""
    if tenths(weakest) == tenths(strongest):
        # Too little to tell.
        return ""
    why = "all are far apart, where HyAB, for large differences, decides"
    if gave_up_for != HYAB:
        why = f"gave some up for {gave_up_for}"
    return f"{tenths(strongest)} possible; {why}"


def summary(judgement: PieceJudgement) -> str:
    """The sentences above the table: the weakest neighbouring motifs, and which ones repeat."""
    if not judgement.motifs:
        return "One motif has no neighbours."
    repeated = repeat_words(judgement.repeats)
    weakest = judgement.weakest
    if weakest is None:
        return f"{repeated} No other neighbours are left to compare."
    said = sentence(weakest)
    if weakest.worst_verdict not in _ALIKE and weakest.verdict not in _ALIKE:
        people = _asked_people(judgement.looks)
        others = "other neighbours" if repeated else "neighbours"
        said = f"All {others} {LOOKS[weakest.worst_verdict]}{people}."
    return f"{said} {repeated}".rstrip()


def _asked_people(looks: Sequence[Condition]) -> str:
    """For whom a judgement holds, as the end of a sentence."""
    if len(looks) > 1:
        return " for everyone who was asked"
    return to_whom(looks[0]).replace(" to ", " for ", 1) or " for most people by day"


def repeat_words(repeats: Sequence[tuple[int, int]]) -> str:
    """The neighbouring motifs that repeat the same beads, in a sentence; empty for none."""
    if not repeats:
        return ""
    if len(repeats) == 1:
        return f"Motifs {repeats[0][0] + 1} and {repeats[0][1] + 1} repeat the same beads."
    runs: list[list[int]] = []
    for first, second in repeats:
        if runs and runs[-1][1] == first:
            runs[-1][1] = second
        else:
            runs.append([first, second])
    told = [f"{first + 1} to {last + 1}" for first, last in runs]
    if len(told) == 1:
        return f"Motifs {told[0]} repeat the same beads."
    if len(told) > _MOST_RUNS:
        return f"{len(repeats)} pairs of neighbours repeat the same beads."
    return f"Motifs {', '.join(told[:-1])} and {told[-1]} each repeat the same beads."


def details(judgement: PieceJudgement) -> tuple[str, ...]:
    """What else looks alike, each in a sentence or two: closure, facing dangles, base, backing.

    None of it is a fault of the order of motifs, so nothing of it opens a judgement.
    """
    told = (_over_the_closure(judgement), _facing(judgement), *_on_the_ground(judgement))
    return tuple(filter(None, told))


def _facing(judgement: PieceJudgement) -> str:
    """How many motifs that differ as a whole face each other with dangles that look alike."""
    differ = {row.i for row in judgement.motifs if row.worst_verdict not in _ALIKE}
    pairs = sum(row.i in differ and row.worst_verdict in _ALIKE for row in judgement.dangles)
    if not pairs:
        return ""
    have = "1 pair of neighbours has" if pairs == 1 else f"{pairs} pairs of neighbours have"
    return f"{have} facing dangles that look alike; as a whole these motifs differ."


def _over_the_closure(judgement: PieceJudgement) -> str:
    """The two that meet over the closure, where they look alike and are not meant to."""
    row = judgement.closure
    if row is None or row.alike_by_choice or row.worst_verdict not in _ALIKE:
        return ""
    if len(judgement.motifs) == 1:
        # Two motifs meet in the strip and over the closure: once is enough.
        return ""
    return f"Over the closure: {_small(sentence(row))}"


def _on_the_ground(judgement: PieceJudgement) -> list[str]:
    """The motifs that look like base beads or backing, to most people in daylight."""
    return [
        _like(sorted({row.i + 1 for row in rows if row.verdict in _ALIKE}), one, many)
        for rows, one, many in (
            (judgement.base, "its base beads", "their base beads"),
            (judgement.backing, "what lies behind it", "what lies behind them"),
        )
    ]


def _like(motifs: list[int], one: str, many: str) -> str:
    if not motifs:
        return ""
    if len(motifs) == 1:
        return f"Motif {motifs[0]} looks like {one}."
    *most, last = motifs
    return f"Motifs {', '.join(map(str, most))} and {last} look like {many}."


def _small(words: str) -> str:
    return f"{words[0].lower()}{words[1:]}"
