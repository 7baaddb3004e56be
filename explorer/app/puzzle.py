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
        ask: the question in plain words; it asks for one number.
        answer: the whole number that is right.
        hint: what to say where the answer is another.
        found: what is known once it is right, in a line.
        drawn: base beads to draw once it is right.
    """

    ask: str
    answer: int
    hint: str
    found: str
    drawn: int


def questions(fit: Fit) -> tuple[Question, ...]:
    """The way from the room there is to the beads of the band, one step at a time.

    The numbers are those of the strip itself, so the last answer is its number of base beads.
    """
    part, gap = fit.repeat.base_beads, fit.repeat.divider
    end = gap + fit.repeat.margins
    room = int((fit.target_mm + TOLERANCE_MM) / fit.pitch_mm)
    left = room - end
    over = left - fit.motifs * part
    asked = [
        Question(
            ask=f"One part has {_beads(fit.repeat.dangles)} with fringe and "
            f"{_beads(gap) if gap else 'none'} without. How many beads are in one part?",
            answer=part,
            hint=f"Count on from {fit.repeat.dangles}.",
            found=f"One part has {_beads(part)}.",
            drawn=part,
        )
    ]
    if end:
        asked.append(
            Question(
                ask=f"The band has room for {_beads(room)}. Put {_beads(end)} aside for the very "
                "end. How many beads are left?",
                answer=left,
                hint=f"Take {end} away from {room}.",
                found=f"{room} take away {end} is {left}.",
                drawn=part,
            )
        )
    asked.append(
        Question(
            ask=f"Now make parts of {_beads(part)} from {_beads(left)}. "
            "How many whole parts do you get?",
            answer=fit.motifs,
            hint=f"Share {left} into heaps of {part}. Count only the full heaps.",
            found=f"{_beads(left)} make {_parts(fit.motifs)}"
            + (f", and {over} left over." if over else "."),
            drawn=fit.motifs * part,
        )
    )
    asked.append(
        Question(
            ask=f"Put {_parts(fit.motifs)} of {_beads(part)} in a row. "
            "How many beads are in the row?",
            answer=fit.motifs * part,
            hint=f"Work out {fit.motifs} times {part}.",
            found=f"{fit.motifs} times {part} is {fit.motifs * part}.",
            drawn=fit.motifs * part,
        )
    )
    if end:
        asked.append(
            Question(
                ask=f"Now add the {_beads(end)} for the very end. Both ends look the same now. "
                "How many beads are in the whole band?",
                answer=fit.base_beads,
                hint=f"Work out {fit.motifs * part} and {end} more.",
                found=f"{fit.motifs * part} and {end} more is {fit.base_beads}.",
                drawn=fit.base_beads,
            )
        )
    return tuple(asked)


def _beads(number: int) -> str:
    return "1 bead" if number == 1 else f"{number} beads"


def _parts(number: int) -> str:
    return "1 part" if number == 1 else f"{number} parts"


def to_text(fit: Fit, answers: tuple[int | None, ...]) -> str:
    """Answers as short text, with the band that they belong to; nothing where there are none."""
    if all(answer is None for answer in answers):
        return ""
    given = ".".join("" if answer is None else str(answer) for answer in answers)
    return f"{band(fit)}:{given}"


def from_text(fit: Fit, text: str) -> tuple[int | None, ...]:
    """The answers that ``to_text`` wrote; none for another band, or where they make no sense."""
    of, _, given = text.partition(":")
    parts = given.split(".")
    count = len(questions(fit))
    sensible = all(not part or _NUMBER.fullmatch(part) for part in parts)
    if of != band(fit) or len(parts) != count or not sensible:
        return (None,) * count
    return tuple(int(part) if part else None for part in parts)


def band(fit: Fit) -> str:
    """A band as short text: what its questions ask about."""
    return f"{fit.motifs}-{fit.repeat.dangles}-{fit.repeat.divider}-{fit.repeat.margins}"


def solved(asked: tuple[Question, ...], answers: tuple[int | None, ...]) -> int:
    """How many questions from the first on are answered right."""
    count = 0
    for question, answer in zip(asked, answers, strict=False):
        if answer != question.answer:
            break
        count += 1
    return count
