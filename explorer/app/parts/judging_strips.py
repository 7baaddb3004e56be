"""The strip as each viewer has it in each light: small strips under one another, at one scale."""

import base64
from itertools import groupby

import streamlit as st

from explorer.app import session
from explorer.app.cache_judging import Question, asked_strips, keep_strips, seen_strip
from explorer.app.drawings import Box, Seen
from explorer.app.heavy import LINE
from explorer.app.labels import as_attribute, as_html
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.judging_words import (
    LIGHTS,
    prevalence_words,
    verdict_words,
    viewer_words,
)
from explorer.app.parts.waiting import waited
from explorer.contrast_piece import Neighbours, PieceJudgement
from explorer.contrast_words import tenths
from palettes.viewing import Condition


def strips(question: Question, judgement: PieceJudgement) -> None:
    """Draw them, the two motifs that are weakest there with a line round them.

    They are many, so those that are not kept are drawn in the line of heavy work, and shown one
    viewer after another.
    """
    narrow = session.view()[0] != "strip"
    groups = [tuple(looks) for _, looks in groupby(question.looks, key=lambda look: look.viewer)]
    jobs = [asked_strips(question, looks, narrow) for looks in groups]
    try:
        for looks, job in zip(groups, jobs, strict=True):
            if job is not None:
                waited(job, "Drawing what they see: others are looking too")
                keep_strips(job)
            st.html(_viewer(question, judgement, looks, narrow))
    finally:
        # A press ends this run of the page, and with it the wish.
        for job in jobs:
            if job is not None:
                LINE.leave(job)


def _viewer(
    question: Question, judgement: PieceJudgement, looks: tuple[Condition, ...], narrow: bool
) -> str:
    rows = "".join(
        _strip(
            seen_strip(question.design, look, question.backing, narrow),
            look,
            weakest_under(judgement, look),
        )
        for look in looks
    )
    return (
        f'<section class="dw-viewer"><h3>{as_html(viewer_words(looks[0]))}</h3>'
        f'<p class="dw-note dw-small">{as_html(prevalence_words(looks))}</p>{rows}</section>'
    )


def weakest_under(judgement: PieceJudgement, look: Condition) -> tuple[Neighbours, float] | None:
    """The two neighbouring motifs that differ least under one look, and by how much.

    None where all neighbours repeat.
    """
    judged = (row for row in judgement.motifs if not row.alike_by_choice)
    found = ((row, dict(row.by_view)[str(look)]) for row in judged)
    return min(found, key=lambda pair: pair[1], default=None)


def _strip(seen: Seen, look: Condition, weakest: tuple[Neighbours, float] | None) -> str:
    words, marks = "", ""
    if weakest is not None:
        row, apart = weakest
        words = shown(
            f"Motifs {row.i + 1} and {row.j + 1} are the weakest: "
            f"{verdict_words(apart)} (difference {tenths(apart)})"
        )
        marks = "".join(_mark(box) for box in joined(seen.boxes[row.i], seen.boxes[row.j]))
    data = base64.b64encode(seen.png).decode("ascii")
    light = LIGHTS[look.light]
    alt = as_attribute(f"The strip: {viewer_words(look)}, {light.lower()}. {words}")
    return (
        f'<figure class="dw-strip"><figcaption><b>{as_html(light)}</b> '
        f"<span>{as_html(words)}</span></figcaption>"
        f'<div class="dw-strip-frame"><img alt="{alt}" width="{seen.width}" '
        f'height="{seen.height}" src="data:image/png;base64,{data}">{marks}</div></figure>'
    )


def joined(one: Box, other: Box) -> tuple[Box, ...]:
    """One box round two motifs of a row, two boxes where they lie in different rows."""
    if one[1] + one[3] <= other[1] or other[1] + other[3] <= one[1]:
        return one, other
    left, top = min(one[0], other[0]), min(one[1], other[1])
    right = max(one[0] + one[2], other[0] + other[2])
    bottom = max(one[1] + one[3], other[1] + other[3])
    return ((left, top, right - left, bottom - top),)


def _mark(box: Box) -> str:
    names = ("left", "top", "width", "height")
    place = ";".join(f"{name}:{100.0 * share:.2f}%" for name, share in zip(names, box, strict=True))
    return f'<i class="dw-mark" style="{place}"></i>'
