"""The command line's contract: answers, faults and exit codes."""

import itertools
import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import explorer.command_line as command_line
from explorer.__main__ import main
from explorer.piece import from_json
from palettes.difference import pairwise
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab

Capture = pytest.CaptureFixture[str]
Asked = Callable[..., dict[str, Any]]
Refused = Callable[..., dict[str, str]]


WORKED = ["--snug", "6.0 in", "--ease", "0.5 in", "--dangles", "7", "--divider", "1"]


def test_the_worked_case_of_the_trade(asked: Asked) -> None:
    # common practice, no source: a repeat of eight base beads takes 0.625 in; 6.5 / 0.625 = 10.4,
    # so 10 motifs, 8 * 10 + 1 = 81 base beads and 11 dividers.
    fit = asked("fit", *WORKED, "--base", "cube 1.8", "--pitch", "0.078125 in")
    assert (fit["motifs"], fit["base_beads"], fit["dividers"]) == (10, 81, 11)
    assert fit["target_mm"] == pytest.approx(165.1)
    assert fit["pitch_mm"] == pytest.approx(1.984375)
    assert fit["strip_mm"] == pytest.approx(160.734375)
    assert fit["slack_mm"] == pytest.approx(4.365625)
    assert fit["quick_rule"]["base_beads"] == 81
    assert fit["quick_rule"]["excess_mm"] == 0.0
    assert fit["next_motif_needs_mm"] == pytest.approx(89 * 1.984375 - 165.1)
    # Worked out by us: dangles of 1, 2, 4, 6, 4, 2, 1 beads are 20 a motif and 200 in all.
    profile = ["--profile", "1,2,4,6,4,2,1"]
    made = asked("fit", *WORKED, "--base", "cube 1.8", "--pitch", "0.078125 in", *profile)
    assert made["counts"]["per_motif"] == [20] * 10
    assert made["counts"]["dangle_beads"] == made["profile_scores"]["beads"] * 10 == 200
    assert made["counts"]["dividers"] == 11
    assert fit["alternatives"][0]["slack_mm"] <= fit["alternatives"][-1]["slack_mm"]


@pytest.mark.parametrize(
    ("base", "hanging"),
    [("cube 1.8", "round 11/0"), ("cube 3", "round 8/0"), ("cube 4", "round 6/0")],
)
def test_dangle_beads_follow_the_base(
    asked: Asked, tmp_path: Path, base: str, hanging: str
) -> None:
    roster = tmp_path / "roster.csv"
    roster.write_text("name,snug\nMia,150\n", encoding="utf-8")
    small = ["--dangles", "3", "--base", base]
    kit = ["kit", str(roster), "--out", str(tmp_path / "kit")]
    propose = ["propose", "--snug", "150", "--palette", "rockpool", "--count", "1"]
    for command in (["fit", "--snug", "150"], propose, kit):
        assert asked(*command, *small)["brief"]["hanging"] == hanging
        own = asked(*command, *small, "--hanging", "round 15/0")
        assert own["brief"]["hanging"] == "round 15/0"
    fit = asked("fit", "--snug", "150", *small)
    assert fit["crowding"]["touch"] in ("free", "touching")


def test_beads_at_hand_that_crowd_give_way_to_those_that_do_not(
    asked: Asked, tmp_path: Path
) -> None:
    tray = tmp_path / "tray.csv"
    rows = [f"Big {n};round 8/0;#{n}{n}4455;opaque;50" for n in range(4)]
    rows += [f"Small {n};round 11/0;#{n}{n}9922;opaque;50" for n in range(3)]
    tray.write_text("name;kind;colour;finish;grams\n" + "\n".join(rows), encoding="utf-8")
    wish = ["propose", "--snug", "150", "--tray", str(tray), "--count", "1"]
    assert asked(*wish)["brief"]["hanging"] == "round 8/0"
    assert asked(*wish, "--base", "cube 1.8")["brief"]["hanging"] == "round 11/0"


@pytest.mark.parametrize("before", [[], ["--port", "8600"], ["--no-browser"]])
def test_a_wrong_command_names_the_right_ones(refused: Refused, before: list[str]) -> None:
    error = refused(*before, "fot")
    assert error["field"] == "command"
    for name in command_line.COMMANDS:
        assert name in error["got"]


def test_help_after_an_option_lists_what_commands_are_for(
    capsys: pytest.CaptureFixture[str],
) -> None:
    for asked_for in (["--help"], ["--port", "8600", "--help"]):
        with pytest.raises(SystemExit):
            main(asked_for)
        assert "turn a measurement into base beads" in capsys.readouterr().out


def test_defaults_are_echoed(asked: Asked) -> None:
    brief = asked("fit", "--snug", "214", "--ease", "0")["brief"]
    assert (
        brief.items()
        >= {
            "snug_mm": 214.0,
            "ease_mm": 0.0,
            "closure_mm": 0.0,
            "closure_counted": True,
            "base": "cube 3",
            "pitch_mm": 3.1,
            "pitch_measured": False,
            "dangles": 5,
            "divider": 1,
            "hanging": "round 8/0",
            "spares_percent": 10.0,
            "thread_mm": 0.15,
        }.items()
    )


