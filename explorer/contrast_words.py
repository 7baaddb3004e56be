"""A judgement in words that a ten-year-old understands; people count motifs from 1."""

import math

from explorer.contrast_compare import Apart, light_change
from explorer.contrast_piece import Meeting, Neighbours, PieceJudgement
from palettes.difference import Verdict, verdict
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
_ALIKE = (Verdict.SAME, Verdict.CLOSE)


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


def summary(judgement: PieceJudgement) -> str:
    """The one sentence above the table."""
    weakest = judgement.weakest
    if weakest is None:
        return "One motif has no neighbours."
    said = sentence(weakest)
    if weakest.worst_verdict not in _ALIKE and weakest.verdict not in _ALIKE:
        people = " for everyone who was asked" if len(judgement.looks) > 1 else ""
        said = f"All neighbours {LOOKS[weakest.worst_verdict]}{people}."
    return " ".join(filter(None, (said, _over_the_closure(judgement), _on_the_base(judgement))))


def _over_the_closure(judgement: PieceJudgement) -> str:
    """What the neighbours leave out: the two that meet over the closure, where they are alike."""
    row, weakest = judgement.closure, judgement.weakest
    if row is None or row.alike_by_choice or row.worst_verdict not in _ALIKE:
        return ""
    if weakest is not None and {row.i, row.j} == {weakest.i, weakest.j}:
        # Two motifs meet in the strip and over the closure: once is enough.
        return ""
    return f"Over the closure: {_small(sentence(row))}"


def _on_the_base(judgement: PieceJudgement) -> str:
    """The motifs that look like the base beads that they hang from, to most people in daylight."""
    motifs = sorted({row.i + 1 for row in judgement.base if row.verdict in _ALIKE})
    if not motifs:
        return ""
    if len(motifs) == 1:
        return f"Motif {motifs[0]} looks like its base beads."
    *most, last = motifs
    return f"Motifs {', '.join(map(str, most))} and {last} look like their base beads."


def _small(words: str) -> str:
    return f"{words[0].lower()}{words[1:]}"
