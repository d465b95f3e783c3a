"""What do signs and findings say about the faults?"""

from dataclasses import replace
from math import erf, sqrt

import pytest

from core.diagnose.small_bench import TABLE
from turnscrew.core.diagnose.evidence import (
    CANNOT_TELL,
    FLOOR,
    NOT_APPLICABLE,
    NOT_TRIED,
    Evidence,
    Finding,
    belief_after,
    shares_of_reading,
)
from turnscrew.core.model.faults import NOTHING_WRONG, Reading

WEIGHTS = TABLE.weights
VOLTS = TABLE.tests["volts"].reading
assert VOLTS is not None


def after(*findings: Finding, signs=(), table=TABLE) -> dict[str, float]:
    return belief_after(table, WEIGHTS, Evidence(signs, findings)).after


def test_it_multiplies_prior_sign_and_finding() -> None:
    """By hand: lead 1/4 x .8 x .9, pack 3/4 x .4 x .1."""
    found = after(Finding("volts", "low"), signs=("dead",))

    lead, pack = 0.25 * 0.8 * 0.9, 0.75 * 0.4 * 0.1
    assert found["lead"] == pytest.approx(lead / (lead + pack))
    assert 1.0 == pytest.approx(sum(found.values()))


def test_it_keeps_a_share_for_nothing_wrong() -> None:
    table = replace(TABLE, nothing_wrong=0.2)

    assert {"lead": 0.2, "pack": 0.6, NOTHING_WRONG: 0.2} == pytest.approx(
        after(table=table)
    )
    assert (
        0 == after(Finding("check-out", "still at fault"), table=table)[NOTHING_WRONG]
    )


def test_it_takes_a_repair_that_did_not_mend_as_evidence() -> None:
    """Mends lead for certain: so it was not the lead."""
    assert 1.0 == pytest.approx(after(Finding("change lead", "still at fault"))["pack"])


def test_it_takes_a_repair_that_mends_most_as_weaker_evidence() -> None:
    """By hand: pack 3/4 x (1 - 0.8) = 0.15 beside lead 1/4."""
    weaker = replace(TABLE.repairs["change pack"], mends={"pack": 0.8})
    table = replace(TABLE, repairs={**TABLE.repairs, "change pack": weaker})

    found = after(Finding("change pack", "still at fault"), table=table)

    assert 0.15 / 0.40 == pytest.approx(found["pack"])


def test_it_does_not_care_in_which_order_findings_came() -> None:
    one, two = Finding("volts", "low"), Finding("swap", "charges")
    table = replace(TABLE, nothing_wrong=0.1)

    assert after(one, two, table=table) == pytest.approx(after(two, one, table=table))


def test_it_takes_passed_for_a_finding_unlike_the_three_others() -> None:
    """By hand within limits: lead 1/4 x .1, pack 3/4 x .9."""
    passed = after(Finding("volts", "within limits"))

    assert 0.025 / (0.025 + 0.675) == pytest.approx(passed["lead"])
    assert passed != pytest.approx(after(Finding("volts", NOT_APPLICABLE)))


def test_it_knows_that_an_answer_without_a_word_is_no_evidence() -> None:
    silent = tuple(Finding("volts", w) for w in (NOT_TRIED, CANNOT_TELL))

    assert Evidence((), silent).is_none
    assert not Evidence((), (*silent, Finding("swap", "as before"))).is_none


@pytest.mark.parametrize("word", [NOT_TRIED, NOT_APPLICABLE, CANNOT_TELL])
def test_it_learns_nothing_from_a_test_without_a_result(word) -> None:
    assert after() == after(Finding("volts", word))


def test_it_weighs_the_outcomes_of_a_reading_at_its_limit() -> None:
    """At 9.0 V half the true values lie below: .5 x .9 + .5 x .1 for the lead."""
    found = after(Finding("volts", "within limits", 9.0))

    lead, pack = 0.25 * 0.5, 0.75 * 0.5
    assert found["lead"] == pytest.approx(lead / (lead + pack), abs=1e-9)


@pytest.mark.parametrize("value", [8.0, 8.9, 9.0, 10.0, 10.95, 11.4])
def test_it_shares_a_reading_among_the_sides_of_its_limits(value) -> None:
    """Standard uncertainty a / sqrt(3), GUM 4.3.7 (JCGM 100:2008, from memory)."""
    shares = shares_of_reading(VOLTS, value)

    u = 0.3 / sqrt(3)
    below = 0.5 * (1 + erf((9.0 - value) / (u * sqrt(2))))
    assert 1.0 == pytest.approx(sum(shares))
    assert below == pytest.approx(shares[0])


