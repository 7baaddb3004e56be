"""Starting values for a measurement, ease in words, closures, and the thickness of the base."""

import streamlit as st

from explorer.app import session, shaping, steps
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import note
from explorer.app.parts.size_boxes import pick_size, set_size, tick
from explorer.app.sizing import Measured, Sizing, measured
from explorer.app.sizing_words import (
    curvature_label,
    ease_options,
    fastening_options,
    limb_options,
    limb_wear,
    limb_words,
)
from explorer.app.state import Work
from explorer.cautions import Topic, Wear, cautions
from explorer.ends import BREAKAWAY, EXTENDERS_MM, FASTENINGS, WIRE_GUARD_MM, Fastening
from explorer.errors import BriefError
from explorer.lengths import MM_PER_INCH, millimetres, parse_mm
from explorer.sheet_care import FOR_CHILDREN, LAW, SMALL_PARTS
from explorer.wearers import EASES, LIMBS, Place, may_be_child
from palettes.charts import bead_kinds

_WRITTEN = "written"


def starting_points(sizing: Sizing) -> None:
    """Usual measurements to start from until there is a real one."""
    options = limb_options()
    # Only as written by the choice itself: who typed a measurement has measured.
    here = [str(i) for i, limb in enumerate(LIMBS) if sizing.snug == _written(limb.girth_mm)]
    pick_size(
        "No tape at hand: a usual measurement",
        {_WRITTEN: "as written above", **_shown(options)},
        here[0] if here else _WRITTEN,
        "limb",
        _start,
    )
    if here:
        note(limb_words(LIMBS[int(here[0])]), kind="care")
    else:
        note(
            "Another wearer's measurement resizes the piece; it keeps its repeat and its order.",
            kind="small",
        )


def _start(name: str) -> None:
    if name != _WRITTEN:
        limb = LIMBS[int(name)]
        set_size(snug=_written(limb.girth_mm), wear=limb_wear(limb).value)


def _written(girth_mm: float) -> str:
    return f"{girth_mm:g} mm"


def eases(sizing: Sizing) -> None:
    """Ease in words."""
    now = _mm(sizing.ease)
    here = [
        str(i)
        for i, ease in enumerate(EASES)
        if now is not None and abs(ease.middle_mm - now) < 0.05
    ]
    pick_size(
        "Ease in words",
        {_WRITTEN: "as written above", **_shown(ease_options())},
        here[0] if here else _WRITTEN,
        "ease_words",
        lambda name: (
            None
            if name == _WRITTEN
            else set_size(ease=shown(f"{EASES[int(name)].middle_mm:.1f} mm"))
        ),
    )


def worn_box(work: Work) -> Wear:
    """What the piece is worn as, which sets what is careful; says what it is now."""
    wear = work.piece.worn_as
    pick_size(
        "Worn as",
        {one.value: one.value for one in Wear},
        wear.value,
        "wear",
        lambda name: set_size(wear=name),
    )
    return wear


def closure_care(work: Work, wear: Wear) -> None:
    """What must be known of a child's closure and drop, and what is safer a tap away."""
    wearer = work.piece.wearer
    if wear is not Wear.CHILD:
        place = Place.ANKLE if wear is Wear.ANKLET else Place.WRIST
        if wearer is not None and may_be_child(wearer.snug_mm, place):
            note(
                f"Children have {place}s of this size too. If a child wears it, choose "
                f"“{Wear.CHILD.value}” under Worn as, and a closure that comes open.",
                kind="care",
            )
        return
    found = cautions(work.piece.design, wear, wearer)
    for caution in found:
        if caution.topic in (Topic.CLOSURE, Topic.DROP):
            note(f"{caution.words} {caution.remedy}", kind="care")
    if any(caution.topic is Topic.DROP for caution in found):
        st.button("Make it hang shorter", key="size_shorter", on_click=_shorten)
    if any(caution.topic is Topic.CLOSURE for caution in found):
        safer = next(f for f in FASTENINGS if f.kind == BREAKAWAY)
        st.button(
            f"Take a {safer.kind}",
            key="size_safer",
            on_click=_close_with,
            args=(safer,),
        )
    note(" ".join((SMALL_PARTS[0], *FOR_CHILDREN, *LAW)), kind="care")


def _shorten() -> None:
    work = session.work()
    to = measured(work.sizing)
    if isinstance(to, Measured):
        session.commit(shaping.within(work, steps.usual_most(work, to)))


def _close_with(fastening: Fastening) -> None:
    set_size(fastening=fastening.kind, closure=shown(f"{fastening.middle_mm:g} mm"))


def fastenings(sizing: Sizing, *, child: bool = False) -> None:
    """The closure's kind; a usual length comes with it and can be changed."""
    names = {f.kind: f for f in FASTENINGS}
    pick_size(
        "Closure",
        _shown(fastening_options(sizing.fastening, child=child)),
        sizing.fastening,
        "fastening",
        lambda name: set_size(
            fastening=name,
            **({"closure": shown(f"{names[name].middle_mm:g} mm")} if name in names else {}),
        ),
    )


def extenders(sizing: Sizing) -> None:
    """A chain that lets the piece be worn looser."""
    now = _mm(sizing.extender)
    sizes = {
        f"{mm:g} mm": f"{round(mm / float(MM_PER_INCH))} in ({millimetres(mm)})"
        for mm in EXTENDERS_MM
    }
    options = {"": "none", **sizes}
    if now and f"{now:g} mm" not in options:
        options[f"{now:g} mm"] = millimetres(now)
    pick_size(
        "Extender chain",
        _shown(options),
        f"{now:g} mm" if now else "",
        "extender",
        lambda text: set_size(extender=text),
    )


CLOSURE_HELP = (
    "Lay it closed along a ruler. A part at each end: add them, as in 12 mm + 6 mm. Wire guards "
    f"add {WIRE_GUARD_MM[0]:g} to {WIRE_GUARD_MM[1]:g} mm each (from memory)."
)


def curvature(sizing: Sizing) -> None:
    """Whether the strip is longer for the thickness of its base."""
    base = bead_kinds().get(sizing.base)
    if base is None:
        return
    tick(
        "curvature",
        curvature_label(base.diameter_mm),
        sizing,
        "The middle of the beads lies on a wider circle than the limb: pi times their thickness "
        "more, if they keep their distance there; nothing if they close up on the inside. Try it "
        "where a thick base sits too tight (worked out by us).",
    )


def chain_words(to: Measured, finished_mm: float) -> str:
    """From where to where a piece with an extender chain closes; nothing without one."""
    if not to.closure.extender_mm:
        return ""
    return (
        f"On its chain it closes anywhere from {millimetres(finished_mm)} to "
        f"{millimetres(finished_mm + to.closure.extender_mm)}."
    )


def _shown(options: dict[str, str]) -> dict[str, str]:
    """Options whose words have their figures in the maker's writing."""
    return {name: shown(words) for name, words in options.items()}


def _mm(text: str) -> float | None:
    try:
        return parse_mm(text, "length")
    except BriefError:
        return None
