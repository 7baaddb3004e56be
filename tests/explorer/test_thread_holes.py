"""Needle and thread against a bead's hole, in numbers and in words."""

from hypothesis import given
from hypothesis import strategies as st

from explorer.thread_holes import needed_hole_mm, passes_within, spot_words
from explorer.thread_setup import NEEDLES_MM, THREADS_MM
from palettes.charts import bead_kinds


@given(st.floats(0.4, 2.0), st.floats(0.05, 0.3), st.floats(0.2, 0.5))
def test_passes_within_a_hole_are_the_most_that_pass(
    hole_mm: float, thread_mm: float, needle_mm: float
) -> None:
    within = passes_within(hole_mm, thread_mm, needle_mm)
    assert needed_hole_mm(within + 1, thread_mm, needle_mm) > hole_mm - 1e-6
    if within:
        assert needed_hole_mm(within, thread_mm, needle_mm) <= hole_mm + 1e-6


def test_the_model_lies_between_two_rules_of_thumb() -> None:
    # Nylon D goes through an 11/0 no more than three times (Choosing Thread,
    # renobeadshop.com/howto/choosing-thread); small holes, a 12, two passes: common practice, no
    # source.
    needles, threads = dict(NEEDLES_MM), dict(THREADS_MM)
    kinds = bead_kinds()
    eleven = passes_within(kinds["round 11/0"].hole_mm, threads["nylon D"], needles["12"])
    small = passes_within(kinds["round 15/0"].hole_mm, threads["braided 6 lb"], needles["12"])
    assert 1 <= eleven <= 3
    assert small >= 2


def test_places_in_words_count_from_one() -> None:
    assert spot_words((0, 0), 5) == "base bead 1"
    assert spot_words((4, 2), 5) == "bead 2 below base bead 5"
    assert spot_words((-2, 0), 5) == "link bead 2 at the start"
    assert spot_words((5, 0), 5) == "link bead 1 at the end"
