"""Does the example batch come out to the cent and to the day, from its files alone?"""

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pypdfium2
import pytest

from turnscrew.cli.main import run

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "sallowmere"
QUICK = ("--effort", "0", "--plays", "0")


def asked(capsys, *args: str, folder: Path = FOLDER, code: int = 0) -> dict:
    """The answer on the example as JSON."""
    with pytest.raises(SystemExit) as ended:
        run(["batch", str(folder), "--json", *args])
    assert code == ended.value.code
    return json.loads(capsys.readouterr().out)


@pytest.fixture(name="whole", scope="module")
def whole_answer(tmp_path_factory) -> dict:
    command = [sys.executable, "-m", "turnscrew", "batch", str(FOLDER), "--json"]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", check=True)
    return json.loads(done.stdout)


# Every figure of these tests was computed for this invented batch by two programs that
# share no code with this one.


def test_it_decides_every_device(whole) -> None:
    by_code: dict[str, list[int]] = {}
    for line, code in whole["decisions"].items():
        by_code.setdefault(code, []).append(int(line))

    assert 40 == len(by_code["go"])
    assert [4, 11, 12, 26, 40, 44, 59, 60] == by_code["ask"]
    assert [56] == by_code["comeback"]
    assert [2, 6, 14, 17, 21, 34, 35, 45] == by_code["strip"]
    assert [10, 30, 43] == by_code["no_fault_found"]


def test_it_quotes_to_the_cent_near_every_edge(whole) -> None:
    quotes = whole["quotes"]
    for line, minor, limit, flips in (
        (25, 8222, 8525, 8525),
        (48, 8222, 8525, 8525),
        (4, 11612, 12100, 12100),
        (12, 11612, 12100, 12100),
        (26, 11612, 12100, 12100),
        (40, 11612, 12100, 12100),
        (59, 11612, 12100, 12100),
        (1, 9475, 15950, 9500),
        (39, 9475, 15950, 9500),
        (14, 12555, 10450, 10450),
    ):
        quote = quotes[str(line)]
        assert (minor, limit, flips) == (
            quote["minor"],
            quote["limit_minor"],
            quote["flips_at"],
        ), line
    asked_for = [int(n) for n, code in whole["decisions"].items() if code == "ask"]
    assert 95778 == sum(quotes[str(n)]["minor"] for n in asked_for)
    assert 0 == quotes["56"]["minor"]


def test_it_says_what_of_the_money_nobody_agreed_to_yet(capsys) -> None:
    """The figures of the example: eight answers wanted, 957.78 in all."""
    with pytest.raises(SystemExit):
        run(["batch", str(FOLDER), "--answer", "40=yes", "--answer", "4=no"])
    told = capsys.readouterr().out
    with pytest.raises(SystemExit):
        run(["batch", str(FOLDER)])
    whole = capsys.readouterr().out

    assert re.search(r"of it still open +957\.78", whole)
    assert "counted as yes: 4, 11, 12, 26, 40, 44, 59, 60" in whole
    assert "in no plan and no sum: 11, 12, 26, 44, 59, 60" in told
    assert re.search(r"beside it, open +\d", told)


def test_what_nobody_waits_for_earns_nothing_while_it_costs_nothing(capsys) -> None:
    def money_of(*answers: str) -> dict[str, int]:
        words = [word for one in answers for word in ("--answer", one)]
        with pytest.raises(SystemExit):
            run(["batch", str(FOLDER), "--json", *words])
        return json.loads(capsys.readouterr().out)["money"]

    others = [f"{line}=no" for line in (4, 11, 12, 26, 44, 59, 60)]
    assert money_of("40=yes") == money_of("40=yes", *others)
    waited_for = ["40=yes", *(one.replace("no", "yes") for one in others)]
    assert money_of() == money_of(*waited_for)


