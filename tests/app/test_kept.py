"""The work on a table comes back from text as it was."""

import json
from dataclasses import replace

import pytest

from explorer.app import steps
from explorer.app.choosing import Choosing
from explorer.app.demo import demo, tray_of
from explorer.app.kept import VERSION_KEY, choosing_from, from_text, to_text
from explorer.app.state import Work
from palettes.charts import palette_names
from palettes.errors import ChartError

WORK = demo()
WORKS = [
    WORK,
    replace(WORK, sizing=replace(WORK.sizing, snug="not a length", swatch_length="64 mm")),
    steps.resized(WORK, replace(WORK.sizing, snug="6 1/2 in", quick=True)),
    *(steps.with_tray(WORK, tray_of(name)) for name in palette_names()[:3]),
]


@pytest.mark.parametrize("work", WORKS, ids=range(len(WORKS)))
def test_the_work_comes_back_as_it_was(work: Work) -> None:
    assert from_text(to_text(work, 17)) == (work, 17)


def test_a_table_of_a_version_without_choosing_begins_it_anew() -> None:
    document = json.loads(to_text(WORK, 3, Choosing(seed=9)))
    assert choosing_from(json.dumps(document)) == Choosing(seed=9)
    del document["choosing"]
    assert choosing_from(json.dumps(document)) == Choosing()
    assert from_text(json.dumps(document)) == (WORK, 3)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "{}",
        to_text(WORK)[:-20],
        json.dumps({**json.loads(to_text(WORK)), VERSION_KEY: 2}),
        json.dumps({**json.loads(to_text(WORK)), "base": None}),
        json.dumps({**json.loads(to_text(WORK)), "swatches": []}),
        json.dumps({**json.loads(to_text(WORK)), "piece": "{}"}),
        json.dumps({**json.loads(to_text(WORK)), "stitch": "last"}),
    ],
    ids=range(9),
)
def test_what_is_damaged_is_refused(text: str) -> None:
    with pytest.raises(ChartError):
        from_text(text)
