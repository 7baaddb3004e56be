"""What the pages say, to the word."""

from dataclasses import replace

import pytest

from explorer.app.demo import demo
from explorer.app.events import painted
from explorer.app.source_words import apart_words
from explorer.app.together import all_in
from explorer.app.units import Units
from explorer.app.wording import (
    fault_words,
    file_stem,
    sentence,
    strip_words,
)
from explorer.changes import with_motifs
from explorer.contrast_piece import motifs_as_seen
from explorer.contrast_words import measure_words, weakest_words
from explorer.errors import BriefError
from explorer.pattern import Pattern
from explorer.piece import worn_by
from explorer.weave import weave
from palettes.choose_picked import Proof, picked
from palettes.viewing import TYPICAL_DAYLIGHT

WORK = demo()
PATTERN = WORK.piece.pattern
SWATCHES = WORK.tray.swatches


def _weakest(pattern: Pattern) -> str:
    return weakest_words(motifs_as_seen(weave(pattern)))


def test_neighbours_of_one_colour_are_counted_apart() -> None:
    first = "weakest neighbours, most people by day: stand well apart (difference "
    assert _weakest(PATTERN).startswith(first)
    assert "repeat" not in _weakest(PATTERN)
    twice = painted(PATTERN, (1,), SWATCHES[3]).pattern
    assert _weakest(twice).startswith("weakest neighbours, most people by day: ")
    assert _weakest(twice).endswith("; 1 pair repeats the same beads")
    thrice = painted(twice, (2,), SWATCHES[3]).pattern
    assert _weakest(thrice).endswith("; 2 pairs repeat the same beads")
    assert _weakest(all_in(PATTERN, SWATCHES[0])) == "all motifs of the same beads"
    assert _weakest(with_motifs(PATTERN, 1)) == "one motif, so no neighbours"


def test_a_strip_says_what_is_left_over_or_too_much() -> None:
    assert strip_words(WORK.piece) == "Strip 207.7 mm, 1.3 mm left over"
    # 207.7 / 25.4 = 8.177 in, nearest sixteenth 8 3/16; 1.3 mm is 0.82 sixteenths.
    assert strip_words(WORK.piece, Units.INCHES) == "Strip 8 3/16 in, 1/16 in left over"
    assert strip_words(worn_by(WORK.piece, None)) == "Strip 207.7 mm"
    # Worked out by hand: 203 + 22 - 18 = 207 mm of room.
    shorter = replace(WORK.piece.wearer, snug_mm=203.0) if WORK.piece.wearer else None
    assert strip_words(worn_by(WORK.piece, shorter)) == "Strip 207.7 mm, 0.7 mm too long"


@pytest.mark.parametrize(
    ("delta_e", "words"),
    [
        (0.0, "look the same (difference 0.0)"),
        (1.99, "look the same (difference 1.9)"),
        (9.97, "look alike (difference 9.9)"),
        (2.0, "look alike (difference 2.0)"),
        (10.0, "can be told apart (difference 10.0)"),
        (20.0, "stand well apart (difference 20.0)"),
    ],
)
def test_a_difference_in_words(delta_e: float, words: str) -> None:
    assert measure_words(delta_e) == words


def test_a_fault_names_what_was_typed_what_is_allowed_and_what_to_do() -> None:
    words = fault_words(BriefError("snug", "40 m", "40 mm to 1000 mm", "Measure again."))
    assert words == "“40 m” cannot be taken here. Wanted: 40 mm to 1000 mm. Measure again."
    assert fault_words(BriefError("snug", " ", "a length", "Type it.")).startswith("Nothing is")


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Anklet for Ottilie", "anklet-for-ottilie"),
        ("../../etc/passwd", "etc-passwd"),
        ("Ärmelband 2", "ärmelband-2"),
        ("***", "piece"),
        ("x" * 100, "x" * 60),
    ],
)
def test_a_name_makes_a_harmless_file_name(name: str, stem: str) -> None:
    assert file_stem(name) == stem


def test_a_sentence_begins_and_ends() -> None:
    assert sentence("fewest beads: valley") == "Fewest beads: valley."


def test_the_two_colours_most_alike_are_named() -> None:
    found = picked(("#c9292e", "#f4f2ea", "#b8382f"), [TYPICAL_DAYLIGHT], Proof())
    one, other = found.colours[0].name, found.colours[2].name
    words = f"{one} and {other} are the most alike, worst for typical eyes: they look alike"
    assert apart_words(found).startswith(words)
    single = picked(("#c9292e",), [TYPICAL_DAYLIGHT], Proof())
    assert apart_words(single) == "One colour, so none is like another."
