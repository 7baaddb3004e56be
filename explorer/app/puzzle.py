"""The maths of a piece as a few small questions with its own numbers."""

import re
from dataclasses import dataclass

from explorer.fit import TOLERANCE_MM, Fit

# As large as the boxes take.
_NUMBER = re.compile(r"\d{1,4}", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question, its answer, and how many base beads of the band it has explained.

    Attributes:
        ask: the question in plain words.
        answer: the whole number that is right.
        hint: what to say where the answer is another.
        drawn: base beads to draw once it is right.
    """

    ask: str
    answer: int
    hint: str
    drawn: int


def questions(fit: Fit) -> tuple[Question, ...]:
    """The way from the room there is to the beads of the band, one step at a time.

    The numbers are those of the strip itself, so the last answer is its number of base beads.
    """
    part, gap = fit.repeat.base_beads, fit.repeat.divider
    end = gap + fit.repeat.margins
    room = int((fit.target_mm + TOLERANCE_MM) / fit.pitch_mm)
    left = room - end
    asked = [
        Question(
            ask=f"One part is {fit.repeat.dangles} beads with fringe and {gap} without. "
            "How many is that?",
            answer=part,
            hint=f"Count on from {fit.repeat.dangles}.",
            drawn=part,
        )
    ]
    if end:
        asked.append(
            Question(
                ask=f"There is room for {room} beads. {end} stay for the very end. "
                "How many are left?",
                answer=left,
                hint=f"Take {end} away from {room}.",
                drawn=part,
            )
        )
    asked.append(
        Question(
            ask=f"How many whole parts of {part} go into {left}?",
            answer=fit.motifs,
            hint=f"Share {left} into heaps of {part}. What does not fill a heap does not count.",
            drawn=fit.motifs * part,
        )
    )
    asked.append(
        Question(
            ask=f"{fit.motifs} parts of {part} beads: how many beads?",
            answer=fit.motifs * part,
            hint=f"{fit.motifs} times {part}.",
            drawn=fit.motifs * part,
        )
    )
    if end:
        asked.append(
            Question(
                ask=f"And {end} for the very end, so that both ends match?",
                answer=fit.base_beads,
                hint=f"{fit.motifs * part} plus {end}.",
                drawn=fit.base_beads,
            )
        )
    return tuple(asked)


def to_text(fit: Fit, answers: tuple[int | None, ...]) -> str:
    """Answers as short text, with the band that they belong to; nothing where there are none."""
    if all(answer is None for answer in answers):
        return ""
    given = ".".join("" if answer is None else str(answer) for answer in answers)
    return f"{_band(fit)}:{given}"


def from_text(fit: Fit, text: str) -> tuple[int | None, ...]:
    """The answers that ``to_text`` wrote; none for another band, or where they make no sense."""
    band, _, given = text.partition(":")
    parts = given.split(".")
    count = len(questions(fit))
    sensible = all(not part or _NUMBER.fullmatch(part) for part in parts)
    if band != _band(fit) or len(parts) != count or not sensible:
        return (None,) * count
    return tuple(int(part) if part else None for part in parts)


def _band(fit: Fit) -> str:
    return f"{fit.motifs}-{fit.repeat.dangles}-{fit.repeat.divider}-{fit.repeat.margins}"


def solved(asked: tuple[Question, ...], answers: tuple[int | None, ...]) -> int:
    """How many questions from the first on are answered right."""
    count = 0
    for question, answer in zip(asked, answers, strict=False):
        if answer != question.answer:
            break
        count += 1
    return count