def test_it_adds_up_the_money(whole) -> None:
    assert {
        "repairs_minor": 365238,
        "strip_diagnosis_minor": 7280,
        "no_fault_found_minor": 9360,
        "total_minor": 381878,
        "donor_credit_minor": 10660,
        "invoice_minor": 371218,
        "tax_minor": 0,
        "parts_cost_minor": 91460,
        "labour_minor": 152261,
        "margin_minor": 127497,
    } == whole["money"]


def test_it_adds_up_the_minutes(whole) -> None:
    assert {
        "handling": 1254,
        "open_close": 970,
        "exchange": 903,
        "strips": 318,
        "receiving": 666,
    } == whole["minutes"]


def test_it_buys_nothing_the_customer_owns(whole) -> None:
    order = whole["order"]

    assert (32200, 43300) == (order["minor"], order["without_donors_minor"])
    assert {
        "C-KBB": 1, "C-BT": 2, "T-GL2": 2, "T-AD": 10, "T-BT": 3, "H-WN": 1, "H-KP": 2,
        "H-GK": 5, "H-DP": 1,
    } == order["lines"]  # fmt: skip
    donors = whole["donors"]
    assert 11100 == donors["saves_minor"] == sum(donors["saves"].values())
    assert set(donors["strips"]) <= {2, 6, 14, 17, 21, 34, 35, 45}
    given = [(d, p) for uses in donors["uses"].values() for p, d in uses.items()]
    assert len(given) == len(set(given)) == 9
    assert {"C-KBA"} == set(donors["uses"]["56"])


def test_it_says_by_when_each_answer_must_be_in_hand(whole) -> None:
    assert {
        "4": 4, "12": 4, "26": 4, "60": 4, "40": 1, "59": 1, "11": 7, "44": 10,
    } == whole["answer_by"]  # fmt: skip


def test_the_hand_rule_comes_out_to_the_day(whole) -> None:
    rule = whole["plan"]["rule"]

    assert (7, {}) == (rule["last_day"], rule["late"])
    assert {"lead": 1980, "helper": 1804.6} == rule["clock_minutes"]
    due = {slot["line"]: slot["done_day"] for slot in rule["slots"]}
    assert 3 == max(due[line] for line in (3, 4, 5, 9, 12, 24, 25, 26))


def test_the_best_plan_is_never_worse_than_the_rule(whole) -> None:
    rule, best = whole["plan"]["rule"], whole["plan"]["best"]

    assert {} == best["late"]
    assert best["n_set_ups"] < rule["n_set_ups"]
    assert best["bound"]["n_set_ups"] <= best["n_set_ups"]
    assert best["status"] in {"optimal", "bounded"}


def test_the_promise_says_its_probability(whole) -> None:
    promise = whole["plan"]["promise"]

    assert 0.8 == promise["probability"]
    assert 7 <= promise["day"] <= 8


@pytest.mark.parametrize(
    ("args", "last_day", "late"),
    [
        (("--no-donors",), 8, {"9": 2, "7": 1, "15": 1}),
        (("--answers-on", "1"), 7, {}),
        (("--answers-on", "2"), 8, {"40": 1, "59": 1}),
        (("--away", "lead=2-4"), 7, {"24": 1, "25": 1}),
        (("--away", "Imke Vasterling=2-4"), 7, {"24": 1, "25": 1}),
        (("--away", "lead=2-4", "--sign-off", "helper=battery"), 7, {}),
    ],
)
def test_each_question_is_answered_to_the_day(capsys, args, last_day, late) -> None:
    rule = asked(capsys, *args, *QUICK)["plan"]["rule"]

    assert (last_day, late) == (rule["last_day"], rule["late"])


def test_without_donors_nothing_is_stripped_for_parts(capsys) -> None:
    answer = asked(capsys, "--no-donors", *QUICK)

    assert 43300 == answer["order"]["minor"]
    assert ([], 0, {}) == tuple(
        answer["donors"][key] for key in ("strips", "saves_minor", "uses")
    )


