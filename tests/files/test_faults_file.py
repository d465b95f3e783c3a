"""Does the reader of fault tables tell every slip at its place?"""

import re
from pathlib import Path

import pytest

from example_files import example_text
from turnscrew.errors import BadFileError
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.faults_file import read_faults

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted(ROOT.glob("examples/**/*.faults.yaml"))

GOOD = """\
faults_of: Box
rate_per_h: 48.00
faults:
  lead: {weight: 1}
  pack: {weight: 3}
check_out: {min: 5}
give_up: {price: 50.00}
signs:
  dead: {shown_by: {lead: 0.8, others: 0.3, nothing wrong: 0.01}}
known_good:
  lead: {what: a lead}
tests:
  swap:
    min: 1
    outcomes: [charges, as before]
    known_good: lead
    means: {lead: [0.9, 0.1], others: [0, 1], nothing wrong: [0.5, 0.5]}
  volts:
    min: 2
    reading: {unit: V, low: 9, high: 11, plus: 0.1}
    means: {lead: [1, 0, 0], pack: [0, 1, 0], nothing wrong: [0, 1, 0]}
repairs:
  change lead: {min: 1, mends: {lead: 1}, price: 5.00, keep: yes}
  change pack: {min: 4, mends: {pack: 0.9}}
"""


def problems(text: str) -> list[tuple[int, str, str, str]]:
    with pytest.raises(BadFileError) as caught:
        read_faults(text)
    return [(p.line, p.where, p.found, p.wanted) for p in caught.value.problems]


def test_it_reads_a_sound_table() -> None:
    table = read_faults(GOOD)

    assert (4800, 5000) == (table.rate, table.give_up.price)
    assert ("low", "within limits", "high") == table.tests["volts"].all_outcomes


@pytest.mark.parametrize(
    ("old", "new", "line", "where", "said"),
    [
        ("lead: [0.9, 0.1]", "lead: [0.9, 0.2]", 17, "tests.swap.means.lead", "1.1"),
        ("lead: [0.9, 0.1]", "lead: [1]", 17, "tests.swap.means.lead", "1 chances"),
        ("lead: [0.9, 0.1]", "led: [0.9, 0.1]", 17, "tests.swap.means.led", "lead"),
        (", nothing wrong: [0.5, 0.5]", "", 17, "tests.swap.means", "nothing wrong"),
        ("pack: [0, 1, 0], ", "", 21, "tests.volts.means", "nothing for pack"),
        ("others: 0.3, ", "", 9, "signs.dead.shown_by", "nothing for pack"),
        ("{pack: 0.9}", "{pak: 0.9}", 24, "repairs.change pack.mends.pak", "pack"),
        ("{pack: 0.9}", "{pack: 1.9}", 24, "repairs.change pack.mends.pack", "1"),
        ("known_good: lead", "known_good: led", 16, "tests.swap.known_good", "lead"),
        ("change pack:", "volts:", 24, "repairs.volts", "also a test"),
        ("price: 5.00, ", "", 23, "repairs.change lead.keep", "without a price"),
        ("weight: 1", "weight: -1", 4, "faults.lead.weight", "number from 0"),
        ("low: 9, high: 11", "low: 12, high: 11", 20, "tests.volts.reading", "less"),
        ("low: 9, high: 11, ", "", 20, "tests.volts.reading", "low, high or both"),
        ("[charges, as before]", "[a, a]", 15, "tests.swap.outcomes", "twice"),
        ("min: 2", "mins: 2", 19, "tests.volts.mins", "min"),
        ("min: 2", "figure: fit_off\n    min: 2", 19, "tests.volts.figure", "fit_of"),
        ("rate_per_h: 48.00", "rate_per_h: 48,00", 2, "rate_per_h", "31.50"),
    ],
)  # fmt: skip
def test_it_tells_a_slip_at_its_line(old, new, line, where, said) -> None:
    assert old in GOOD

    told = problems(GOOD.replace(old, new, 1))

    assert any(
        line == at and place.startswith(where) and said in f"{found} {wanted}"
        for at, place, found, wanted in told
    ), told


