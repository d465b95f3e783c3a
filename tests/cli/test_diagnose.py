"""Does ``turnscrew diagnose`` answer, refuse and leave with the right code?"""

import csv
import io
import json
import subprocess
import sys
from pathlib import Path

import pypdfium2
import pytest

from example_files import EXAMPLES, example_file

ROOT = Path(__file__).parents[2]
FAULTS = str(example_file("pellorin-l240.faults.yaml"))
DEVICE = str(example_file("pellorin-l240.device.yaml"))
V80 = (
    "examples/sallowmere/tavistle-v80.faults.yaml",
    "--device", "examples/sallowmere/tavistle-v80.device.yaml", "--seconds", "0.1",
)  # fmt: skip
BENCH = (FAULTS, "--device", DEVICE, "--revision", "A", "--seconds", "0.1")


def diagnose(*args: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "turnscrew", "diagnose", *args],
        capture_output=True, encoding="utf-8", check=False, cwd=ROOT,
    )  # fmt: skip


def given(name: str, folder: Path) -> str:
    cases = json.loads((ROOT / "tests/cases/diagnosis-cases.json").read_text("utf-8"))
    case = next(case for case in cases["cases"] if case["id"].startswith(name))
    path = folder / "model.json"
    path.write_text(json.dumps(case["model"]), "utf-8")
    return str(path)


def test_it_solves_a_bare_model(tmp_path: Path) -> None:
    """D12: 53.4855, checked by exact fractions."""
    done = diagnose("--case", given("D12", tmp_path), "--json")

    found = json.loads(done.stdout)
    assert (0, "optimal", "block") == (done.returncode, found["status"], found["mode"])
    assert 53.4855 == pytest.approx(found["cost"]) == pytest.approx(found["bound"])
    assert ["charge_led"] == found["first"]
    assert 54.2915 == pytest.approx(found["values"]["VERIFY"])


def test_it_takes_the_mode_that_is_asked_for(tmp_path: Path) -> None:
    """D09: 33.8, 33.6 and 33.2."""
    model = given("D09", tmp_path)

    costs = [
        json.loads(diagnose("--case", model, "--mode", mode, "--json").stdout)["cost"]
        for mode in ("each", "block", "free")
    ]

    assert [33.8, 33.6, 33.2] == pytest.approx(costs)


def test_it_rolls_an_explicit_tree_back(tmp_path: Path) -> None:
    found = json.loads(diagnose("--case", given("D04", tmp_path), "--json").stdout)

    assert (19.2, ["Observe o"]) == (pytest.approx(found["cost"]), found["first"])


def test_it_answers_with_a_bound_when_the_time_is_up(tmp_path: Path) -> None:
    done = diagnose("--case", given("D17", tmp_path), "--seconds", "0", "--json")

    found = json.loads(done.stdout)
    assert (0, "bounded") == (done.returncode, found["status"])
    assert found["bound"] <= 160.962654 <= found["cost"] + 1e-6
    assert found["first"]


def test_it_prints_the_whole_strategy(tmp_path: Path) -> None:
    lines = diagnose("--case", given("D12", tmp_path), "--tree").stdout.splitlines()

    assert any(line.startswith("charge_led") for line in lines)
    assert any("hand back" in line for line in lines)


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("--finding", "adapter volts=19.4"), "wanted V"),
        (("--finding", "adapter volts=19400 mV"), "the unit mV, wanted V"),
        (("--finding", "adaptor volts=19.4 V"), "adapter volts"),
        (("--finding", "lead wiggle=flickes"), "flickers"),
        (("--sign", "no ligth"), "no light"),
        (("--mode", "every"), "wanted one of each, block, free"),
        (("--open", "upper cse"), "upper case"),
        (("--paper", "a3"), "a4 or letter"),
        (("--revision", "C"), "no revision C"),
    ],
)
def test_it_refuses_what_it_does_not_know(args, said) -> None:
    done = diagnose(*BENCH, *args)

    assert 2 == done.returncode
    assert said in done.stderr
    assert not done.stdout


def test_it_lists_everything_that_is_wrong_at_once() -> None:
    done = diagnose(*BENCH, "--sign", "no ligth", "--finding", "lead wiggle=up")

    assert 2 == done.returncode
    assert 2 == len(done.stderr.strip().splitlines())


def test_it_asks_for_what_it_needs() -> None:
    done = diagnose(FAULTS)

    assert (2, "") == (done.returncode, done.stdout)
    assert "--device" in done.stderr


