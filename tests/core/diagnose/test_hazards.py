"""May the device be switched on or charged yet?"""

from dataclasses import replace
from pathlib import Path

import pytest

from core.diagnose.small_bench import LAYERING, TABLE
from turnscrew.core.diagnose.answer import Step
from turnscrew.core.diagnose.check import faults_in
from turnscrew.core.diagnose.entry import evidence_from, finding_from
from turnscrew.core.diagnose.evidence import Evidence
from turnscrew.core.diagnose.hazards import (
    faults_without_power,
    look_first,
    looks_without_word,
    p_no_power,
    powers,
)
from turnscrew.core.diagnose.pose import reaches_of
from turnscrew.core.diagnose.problem import (
    MODES,
    DiagnosisProblem,
    Repair,
    Verification,
    WriteOff,
)
from turnscrew.core.diagnose.problem import Test as Look
from turnscrew.core.diagnose.solve import solve
from turnscrew.core.model.faults import Fault, FaultRepair, FaultTest, Reading
from turnscrew.errors import BadArgumentError
from turnscrew.files.device_file import read_device
from turnscrew.files.faults_file import read_faults
from turnscrew.flows.diagnosis import layering, next_step

SALLOWMERE = Path(__file__).resolve().parents[3] / "examples" / "sallowmere"

LOOK = FaultTest(
    minutes=9,
    outcomes=("wet", "dry"),
    means={"wet": (0.95, 0.05), "others": (0.02, 0.98), "nothing wrong": (0.01, 0.99)},
)


def table(weight: float):
    """The small bench with liquid that may be inside, and a slow look for it."""
    tests = {name: replace(test, powers=True) for name, test in TABLE.tests.items()}
    return replace(
        TABLE,
        faults={**TABLE.faults, "wet": Fault(weight, no_power=True)},
        tests={**tests, "look": LOOK},
        repairs={**TABLE.repairs, "dry": FaultRepair(minutes=5, mends={"wet": 0.5})},
    )


def advice(weight: float, *findings: str):
    given = table(weight)
    evidence = evidence_from(given, (), findings)
    return next_step(given, LAYERING, evidence, "block", lambda: False)


def test_it_looks_before_it_powers_while_liquid_is_possible() -> None:
    """One in nine: the quick swap would be cheaper, and would power the device."""
    found = advice(0.5)

    assert "look" == found.action
    assert isinstance(found.answer.policy, Step)
    assert {"wet", "dry"} == {name for name, _, _ in found.answer.policy.branches}
    assert any("Do not switch on" in words for words in found.cautions)


def test_it_powers_once_liquid_is_excluded() -> None:
    found = advice(0.5, "look=dry")

    assert "swap" == found.action
    assert not any("Do not switch on" in words for words in found.cautions)


def test_it_looks_before_a_repair_that_a_check_out_must_judge() -> None:
    """The lead is the likeliest cause; whether it mends is seen only by powering."""
    given = table(0.5)
    lead = {**given.faults, "lead": Fault(9.0)}
    given = replace(given, faults=lead, tests={"look": LOOK})

    found = next_step(given, LAYERING, Evidence(), "block", lambda: False)

    assert 0.03 < p_no_power(given, found.belief.after, Evidence()) < 0.1
    assert "look" == found.action


def test_it_says_to_watch_where_it_powers_and_no_look_is_left() -> None:
    given = table(0.5)
    tests = {name: test for name, test in given.tests.items() if name != "look"}
    given = replace(given, tests=tests)

    found = next_step(given, LAYERING, Evidence(), "block", lambda: False)

    assert "swap" == found.action
    assert not any("Do not switch on" in words for words in found.cautions)
    assert any("Power only by somebody signed off" in words for words in found.cautions)


@pytest.mark.parametrize("word", ["could not tell", "not applicable"])
def test_what_a_look_could_not_tell_is_not_excluded(word) -> None:
    before, found = advice(0.5), advice(0.5, f"look={word}")

    given = table(0.5)
    evidence = evidence_from(given, (), (f"look={word}",))
    assert 0.03 < p_no_power(given, found.belief.after, evidence) < 0.3
    assert ("look",) == looks_without_word(given, found.belief.after, evidence)
    # Nothing that powers is left, where another answer of the look would allow it.
    assert {"swap", "volts"} == set(found.left_out)
    assert "while wet is not excluded" in found.left_out["swap"]
    assert found.action not in ("swap", "volts", "VERIFY")
    assert "look" == before.action and not before.left_out
    assert any("Nothing was told by: look. Have it" in one for one in found.cautions)


