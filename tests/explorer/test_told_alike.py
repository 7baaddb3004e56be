"""What is told in two places is told alike: rule and table, column and sum, command and page."""

import json
import re
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from explorer.__main__ import main
from explorer.app.demo import demo
from explorer.app.parts.start_mine import started
from explorer.app.state import Work
from explorer.brief import Strip
from explorer.cautions import USUAL_DROP_MM, Wear
from explorer.commands.kit import add_options
from explorer.commands.options import Parser
from explorer.customer_page import Offer, PriceRule, customer_page
from explorer.kit import CHILD_SPARES, KitBrief, make_kit
from explorer.kit_pages import class_page
from explorer.kit_roster import parse_roster
from explorer.profile_generator import usual_longest
from explorer.profile_scores import drop_mm
from explorer.project_page import Sizes, project_page
from explorer.sheet_care import FOR_CHILDREN
from explorer.sheet_facts import SheetOptions
from gallery.page import Facts, Note, Table
from palettes.beads import Bead
from palettes.charts import bead_kinds

KINDS = bead_kinds()
Asked = Callable[..., Any]


@pytest.fixture
def asked(capsys: pytest.CaptureFixture[str]) -> Asked:
    def ask(*arguments: str) -> Any:
        assert main([*arguments, "--json"]) == 0
        return json.loads(capsys.readouterr().out)

    return ask


def first(words: str) -> float:
    found = re.search(r"[\d.]+", words)
    assert found is not None
    return float(found[0])