def test_a_late_parcel_delays_what_waits_for_it_alone(capsys) -> None:
    rule = asked(capsys, "--late-part", "T-GL2=2", *QUICK)["plan"]["rule"]

    assert {"40": 2, "59": 2} == rule["late"]


def test_answers_for_single_lines_release_these_alone(capsys) -> None:
    answer = asked(capsys, "--answer", "40=yes", "--answer", "59=yes", *QUICK)
    planned = {slot["line"] for slot in answer["plan"]["rule"]["slots"]}

    assert {40, 59} <= planned
    assert not planned & {4, 11, 12, 26, 44, 60}
    assert {"4", "11", "12", "26", "44", "60"} == set(answer["answer_by"])
    assert [4, 11, 12, 26, 44, 60] == answer["in_no_sum"]
    assert [] == asked(capsys, *QUICK)["in_no_sum"]


def test_an_answer_that_lacks_is_due_when_its_parts_still_come_in_time(
    capsys,
) -> None:
    before = asked(capsys, *QUICK)["answer_by"]
    answer = asked(capsys, "--answer", "40=yes", "--answer", "59=yes", *QUICK)

    # Line 60 wants a display that lies nowhere: due on day 10, six days to come.
    assert 4 == answer["answer_by"]["60"]
    assert {name: before[name] for name in answer["answer_by"]} == answer["answer_by"]


def test_a_no_leaves_the_device_unmended_and_its_parts_unbought(capsys) -> None:
    answer = asked(capsys, "--answer", "40=no", "--answers-on", "1", *QUICK)
    planned = {slot["line"] for slot in answer["plan"]["rule"]["slots"]}

    assert 40 not in planned
    assert 1 == answer["order"]["lines"]["T-GL2"]


def test_what_was_refused_is_named_and_in_no_sum(capsys) -> None:
    answer = asked(capsys, "--answer", "40=no", "--answers-on", "1", *QUICK)
    with pytest.raises(SystemExit):
        run(["batch", str(FOLDER), "--answer", "40=no", "--answer", "4=yes", *QUICK])
    told = capsys.readouterr().out

    assert [40] == answer["in_no_sum"]
    assert "refused, to return unrepaired: 40\n" in told
    [first] = re.findall(r"ask first: .*", told)
    assert "40" not in first.split(": ")[-1].split(", ")


def test_twice_the_batch_takes_longer_and_costs_twice(capsys) -> None:
    once = asked(capsys, *QUICK)
    twice = asked(capsys, "--copies", "2", *QUICK)

    assert 2 * once["money"]["total_minor"] == twice["money"]["total_minor"]
    assert twice["plan"]["rule"]["last_day"] > once["plan"]["rule"]["last_day"]
    assert 120 == len(twice["decisions"])


def test_a_later_start_moves_everything(capsys) -> None:
    rule = asked(capsys, "--today", "2027-02-03", *QUICK)["plan"]["rule"]

    assert 3 == min(slot["day"] for slot in rule["slots"])
    assert "40" in rule["late"]