def exact(text: str) -> list[str]:
    with pytest.raises(BadFileError) as caught:
        read_faults(text)
    return [
        f"{p.line}:{p.column} {p.where}: found {p.found}, wanted {p.wanted}"
        for p in caught.value.problems
    ]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (
            "others: [0, 1]",
            "others: [0.2, 1]",
            "17:39 tests.swap.means.others: found chances that sum to 1.2,"
            " wanted a sum of 1",
        ),
        (
            "others: [0, 1]",
            "others: [1]",
            "17:39 tests.swap.means.others: found 1 chances,"
            " wanted 2, one for each of charges, as before",
        ),
        (
            "pack: [0, 1, 0], ",
            "",
            "21:12 tests.volts.means: found nothing for pack,"
            " wanted them, or a line for others",
        ),
        (
            ", nothing wrong: 0.01",
            "",
            "9:20 signs.dead.shown_by: found nothing for nothing wrong,"
            " wanted a line for nothing wrong",
        ),
        (
            "reading: {",
            "outcomes: [a]\n    reading: {",
            "20:15 tests.volts.outcomes: found outcomes beside a reading,"
            " wanted one of them",
        ),
        (
            "    outcomes: [charges, as before]\n",
            "",
            "14:5 tests.swap: found no outcomes,"
            " wanted outcomes or a reading with limits",
        ),
        (
            "rate_per_h",
            "nothing_wrong: 1\nrate_per_h",
            "2:16 nothing_wrong: found 1, wanted a share below 1",
        ),
        (
            "pack: 0.9",
            "others: 0.9",
            "24:41 repairs.change pack.mends.others: found the unknown fault others,"
            " wanted the name of a fault",
        ),
        (
            "plus: 0.1",
            "percent: 80",
            "20:51 tests.volts.reading.percent: found 80,"
            " wanted a number from 0 to 50 %",
        ),
        (
            "min: 4,",
            "min: 4, cautions: [mans],",
            '24:36 repairs.change pack.cautions[0]: found mans, wanted perhaps "mains"',
        ),
        (
            "what: a lead",
            "what: a lead, verified: 2027-02-30",
            "11:34 known_good.lead.verified: found 2027-02-30,"
            " wanted a day such as 2027-02-01",
        ),
        (
            "weight: 3",
            "weight: 3, weight: 4",
            "5:21 faults.pack: found the key weight again, first in line 5,"
            " wanted each key once",
        ),
        (
            "rate_per_h: 48.00\n",
            "",
            "1:1 text: found nothing, wanted the key rate_per_h",
        ),
        # Names that would be taken for something else on the bench or in a row.
        (
            "lead: {weight: 1}",
            "lead: {weight: 1}\n  nothing wrong: {weight: 1}",
            "5:18 faults.nothing wrong: found the name nothing wrong,"
            " wanted another name",
        ),
        (
            "  volts:",
            "  check-out:",
            "19:5 tests.check-out: found the name check-out, wanted another name",
        ),
        (
            "change pack:",
            "WRITE-OFF:",
            "24:14 repairs.WRITE-OFF: found the name WRITE-OFF, wanted another name",
        ),
        (
            "[charges, as before]",
            "[charges, not tried]",
            "15:15 tests.swap.outcomes: found not tried,"
            " wanted no such outcome: it can be answered anyway",
        ),
    ],
)
def test_it_tells_a_slip_alone_with_line_and_column(old, new, told) -> None:
    assert 1 == GOOD.count(old)

    assert [told] == exact(GOOD.replace(old, new))


def test_it_lays_no_blame_on_what_names_an_unreadable_entry() -> None:
    text = GOOD.replace("weight: 3", "weight: heavy").replace("what: a", "wat: a")

    assert ["5:18", "11:9", "11:10"] == [told.split(" ")[0] for told in exact(text)]


def test_it_tells_slips_of_every_section_at_once() -> None:
    text = (
        GOOD.replace("48.00", "48,00")
        .replace("lead: 0.8", "led: 0.8")
        .replace("others: [0, 1]", "others: [0, 2]")
        .replace("low: 9", "low: 99")
        .replace("price: 5.00, ", "")
    )

    told = [(line.split(":")[0], line.split(" ")[1]) for line in exact(text)]

    assert [("2", "rate_per_h:"), ("17", "tests.swap.means.others[1]:")] == told[:2]
    text = text.replace("48,00", "48.00").replace("[0, 2]", "[0.5, 1]")
    text = text.replace("low: 99", "low: 9")
    assert [
        ("9", "signs.dead.shown_by.led:"),
        ("17", "tests.swap.means.others:"),
        ("23", "repairs.change"),
    ] == [(line.split(":")[0], line.split(" ")[1]) for line in exact(text)]


def test_it_names_an_outcome_that_nothing_can_give() -> None:
    told = problems(
        GOOD.replace("[charges, as before]", "[charges, as before, sings]").replace(
            "lead: [0.9, 0.1], others: [0, 1], nothing wrong: [0.5, 0.5]",
            "lead: [0.9, 0.1, 0], others: [0, 1, 0], nothing wrong: [0.5, 0.5, 0]",
        )
    )

    assert [(15, "sings, which nothing can give")] == [(p[0], p[2]) for p in told]


def test_it_lists_everything_at_once_in_order() -> None:
    text = GOOD.replace("weight: 3", "weight: x").replace("{pack: 0.9}", "{pak: 2}")

    lines = [p[0] for p in problems(text)]

    assert lines == sorted(lines)
    assert {5, 24} <= set(lines)


def test_it_wants_at_least_one_fault_that_happens() -> None:
    text = GOOD.replace("weight: 1", "weight: 0").replace("weight: 3", "weight: 0")

    assert "faults" == problems(text)[0][1]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_it_reads_each_example_against_every_revision(path: Path) -> None:
    text = path.with_name(path.name.replace(".faults.", ".device.")).read_text("utf-8")

    for revision in revisions_in(text):
        device = read_device(text, revision=revision)
        table = read_faults(path.read_text("utf-8"), device)

        assert device.name == table.family
        assert min(len(table.faults), len(table.tests), len(table.repairs)) >= 11


def test_it_reads_the_example_of_the_documentation() -> None:
    text = (ROOT / "docs" / "formats.md").read_text("utf-8")
    (example,) = re.findall(r"```yaml\n(faults_of: .*?)```", text, flags=re.DOTALL)

    table = read_faults(example)

    assert ("Box", 10450) == (table.family, table.give_up.price)
    assert ("upper case",) == table.tests["volts inside"].reach


def test_it_says_what_the_device_lacks() -> None:
    device = read_device(example_text("tavistle-v80.device.yaml"))
    text = GOOD.replace("min: 4,", "min: 4, reach: [pak],")

    with pytest.raises(BadFileError) as caught:
        read_faults(text, device)

    found = {problem.where: problem for problem in caught.value.problems}
    assert {"faults_of", "repairs.change pack.reach"} == set(found)
    assert "pack" in found["repairs.change pack.reach"].wanted
