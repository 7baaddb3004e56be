"""A class kit as plain values; its schema stands in ``explorer/data/kit-1.schema.json``."""

from math import fsum

from explorer.cautions import cautions
from explorer.commands.answer import Json
from explorer.commands.fit import fit_document
from explorer.commands.making import cautions_document, counts_document
from explorer.kit import Kit, LearnerKit
from explorer.kit_totals import Total
from palettes.beads import Bead

VERSION = 1


def kit_document(kit: Kit, remarks: tuple[str, ...] = ()) -> Json:
    """Learners, totals, who lacks what, and what was noticed."""
    brief = kit.brief
    return {
        "danglewise_kit": VERSION,
        "brief": {
            "ease_mm": brief.ease_mm,
            "closure_mm": brief.closure.length_mm,
            "closure_kind": brief.closure.kind or None,
            "plain_ends": brief.strip.plain_ends,
            "base": brief.strip.base.name,
            "pitch_mm": brief.strip.pitch_mm,
            "hanging": brief.hanging.name,
            "profile": list(brief.lengths),
            "wear": None if brief.wear is None else brief.wear.value,
            "spares_percent": brief.spares.percent,
            "spares_least": brief.spares.least,
            "thread_mm": brief.setup.thread_mm,
        },
        "learners": [_learner(one) for one in kit.learners],
        "totals": _totals(kit),
        "short": [
            {
                "name": lack.name,
                **_bead(lack.bead),
                "needed": lack.needed,
                "given": lack.given,
                "lacking": lack.lacking,
                "spares_lacking": lack.spares_lacking,
            }
            for lack in kit.short
        ],
        "unfit": [
            {"name": one.learner.name, "needs_mm": round(one.needs_mm, 3)} for one in kit.unfit
        ],
        "remarks": list(remarks),
    }


def _bead(bead: Bead) -> Json:
    return {
        "bead": bead.name,
        "kind": bead.kind.name,
        "hex": bead.hex,
        "finish": bead.finish.value,
    }


def _learner(one: LearnerKit) -> Json:
    design = one.piece.design
    return {
        "name": one.learner.name,
        "wear": one.piece.worn_as.value,
        "snug_mm": [one.learner.least_mm, one.learner.most_mm],
        "measured": one.learner.measured,
        "ease_mm": None if one.piece.wearer is None else one.piece.wearer.ease_mm,
        "fit": fit_document(one.fit),
        "least_motifs": one.least_motifs,
        "colours": [bead.hex for bead in design.beads[: -_others(one)]],
        "order": [motif[0].beads[0] for motif in design.motifs],
        "counts": counts_document(design, one.counts),
        "thread_mm": one.plan.length_mm,
        "cautions": cautions_document(
            cautions(design, one.piece.worn_as, one.piece.wearer),
        ),
    }


def _others(one: LearnerKit) -> int:
    """Beads at the end of the design that are no colours of motifs: base and divider."""
    base = one.piece.design.motifs[0][0].base
    return len(one.piece.design.beads) - base


def _totals(kit: Kit) -> Json:
    tallies = [one.counts for one in kit.learners]
    return {
        "base_beads": sum(tally.base_beads for tally in tallies),
        "dangle_beads": sum(tally.dangle_beads for tally in tallies),
        "divider_beads": sum(tally.divider_beads for tally in tallies),
        "link_beads": sum(tally.link_beads for tally in tallies),
        "total": sum(total.used for total in kit.totals),
        "spares": sum(total.spares for total in kit.totals),
        "to_count_out": sum(total.used + total.spares for total in kit.totals),
        "thread_mm": fsum(one.plan.length_mm for one in kit.learners),
        "by_bead": [_total(total) for total in kit.totals],
    }


def _total(total: Total) -> Json:
    return {
        **_bead(total.bead),
        "used": total.used,
        "spares": total.spares,
        "to_count_out": total.used + total.spares,
        "in_tray": total.in_tray,
        "to_buy": total.to_buy,
        "packs_g": [pack.weight_g for pack in total.packs],
    }
