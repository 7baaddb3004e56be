"""What the boxes of handing on mean, without a page: rosters, prices, kits, links."""

import json
import zipfile
from dataclasses import replace
from decimal import Decimal
from io import BytesIO

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from explorer.app.arriving import link_from, piece_in
from explorer.app.asks import ChildAsk, answers_apart
from explorer.app.assumed import bead_key
from explorer.app.assumed import with_box as with_figure
from explorer.app.choosing import Choosing
from explorer.app.class_kit import Job, class_ask, kit_beads, kit_brief, read_roster
from explorer.app.demo import demo
from explorer.app.handing import Handing, amount, line, price_rule, sheet_options, sizes, with_box
from explorer.app.offers import candidates, offer
from explorer.app.state import Work
from explorer.changes import with_motifs
from explorer.child_page import Level, child_page
from explorer.customer_page import price
from explorer.errors import BriefError
from explorer.kit import make_kit
from explorer.kit_tray import held_in
from explorer.share import to_code
from gallery.page import Title
from palettes.errors import ChartError
from palettes.tray import Tray, TrayBead
from tests.app.conftest import ROOT

ROSTER = "Ada, 152 mm\nBo, 6 1/4 in\nCy, x\n\nBo, 150\n, 150\n<b>Д</b>, 155 - 170\nEve, -3"


def test_every_bad_row_is_named_and_the_good_ones_stay() -> None:
    roster, faults = read_roster(ROSTER)
    assert roster is not None
    assert [one.name for one in roster.learners] == ["Ada", "Bo", "Bo (2)", "<b>Д</b>"]
    assert [str(error.got).split(",")[0].split(":")[0] for error in faults] == [
        "line 3", "line 6", "line 8",
    ]  # fmt: skip


@pytest.mark.parametrize(
    "text", ["", "\n\n", "name,size\nAda,150", "Ada, x", 'Ada, "150', "Ada\n" * 60, "a,b\n" * 2000]
)
def test_a_roster_of_nobody_says_why(text: str) -> None:
    roster, faults = read_roster(text)
    assert roster is None
    assert faults


@given(st.text(alphabet='ab1 5,;\t"\n\r-\u2013\u2028\x0b', max_size=60))
def test_no_roster_breaks_the_reader(text: str) -> None:
    roster, faults = read_roster(text)
    assert roster is not None or faults


def with_tray(count: str) -> Work:
    work = demo()
    beads = kit_beads(kit_brief(work, Handing()))
    assumed = work.assumed
    for bead in beads:
        assumed = with_figure(assumed, f"at_hand:{bead_key(bead)}", count)
    return replace(work, assumed=assumed)


def test_a_job_goes_on_where_it_stopped_and_packs_everything() -> None:
    work = with_tray("100")
    roster, _ = read_roster("Ada, 152 mm\nBo, 150\nЮлия, 140 - 160")
    assert roster is not None
    ask = class_ask(work, Handing(dated="today"), roster)
    kit = make_kit(ask.learners, ask.brief)
    job = Job(ask=ask, kit=kit)
    first = next(iter(job.steps()))
    assert (first, job.archive) == (1, b"")
    list(job.steps())
    whole = Job(ask=ask, kit=kit)
    list(whole.steps())
    assert job.archive == whole.archive
    with zipfile.ZipFile(BytesIO(job.archive)) as archive:
        assert archive.testzip() is None
        assert archive.namelist() == [
            "class.pdf", "labels.pdf", "sheet-0001.pdf", "sheet-0002.pdf", "sheet-0003.pdf",
            "kit.json",
        ]  # fmt: skip
        document = json.loads(archive.read("kit.json"))
        sheet = PdfReader(BytesIO(archive.read("sheet-0003.pdf")))
    assert "Юлия" in sheet.pages[0].extract_text()
    schema = json.loads((ROOT / "explorer/data/kit-1.schema.json").read_text("utf-8"))
    jsonschema.validate(document, schema)
    used = sum(one["counts"]["total"] for one in document["learners"])
    assert used == document["totals"]["total"]
    # Three pieces of some 250 beads out of a hundred of each: somebody lacks something.
    assert document["short"]


