"""The work on a table as text for the shelf, and back."""

import json
from dataclasses import asdict, replace
from typing import Any

from explorer.app.assumed import from_document
from explorer.app.choosing import Choosing
from explorer.app.choosing import from_text as choosing_of
from explorer.app.choosing import to_text as choosing_text
from explorer.app.drafts import Draft, from_plain, to_plain
from explorer.app.sizing import Sizing
from explorer.app.state import Tray, Work
from explorer.cautions import Wear
from explorer.piece import from_json, to_json, worn_as
from explorer.reading import Reader
from palettes.errors import ChartError
from palettes.finishes import Finish
from palettes.swatches import Swatch

VERSION_KEY = "danglewise_table"
VERSION = 1
_PATH = "the table"


def to_text(
    work: Work,
    stitch: int = 0,
    choosing: Choosing | None = None,
    typed: tuple[Draft, ...] = (),
    who: str = "",
) -> str:
    """The work as JSON; the piece inside it in its own saved form.

    Args:
        work: what is on the table.
        stitch: how far the making has come.
        choosing: where the maker stands among proposals.
        typed: what is typed about saved pieces and not written yet.
        who: who the piece is for, as typed before it is put on the shelf.
    """
    return json.dumps(
        {
            VERSION_KEY: VERSION,
            "stitch": stitch,
            "piece": to_json(work.piece),
            "sizing": asdict(work.sizing),
            "palette": work.tray.palette,
            "at_hand": work.tray.at_hand,
            "swatches": [_plain(swatch) for swatch in work.tray.swatches],
            "base": _plain(work.tray.base),
            "assumed": asdict(work.assumed),
            "choosing": choosing_text(choosing or Choosing()),
            "typed": to_plain(typed),
            "who": who,
        },
        ensure_ascii=False,
    )


def _plain(swatch: Swatch) -> dict[str, str]:
    return {"name": swatch.name, "hex": swatch.hex, "finish": swatch.finish.value}


def from_text(text: str) -> tuple[Work, int]:
    """The work and the stitch that ``to_text`` wrote.

    Raises:
        ChartError: the text is damaged or of another version.
    """
    reader = Reader(_PATH)
    try:
        document = reader.table(json.loads(text), _PATH)
        if document.get(VERSION_KEY) != VERSION:
            raise reader.fail(VERSION_KEY, str(VERSION), document.get(VERSION_KEY))
        work = Work(
            piece=from_json(reader.text(document, "piece"), _PATH),
            sizing=_sizing(reader, reader.table(document.get("sizing"), "sizing")),
            tray=Tray(
                swatches=tuple(
                    _swatch(reader, row)
                    for row in reader.rows(document.get("swatches"), "swatches")
                ),
                base=_swatch(reader, document.get("base")),
                palette=reader.text(document, "palette"),
                # Tables that were kept before there were beads at hand do not say.
                at_hand=reader.flag({"at_hand": False, **document}, "at_hand"),
            ),
            assumed=from_document(reader, document.get("assumed")),
        )
        work = _worn(work, reader.table(document.get("assumed"), "assumed").get("wear"))
        return work, max(0, reader.whole(document.get("stitch"), "stitch"))
    except (ValueError, RecursionError) as error:
        raise ChartError(_PATH, "the text", str(error)) from error


def _worn(work: Work, wear: object) -> Work:
    """What the piece is worn as stood beside it, in tables of the first version."""
    if work.piece.wear is not None or wear not in set(Wear):
        return work
    return replace(work, piece=worn_as(work.piece, Wear(str(wear))))


def choosing_from(text: str) -> Choosing:
    """The state of choosing in a text of ``to_text``; a new one where it holds none."""
    return choosing_of(_part(text, "choosing"))


def typed_from(text: str) -> tuple[Draft, ...]:
    """What was typed and not written in a text of ``to_text``; nothing where it holds none."""
    return from_plain(_part(text, "typed"))


def who_from(text: str) -> str:
    """Who a piece is for in a text of ``to_text``; empty where it does not say."""
    who = _part(text, "who")
    return who if isinstance(who, str) else ""


def _part(text: str, key: str) -> object:
    document = json.loads(text)
    return document.get(key) if isinstance(document, dict) else None


def _count(reader: Reader, table: dict[str, Any], key: str, least: int) -> int:
    found = reader.whole(table.get(key), key)
    if found < least:
        raise reader.fail(key, f"{least} or more", found)
    return found


def _sizing(reader: Reader, table: dict[str, Any]) -> Sizing:
    return Sizing(
        snug=reader.text(table, "snug"),
        ease=reader.text(table, "ease"),
        closure=reader.text(table, "closure"),
        closure_counted=reader.flag(table, "closure_counted"),
        base=reader.text(table, "base"),
        hanging=reader.text(table, "hanging"),
        dangles=_count(reader, table, "dangles", 1),
        divider=_count(reader, table, "divider", 0),
        swatch_length=reader.text(table, "swatch_length"),
        swatch_beads=_count(reader, table, "swatch_beads", 1),
        quick=reader.flag(table, "quick"),
        reading=reader.text(table, "reading"),
        margin=_count(reader, table, "margin", 0),
        # Tables of the first version took no more plain ends than their box said.
        plain_ends=reader.flag({"plain_ends": False, **table}, "plain_ends"),
        curvature=reader.flag(table, "curvature"),
        fastening=reader.text(table, "fastening"),
        extender=reader.text(table, "extender"),
    )


def _swatch(reader: Reader, value: object) -> Swatch:
    table = reader.table(value, "a swatch")
    return Swatch(
        name=reader.text(table, "name"),
        hex=reader.text(table, "hex"),
        finish=Finish(reader.text(table, "finish")),
    )
