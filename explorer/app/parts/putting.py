"""Putting a proposal on the table, wherever it is shown."""

from explorer.app import session, steps
from explorer.app.choosing import with_put
from explorer.propose import Proposal


def put_on_table(proposal: Proposal, seed: int) -> None:
    """Lay it there; the other proposals stay as they are."""
    work = session.work()
    session.set_choosing(with_put(session.choosing(), work, proposal))
    session.commit(steps.on_table(work, proposal, seed))