def test_only_a_look_that_could_have_told_counts_among_those_without_a_word() -> None:
    given = table(0.5)
    belief = {"lead": 0.2, "pack": 0.7, "wet": 0.1, "nothing wrong": 0.0}
    evidence = evidence_from(given, (), ("look=could not tell", "volts=could not tell"))

    # What powers it is no look, whatever it would have told.
    assert ("look",) == looks_without_word(given, belief, evidence)
    same = {name: (0.5, 0.5) for name in ("wet", "others", "nothing wrong")}
    blind = replace(given, tests={**given.tests, "look": replace(LOOK, means=same)})
    assert () == looks_without_word(blind, belief, evidence)


def test_a_look_not_tried_is_still_open() -> None:
    assert "look" == advice(0.5, "look=not tried").action


def test_what_powers_a_device_says_what_a_pack_must_not_meet() -> None:
    found = advice(0.02)

    assert powers(table(0.02), found.action)
    assert any(words.startswith("Lithium pack:") for words in found.cautions)


def test_it_looks_for_a_little_liquid_where_the_look_tells_less_surely() -> None:
    """Dead keys and liquid both leave traces: the look parts them by a quarter."""
    given = read_faults((SALLOWMERE / "pellorin-l240.faults.yaml").read_text("utf-8"))
    device = read_device((SALLOWMERE / "pellorin-l240.device.yaml").read_text("utf-8"))
    layers = layering({"": (device, 1.0)}, reaches_of(given), lambda: False)
    evidence = evidence_from(given, ("keys do nothing",), ())

    found = next_step(given, layers, evidence, "block", lambda: True)

    assert "look over" == found.action


def test_it_leaves_out_what_powers_while_liquid_is_likely() -> None:
    found = advice(0.5, "look=wet")

    assert {"swap", "volts"} == set(found.left_out)
    assert "while wet is likely" in found.left_out["swap"]


def test_it_does_not_look_for_what_hardly_can_be() -> None:
    assert "look" != advice(0.02).action


def test_it_chooses_only_a_look_that_tells() -> None:
    blind = replace(
        LOOK,
        means={"wet": (0.5, 0.5), "others": (0.4, 0.6), "nothing wrong": (0.4, 0.6)},
    )
    given = table(0.5)
    belief = {"lead": 0.2, "pack": 0.7, "wet": 0.1, "nothing wrong": 0.0}

    assert 0.1 == pytest.approx(p_no_power(given, belief, Evidence()))
    assert "look" == look_first(given, belief, Evidence(), ("look", "swap"))
    given = replace(given, tests={**given.tests, "look": blind})
    assert "" == look_first(given, belief, Evidence(), ("look", "swap"))


@pytest.mark.parametrize("said", ["-9.5 V", "400 V"])
def test_it_takes_no_reading_that_cannot_be(said) -> None:
    reading = Reading("V", low=9, high=11, least=-1, most=60, beyond="stop")
    volts = replace(TABLE.tests["volts"], reading=reading)

    with pytest.raises(BadArgumentError, match="stop"):
        finding_from(
            replace(TABLE, tests={**TABLE.tests, "volts": volts}), f"volts={said}"
        )


def test_it_does_not_switch_on_to_see_whether_a_wet_device_works() -> None:
    given = replace(table(0.5), nothing_wrong=0.9)
    evidence = evidence_from(given, (), ("look=wet",))

    found = next_step(given, LAYERING, evidence, "block", lambda: False)

    assert "VERIFY" != found.action
    assert "VERIFY" not in found.answer.values


def test_work_on_something_else_does_not_let_it_be_switched_on() -> None:
    """A lead changed in a minute says nothing of the liquid beside it."""
    wet = advice(0.5, "look=wet")
    lead = advice(0.5, "look=wet", "change lead=still at fault")

    for found in (wet, lead):
        for path in _paths(found.answer.policy):
            powered = {"VERIFY", "swap", "volts"} & {*path}
            first = min((path.index(name) for name in powered), default=len(path))
            assert "dry" in path[:first] or not powered, path
    assert "swap" in lead.left_out
    assert any("Do not switch on" in words for words in lead.cautions)


def test_work_on_the_liquid_lets_it_be_switched_on_though_it_may_not_have_mended():
    found = advice(0.5, "look=wet", "dry=still at fault")

    assert 0.3 < p_no_power(
        table(0.5), {"wet": 0.4}, evidence_from(table(0.5), (), ("look=wet",))
    )
    assert {} == found.left_out
    assert not any("Do not switch on" in words for words in found.cautions)


@pytest.mark.parametrize("word", ["could not tell", "still at fault"])
def test_a_look_after_the_work_that_shows_liquid_bars_power_again(word) -> None:
    found = advice(0.5, f"dry={word}", "look=wet")

    assert "swap" in found.left_out
    assert any("Do not switch on" in words for words in found.cautions)
    for path in _paths(found.answer.policy):
        assert not {"VERIFY", "swap", "volts"} & {*path}


