"""What crowds, hangs too low, tangles or wears on skin, each with what to do about it."""

from explorer.app import session, steps
from explorer.app.parts.bead_pick import pick_one
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import note
from explorer.app.state import Work
from explorer.cautions import USUAL_DROP_MM, Wear, cautions
from explorer.crowding import Touch, crowding


def cautions_card(work: Work) -> None:
    """What the piece is worn as, how closely it hangs, and every caution."""
    wear = work.piece.worn_as
    pick_one(
        "Worn as",
        {w.value: shown(f"{w.value} (drops up to {USUAL_DROP_MM[w]:g} mm)") for w in Wear},
        wear.value,
        "counting_wear",
        _wear,
    )
    close = crowding(work.piece.design)
    if close.columns is not None and close.touch is Touch.FREE:
        note(
            f"Dangles take {100.0 * close.ratio:.0f} % of the room there is: they hang free, as "
            "they do up to 90 %."
        )
    found = cautions(work.piece.design, wear, work.piece.wearer)
    for caution in found:
        note(f"{caution.words} {caution.remedy}", kind="care")
    if not found:
        note("Nothing to be careful of but what is always said: small beads, needles, metal parts.")


def _wear(name: str) -> None:
    session.commit(steps.with_wear(session.work(), Wear(name), shown))