def test_the_one_motif_may_be_settled(asked: Asked) -> None:
    one = ["order", "--colours", "0b7bc5,ce6422", "--motifs", "1"]
    assert asked(*one, "--fix", "0=0b7bc5")["order"] == [0]
    assert asked(*one, "--fix", "0=ce6422", "--ring")["order"] == [1]


def test_order_is_checked_by_its_own_matrix(asked: Asked) -> None:
    colours = ["#d7263d", "1b998b", "#2e294e", "F46036", "#c5d86d"]
    found = asked("order", "--colours", ",".join(colours), "--motifs", "13")
    order = found["order"]
    matrix = pairwise(srgb1_to_lab(hexes_to_srgb1(colours)))
    differences = [matrix[a, b] for a, b in itertools.pairwise(order)]
    assert len(order) == 13
    assert found["weakest"] == pytest.approx(min(differences))
    i, j = found["weakest_pair"]
    assert (j - i, matrix[order[i], order[j]]) == (1, pytest.approx(found["weakest"]))
    assert (found["strongest_proven"], found["gave_up_for"]) == (True, "HyAB")
    assert found["proven"] is False
    assert found["weakest"] < found["strongest"]
    assert found["counts"] == [order.count(c) for c in range(5)]
    assert set(found["counts"]) <= {2, 3}


def test_one_motif_has_no_weakest(asked: Asked) -> None:
    found = asked("order", "--colours", "f00,00f", "--motifs", "1")
    assert found["weakest"] is None
    assert found["weakest_pair"] is None


def test_one_colour_for_every_motif_is_a_valid_wish(asked: Asked) -> None:
    found = asked("order", "--colours", "#aa3377", "--motifs", "7")
    assert found["order"] == [0] * 7
    assert found["weakest"] == 0.0


def test_two_colours_in_an_odd_ring_name_the_nearest_counts_that_work(refused: Refused) -> None:
    error = refused("order", "--colours", "f00,00f", "--motifs", "11", "--ring")
    told = error["wanted"] + error["remedy"]
    assert "10" in told
    assert "12" in told


def test_gap_settled_motifs_and_arrangements_are_kept(asked: Asked) -> None:
    colours = "d7263d,1b998b,2e294e,f46036,c5d86d"
    order = ["order", "--colours", colours, "--motifs", "16"]
    spread = asked(*order, "--gap", "2", "--fix", "0=f46036", "--fix", "9=2e294e")["order"]
    assert (spread[0], spread[9]) == (3, 2)
    for place in range(14):
        assert len(set(spread[place : place + 3])) == 3
    mirrored = asked(*order, "--arrangement", "mirror")
    assert mirrored["order"] == mirrored["order"][::-1]
    assert mirrored["meant"] == [[7, 8], [15, 0]]
    several = asked(*order, "--several", "3")["several"]
    assert len({tuple(found["order"]) for found in several}) == 3


def test_no_dangle_hangs_lower_than_the_drop(asked: Asked) -> None:
    # our derivation: four 8/0 hang three pitches of 2.05 and one bead of 3.0 lying sideways, 9.15
    drop = ["propose", "--snug", "200", "--palette", "rockpool", "--count", "2", "--drop"]
    for limit, longest in (("9.15 mm", 4), ("9.14 mm", 3)):
        found = asked(*drop, limit)
        assert found["brief"]["longest"] == longest
        assert max(max(p["profile"]) for p in found["proposals"]) == longest


def test_a_translucent_bead_takes_from_what_lies_behind(asked: Asked) -> None:
    colours = ["judge", "--colours", "d7263d,1b998b", "--finishes", "transparent"]
    bare = asked(*colours)["weakest"]
    dark = asked(*colours, "--backing", "#201510")["weakest"]
    assert dark < bare


def test_judge_keeps_the_closure_apart(asked: Asked) -> None:
    found = asked("judge", "--colours", "#ff0000,#00ff00,#fe0101")
    assert [(pair["i"], pair["j"]) for pair in found["pairs"]] == [(0, 1), (1, 2)]
    assert found["closure_pair"]["verdict"] == "same"
    assert found["weakest"] > 20.0


EYES = "typical,protan,deutan,tritan,grey"
LIGHTS = "daylight,lamplight,fluorescent,led"


def test_judge_sees_with_other_eyes_and_in_other_lights(asked: Asked) -> None:
    found = asked("judge", "--colours", "d7263d,1b998b,2e294e", "--see", EYES, "--light", LIGHTS)
    for pair in found["pairs"]:
        assert len(pair["by_view"]) == 20
        assert pair["worst"] == min(pair["by_view"].values())
        assert pair["by_view"]["typical"] == pytest.approx(pair["delta_e_2000"])
        assert pair["reads_apart_to_m"] >= 0.0
        assert pair["uncertainty"] >= 0.0
    assert found["worst"] == min(pair["worst"] for pair in found["pairs"])
    assert found["weakest"] == min(pair["delta_e_2000"] for pair in found["pairs"])


