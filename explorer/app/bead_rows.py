"""One bead's boxes as text, checked by the same rules as a table's row."""

import csv
import io
from collections.abc import Mapping

from explorer.app.stock import Boxes, with_changed, with_new
from palettes.errors import ChartError
from palettes.tray import TrayBead
from palettes.tray_cells import harmless
from palettes.tray_read import COLUMNS, parse_tray
from palettes.tray_write import cell_texts

_BLANK = {"kind": "round 8/0", "colour": "#1f8a83", "finish": "opaque"}


def texts_of(bead: TrayBead | None) -> dict[str, str]:
    """The boxes of a bead, or those of a new one."""
    if bead is None:
        return {column: _BLANK.get(column, "") for column in COLUMNS}
    return cell_texts(bead, ".")


def bead_of(texts: Mapping[str, str]) -> TrayBead | dict[str, str]:
    """The bead that the boxes describe, or what is wanted in each that is wrong."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    writer.writerow([harmless(texts[column].strip()) for column in COLUMNS])
    try:
        reading = parse_tray(out.getvalue())
    except ChartError as error:
        return {"name": error.why}
    if reading.faults or not reading.tray.beads:
        wrong = {fault.column: fault.wanted for fault in reading.faults}
        return wrong or {"name": "a name"}
    return reading.tray.beads[0]


def put(now: Boxes, place: int | None, bead: TrayBead) -> Boxes | dict[str, str]:
    """The beads with a new one, or with one changed; or what stands in the way."""
    others = {b.key: p for p, b in enumerate(now.tray.beads)}
    if others.get(bead.key, place) != place:
        return {"name": "a name that no other bead of this kind has, or another lot"}
    try:
        return with_new(now, (bead,)) if place is None else with_changed(now, place, bead)
    except ValueError as error:
        return {"name": str(error)}
