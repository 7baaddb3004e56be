"""A class kit out of the boxes: who learns, what is the same for everyone, and the files of it all.

The work is done learner by learner in a ``Job`` that the session holds, so that a page that is
drawn again goes on where it was, and a cancel only lets it go.
"""

import io
import json
import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from explorer.app.assumed import USUAL, bead_key, reckoned
from explorer.app.decimals import Decimal
from explorer.app.demo import bead_of
from explorer.app.handing import Handing, line, paper_of
from explorer.app.page_decimals import document_written
from explorer.app.sizing import Measured, measured
from explorer.app.state import Work
from explorer.brief import LEAST_BARE_MM, MOST_EASE_MM, whole
from explorer.cautions import Wear
from explorer.commands.kit_document import kit_document
from explorer.counts import Spares
from explorer.design import motif_profile
from explorer.errors import BriefError
from explorer.kit import CHILD_SPARES, Kit, KitBrief
from explorer.kit_pages import class_page, labels, sheets
from explorer.kit_roster import Learner, Roster, parse_roster
from explorer.kit_tray import Held, gram_prices, held_in
from explorer.lengths import parse_mm
from explorer.sheet_facts import SheetOptions
from gallery.page import Document, Paper
from palettes.beads import Bead
from palettes.tray import Tray

# Chosen by us: whoever has more to mend mends these first.
MOST_FAULTS = 20
# As the command line has it; chosen by us: a motif's order of more colours shows no pattern.
_MOST_EACH = 12
_LINE = re.compile(r"line (\d+)\b", re.ASCII)
_MOMENT = (1980, 1, 1, 0, 0, 0)  # chosen by us: the same kit gives the same bytes


def read_roster(text: str) -> tuple[Roster | None, tuple[BriefError, ...]]:
    """The learners in the good rows, and what is wrong with every other one.

    Args:
        text: rows as ``explorer.kit_roster.parse_roster`` reads them.
    """
    faults: list[BriefError] = []
    lines = text.splitlines()
    while True:
        try:
            return parse_roster("\n".join(lines)), tuple(faults)
        except BriefError as error:
            found = _LINE.match(str(error.got))
            place = int(found[1]) - 1 if found else -1
            # A fault of the whole text, or of a row that more than one line takes, is the last one.
            if not 0 <= place < len(lines) or not lines[place].strip():
                return None, (*faults, error) if not faults or found else tuple(faults)
            faults.append(error)
            lines[place] = ""
        if len(faults) == MOST_FAULTS:
            return None, tuple(faults)


def kit_brief(work: Work, handing: Handing, tray: Tray | None = None) -> KitBrief:
    """What is the same for everyone: strip, beads and figures of the work on the table.

    Args:
        work: the work.
        handing: the boxes.
        tray: the beads at hand. Where the colours are those of the piece, it says how many there
            are of them, and what is typed beside them goes before; else its beads of the dangles'
            kind are the colours, and the base is what it has most of, if it has any of its kind.

    Raises:
        BriefError: a box makes no sense, or the tray has no bead for the dangles.
    """
    to = measured(work.sizing)
    if not isinstance(to, Measured):
        raise to[0]
    known = reckoned(work.assumed)
    wear = Wear(handing.class_wear) if handing.class_wear in set(Wear) else None
    base = bead_of(work.tray.base, to, base=True)
    colours = tuple(dict.fromkeys(bead_of(swatch, to) for swatch in work.tray.swatches))
    held = held_in(tray or Tray())
    of_piece = handing.class_beads == "piece"
    if not of_piece:
        colours, base = _out_of(held, base, to)
    hangs = any(column.beads for divider in work.piece.design.dividers for column in divider)
    brief = KitBrief(
        strip=to.strip,
        hanging=to.hanging,
        base_bead=base,
        colours=colours,
        divider_bead=replace(base, kind=to.hanging) if hangs and to.strip.repeat.divider else None,
        ease_mm=_ease_mm(handing),
        closure=to.closure,
        closure_counted=to.wearer.closure_counted,
        profile=_outline(work, handing, to),
        colours_each=whole(
            "colours_each", handing.colours_each or "3", 1, min(len(colours), _MOST_EACH)
        ),
        wear=wear,
        spares=_spares(work, wear, known.spares),
        setup=known.setup,
        packs=known.packs,
        per_gram=known.per_gram,
    )
    if not of_piece:
        return replace(brief, tray=held)
    return replace(brief, tray=_held(kit_beads(brief), held, dict(known.at_hand)))


def _out_of(held: tuple[Held, ...], base: Bead, to: Measured) -> tuple[tuple[Bead, ...], Bead]:
    """The colours and the base bead out of a tray."""
    colours = tuple(one.bead for one in held if one.bead.kind == to.hanging)
    if not colours:
        raise BriefError(
            "class_beads",
            f"{len(held)} beads, none of the kind {to.hanging.name}" if held else "",
            f"beads of the kind {to.hanging.name}, as the dangles have them",
            "Choose another kind on the Size page, or take the colours of the piece.",
        )
    bases = [one for one in held if one.bead.kind == to.strip.base]
    if not bases or to.strip.base == to.hanging:
        return colours, base
    # The base takes the most beads, so it is made of what there is most of.
    return colours, max(bases, key=lambda one: one.count or 0).bead