IRREGULAR = {
    "the same serial on 18 and 49": lambda a: (
        [[18, 49]] == a["reconciliation"]["duplicate_serials"]
        and all("duplicate serial" in str(a["holds"][n]) for n in ("18", "49"))
    ),
    "no owner's number on 27": lambda a: [27] == a["reconciliation"]["blanks"],
    "revision 1 on the list, 2 on the body of 31": lambda a: (
        [31] == a["reconciliation"]["differing"]
        and "the body is trusted" in str(a["holds"]["31"])
    ),
    "SHN-0688 did not come, though both totals are 60": lambda a: (
        ["SHN-0688"] == a["reconciliation"]["missing"]
        and [52] == a["reconciliation"]["extra"]
        and "not on the customer's list" in str(a["holds"]["52"])
    ),
    "56 was mended 37 days ago for the same fault": lambda a: (
        "comeback" == a["decisions"]["56"] and "37 days ago" in str(a["holds"]["56"])
    ),
    "the frame of 9 is bent": lambda a: "damaged" in str(a["holds"]["9"]),
    "30 is locked": lambda a: "locked" in str(a["holds"]["30"]),
    "25 has a gap and is warm": lambda a: "isolate it" in str(a["holds"]["25"]),
    "45 smells of disinfectant": lambda a: "gloves" in str(a["holds"]["45"]),
    "the owner of 20 wants the old storage back": lambda a: (
        "goes back to the owner" in str(a["holds"]["20"])
    ),
    "36 holds a private card": lambda a: "private property" in str(a["holds"]["36"]),
    "14 is uneconomic for its second fault alone": lambda a: (
        "strip" == a["decisions"]["14"] and "each alone" in a["reasons"]["14"]
    ),
    "54 has two faults and is mended": lambda a: (
        "go" == a["decisions"]["54"] and "2 faults" in str(a["holds"]["54"])
    ),
}


@pytest.mark.parametrize("what", IRREGULAR)
def test_it_finds_each_irregularity(whole, what) -> None:
    assert 13 == len(IRREGULAR)
    assert IRREGULAR[what](whole)


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (("--away", "lead"), "away: found lead, wanted PERSON=FROM-TO"),
        (("--away", "boss=1-2"), "person: found boss, wanted one of lead, helper"),
        (("--away", "lead=4-2"), "days away: found 4-2"),
        (("--late-part", "X=1"), "late part: found X"),
        (("--late-part", "T-GL2"), "late part: found T-GL2, wanted PART=DAYS"),
        (("--sign-off", "helper=flying"), "sign-off: found flying, wanted"),
        (("--answer", "99=yes"), "answer: found 99"),
        (("--answer", "40=ok"), "answer: found 40=ok"),
        (("--today", "soon"), "today: found soon"),
        (("--today", "2020-01-01"), "wanted 2027-02-01 or later"),
        (("--today", "9999-12-31"), "today: found 9999-12-31, wanted a day from 1900"),
        (("--answers-on", "0"), "days and copies"),
        (("--paper", "a3"), "paper a3"),
        (("--language", "fr"), "language fr, wanted de"),
    ],
)
def test_it_refuses_a_question_it_cannot_read(capsys, args, words) -> None:
    with pytest.raises(SystemExit) as ended:
        run(["batch", str(FOLDER), *args])

    assert 2 == ended.value.code
    assert words in capsys.readouterr().err


def test_it_writes_its_papers_in_german_and_prints_in_it(capsys, tmp_path) -> None:
    usual = ["batch", str(FOLDER), "--effort", "0", "--plays", "20"]
    printed: list[str] = []
    for way in ([], ["--out", str(tmp_path), "--language", "de"]):
        with pytest.raises(SystemExit) as ended:
            run([*usual, *way])
        assert not ended.value.code
        printed.append(capsys.readouterr().out)
    message = (tmp_path / "approval-message.txt").read_text("utf-8")
    receipt = pypdfium2.PdfDocument(tmp_path / "receipt.pdf")[0]

    assert "  invoice                 3,712.18\n" in printed[0]
    assert "  Rechnung                3.712,18\n" in printed[1]
    assert "Alle 8: 957,78 cu" in message
    assert "Empfangsschein" in receipt.get_textpage().get_text_bounded()