def test_judge_takes_a_saved_piece(asked: Asked) -> None:
    kept = Path(__file__).parent.parent / "reference" / "pieces" / "v1-everything.json"
    found = asked("judge", str(kept), "--see", EYES, "--backing", "c9a184")
    assert [(pair["i"], pair["j"]) for pair in found["pairs"]] == [(0, 1), (1, 2)]
    assert len(found["base"]) == len(found["backing"]) == 3
    assert found["closure_pair"]["alike_by_choice"] is True
    assert found["summary"]


def test_a_damaged_piece_is_the_files_fault(refused: Refused, tmp_path: Path) -> None:
    path = tmp_path / "cut.json"
    path.write_text('{"danglewise_piece": 1', encoding="utf-8")
    assert refused("judge", str(path))["field"] == str(path)


def test_files_of_an_earlier_run_beside_new_proposals_are_named(
    asked: Asked, tmp_path: Path
) -> None:
    line = ["propose", "--snug", "160 mm", "--palette", "rockpool", "--out", str(tmp_path)]
    assert asked(*line, "--count", "3")["changed"] == []
    (words,) = (one for one in asked(*line, "--count", "2")["changed"] if one.startswith("of an"))
    assert words == (f"of an earlier run are left in {tmp_path}: proposal-03.json, proposal-03.png")


def test_propose_writes_what_it_says(asked: Asked, tmp_path: Path) -> None:
    size = ["--snug", "205 mm", "--ease", "3/4 in", "--closure", "16 mm"]
    out = tmp_path / "a folder"
    asked_for = ["--palette", "rockpool", "--count", "4", "--seed", "9"]
    found = asked("propose", *size, *asked_for, "--out", str(out))
    assert found["seed"] == 9
    assert len(found["proposals"]) == 4
    assert found["fit"] == {
        key: value for key, value in asked("fit", *size).items() if key in found["fit"]
    }
    for proposal in found["proposals"]:
        piece = from_json((out / proposal["piece"]).read_text("utf-8"))
        assert piece.design.base_beads == proposal["fit"]["base_beads"]
        assert len(proposal["order"]) == proposal["fit"]["motifs"]
        assert len(proposal["lengths"]) == len(proposal["order"])
        assert proposal["counts"]["dangle_beads"] == sum(map(sum, proposal["lengths"]))
        judged = asked("judge", str(out / proposal["piece"]))
        assert judged["weakest"] == proposal["weakest"]
        colours = ",".join(proposal["palette"][i] for i in proposal["order"])
        plain = asked("judge", "--colours", colours)
        if proposal["arrangement"] == "free" and proposal["colouring"] == "all one colour":
            assert plain["weakest"] == pytest.approx(proposal["weakest"])
        assert (out / proposal["picture"]).read_bytes().startswith(b"\x89PNG")
    assert (out / "contact-sheet.png").is_file()
    again = tmp_path / "again"
    asked("propose", *size, *asked_for, "--out", str(again))
    for path in sorted(out.iterdir()):
        assert (again / path.name).read_bytes() == path.read_bytes(), path.name


def test_a_folder_that_cannot_be_is_told(refused: Refused, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file", encoding="utf-8")
    out = str(tmp_path / "taken" / "below")
    size = ["propose", "--snug", "200", "--palette", "rockpool", "--count", "1"]
    assert refused(*size, "--out", out)["field"] == "out"


def test_a_fault_of_ours_is_called_ours(capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("explorer.commands.fit.wearer", broken)
    assert main(["fit", "--snug", "200", "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["error"]["field"] == "danglewise"


@pytest.mark.parametrize("command", [[], ["fit"], ["order"], ["judge"], ["propose"]])
def test_every_command_has_help(command: list[str], capsys: Capture) -> None:
    with pytest.raises(SystemExit) as ended:
        main([*command, "--help"])
    assert ended.value.code == 0
    assert "--json" in capsys.readouterr().out or not command


def test_a_reader_that_stops_early_sees_no_fault() -> None:
    command = [sys.executable, "-m", "explorer", "propose", "--snug", "214", "--palette", "hush"]
    with subprocess.Popen(
        [*command, "--json"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.readline()
        running.stdout.close()
        assert running.stderr.read() == ""
        assert running.wait() == 0


def test_proposals_from_a_tray_take_only_its_beads(asked: Asked) -> None:
    size = ["--snug", "200", "--starter", "--hanging", "round 11/0", "--base", "cube 1.8"]
    found = asked("propose", *size, "--count", "4")
    stock = dict(zip(found["brief"]["colours"], found["brief"]["stock"], strict=True))
    for proposal in found["proposals"]:
        for line in proposal["counts"]["by_bead"][: len(proposal["palette"])]:
            assert line["used"] <= stock[line["hex"]]


def test_the_module_runs_as_a_program() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "explorer", "fit", *WORKED],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0
    assert "motifs of 7 dangles" in done.stdout