def test_it_meets_a_two_sided_conformance_by_hand() -> None:
    """Limits two u from the reading on both sides: 0.9545 within (normal table)."""
    u = 0.1
    reading = Reading("V", low=4.8, high=5.2, plus=u * sqrt(3))

    assert 0.9545 == pytest.approx(shares_of_reading(reading, 5.0)[1], abs=1e-4)


def test_it_agrees_with_a_published_conformance_probability() -> None:
    """
    Breakdown voltage at most -5.40 V, estimate -5.47 V, u 0.05 V: 0.92.

    JCGM 106:2012, example in section 7 (from memory).
    """
    reading = Reading("V", high=-5.40, plus=0.05 * sqrt(3))

    below, within, above = shares_of_reading(reading, -5.47)

    assert (0.0, 0.92, 0.08) == (below, round(within, 2), round(above, 2))


@pytest.mark.parametrize("value", [-40.0, 40.0])
def test_it_takes_the_accuracy_of_a_reading_without_its_sign(value) -> None:
    """1 % of 40 is a half width of 0.4; at a limit one half lies on each side."""
    reading = Reading("V", low=value, percent=1.0)
    u = 0.4 / sqrt(3)

    assert (0.5, 0.5, 0.0) == pytest.approx(shares_of_reading(reading, value))
    assert 0.8413 == pytest.approx(shares_of_reading(reading, value - u)[0], abs=5e-3)


def test_it_judges_a_perfect_meter_by_the_limit_alone() -> None:
    reading = Reading("V", low=9.0)

    assert (1.0, 0.0, 0.0) == shares_of_reading(reading, 8.999)
    assert (0.0, 1.0, 0.0) == shares_of_reading(reading, 9.0)


def test_it_names_two_findings_that_clash() -> None:
    evidence = Evidence((), (Finding("volts", "low"), Finding("swap", "as before")))

    found = belief_after(TABLE, WEIGHTS, evidence)

    assert not found.is_floored
    assert () == found.clashes
    lead_alone = replace(TABLE.tests["volts"], means={
        "lead": (1.0, 0.0, 0.0), "others": (0.01, 0.99, 0.0),
        NOTHING_WRONG: (0.0, 1.0, 0.0),
    })  # fmt: skip
    table = replace(TABLE, tests={**TABLE.tests, "volts": lead_alone})
    found = belief_after(table, WEIGHTS, evidence)
    assert (("volts: low", "swap: as before"),) == found.clashes


def test_it_puts_a_floor_under_chances_only_if_all_is_excluded() -> None:
    """Lead excluded by the swap, pack by the failed repair."""
    findings = (Finding("swap", "as before"), Finding("change pack", "still at fault"))

    found = belief_after(TABLE, WEIGHTS, Evidence((), findings))

    assert found.is_floored
    assert 0.25 * FLOOR / (0.25 * FLOOR + 0.75 * FLOOR) == pytest.approx(
        found.after["lead"], abs=1e-9
    )


def test_it_keeps_an_excluded_fault_excluded_while_another_is_left() -> None:
    found = belief_after(TABLE, WEIGHTS, Evidence((), (Finding("swap", "as before"),)))

    assert (False, 0.0, 1.0) == (
        found.is_floored,
        found.after["lead"],
        found.after["pack"],
    )


def test_it_says_before_and_after() -> None:
    found = belief_after(TABLE, WEIGHTS, Evidence(("dead",)))

    assert {"lead": 0.25, "pack": 0.75, NOTHING_WRONG: 0.0} == found.before
    assert 0.4 == pytest.approx(found.after["lead"])


def test_it_names_two_answers_of_one_test_as_a_clash() -> None:
    findings = (Finding("volts", "low"), Finding("volts", "within limits"))

    found = belief_after(TABLE, WEIGHTS, Evidence((), findings))

    assert (("volts: low", "volts: within limits"),) == found.clashes


