"""What do closed jobs teach?"""

from dataclasses import replace

import pytest

from core.diagnose.small_bench import TABLE
from turnscrew.core.diagnose.learning import fault_shares, learned
from turnscrew.core.model.faults import NOTHING_WRONG
from turnscrew.core.model.past_job import PastJob

LEAD = PastJob("Box", "mended", "lead", ("dead",), (("change lead", "mended"),))
PACK = replace(LEAD, confirmed="pack", findings=(("change pack", "mended"),))


def shares(table) -> dict[str, float]:
    total = sum(fault.weight for fault in table.faults.values())
    return {name: fault.weight / total for name, fault in table.faults.items()}


def test_it_counts_confirmed_faults_over_the_base_prior() -> None:
    """Dirichlet mean: (10 x 1/4 + 6) / (10 + 8), and (10 x 3/4 + 2) / (10 + 8)."""
    table = learned(TABLE, [LEAD] * 6 + [PACK] * 2).table

    assert shares(table) == pytest.approx({"lead": 8.5 / 18, "pack": 9.5 / 18})


def test_it_meets_the_given_case_of_counts() -> None:
    """Prior counts (1, 1, 1) and own counts (6, 2, 9) give .35, .15, .5."""
    fault = TABLE.faults["lead"]
    table = replace(
        TABLE,
        faults={name: replace(fault, weight=1.0) for name in ("F1", "F2", "F3")},
        prior=replace(TABLE.prior, cases=3.0),
        signs={},
        tests={},
        repairs={},
    )
    jobs = [
        PastJob("Box", "mended", name)
        for name, n in (("F1", 6), ("F2", 2), ("F3", 9))
        for _ in range(n)
    ]

    found = shares(learned(table, jobs).table)

    assert found == pytest.approx({"F1": 0.35, "F2": 0.15, "F3": 0.5})


def test_it_leans_a_site_on_its_family() -> None:
    at_sea = replace(LEAD, site="sea")
    jobs = [at_sea] * 5 + [PACK] * 5

    family = shares(learned(TABLE, jobs).table)
    sea = shares(learned(TABLE, jobs, site="sea").table)

    assert family["lead"] == pytest.approx((2.5 + 5) / 20)
    assert sea["lead"] == pytest.approx((10 * family["lead"] + 5) / 15)


def test_it_leaves_other_families_out() -> None:
    other = replace(LEAD, family="Crate")

    assert shares(TABLE) == pytest.approx(shares(learned(TABLE, [other] * 9).table))


def test_it_counts_a_job_written_off_by_its_final_belief() -> None:
    """By hand: lead 1/4 x .8, pack 3/4 x .4, hence .2 to .3."""
    job = PastJob("Box", "written off", signs=("dead",))

    found = fault_shares(TABLE, job)

    assert found == pytest.approx({"lead": 0.4, "pack": 0.6, NOTHING_WRONG: 0.0})


def test_it_counts_no_fault_found_by_itself() -> None:
    jobs = [PastJob("Box", "no fault found")] * 10

    table = learned(TABLE, jobs).table

    assert table.nothing_wrong == pytest.approx(0.5)
    assert shares(table) == pytest.approx(shares(TABLE))


def test_it_learns_how_reliable_a_test_is() -> None:
    """Twenty cases of the table at .9, five own cases that read within limits."""
    jobs = [replace(LEAD, findings=(("volts", "within limits"),))] * 5

    row = learned(TABLE, jobs).table.tests["volts"].means["lead"]

    assert row == pytest.approx((20 * 0.9 / 25, (20 * 0.1 + 5) / 25, 0.0))


def test_it_learns_how_often_a_repair_mends() -> None:
    failed = replace(LEAD, findings=(("change lead", "still at fault"),))

    table = learned(TABLE, [LEAD] * 3 + [failed] * 2).table

    assert table.repairs["change lead"].mends["lead"] == pytest.approx(23 / 25)


def test_it_learns_what_a_sign_says() -> None:
    """Only jobs with a sign told count: one in two leads was dead."""
    quiet = replace(LEAD, signs=("hums",))

    table = learned(TABLE, [LEAD, quiet]).table

    assert table.signs["dead"].chances["lead"] == pytest.approx((16 + 1) / 22)


@pytest.mark.parametrize("words", ["DEAD", "no light", " No Light "])
def test_a_sign_told_in_a_phrase_or_another_case_is_that_sign(words) -> None:
    said = learned(TABLE, [replace(LEAD, signs=(words,))] * 4).table
    named = learned(TABLE, [LEAD] * 4).table

    assert named.signs == said.signs
    assert named.signs["dead"].chances["lead"] > TABLE.signs["dead"].chances["lead"]


def test_a_test_made_after_the_mending_says_nothing_of_the_fault() -> None:
    before = (("swap", "charges"),)
    proof = (("change lead", "mended"), ("swap", "as before"))

    found = learned(TABLE, [replace(LEAD, findings=(*before, *proof))] * 40).table
    plain = learned(TABLE, [replace(LEAD, findings=before)] * 40).table

    assert plain.tests == found.tests
    other = PastJob("Box", "mended", "", ("dead",), (*before, *proof))
    bare = replace(other, findings=before)
    assert fault_shares(TABLE, bare) == fault_shares(TABLE, other)