def test_a_look_after_the_work_that_shows_none_leaves_power_on() -> None:
    found = advice(0.5, "look=wet", "dry=could not tell", "volts=10 V")

    assert {} == found.left_out


def test_only_the_last_work_on_a_fault_counts() -> None:
    given = replace(table(0.5), nothing_wrong=0.1)
    shown = evidence_from(given, (), ("dry=still at fault", "look=wet"))
    again = evidence_from(
        given, (), ("dry=still at fault", "look=wet", "dry=still at fault")
    )

    assert ("wet",) == faults_without_power(given, shown)
    assert () == faults_without_power(given, again)


@pytest.mark.parametrize("word", ["not tried", "not applicable"])
def test_work_that_was_not_done_lets_nothing_be_switched_on(word) -> None:
    assert "swap" in advice(0.5, "look=wet", f"dry={word}").left_out


def test_a_look_inside_the_plan_that_shows_liquid_keeps_power_off_there() -> None:
    """Before the look nothing is likely; the branch where it shows is barred."""
    policy = advice(0.5).answer.policy

    assert isinstance(policy, Step)
    assert "look" == policy.action
    wet = next(rest for name, _, rest in policy.branches if name == "wet")
    assert all(
        path[:1] in ([], ["dry"], ["change lead"], ["change pack"])
        for path in _paths(wet)
    )


def _paths(policy) -> list[list[str]]:
    """Every way down a strategy, as the actions met."""
    if not isinstance(policy, Step):
        return [[]]
    return [
        [policy.action, *rest]
        for _, _, below in policy.branches
        for rest in _paths(below)
    ]


def test_an_odd_table_has_a_plan_that_the_checker_takes() -> None:
    """A test excludes the only fault that a repair mends; the repair unlocks naught."""
    problem = DiagnosisProblem(
        faults={"a": 0.5, "wet": 0.4, "c": 0.1},
        nodes=(),
        tests=(
            Look("see c", 1, ("c", "not c"),
                 {"a": (0.0, 1.0), "wet": (0.0, 1.0), "c": (1.0, 0.0)}, (0.0, 1.0)),
        ),
        repairs=(Repair("mend c", 1, {"c": 1.0}), Repair("mend a", 9, {"a": 1.0})),
        verification=Verification(1),
        write_off=WriteOff(200),
        no_power=("wet",),
        power_limit=0.3,
    )  # fmt: skip

    for mode in MODES:
        found = solve(problem, mode, lambda: False, wants_policy=True)

        assert "optimal" == found.status
        assert found.policy is not None
        assert () == faults_in(problem, found.policy, mode, found.cost)
        for path in _paths(found.policy):
            assert "VERIFY" not in path or path[:2] == ["see c", "mend c"]


def test_a_look_with_the_case_shut_comes_first_on_an_open_device_too() -> None:
    given = table(0.5)
    shut = {**given.tests, "look": replace(LOOK, closed=True)}
    given = replace(given, tests=shut)

    found = next_step(
        given, LAYERING, Evidence(), "block", lambda: False, open_now=("pack",)
    )

    assert ("look", ("pack",)) == (found.action, found.closes)
    assert not any("never opened" in words for words in found.why)


def test_nothing_is_given_up_for_liquid_that_nobody_has_looked_for() -> None:
    """The time is too short to find that a look of a minute pays."""
    given = read_faults((SALLOWMERE / "tavistle-v80.faults.yaml").read_text("utf-8"))
    device = read_device((SALLOWMERE / "tavistle-v80.device.yaml").read_text("utf-8"))
    layers = layering({"": (device, 1.0)}, reaches_of(given), lambda: False)
    evidence = evidence_from(given, ("dead after rinse",), ())

    found = next_step(given, layers, evidence, "block", lambda: True)

    assert "look over" == found.action
    assert found.answer.cost < 1.01 * given.give_up.minutes + 60 * (
        given.give_up.price / given.rate
    )


def test_a_look_after_findings_that_exclude_everything_is_taken_by_the_checker():
    """What was put in place of 0 is not put in place of the look's own 0 again."""
    given = table(0.5)
    smell = replace(LOOK, means={"wet": (1.0, 0.0), "others": (0.0, 1.0),
                                 "nothing wrong": (0.0, 1.0)})  # fmt: skip
    sure = replace(smell, minutes=5)
    given = replace(given, tests={**given.tests, "look": sure, "smell": smell})
    findings = ("smell=dry", "change lead=still at fault", "change pack=still at fault")
    evidence = evidence_from(given, (), findings)

    found = next_step(given, LAYERING, evidence, "block", lambda: False)

    assert found.belief.is_floored
    assert "look" == found.action
    assert isinstance(found.answer.policy, Step)
    chances = {name: p for name, p, _ in found.answer.policy.branches}
    assert chances["wet"] == pytest.approx(found.belief.after["wet"])