def test_it_says_the_next_step_and_why() -> None:
    done = diagnose(*BENCH, "--sign", "will not charge")

    assert 0 == done.returncode
    assert done.stdout.startswith("Next: ")
    for words in ("Likeliest now", "To the end", "Runner-up"):
        assert words in done.stdout


def test_it_says_the_next_step_to_a_program(tmp_path: Path) -> None:
    done = diagnose(
        *BENCH, "--sign", "will not charge", "--json", "--out", str(tmp_path)
    )

    found = json.loads(done.stdout)
    assert {"status", "action", "belief", "rivals", "figures", "tree"} <= set(found)
    assert 1.0 == pytest.approx(sum(found["belief"]["after"].values()))
    assert (tmp_path / "policy-sheet.pdf").read_bytes().startswith(b"%PDF")


def test_it_replays_closed_jobs() -> None:
    history = str(EXAMPLES / "workshop-history.csv")

    done = diagnose(*BENCH, "--history", history, "--replay", "--json")

    found = json.loads(done.stdout)
    assert found["done_min"] == pytest.approx(
        sum(job["done_min"] for job in found["jobs"])
    )
    assert len(found["jobs"]) >= 10


def blank_findings(folder: Path, n: int) -> str:
    """Give the example's history with nothing told of the first n jobs."""
    text = (EXAMPLES / "workshop-history.csv").read_text("utf-8")
    rows = list(csv.DictReader(io.StringIO(text)))
    for row in rows[:n]:
        row["findings"] = ""
    path = folder / "history.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    return str(path)


def test_it_leaves_out_and_counts_what_was_not_written_down(tmp_path: Path) -> None:
    history = blank_findings(tmp_path, 3)

    done = diagnose(*BENCH, "--history", history, "--replay")
    told = json.loads(
        diagnose(*BENCH, "--history", history, "--replay", "--json").stdout
    )

    says = "3 left out: what was done is not told in names of this table"
    assert says in done.stdout
    assert "     0 done" not in done.stdout
    assert {"no_fault_confirmed": 2, "not_told_what_was_done": 3} == told["left_out"]


def test_it_refuses_to_replay_where_nothing_was_written_down(tmp_path: Path) -> None:
    done = diagnose(*BENCH, "--history", blank_findings(tmp_path, 99), "--replay")

    assert 2 == done.returncode
    assert "of the table that tells what was done, wanted at least" in done.stderr


def test_it_checks_fault_tables_and_models(tmp_path: Path) -> None:
    good = [str(path) for path in sorted(EXAMPLES.rglob("*.faults.yaml"))]
    model = given("D12", tmp_path)
    bad = tmp_path / "bad.faults.yaml"
    bad.write_text("faults_of: X\nrate_per_h: 48\nfaults: {a: {weight: -1}}\n", "utf-8")
    check = [sys.executable, "-m", "turnscrew", "check", "--json"]

    clean = subprocess.run([*check, *good, model], capture_output=True, check=False)
    wrong = subprocess.run([*check, str(bad)], capture_output=True, check=False)

    assert (0, []) == (clean.returncode, json.loads(clean.stdout))
    assert 2 == wrong.returncode
    assert len(json.loads(wrong.stdout)) >= 4


def test_it_ends_a_job_that_works() -> None:
    done = diagnose(*BENCH, "--finding", "change inlet=mended")

    assert 0 == done.returncode
    assert done.stdout.startswith("Works: hand it back")


@pytest.mark.parametrize("finding", ["nonsense=mended", "lead wiggle=mended"])
def test_it_refuses_to_call_mended_what_is_no_repair(finding) -> None:
    done = diagnose(*BENCH, "--finding", finding)

    assert (2, "") == (done.returncode, done.stdout)
    assert finding.partition("=")[0] in done.stderr


def test_it_stops_at_a_reversed_adapter() -> None:
    done = diagnose(*BENCH, "--finding", "adapter volts=-19.4 V")

    assert 2 == done.returncode
    assert "plug nothing in" in done.stderr


OPEN = str(ROOT / "data" / "open_repairs.csv")
COUNTS = str(ROOT / "data" / "symptom_by_fault_counts.csv")


@pytest.mark.parametrize("path", [OPEN, COUNTS])
def test_it_stands_on_open_counts_and_says_so(path) -> None:
    history = str(EXAMPLES / "workshop-history.csv")
    with_open = ("--open-counts", path, "--open-cases", "12", "--history", history)

    found = json.loads(diagnose(*BENCH, *with_open, "--json").stdout)

    why = " ".join(found["why"])
    assert "they weigh as 12 own cases." in why
    assert "No counts, so the table's own share: memory contact." in why
    assert "Own jobs counted over them: 14." in why
    assert (12.0, ["memory contact"]) == (found["base"]["cases"], found["base"]["kept"])
    assert 0 < sum(found["base"]["pseudo_cases"].values()) < 12


