"""Our two kinds of error: their parts, and that they can be copied and kept."""

import copy
import pickle

import pytest

from explorer.errors import BriefError
from palettes.errors import ChartError

BRIEF = BriefError("snug", "wide", "a length", "Type a number.")
CHART = ChartError("tray.csv", "row 3", "a colour is wanted")


@pytest.mark.parametrize("error", [BRIEF, CHART], ids=["brief", "chart"])
def test_an_error_survives_copying(error: Exception) -> None:
    for again in (copy.deepcopy(error), pickle.loads(pickle.dumps(error))):  # noqa: S301 - our own
        assert type(again) is type(error)
        assert str(again) == str(error)
        assert vars(again) == vars(error)


def test_an_error_says_all_four_parts() -> None:
    assert BRIEF.as_dict() == {
        "field": "snug",
        "got": "wide",
        "wanted": "a length",
        "remedy": "Type a number.",
    }
    assert all(part in str(BRIEF) for part in BRIEF.as_dict().values())


def test_a_sign_of_several_stays_one_and_what_turns_writing_is_spelled_out() -> None:
    family = "\U0001f469\u200d\U0001f467"
    assert f"got '{family}';" in str(BriefError("name", family, "a name", "Type one."))
    assert "got 'a\\u202eb\u200d';" in str(BriefError("name", "a\u202eb\u200d", "a", "Type one."))
