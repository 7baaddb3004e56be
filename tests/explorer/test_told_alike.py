"""What is told in two places is told alike: rule and table, column and sum, command and page."""

import json
import re
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
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


def test_a_class_has_the_ease_that_each_alone_would_have(
    asked: Asked, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    snug = {"Ada": "8 7/8 in", "Bo": "128 mm", "Cy": "16.4 cm", "Di": "195 mm"}
    roster = tmp_path / "roster.csv"
    roster.write_text("name,snug\n" + "".join(f"{n},{s}\n" for n, s in snug.items()), "utf-8")
    kit = asked("kit", str(roster), "--out", str(tmp_path / "class"))
    for learner in kit["learners"]:
        alone = asked("fit", "--snug", snug[learner["name"]], "--plain-ends")
        ease_mm = alone["brief"]["ease_mm"]
        assert learner["fit"]["finished_ease_mm"] == pytest.approx(alone["finished_ease_mm"]), (
            learner
        )
        assert ease_mm == {"Ada": 32.0, "Bo": 11.0, "Cy": 11.0, "Di": 32.0}[learner["name"]]
    assert kit["brief"]["wear"] is None
    # What a child may measure keeps a child's cautions; a grown-up's ankle is no child's piece.
    assert [one["wear"] for one in kit["learners"]] == [
        Wear.ANKLET.value, Wear.CHILD.value, Wear.CHILD.value, Wear.CHILD.value
    ]  # fmt: skip
    assert main(["kit", str(roster), "--out", str(tmp_path / "again")]) == 0
    text = capsys.readouterr().out
    assert "11 mm at a wrist, 32 mm at an ankle; --ease sets your own" in text
    assert re.search(r"^Cy: 9 motifs .* 6.5 mm \(1/4 in\) of ease$", text, re.MULTILINE)


def test_a_wrist_that_no_grown_up_has_is_a_childs(asked: Asked) -> None:
    for snug, wear in ((60, Wear.CHILD), (128, Wear.CHILD), (140, Wear.BRACELET)):
        fit = asked("fit", "--snug", str(snug), "--base", "cube 1.8")
        assert fit["brief"]["wear"] == wear.value
        child = [c for c in fit["cautions"] if "child" in c["words"]]
        assert bool(child) == (wear is Wear.CHILD)


@pytest.mark.parametrize("closure", ["0", "18", "7 mm"])
def test_what_one_more_motif_needs_is_enough(
    asked: Asked, capsys: pytest.CaptureFixture[str], closure: str
) -> None:
    for snug in (128.0, 150.0, 201.3, 225.425):
        size = ("fit", "--snug", f"{snug} mm", "--closure", closure)
        first_fit = asked(*size)
        main(list(size))
        told = re.search(r"one more motif needs (\S+ mm) \((.*) in\) more", capsys.readouterr().out)
        assert told is not None
        inches = sum(float(Fraction(part)) for part in told[2].split())
        for more_mm in (first(told[1]), 25.4 * inches):
            ease_mm = first_fit["brief"]["ease_mm"] + more_mm
            assert asked(*size, "--ease", f"{ease_mm:.6f} mm")["motifs"] == first_fit["motifs"] + 1


def test_the_same_two_colours_differ_alike(capsys: pytest.CaptureFixture[str]) -> None:
    # 62.6627, which one command rounded up and the others down.
    main(["judge", "--colours", "d7263d,1b998b"])
    main(["order", "--colours", "d7263d,1b998b", "--motifs", "4"])
    main(["palette", "--picks", "d7263d,1b998b", "--size", "2"])
    told = re.findall(r"62\.\d", capsys.readouterr().out)
    assert len(told) >= 3
    assert set(told) == {"62.6"}


def test_a_run_claims_only_to_be_gentle(asked: Asked, capsys: pytest.CaptureFixture[str]) -> None:
    run = ("order", "--colours", "d7263d,1b998b,2e294e,f46036", "--motifs", "9", "--arrangement")
    assert asked(*run, "run")["proven"] is False
    main([*run, "run"])
    text = capsys.readouterr().out
    assert "in the gentlest steps from end to end, which may leave colours out" in text
    assert "proved" not in text


def test_a_swatch_that_is_hardly_of_this_bead_is_doubted(
    capsys: pytest.CaptureFixture[str],
) -> None:
    for measured, doubted in (("39.5", True), ("62", False), ("68", False), ("90", True)):
        main(["fit", "--snug", "214", "--swatch", f"20 beads measure {measured} mm"])
        assert ("where a cube 3 takes about 3.10 mm" in capsys.readouterr().out) == doubted


def test_pairs_that_repeat_are_told_on_the_list_and_on_the_card(
    asked: Asked, capsys: pytest.CaptureFixture[str]
) -> None:
    brief = ("propose", "--snug", "225", "--palette", "rockpool", "--arrangement", "blocks")
    found = asked(*brief, "--count", "3")["proposals"]
    main([*brief, "--count", "3"])
    lines = capsys.readouterr().out.splitlines()
    for number, one in enumerate(found, start=1):
        pairs = len(one["repeats"])
        assert pairs > 1
        (line,) = (line for line in lines if line.startswith(f"{number:3d}  "))
        assert line.endswith(f"{pairs} pairs repeat the same beads")


def test_no_try_leaves_the_weakest_as_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "made"
    main(["propose", "--snug", "225", "--palette", "rockpool", "--count", "6", "--out", str(out)])
    for file in sorted(out.glob("proposal-*.json")):
        main(["judge", str(file)])
    tries = re.findall(r"weakest neighbours from (\S+) to (\S+)", capsys.readouterr().out)
    assert all(before != after for before, after in tries)