def test_a_drawing_that_was_overtaken_lets_its_document_go() -> None:
    roster, _ = read_roster("Ada, 152 mm\nBo, 150")
    assert roster is not None
    ask = class_ask(demo(), Handing(), roster)
    job = Job(ask=ask, kit=make_kit(ask.learners, ask.brief))
    former, later = job.steps(), job.steps()
    assert next(former) == 1
    assert list(later) == [2, 3, 4]
    assert list(former) == []
    assert list(job.files) == ["class.pdf", "labels.pdf", "sheet-0001.pdf", "sheet-0002.pdf"]


def test_beads_at_hand_count_once_somebody_counted() -> None:
    assert kit_brief(demo(), Handing()).tray == ()
    work = demo()
    beads = kit_beads(kit_brief(work, Handing()))
    assumed = with_figure(work.assumed, f"at_hand:{bead_key(beads[0])}", "40")
    tray = kit_brief(replace(work, assumed=assumed), Handing()).tray
    assert [held.count for held in tray] == [40, *[0] * (len(beads) - 1)]


def test_my_beads_count_for_the_pieces_colours_and_what_is_typed_goes_before() -> None:
    work = demo()
    beads = kit_beads(kit_brief(work, Handing()))
    mine = Tray(
        beads=tuple(
            TrayBead(name=b.name, kind=b.kind, hex=b.hex, finish=b.finish, count=c, lot=str(c))
            for b, c in ((beads[0], 30), (beads[0], 25), (beads[1], 12))
        )
    )
    first = kit_brief(work, Handing(), mine)
    # Two lots of one bead together; what is not among them is none.
    assert [held.count for held in first.tray] == [55, 12, *[0] * (len(beads) - 2)]
    assert first.colours == kit_brief(work, Handing()).colours
    typed = with_figure(work.assumed, f"at_hand:{bead_key(beads[1])}", "99")
    second = kit_brief(replace(work, assumed=typed), Handing(), mine)
    assert [held.count for held in second.tray][:2] == [55, 99]


def test_a_class_may_take_its_colours_out_of_a_tray() -> None:
    work = demo()
    brief = kit_brief(work, Handing())
    hanging, base = brief.hanging, brief.base_bead.kind
    tray = Tray(
        beads=(
            TrayBead(name="Fern", kind=hanging, hex="#2f6b3a", count=500),
            TrayBead(name="Clay", kind=hanging, hex="#b5533c", grams=10.0),
            TrayBead(name="Slate", kind=base, hex="#4a5560", count=200),
            TrayBead(name="Ash", kind=base, hex="#9aa0a6", count=900),
        )
    )
    taken = kit_brief(work, Handing(class_beads="table", colours_each="2"), tray)
    assert [bead.name for bead in taken.colours] == ["Fern", "Clay"]
    assert taken.base_bead.name == "Ash"
    assert taken.tray == held_in(tray)
    roster, _ = read_roster("Ada, 152 mm\nBo, 150")
    assert roster is not None
    kit = make_kit(roster.learners, taken)
    assert {total.bead.name for total in kit.totals} == {"Fern", "Clay", "Ash"}
    # Three colours each cannot be chosen out of two.
    with pytest.raises(BriefError, match="colours_each"):
        kit_brief(work, Handing(class_beads="table"), tray)
    with pytest.raises(BriefError, match="none of the kind"):
        kit_brief(work, Handing(class_beads="mine"), Tray(beads=tray.beads[2:]))
    with pytest.raises(BriefError, match="class_beads"):
        kit_brief(work, Handing(class_beads="mine"), Tray())


def test_a_kit_may_take_the_pieces_own_outline() -> None:
    brief = kit_brief(demo(), Handing(own_outline=True))
    assert brief.lengths == (2, 4, 7, 4, 2)
    assert kit_brief(demo(), Handing()).lengths != brief.lengths
    with pytest.raises(BriefError, match="colours_each"):
        kit_brief(demo(), Handing(colours_each="40"))


