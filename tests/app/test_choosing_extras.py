"""How much proposals vary, as the state of choosing keeps it."""

import json
from dataclasses import replace

from explorer.app.choosing import Choosing, asked, from_text, to_text
from explorer.app.demo import demo
from explorer.brief import USUAL_EXTRAS, Brief, HowMuch
from explorer.propose import Proposals, propose


def test_the_wish_and_kept_pieces_with_rules_survive_as_text() -> None:
    choosing = Choosing(seed=4, extras=HowMuch.MORE)
    question = asked(demo(), choosing, 6)
    assert isinstance(question[0], Brief)
    assert question[0].extras is HowMuch.MORE
    found = propose(question[0])
    assert isinstance(found, Proposals)
    kept = replace(choosing, kept=found.proposals[:4])
    assert from_text(to_text(kept)) == kept


def test_a_state_from_before_the_wish_has_the_usual_one() -> None:
    document = json.loads(to_text(Choosing(seed=7)))
    del document["extras"]
    assert from_text(json.dumps(document)) == Choosing(seed=7, extras=USUAL_EXTRAS)
