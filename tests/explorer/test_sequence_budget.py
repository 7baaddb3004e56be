"""Counted work: what is spent, what is left, and a caller who wants to stop."""

from explorer.sequence_budget import STEPS_BETWEEN_ASKING, Budget


def test_work_ends_where_its_limit_is() -> None:
    budget = Budget(limit=3)
    assert [budget.spend() for _ in range(4)] == [True, True, True, False]
    assert (budget.spent, budget.left) == (4, 0)
    assert Budget(limit=5).spend(5)
    assert not Budget(limit=5).spend(6)


def test_whoever_goes_on_is_asked_now_and_then_and_not_stopped() -> None:
    asked: list[int] = []

    def go_on(spent: int) -> bool:
        asked.append(spent)
        return True

    budget = Budget(limit=10_000, keep_going=go_on)
    assert all(budget.spend() for _ in range(3 * STEPS_BETWEEN_ASKING))
    assert asked == [STEPS_BETWEEN_ASKING * n for n in (1, 2, 3)]
    assert not budget.cancelled
    assert budget.left == 10_000 - 3 * STEPS_BETWEEN_ASKING


def test_whoever_stops_is_obeyed_at_once() -> None:
    budget = Budget(limit=10_000, keep_going=lambda spent: spent < 2 * STEPS_BETWEEN_ASKING)
    assert budget.spend(STEPS_BETWEEN_ASKING)
    assert not budget.spend(STEPS_BETWEEN_ASKING)
    assert budget.cancelled
    assert budget.left == 0
    assert not budget.spend(0)


def test_an_attempt_gets_a_part_and_gives_it_back() -> None:
    budget = Budget(limit=100, quick=True)
    budget.spend(40)
    part = budget.part(1000)
    assert (part.limit, part.quick) == (60, True)
    part = budget.part(10)
    part.spend(25)
    budget.take_back(part)
    # What an attempt wanted beyond its part was not done.
    assert (budget.spent, budget.cancelled) == (50, False)
    stopped = budget.part(10)
    stopped.cancelled = True
    budget.take_back(stopped)
    assert budget.cancelled
    assert budget.part(10).limit == 0
