"""Do the commands answer, refuse and leave with the right code?"""

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from example_files import EXAMPLES, example_file
from shell import turnscrew
from turnscrew.cli.main import guarded
from turnscrew.errors import ConflictError, NotAllowedError, TurnscrewError

ROOT = Path(__file__).parents[2]
TAVISTLE = str(example_file("tavistle-v80.device.yaml"))


def given(name: str, folder: Path) -> str:
    cases = json.loads((ROOT / "tests/cases/planning-cases.json").read_text("utf-8"))
    case = next(c for c in cases["cases"] if c["id"] == name)
    path = folder / "problem.json"
    path.write_text(json.dumps(case["device"]), "utf-8")
    return str(path)


def test_it_names_every_command_with_its_help() -> None:
    told = turnscrew("--help").stdout

    for command in ("check", "opening", "diagnose", "reckon", "demo"):
        assert command in told
        assert "Usage" in turnscrew(command, "--help").stdout


def test_it_finds_all_examples_clean() -> None:
    files = [str(path) for path in sorted(EXAMPLES.rglob("*.device.yaml"))]

    done = turnscrew("check", *files, "--json")

    assert (0, []) == (done.returncode, json.loads(done.stdout))


def test_it_lists_every_problem_with_its_place(tmp_path: Path) -> None:
    bad = tmp_path / "bad.device.yaml"
    bad.write_text(
        "device: X\nparts: {a: {}, b: {is: wheel}}\njoints: {j: {hold: a}}\n"
    )

    done = turnscrew("check", str(bad), "--json")

    problems = json.loads(done.stdout)
    assert 2 == done.returncode
    assert {"file", "line", "column", "where", "found", "wanted"} == set(problems[0])
    assert len(problems) >= 2


def test_it_says_which_rules_of_the_way_back_knot(tmp_path: Path) -> None:
    knotted = tmp_path / "knot.device.yaml"
    knotted.write_text(
        "device: X\nparts: {a: {}, b: {fixed: yes}}\n"
        "joints: {j: {clip: {}, holds: a to b, refit: {after: [k]}},"
        " k: {clip: {}, holds: a to b, refit: {after: [j]}}}\n"
    )

    done = turnscrew("check", str(knotted))

    assert 2 == done.returncode
    assert "wait for one another: j, k" in done.stderr


@pytest.mark.parametrize(
    "text", ["", "- 1\n", "device: [\n", "\tdevice: X\n", "a: &b 1\n"]
)
def test_it_refuses_a_spoilt_description(tmp_path: Path, text: str) -> None:
    bad = tmp_path / "bad.device.yaml"
    bad.write_text(text)

    assert 2 == turnscrew("opening", str(bad), "--reach", "x").returncode


def test_it_gives_one_json_document_for_an_opening() -> None:
    done = turnscrew(
        "opening", TAVISTLE, "--reach", "camera", "--revision", "2", "--json"
    )

    document = json.loads(done.stdout)
    assert "optimal" == document["status"]
    wanted = {
        "action",
        "kind",
        "n",
        "view",
        "posture",
        "tool",
        "seconds",
        "cautions",
        "why",
    }
    for line in document["opening"] + document["refit"]:
        assert wanted <= set(line)
        assert "joint" in line or "part" in line
    assert {"gates", "used_up", "untouched", "cost_s"} <= set(document)


def test_it_writes_the_papers(tmp_path: Path) -> None:
    out = tmp_path / "papers"

    done = turnscrew("opening", TAVISTLE, "--reach", "camera", "--out", str(out))

    assert 0 == done.returncode, done.stderr
    assert (out / "opening-sheet.pdf").read_bytes().startswith(b"%PDF")
    assert (out / "fastener-card.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("name", "way", "cost"),
    [("or-route", [], 1516), ("or-route", ["--one-way"], 779)],
)
def test_it_solves_a_bare_problem(
    tmp_path: Path, name: str, way: list[str], cost: int
) -> None:
    done = turnscrew("opening", "--problem", given(name, tmp_path), *way, "--json")

    answer = json.loads(done.stdout)
    assert ("optimal", cost, cost) == (
        answer["status"],
        answer["cost"],
        answer["bound"],
    )
    assert len(answer["plan"]) > 5


def test_it_leaves_with_zero_when_there_is_no_way(tmp_path: Path) -> None:
    done = turnscrew("opening", "--problem", given("infeasible", tmp_path), "--json")

    answer = json.loads(done.stdout)
    assert (0, "impossible", None, None, []) == (
        done.returncode, answer["status"], answer["cost"], answer["bound"],
        answer["plan"],
    )  # fmt: skip