def test_it_takes_words_that_are_clear_as_a_sign(tmp_path: Path) -> None:
    words = ("--words", "two keys stick now and then", "--open-counts", OPEN)

    lines = diagnose(*BENCH, *words, "--out", str(tmp_path)).stdout.splitlines()

    assert lines[0].startswith("read as: keys do nothing (probability 0.")
    assert "keys" in lines[0].partition("by words")[2]
    assert "few own jobs with words to learn from: 0" in lines
    assert any(line.startswith("Next: ") for line in lines)
    assert any(line.startswith("- Likeliest now: keys dead") for line in lines)
    assert (tmp_path / "policy-sheet.pdf").read_bytes().startswith(b"%PDF")


def test_it_asks_after_words_that_are_not_clear() -> None:
    words = ("--words", "the screen", "--open-counts", OPEN)

    done = diagnose(*BENCH, *words, "--json")

    found = json.loads(done.stdout)
    assert (0, "ask", "") == (done.returncode, found["status"], found["words"]["sign"])
    assert "picture cracked" in found["words"]["signs"]


def test_words_that_are_a_phrase_are_the_sign() -> None:
    by_words = json.loads(diagnose(*BENCH, "--words", "Lid loose", "--json").stdout)
    by_sign = json.loads(diagnose(*BENCH, "--sign", "lid loose", "--json").stdout)

    assert by_words.pop("words")["is_exact"]
    assert by_sign["belief"] == by_words["belief"]
    assert not {"words", "base"} & set(by_sign)
    assert not any("Base priors" in why for why in by_sign["why"])


def test_it_learns_words_from_closed_jobs(tmp_path: Path) -> None:
    history = tmp_path / "history.csv"
    row = "Pellorin L240,mended,fan worn,loud and gets hot,it goes plopp\n"
    history.write_text("family,end,confirmed,signs,words\n" + row * 20, "utf-8")

    before = diagnose(*BENCH, "--words", "plopp").stdout
    after = diagnose(*BENCH, "--words", "plopp", "--history", str(history)).stdout

    assert before.startswith("unknown: no word of these tells a sign")
    assert after.startswith("read as: loud and gets hot (probability 0.")
    assert "few own jobs" not in after


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("--words", "19.5"), "words: found '19.5', wanted some words"),
        (("--open-counts", FAULTS), "pellorin-l240.faults.yaml"),
    ],
)
def test_it_refuses_words_and_counts_that_are_none(args, said) -> None:
    done = diagnose(*BENCH, *args)

    assert 2 == done.returncode
    assert said in done.stderr
    assert not done.stdout


def test_it_tells_a_fault_that_is_counted_in_no_category(tmp_path: Path) -> None:
    table = Path(FAULTS).read_text("utf-8").replace("  counted_in: Laptop\n", "")
    path = tmp_path / "x.faults.yaml"
    path.write_text(table, "utf-8")

    done = diagnose(str(path), "--device", DEVICE, "--revision", "A")

    assert 2 == done.returncode
    assert 15 == len(done.stderr.strip().splitlines())
    assert "faults.adapter dead.counted_as: found Power/battery without" in done.stderr


def test_it_prints_its_policy_in_german(tmp_path: Path) -> None:
    told = ("--sign", "will not charge", "--out", str(tmp_path), "--language", "de")
    done = diagnose(*BENCH, *told)
    sheet = pypdfium2.PdfDocument(tmp_path / "policy-sheet.pdf")[0]
    words = sheet.get_textpage().get_text_bounded()

    assert 0 == done.returncode, done.stderr
    assert "Als Nächstes: " in done.stdout
    assert "Als Nächstes: " in words
    assert "„" not in words


def test_it_says_in_german_what_must_not_be_powered(tmp_path: Path) -> None:
    told = ("--sign", "back is lifting", "--out", str(tmp_path), "--language", "de")
    done = diagnose(*V80, *told)

    lines = done.stderr.splitlines()
    assert f"geschrieben: {tmp_path / 'policy-sheet.pdf'}" in lines
    left_out = [line for line in lines if line.startswith("weggelassen: ")]
    assert left_out
    assert all("nicht einschalten oder laden, solange" in one for one in left_out)
    assert not any("left out" in line for line in lines)