def _ease_mm(handing: Handing) -> float | None:
    if not handing.class_ease.strip():
        return None
    return parse_mm(
        handing.class_ease, "class_ease", most_mm=MOST_EASE_MM, least_bare_mm=LEAST_BARE_MM
    )


def _spares(work: Work, wear: Wear | None, own: Spares) -> Spares:
    """The maker's own rule; a child's kit has more where the usual figure still stands."""
    if wear in (None, Wear.CHILD) and work.assumed.spares == USUAL.spares:
        return replace(own, percent=CHILD_SPARES.percent)
    return own


def _outline(work: Work, handing: Handing, to: Measured) -> tuple[int, ...]:
    if not handing.own_outline:
        return ()
    profile = motif_profile(work.piece.design.motifs[0])
    if len(profile) != to.strip.repeat.dangles:
        raise BriefError(
            "own_outline",
            f"a first motif of {len(profile)} dangles",
            f"{to.strip.repeat.dangles}, as the Size page has them",
            "Take the usual outline, or mend the Size page.",
        )
    return profile


def kit_beads(brief: KitBrief) -> tuple[Bead, ...]:
    """Every bead that a bag may hold, motifs' colours first."""
    extra = () if brief.divider_bead is None else (brief.divider_bead,)
    return tuple(dict.fromkeys((*brief.colours, brief.base_bead, *extra)))


def _held(
    beads: tuple[Bead, ...], held: tuple[Held, ...], typed: dict[str, int]
) -> tuple[Held, ...]:
    """The beads at hand; nothing where nobody has counted any, else none of those left empty."""
    known = {one.bead: one.count for one in held}
    if not any(bead in known or bead_key(bead) in typed for bead in beads):
        return ()
    prices = gram_prices(held)
    return tuple(
        Held(
            bead=bead,
            count=typed.get(bead_key(bead), known.get(bead, 0)),
            gram_price=prices.get(bead),
        )
        for bead in beads
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassAsk:
    """All that a class kit depends on."""

    learners: tuple[Learner, ...]
    remarks: tuple[str, ...]
    brief: KitBrief
    options: SheetOptions
    paper: Paper
    decimal: Decimal = Decimal.POINT


def class_ask(
    work: Work,
    handing: Handing,
    roster: Roster,
    tray: Tray | None = None,
    decimal: Decimal = Decimal.POINT,
) -> ClassAsk:
    """What is asked for.

    Raises:
        BriefError: a box makes no sense.
    """
    return ClassAsk(
        learners=roster.learners,
        remarks=roster.remarks,
        brief=kit_brief(work, handing, tray),
        options=SheetOptions(
            dated=line(handing, "dated"),
            large=handing.large,
            pace_s=reckoned(work.assumed).pace_s,
        ),
        paper=paper_of(handing),
        decimal=decimal,
    )


@dataclass(slots=True, kw_only=True)
class Job:
    """The printing of a kit, as far as it has come.

    Attributes:
        ask: what was asked for.
        kit: the kit.
        files: contents that are done, by name.
        turn: how often the work was taken up.
        lacking: characters that our font lacks.
        archive: everything as one ZIP file, once it is done.
    """

    ask: ClassAsk
    kit: Kit
    files: dict[str, bytes] = field(default_factory=dict)
    turn: int = 0
    lacking: dict[str, None] = field(default_factory=dict)
    archive: bytes = b""

    @property
    def total(self) -> int:
        """How many documents there are to print."""
        return len(self.kit.learners) + 2

    def steps(self) -> Iterator[int]:
        """Print one document after the other; gives how many are done.

        A page that is drawn again may take the work up while the former drawing still sets its
        last document; that one is let go then.
        """
        from gallery.pdf import to_pdf

        self.turn += 1
        mine = self.turn
        for name, document in self._documents():
            done = to_pdf(document_written(document, self.ask.decimal), self.ask.paper)
            if mine != self.turn:
                return
            self.files[name] = done.pdf
            self.lacking |= dict.fromkeys(done.lacking)
            yield len(self.files)
        if not self.archive:
            self.archive = self._packed()

    def _documents(self) -> Iterator[tuple[str, Document]]:
        """What is not printed yet."""
        start = len(self.files)
        if start < 1:
            yield "class.pdf", class_page(self.kit, self.ask.options)
        if start < 2:
            yield "labels.pdf", labels(self.kit)
        rest = replace(self.kit, learners=self.kit.learners[max(0, start - 2) :])
        for number, sheet in enumerate(sheets(rest, self.ask.options), max(1, start - 1)):
            yield f"sheet-{number:04d}.pdf", sheet

    def _packed(self) -> bytes:
        document = kit_document(self.kit, self.ask.remarks)
        for number, learner in enumerate(document["learners"], 1):
            learner["sheet"] = f"sheet-{number:04d}.pdf"
        document["files"] = {"class": "class.pdf", "labels": "labels.pdf"}
        document["lacking"] = list(self.lacking)
        text = json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1) + "\n"
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            for name, content in (*self.files.items(), ("kit.json", text.encode())):
                info = zipfile.ZipInfo(name, _MOMENT)
                info.compress_type = zipfile.ZIP_DEFLATED
                info.external_attr = 0o644 << 16
                archive.writestr(info, content)
        return out.getvalue()