def test_it_refuses_unknown_names_and_missing_files() -> None:
    assert 2 == turnscrew("opening", TAVISTLE, "--reach", "lid").returncode
    assert 2 == turnscrew("opening", TAVISTLE).returncode
    assert 2 == turnscrew("opening").returncode
    assert 2 == turnscrew("opening", "nowhere.device.yaml", "--reach", "x").returncode
    assert (
        2
        == turnscrew("opening", TAVISTLE, "--reach", "pack", "--paper", "a9").returncode
    )


@pytest.mark.parametrize(
    ("error", "code"),
    [
        (TurnscrewError("x"), 1), (ConflictError("x"), 3), (NotAllowedError("x"), 4),
        (RuntimeError("x"), 70), (KeyError("x"), 70), (AssertionError("x"), 70),
    ],
)  # fmt: skip
def test_it_turns_errors_into_exit_codes(error: Exception, code: int) -> None:
    def fail() -> None:
        raise error

    assert code == guarded(fail, as_json=False)


def test_it_loads_no_slow_library_for_help() -> None:
    code = (
        "import sys; from turnscrew.cli.main import app; "
        "slow = ('typst', 'ruamel', 'pydantic', 'turnscrew.flows'); "
        "print([m for m in slow if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=True
    )

    assert "[]" == done.stdout.strip()


PELLORIN = "examples/sallowmere/pellorin-l240.device.yaml"


def test_it_speaks_german_of_a_description_without_german_words(tmp_path) -> None:
    text = example_file("pellorin-l240.device.yaml").read_text("utf-8")
    path = tmp_path / "bare.device.yaml"
    path.write_text(text.replace("\n  de:\n", "\n  fr:\n"), "utf-8")

    done = turnscrew("opening", str(path), "--reach", "fan", "--language", "de")

    assert 0 == done.returncode, done.stderr
    assert "zu erreichen: Lüfter" in done.stdout


def test_it_takes_pace_serial_and_language() -> None:
    done = turnscrew(
        "opening", PELLORIN, "--revision", "B", "--reach", "fan", "--reach", "battery",
        "--pace", "first", "--serial", "PL3-85442", "--language", "de",
    )  # fmt: skip

    assert 0 == done.returncode, done.stderr
    for words in (
        "ein Öffnen für 2 erspart",
        "ein erstes Mal, wo es bekannt ist",
        "PL3-85442 kam schon einmal so: „one rim screw missing on arrival“",
        "Ausführung B: „two vents on the left edge“.",
        "Beide Hälften zusammenhalten",
        "Foto „l240-layer-1“: „upper case off“",
    ):
        assert words in done.stdout


@pytest.mark.parametrize(
    ("option", "value", "wanted"),
    [
        ("--pace", "slow", "pace slow, wanted first, typical or practised"),
        ("--language", "fr", "language fr, wanted de"),
    ],
)
def test_it_refuses_a_pace_or_a_language_it_does_not_know(
    option: str, value: str, wanted: str
) -> None:
    done = turnscrew("opening", PELLORIN, "--reach", "fan", option, value)

    assert 2 == done.returncode
    assert wanted in done.stderr


def test_it_says_in_which_openings_to_do_what_cannot_be_done_in_one(
    tmp_path: Path,
) -> None:
    clock = tmp_path / "clock.device.yaml"
    clock.write_text(
        "device: Clock\n"
        "parts: {case: {fixed: yes}, wheel: {refit: {after: spring}},\n"
        "        spring: {refit: {after: wheel}}}\n"
        "joints:\n"
        "  wheel clip: {clip: 1, holds: wheel to case}\n"
        "  spring clip: {clip: 1, holds: spring to case}\n"
    )

    done = turnscrew("opening", str(clock), "--reach", "wheel", "--reach", "spring")

    assert "not in one opening, but one after another: wheel – spring" in (done.stdout)


def test_check_refuses_terms_that_list_packs_or_storage_for_harvest(
    tmp_path: Path,
) -> None:
    folder = tmp_path / "batch"
    shutil.copytree(EXAMPLES / "sallowmere", folder)
    terms = folder / "terms.yaml"
    text = terms.read_text("utf-8")
    listed = text.replace("harvest: [C-KBA", "harvest: [C-BT, C-SD, C-KBA")
    listed = listed.replace("never: [C-BT, C-SD, T-BT]", "never: [T-BT]")
    terms.write_text(listed, "utf-8")

    done = turnscrew("check", str(folder), "--json")

    problems = json.loads(done.stdout)
    assert 2 == done.returncode
    assert ["C-BT, never harvested", "C-SD, never harvested"] == [
        one["found"] for one in problems
    ]
    at = listed[: listed.index("C-BT, C-SD, C-KBA")].count("\n") + 1
    assert {("terms.yaml", at)} == {(one["file"], one["line"]) for one in problems}
    clean = turnscrew("check", str(EXAMPLES / "sallowmere"), "--json")
    assert (0, []) == (clean.returncode, json.loads(clean.stdout))