def test_a_repair_nobody_could_tell_of_may_have_mended() -> None:
    """By hand: mends 3 of 4 packs; lead .25, pack .75 x .25, the rest works."""
    half = replace(TABLE.repairs["change pack"], mends={"pack": 0.75})
    table = replace(TABLE, repairs={**TABLE.repairs, "change pack": half})
    made = Finding("change pack", "could not tell")

    def after(*findings: Finding) -> dict[str, float]:
        return belief_after(table, WEIGHTS, Evidence((), findings)).after

    assert {"lead": 0.25, "pack": 0.1875, "nothing wrong": 0.5625} == after(made)
    # Switched on and still at fault is what the repair would have said by itself.
    told = after(Finding("change pack", "still at fault"))
    assert told == pytest.approx(after(made, Finding("check-out", "still at fault")))


def test_what_a_repair_may_have_mended_is_judged_by_what_came_after_it() -> None:
    """Low volts: lead .9, pack .1, works 0; before the repair and after it, by hand."""
    volts, made = Finding("volts", "low"), Finding("change lead", "could not tell")

    first = belief_after(TABLE, WEIGHTS, Evidence((), (volts, made))).after
    last = belief_after(TABLE, WEIGHTS, Evidence((), (made, volts))).after

    assert {"lead": 0, "pack": 0.25, "nothing wrong": 0.75} == pytest.approx(first)
    assert {"lead": 0, "pack": 1, "nothing wrong": 0} == pytest.approx(last)


def half_mended(*findings: Finding) -> dict[str, float]:
    """Give the chances where the pack's exchange mends three of four packs."""
    half = replace(TABLE.repairs["change pack"], mends={"pack": 0.75})
    table = replace(
        TABLE, nothing_wrong=0.2, repairs={**TABLE.repairs, "change pack": half}
    )
    return belief_after(table, WEIGHTS, Evidence((), findings)).after


def test_a_check_out_that_failed_before_and_after_a_repair_speaks_twice() -> None:
    made = Finding("change pack", "could not tell")
    failed = Finding("check-out", "still at fault")

    last = half_mended(failed, made, failed)

    assert 0.0 == last["nothing wrong"]
    assert half_mended(made, failed) == pytest.approx(last)
    assert half_mended(failed, failed) == half_mended(failed)


def test_a_test_said_again_after_a_repair_speaks_of_what_it_mended_only() -> None:
    """By hand: low volts are .1 with the pack and 0 where all works, here 1 in 2."""
    even = replace(
        TABLE.tests["volts"],
        means={"lead": (0.9, 0.1, 0.0), "others": (0.1, 0.9, 0.0),
               "nothing wrong": (0.5, 0.5, 0.0)},
    )  # fmt: skip
    table = replace(TABLE, nothing_wrong=0.2, tests={**TABLE.tests, "volts": even})
    half = replace(TABLE.repairs["change pack"], mends={"pack": 0.75})
    table = replace(table, repairs={**TABLE.repairs, "change pack": half})
    low, made = Finding("volts", "low"), Finding("change pack", "could not tell")

    found = belief_after(table, WEIGHTS, Evidence((), (low, made, low))).after

    lead, pack, mended = 0.2 * 0.9, 0.6 * 0.1 * 0.25, 0.6 * 0.1 * 0.75 * 0.5
    works = 0.2 * 0.5 + mended
    mass = lead + pack + works
    assert found == pytest.approx(
        {"lead": lead / mass, "pack": pack / mass, "nothing wrong": works / mass}
    )


def test_a_repair_of_which_somebody_could_tell_later_was_tried_once() -> None:
    made = Finding("change pack", "could not tell")
    failed = Finding("change pack", "still at fault")

    assert half_mended(failed) == pytest.approx(half_mended(made, failed))
    assert half_mended(failed) == half_mended(failed, made)
    assert half_mended(made) == half_mended(made, made)


def test_of_a_reading_taken_again_the_last_one_counts() -> None:
    first, last = Finding("volts", "low", 8.0), Finding("volts", "low", 8.9)
    other = Finding("swap", "charges")
    belief = belief_after(TABLE, WEIGHTS, Evidence((), (first, other, last)))

    assert after(last, other) == pytest.approx(belief.after)
    assert after(first) == pytest.approx(after(last, first))
    assert () == belief.clashes
    failed = Finding("change lead", "still at fault")
    assert after(failed, last) == pytest.approx(after(first, failed, last))


def test_a_reading_after_what_may_have_mended_stands_beside_the_one_before() -> None:
    first, last = Finding("volts", "low", 8.0), Finding("volts", "low", 10.0)
    made = Finding("change pack", CANNOT_TELL)

    assert after(made, last) != pytest.approx(after(first, made, last))