@pytest.mark.parametrize(
    ("text", "value"), [("12", "12"), ("12,5", "12.5"), (" 0.25 ", "0.25"), ("1.0", "1.0")]
)
def test_amounts_are_read_with_point_or_comma(text: str, value: str) -> None:
    assert amount(text, "hourly", "money") == Decimal(value)


@pytest.mark.parametrize("text", ["", "x", "-1", "1e9", "1,2,3", "١٢", "nan", "12345678", "0x1"])
def test_what_is_no_amount_is_refused(text: str) -> None:
    with pytest.raises(BriefError):
        amount(text, "hourly", "money")


def test_the_price_is_worked_out_by_hand() -> None:
    held = Handing(hourly="18,50", overheads="10", currency="€", changes="2")
    held = with_box(with_box(held, "materials:table", "14.20"), "hours:table", "2")
    work = demo()
    one = offer(work, held, "table", candidates(work, Choosing(), {})["table"])
    # 14.20 + 2 x 18.50 = 51.20, a tenth of it 5.12: 56.32 in all
    assert price(one, price_rule(held)).total == Decimal("56.32")


def test_without_a_price_of_beads_materials_are_asked_for() -> None:
    work = demo()
    one = candidates(work, Choosing(), {})["table"]
    with pytest.raises(BriefError, match="Counting page"):
        offer(work, Handing(), "table", one)
    priced = work.assumed
    for kind in {bead.kind.name for bead in work.piece.design.beads}:
        priced = with_figure(priced, f"packs:{kind}", "5 g 1.20; 50 g 8")
    assert offer(replace(work, assumed=priced), Handing(), "table", one).materials > 0


@pytest.mark.parametrize(
    ("box", "value"), [("least", "x"), ("most", "100 mm"), ("step", "0"), ("least", "2 m")]
)
def test_girths_that_cannot_be_are_refused(box: str, value: str) -> None:
    with pytest.raises(BriefError):
        sizes(demo(), with_box(Handing(), box, value))


def test_lines_to_print_are_bounded() -> None:
    assert line(Handing(dated=" 3  May "), "dated") == "3 May"
    with pytest.raises(BriefError):
        line(Handing(dated="x" * 200), "dated")
    with pytest.raises(BriefError):
        line(Handing(of_whom="a\x00b"), "of_whom")


def test_answers_stand_in_a_file_of_their_own() -> None:
    piece = demo().piece
    child, answers = answers_apart(child_page(piece, Level.EASIER))
    titles = [block.text for block in child.blocks if isinstance(block, Title)]
    assert titles == [piece.name]
    assert answers.blocks[0] == Title(text="Answers", under=f"{piece.name}: {Level.EASIER}")
    ask = ChildAsk(piece=piece, level=Level.EASIER, dated="", large=True)
    assert [named.stem for named in ask.documents()] == ["sums", "answers"]


def test_nothing_of_the_wearer_goes_along_unless_asked() -> None:
    piece = demo().piece
    found = piece_in(link_from("http://127.0.0.1:8501/handing-on?table=x", to_code(piece)))
    assert found.design == piece.design
    assert (found.wearer, found.notes) == (None, "")
    assert "Ottilie" not in found.name
    told = piece_in(to_code(piece, name=True, wearer=True))
    assert (told.name, told.wearer) == (piece.name, piece.wearer)
    assert "Ottilie" not in sheet_options(demo(), Handing()).link


@pytest.mark.parametrize(
    "text", ["", "dw1.", "dw1.AAAA", "http://x/?piece=", "dw1." + "A" * 200_000]
)
def test_what_is_no_link_is_refused(text: str) -> None:
    with pytest.raises(ChartError):
        piece_in(text)


def test_a_code_survives_line_breaks_and_not_a_lost_letter() -> None:
    code = to_code(demo().piece)
    assert piece_in("\n".join(code[at : at + 40] for at in range(0, len(code), 40)))
    with pytest.raises(ChartError):
        piece_in(code[:60] + code[61:])


def test_a_strip_that_nobody_wears_is_refused() -> None:
    piece = demo().piece
    wide = with_motifs(piece.pattern, 8 * piece.pattern.run.motifs)
    with pytest.raises(ChartError, match="1500"):
        piece_in(to_code(replace(piece, pattern=wide)))