def test_it_lists_every_problem_of_every_file_and_writes_nothing(
    capsys, tmp_path
) -> None:
    folder = tmp_path / "batch"
    shutil.copytree(FOLDER, folder)
    for name, old, new in (
        ("batch.csv", "L-PIV", "L-PIG"),
        ("batch.csv", ",GR5-11075,R50,", ",GR5-11075,R5O,"),
        ("parts.csv", "31.50", '"31,50"'),
        ("history.csv", "2026-12-26", "26.12.2026"),
        ("people.yaml", "[battery]", "[batery]"),
    ):
        path = folder / name
        text = path.read_text("utf-8")
        assert old in text, (name, old)
        path.write_text(text.replace(old, new, 1), "utf-8")
    out = tmp_path / "out"
    with pytest.raises(SystemExit) as ended:
        run(["batch", str(folder), "--out", str(out)])
    told = capsys.readouterr().err

    assert 2 == ended.value.code
    for words in (
        'batch.csv:8:1: found: found L-PIG, wanted perhaps "L-PIV"',
        'batch.csv:17:1: model: found R5O, wanted perhaps "R50"',
        "parts.csv:10:4: cost: found 31,50, wanted 31.50",
        "history.csv:4:1: day: found 26.12.2026, wanted a day such as",
        "people.yaml:8:13: people.lead.skills: found batery",
    ):
        assert words in told
    assert not out.exists()


def test_it_tells_what_it_can_when_the_terms_cannot_be_read(capsys, tmp_path) -> None:
    folder = tmp_path / "batch"
    shutil.copytree(FOLDER, folder)
    text = (folder / "terms.yaml").read_text("utf-8")
    (folder / "terms.yaml").write_text(text.replace("1.30", "1,30"), "utf-8")
    (folder / "batch.csv").write_text("serial\nx\n", "utf-8")
    with pytest.raises(SystemExit):
        run(["batch", str(folder)])
    told = capsys.readouterr().err

    assert "terms.yaml:13:9: markup: found 1,30" in told
    assert "batch.csv:1:1: heading: found no model among serial" in told


@pytest.mark.parametrize(
    "name", ["batch.csv", "parts.csv", "terms.yaml", "people.yaml"]
)
def test_it_names_a_file_that_is_missing(capsys, tmp_path, name) -> None:
    folder = tmp_path / "batch"
    shutil.copytree(FOLDER, folder)
    (folder / name).unlink()
    with pytest.raises(SystemExit) as ended:
        run(["batch", str(folder)])

    assert 2 == ended.value.code
    assert f"{name}:0:0: folder: found no {name}" in capsys.readouterr().err


def test_it_works_without_a_list_and_without_a_past(capsys, tmp_path) -> None:
    folder = tmp_path / "batch"
    shutil.copytree(FOLDER, folder)
    (folder / "customer-list.csv").unlink()
    (folder / "history.csv").unlink()
    answer = asked(capsys, *QUICK, folder=folder)

    assert 60 == len(answer["reconciliation"]["extra"])
    assert "go" == answer["decisions"]["56"]
    assert not any(
        "customer's list" in str(holds) for holds in answer["holds"].values()
    )


def test_an_absent_column_of_remarks_is_allowed(capsys, tmp_path) -> None:
    folder = tmp_path / "batch"
    shutil.copytree(FOLDER, folder)
    rows = (folder / "batch.csv").read_text("utf-8").splitlines()
    cut = [
        row.rsplit(",", 1)[0] if '"' not in row else row.split(',"')[0] for row in rows
    ]
    (folder / "batch.csv").write_text("\n".join(cut) + "\n", "utf-8")
    answer = asked(capsys, *QUICK, folder=folder)

    assert 381878 == answer["money"]["total_minor"]
    assert "9" not in answer["holds"]


def test_it_plans_the_rest_when_nobody_may_do_battery_work(tmp_path, capsys) -> None:
    folder = tmp_path / "batch"
    shutil.copytree(FOLDER, folder)
    people = folder / "people.yaml"
    people.write_text(people.read_text("utf-8").replace("[battery]", "[]"), "utf-8")

    answer = asked(capsys, folder=folder)

    # Donor 14 needs the sign-off, and 7 and 42 get its parts; what waits for the other
    # donors is mended all the same, though by the hand rule it waits for all of them.
    packs = {13, 14, 23, 24, 25, 31, 48, 53, 54, 57, 7, 42}
    left_out = {int(name) for name in answer["plan"]["best"]["impossible"]}
    assert packs == left_out
    assert {9, 15, 32} <= {int(name) for name in answer["plan"]["rule"]["impossible"]}
    assert "promise" not in answer["plan"]
    assert answer["plan"]["no_promise"].startswith("No day can be promised")


