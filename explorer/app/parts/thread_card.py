"""The thread: how much, by part and by piece, which needle, and the bead that gets tightest."""

import streamlit as st

from explorer.app.counting_words import metres, thread_words
from explorer.app.labels import as_html, isolated
from explorer.app.parts.bead_pick import pick_one
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.figure_box import figure_box, set_figure
from explorer.app.parts.notes import note
from explorer.design import Design
from explorer.thread import ThreadPlan
from explorer.thread_holes import HoleFit, Passing, spot_words
from explorer.thread_setup import NEEDLES_MM, THREADS_MM, ThreadSetup
from palettes.beads import BeadKind

_OWN = "as written below"
_GOES = {
    Passing.FREE: "goes easily",
    Passing.TIGHT: "goes tightly",
    Passing.DOUBTFUL: "may not pass",
}


def thread_table(plan: ThreadPlan) -> None:
    """What to cut, and where the thread goes."""
    note(thread_words(plan))
    joins = f"{plan.joins} join{'' if plan.joins == 1 else 's'}" if plan.joins else "No join"
    note(f"{joins}; the bead passed most is passed {plan.most_passes} times.")
    rows = "".join(
        f"<tr><td>{as_html(step.value.capitalize())}</td><td>{shown(metres(length))}</td></tr>"
        for step, length in plan.parts
        if length > 0.0
    )
    st.html(
        '<table class="dw-table dw-groups"><tbody>'
        f"{rows}<tr class='total'><td>In the piece</td><td>{shown(metres(plan.path_mm))}</td></tr>"
        "</tbody></table>"
    )


def thread_boxes(setup: ThreadSetup) -> None:
    """Thread, needle and habits."""
    one, two = st.columns(2)
    with one:
        _usual("Thread", "thread", THREADS_MM, setup.thread_mm)
        figure_box(
            "thread",
            "Thread, how thick",
            "Trade sizes from memory; charts differ by 0.02 to 0.05 mm. Wind ten turns side "
            "by side round a pin, measure, and divide by ten.",
        )
    with two:
        _usual(
            "Needle", "needle", tuple((f"size {n}", mm) for n, mm in NEEDLES_MM), setup.needle_mm
        )
        figure_box(
            "needle", "Needle, how thick", "Size 10 from trade pages, the others from memory."
        )
    one, two = st.columns(2)
    with one:
        figure_box(
            "working",
            "One piece of thread",
            "One wingspan, as trade pages have it; 1.5 to 1.8 m from memory. Longer tangles.",
        )
        figure_box("tail", "Tail at a join", "150 mm (from memory).")
        figure_box("rounds", "Rounds through each closure", "Two, worked out by us.")
    with two:
        figure_box(
            "allowance",
            "Allowance, in percent",
            "For tension and handling, 10 to 15 (from memory).",
        )
        figure_box(
            "closure_tail", "Tail at the very start", "250 mm (from memory): it sews a closure."
        )
        figure_box(
            "slack",
            "Thread left loose in a dangle, in beads",
            "So that the dangle swings: about half a bead, or it stands stiff (from memory).",
        )


def _usual(label: str, box: str, sizes: tuple[tuple[str, float], ...], now_mm: float) -> None:
    """The usual sizes; one that is picked is written into the box below."""
    options = {f"{mm:g} mm {name}": shown(f"{name} ({mm:g} mm)") for name, mm in sizes}
    chosen = next((f"{mm:g} mm {name}" for name, mm in sizes if abs(mm - now_mm) < 1e-9), "")
    if not chosen:
        options = {_OWN: shown(f"{_OWN} ({now_mm:g} mm)"), **options}
    pick_one(
        label,
        options,
        chosen or _OWN,
        f"usual_{box}",
        lambda name: None if name == _OWN else set_figure(box, " ".join(name.split()[:2])),
    )


def holes_table(design: Design, plan: ThreadPlan) -> None:
    """For every kind the bead whose hole gets fullest, the tightest first."""
    kinds: dict[BeadKind, HoleFit] = {}
    for hole in plan.holes:
        kinds.setdefault(design.beads[hole.bead].kind, hole)
    rows = "".join(_hole(design, hole) for hole in kinds.values())
    st.html(
        '<table class="dw-table dw-holes"><thead><tr>'
        '<th scope="col">Tightest bead of each kind</th>'
        '<th scope="col">Needs of its hole</th><th scope="col">Last time through</th></tr></thead>'
        f"<tbody>{rows}</tbody></table>"
    )
    tight = plan.tightest
    if tight.passing is not Passing.FREE:
        note(f"{tight.words} {tight.remedy}", kind="care")
    note(
        "A model, not calibrated: it warns and forbids nothing. Try a bead of your own.",
        kind="small",
    )


def _hole(design: Design, hole: HoleFit) -> str:
    bead = design.beads[hole.bead]
    where = spot_words(hole.spot, design.base_beads)
    passes = "1 pass" if hole.passes == 1 else f"{hole.passes} passes"
    return (
        f"<tr class='{hole.passing.value}'><td>{as_html(isolated(bead.name or bead.hex))}, "
        f"{as_html(shown(bead.kind.name))}<small>{where}, {passes}</small></td>"
        f"<td>{shown(f'{hole.needed_mm:.2f} of {hole.hole_mm:.2f} mm')}</td>"
        f"<td>{_GOES[hole.passing]}</td></tr>"
    )