@pytest.mark.parametrize("snug", ["225 mm", "135 mm", "151 mm"])
def test_the_projects_rule_gives_its_own_table(snug: str) -> None:
    # Worked as a stranger would, with nothing but what the page says.
    work = started(demo(), "Ankle", snug, "lolly-van")
    assert isinstance(work, Work)
    wearer, design = work.piece.wearer, work.piece.design
    assert wearer is not None
    sizes = Sizes(
        least_mm=140, most_mm=240, step_mm=10, ease_mm=wearer.ease_mm, closure=design.closure
    )
    page = project_page(work.piece, sizes)
    rule = dict(
        next(b for b in page.blocks if isinstance(b, Facts) and "motifs" in dict(b.rows)).rows
    )
    table = next(
        b for b in page.blocks if isinstance(b, Table) and b.heads[0].text.startswith("girth")
    )
    ease_mm, closure_mm = first(rule["ease"]), first(rule[design.closure.name])
    assert rule["longest strip"] == "girth + ease \N{MINUS SIGN} closure"
    ends, pitch_mm = map(float, re.findall(r"[\d.]+", rule["motifs"])[:2])
    repeat_mm = float(re.findall(r"[\d.]+", rule["motifs"])[2])
    wide = int(re.findall(r"\d+", rule["base beads"])[0])
    pair_mm = first(rule["plain at each end"])
    for row in table.rows:
        longest_mm = first(str(row[0])) + ease_mm - closure_mm
        motifs = int((longest_mm - ends * pitch_mm + 1e-6) // repeat_mm)
        base = motifs * wide + int(ends)
        plain = int((longest_mm - base * pitch_mm + 1e-6) // pair_mm)
        assert row[2:4] == (str(motifs), str(base + 2 * plain)), row[0]
        finished_mm = (base + 2 * plain) * pitch_mm + closure_mm
        assert first(str(row[1])) == pytest.approx(finished_mm, abs=0.06)


def kit_of(roster: str) -> Any:
    brief = KitBrief(
        strip=Strip(base=KINDS["cube 3"]),
        hanging=KINDS["round 8/0"],
        base_bead=Bead(name="Dusk", kind=KINDS["cube 3"], hex="#444a55"),
        colours=tuple(
            Bead(name=name, kind=KINDS["round 8/0"], hex=hex_)
            for name, hex_ in (("Quince", "#e0b34a"), ("Sloe", "#3b3a5e"), ("Ash", "#9aa0a0"))
        ),
    )
    return make_kit(parse_roster(roster).learners, brief)


def test_the_columns_of_a_class_s_plan_of_time_add_up() -> None:
    for girth in range(130, 190, 7):
        page = class_page(kit_of(f"Ada,{girth}\nBo,{girth + 21}"), SheetOptions())
        plan = next(b for b in page.blocks if isinstance(b, Table) and b.heads[0].text == "minutes")
        *rows, total = plan.rows
        for column in (1, 2):
            assert sum(int(str(row[column])) for row in rows) == int(str(total[column]))


def test_a_kit_s_help_tells_the_spares_that_it_takes() -> None:
    parser = Parser()
    add_options(parser)
    assert f"{CHILD_SPARES.percent:g} for children's pieces" in " ".join(
        parser.format_help().split()
    )


def test_a_child_s_fringe_is_as_long_in_every_command(asked: Asked, tmp_path: Path) -> None:
    (tmp_path / "r.csv").write_text("Ada,135\n", encoding="utf-8")
    fit = asked("fit", "--snug", "135", "--wear", "child")["brief"]
    kit = asked("kit", str(tmp_path / "r.csv"), "--out", str(tmp_path / "k"))
    proposed = asked(
        "propose", "--snug", "135", "--wear", "child's piece", "--palette", "lolly-van",
        "--count", "2",
    )  # fmt: skip
    assert fit["wear"] == Wear.CHILD.value
    assert fit["profile"] == kit["brief"]["profile"]
    usual_mm = USUAL_DROP_MM[Wear.CHILD]
    longest = usual_longest(Wear.CHILD, KINDS["round 8/0"])
    assert (
        drop_mm(longest, KINDS["round 8/0"]) <= usual_mm < drop_mm(longest + 1, KINDS["round 8/0"])
    )
    assert max(fit["profile"]) == proposed["brief"]["longest"] == longest
    for proposal in proposed["proposals"]:
        assert not any(c["topic"] == "drop" for c in proposal["cautions"])
    assert [c["topic"] for c in kit["learners"][0]["cautions"]].count("closure") == 1


def test_a_childs_customer_is_told_what_whoever_dresses_a_child_must_know() -> None:
    (one,) = kit_of("Ada,140").learners
    rule = PriceRule(hourly=Decimal(10))
    for wear, told in ((Wear.CHILD, True), (Wear.BRACELET, False)):
        offer = Offer(piece=one.piece, materials=Decimal(2), hours=Decimal(1), wear=wear)
        (care,) = (b for b in customer_page((offer,), rule).blocks if isinstance(b, Note))
        assert (set(FOR_CHILDREN) <= set(care.texts)) is told


def test_what_goes_round_is_told_with_the_ease_that_it_has(
    capsys: pytest.CaptureFixture[str],
) -> None:
    main(["fit", "--snug", "140", "--ease", "0"])
    told = next(
        line for line in capsys.readouterr().out.splitlines() if line.startswith("goes round")
    )
    found = re.search(r"--ease '([\d.]+) mm'", told)
    assert found is not None
    main(["fit", "--snug", "140", "--ease", f"{found[1]} mm", "--plain-ends", "--json"])
    then = json.loads(capsys.readouterr().out)
    assert then["short_by_mm"] == 0.0
    assert f"{then['finished_ease_mm']:.1f} mm" in told
    # Where plain ends alone do, no other ease is asked for, and the piece's own is told.
    main(["fit", "--snug", "139", "--ease", "7"])
    alone = [line for line in capsys.readouterr().out.splitlines() if "goes round" in line]
    assert all("--ease" not in line for line in alone)


def test_titles_are_given_to_what_is_alone_the_most(asked: Asked) -> None:
    found = asked("propose", "--snug", "214", "--palette", "rockpool")["proposals"]
    slacks = sorted(round(one["fit"]["slack_mm"], 1) for one in found)
    titled = [one for one in found if one["reason"].startswith("closes best")]
    assert bool(titled) <= (slacks[0] < slacks[1])


def test_a_row_of_colours_is_told_to_the_same_tenth_as_a_piece(
    capsys: pytest.CaptureFixture[str],
) -> None:
    # 57.0895 for the order's weakest: rounded down everywhere, so that no two places differ.
    colours = "14505c,2fa79b,b93a72,f8cb3f"
    main(["order", "--colours", colours, "--motifs", "8"])
    ordered = capsys.readouterr().out
    assert "(difference 57.0)" in ordered
    main(["judge", "--colours", "2fa79b,b93a72"])
    judged = capsys.readouterr().out
    main(["judge", "--colours", "2fa79b,b93a72", "--json"])
    exact = json.loads(capsys.readouterr().out)["weakest"]
    assert f"(difference {int(10 * exact) / 10:.1f})" in judged