def test_it_promises_no_day_where_real_times_spread_beyond_all_days(
    tmp_path, capsys
) -> None:
    folder = tmp_path / "batch"
    shutil.copytree(FOLDER, folder)
    terms = folder / "terms.yaml"
    text = terms.read_text("utf-8").replace("spread: 0.30", "spread: 3")
    terms.write_text(text, "utf-8")

    plan = asked(capsys, "--plays", "20", "--effort", "0", folder=folder)["plan"]
    assert "promise" not in plan
    assert plan["no_promise"] == (
        "No day can be promised: in too many plays work is left after workshop day "
        "20000."
    )


def test_it_says_why_the_papers_follow_one_plan_and_not_the_other(
    tmp_path, capsys
) -> None:
    def told(*args: str, folder: Path = FOLDER) -> str:
        with pytest.raises(SystemExit):
            run(["batch", str(folder), "--plays", "0", *args])
        return capsys.readouterr().out

    usual = told()
    by_rule, by_best = (int(n) for n in re.findall(r"^ +(\d+) set-ups$", usual, re.M))
    assert f"saves {by_rule - by_best} set-ups alone" in usual
    assert by_best < by_rule
    assert "follow the best plan found: fewer" in told("--away", "lead=2-4")
    assert "The papers follow" not in told("--effort", "0")
    folder = tmp_path / "batch"
    shutil.copytree(FOLDER, folder)
    people = folder / "people.yaml"
    people.write_text(people.read_text("utf-8").replace("[battery]", "[]"), "utf-8")
    assert "for which the hand rule finds no way" in told(folder=folder)


def test_a_price_that_is_not_known_is_no_nought(capsys, tmp_path) -> None:
    folder = tmp_path / "batch"
    shutil.copytree(FOLDER, folder)
    parts = folder / "parts.csv"
    rows = parts.read_text("utf-8").replace("V80 2,34.00,", "V80 2,,")
    parts.write_text(rows, "utf-8")
    usual = ["batch", str(folder), "--effort", "0", "--plays", "0"]
    for more in ([], ["--json"], ["--out", str(tmp_path / "out")]):
        with pytest.raises(SystemExit):
            run([*usual, *more])
    told = capsys.readouterr().out
    sheet = pypdfium2.PdfDocument(tmp_path / "out" / "order-list.pdf")[0]
    words = " ".join(sheet.get_textpage().get_text_range().split())

    assert "in no sum, as its price is not known: T-GL2" in told
    assert re.search(r"T-GL2 +2 +– +latest", told)
    assert '"unpriced": ["T-GL2"]' in told
    assert "price not known, so in no sum: ask for it" in words


def told_in_words(capsys, *args: str) -> str:
    with pytest.raises(SystemExit) as ended:
        run(["batch", str(FOLDER), *QUICK, *args])
    assert not ended.value.code
    return capsys.readouterr().out


def test_it_says_too_late_in_words_that_fit(capsys) -> None:
    told = told_in_words(capsys, "--today", "2027-02-08")
    german = told_in_words(capsys, "--today", "2027-02-08", "--language", "de")

    assert "front glass cracked: 116.12, too late already\n" in told
    assert "  T-AD    10      24.00  too late already\n" in told
    assert "153.87, by the morning of day 10, Fri 12 Feb\n" in told
    assert "  latest day 7, Tue 9 Feb\n" in told
    assert "front glass cracked: 116,12, schon zu spät\n" in german
    for words in ("latest too", "morning of too", "spätestens schon", "„"):
        assert words not in told + german
