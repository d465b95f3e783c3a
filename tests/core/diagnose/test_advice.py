"""What is said to the person at the bench?"""

from dataclasses import replace
from datetime import date

import pytest

from core.diagnose.small_bench import LAYERING, TABLE
from example_files import example_text
from turnscrew.core.diagnose.answer import Leaf
from turnscrew.core.diagnose.at_the_action import no_power_words
from turnscrew.core.diagnose.entry import evidence_from
from turnscrew.core.diagnose.evidence import Belief, Evidence
from turnscrew.core.diagnose.pose import reaches_of
from turnscrew.core.model.faults import Fault, FaultTest, KnownGood
from turnscrew.errors import BadArgumentError
from turnscrew.files.device_file import read_device
from turnscrew.files.faults_file import read_faults
from turnscrew.flows.diagnosis import layering, next_step


def advice(*findings: str, signs=("dead",), table=TABLE, **kwargs):
    evidence = evidence_from(table, signs, findings)
    return next_step(table, LAYERING, evidence, "block", lambda: False, **kwargs)


def said(given) -> str:
    return " ".join((*given.why, *given.would_change))


def test_it_says_guess_only_when_base_priors_speak_alone() -> None:
    assert advice(signs=()).is_guess
    assert not advice().is_guess
    assert not advice(signs=(), is_learned=True).is_guess


def test_it_opens_for_what_is_inside() -> None:
    """With the lead excluded only the pack is left."""
    found = advice("swap=as before")

    assert ("change pack", ("pack",)) == (found.action, found.opens)
    assert any("Lithium" in caution for caution in found.cautions)


def test_it_asks_nothing_to_be_opened_that_is_open() -> None:
    found = advice("swap=as before", open_now=("pack",))

    assert () == found.opens
    assert found.answer.cost == pytest.approx(advice("swap=as before").answer.cost - 5)


def test_it_names_an_unknown_layer() -> None:
    with pytest.raises(BadArgumentError, match='wanted perhaps "pack"'):
        advice(open_now=("pak",))


def test_it_says_how_a_reading_is_made_and_by_what_it_is_judged() -> None:
    dear = replace(TABLE.tests["swap"], minutes=90)
    table = replace(
        TABLE,
        tests={**TABLE.tests, "swap": dear},
        repairs={
            name: replace(repair, minutes=40) for name, repair in TABLE.repairs.items()
        },
    )

    found = advice(table=table)

    assert ("volts", "fit_of") == (found.action, found.figure)
    assert "from 9 up to 11 V" in found.how
    assert any("licensed people" in caution for caution in found.cautions)


def test_it_names_the_known_good_item_with_its_day() -> None:
    item = KnownGood("a lead", date(2027, 1, 5), "Box 7")
    found = advice(table=replace(TABLE, known_good={"good lead": item}))

    assert "swap" == found.action
    assert ("good lead (a lead; verified 2027-01-05 on Box 7)",) == found.known_good


def test_it_leaves_a_test_out_whose_known_good_item_failed() -> None:
    item = KnownGood("a lead", failed=True)
    found = advice(table=replace(TABLE, known_good={"good lead": item}))

    assert {"swap": "known-good item withdrawn: good lead"} == found.left_out


def test_it_keeps_and_names_findings_that_clash() -> None:
    """The swap says lead for certain, the sure reading says it cannot be."""
    table = replace(
        TABLE,
        tests={
            **TABLE.tests,
            "volts": replace(
                TABLE.tests["volts"],
                means={
                    "lead": (1.0, 0.0, 0.0),
                    "others": (0.0, 1.0, 0.0),
                    "nothing wrong": (0.0, 1.0, 0.0),
                },
            ),
        },
    )

    found = advice("volts=within limits", "swap=charges", table=table)

    assert found.belief.is_floored
    assert "volts: within limits / swap: charges" in said(found)
    assert "0.005" in said(found)


def test_it_tells_the_four_states_apart() -> None:
    """Not tried leaves the test open; the others take it from the list."""
    left = {
        answer: {
            name
            for name in advice(f"swap={answer}").answer.values
            if name in TABLE.tests
        }
        for answer in ("not tried", "not applicable", "could not tell", "as before")
    }

    assert {"swap", "volts"} == left["not tried"]
    assert {"volts"} == left["not applicable"] == left["could not tell"]
    before = advice("swap=not applicable").belief.after
    assert before == pytest.approx(advice("swap=could not tell").belief.after)
    assert before != advice("swap=as before").belief.after


def test_it_is_the_same_whatever_was_asked_before() -> None:
    """Everything hangs on the list of findings alone."""
    one = advice("volts=low")
    advice("swap=as before")

    assert one == advice("volts=low")


def test_it_gives_up_in_words() -> None:
    found = advice(table=replace(TABLE, give_up=replace(TABLE.give_up, price=100)))

    assert "WRITE-OFF" == found.action
    assert "Giving up counts 1.00 of money" in said(found)


def test_it_says_what_the_runner_up_loses() -> None:
    found = advice()

    best = next(rival for rival in found.rivals if rival.may_help)
    assert best.loses_min >= 0
    assert f"Runner-up: {best.action}, {best.loses_min:.1f} min dearer" in said(found)


BLIND = FaultTest(
    minutes=0.2,
    outcomes=("grey", "green"),
    means={"others": (0.5, 0.5), "nothing wrong": (0.5, 0.5)},
)


@pytest.mark.parametrize("price", [3910, 10_000])
def test_it_names_no_runner_up_of_which_nothing_can_come(price) -> None:
    """Changing the pack takes 39 min; a test that tells nothing, and giving up."""
    table = replace(
        TABLE,
        faults={**TABLE.faults, "lead": replace(TABLE.faults["lead"], weight=0)},
        tests={"look at paint": BLIND},
        repairs={"change pack": TABLE.repairs["change pack"]},
        give_up=replace(TABLE.give_up, price=price),
    )

    found = advice(signs=(), table=table)

    assert "change pack" == found.action
    assert found.rivals
    assert not [rival for rival in found.rivals if rival.may_help]
    assert "Runner-up" not in said(found)
    assert "may well come first" not in said(found)


def test_a_test_that_tells_of_what_hardly_can_be_is_no_runner_up() -> None:
    """Whatever the paint shows, the pack is changed next: its minute is lost."""
    rare = replace(BLIND, means={**BLIND.means, "lead": (0.9, 0.1)})
    table = replace(
        TABLE,
        faults={**TABLE.faults, "lead": replace(TABLE.faults["lead"], weight=0.001)},
        tests={"look at paint": rare},
        repairs={"change pack": TABLE.repairs["change pack"]},
    )

    found = advice(signs=(), table=table)

    (paint,) = [rival for rival in found.rivals if rival.action == "look at paint"]
    assert 0.2 == pytest.approx(paint.loses_min)
    assert not paint.may_help
    assert "look at paint" not in said(found)


def test_it_says_what_comes_to_the_end() -> None:
    figures = advice().figures

    assert figures.cost == pytest.approx(advice().answer.cost)
    assert 0 < figures.p_unopened < figures.p_works <= 1


def test_it_holds_without_any_evidence() -> None:
    found = next_step(TABLE, LAYERING, Evidence(), "each", lambda: False)

    assert "optimal" == found.answer.status


def test_it_says_what_would_change_it() -> None:
    """With the pack a third as likely the other way of beginning wins, or none does."""
    found = advice(asks_change=True)

    assert found.would_change
    assert all(words.startswith(("If ", "Three times")) for words in found.would_change)
    assert () == advice().would_change


def test_it_leaves_a_near_tie_with_giving_up_to_the_worth_of_the_device() -> None:
    """Changing the pack takes 4 + 20 + 12 + 3 = 39 min; giving up 38.9."""
    repairs = {"change pack": TABLE.repairs["change pack"]}
    faults = {
        "lead": replace(TABLE.faults["lead"], weight=0),
        "pack": TABLE.faults["pack"],
    }
    table = replace(
        TABLE,
        faults=faults,
        repairs=repairs,
        give_up=replace(TABLE.give_up, price=3890),
    )

    found = advice(signs=(), table=table)

    assert "WRITE-OFF" == found.action
    assert "change pack is as good within what the figures can tell" in said(found)


def test_who_works_inside_is_warned_whether_or_not_it_is_open_already() -> None:
    shut = advice("swap=as before")
    open_now = advice("swap=as before", open_now=("pack",))

    assert () == open_now.opens
    assert shut.cautions == open_now.cautions
    assert any("Static" in caution for caution in open_now.cautions)


def test_a_fault_that_forbids_power_is_named_however_many_share_it() -> None:
    small = {f"wet {k}": 0.012 for k in range(3)}
    wet = {name: Fault(1.2, no_power=True) for name in small}
    table = replace(TABLE, faults=TABLE.faults | wet)
    after = {"lead": 0.0, "pack": 0.964, **small}
    belief = Belief(after, after, {}, (), is_floored=False)

    (words,) = no_power_words(table, belief, Evidence(), Leaf("written off", 0.0))
    assert words.endswith("excluded: wet 0 1 %.")


@pytest.mark.parametrize("mode", ["each", "block", "free"])
def test_it_checks_out_a_device_of_which_every_fault_is_excluded(mode) -> None:
    """Nobody could tell of two repairs that mend for sure: it works, if anything."""
    table = replace(TABLE, nothing_wrong=0.1)
    made = ("change lead=could not tell", "change pack=could not tell")
    evidence = evidence_from(table, (), made)

    found = next_step(table, LAYERING, evidence, mode, lambda: False)

    assert "VERIFY" == found.action
    assert 3.0 == pytest.approx(found.answer.cost)
    assert "optimal" == found.answer.status


def test_findings_that_exclude_everything_together_are_all_looked_at_again() -> None:
    """Each excludes one fault: no two of them all, the three together do."""
    row = {"a": (1.0, 0.0), "b": (1.0, 0.0), "c": (1.0, 0.0)}
    tests = {
        f"not {fault}": FaultTest(
            minutes=1,
            outcomes=("no", "yes"),
            means={**row, fault: (0.0, 1.0), "nothing wrong": (1.0, 0.0)},
        )
        for fault in row
    }
    faults = {fault: Fault(1.0) for fault in row}
    table = replace(TABLE, faults=faults, signs={}, tests=tests, repairs={})

    found = advice("not a=no", "not b=no", "not c=no", signs=(), table=table)

    assert found.belief.is_floored
    assert "look at them again first" in said(found)


def test_no_action_of_the_advised_block_is_told_as_a_change_of_it() -> None:
    """The contacts are cleaned and the plug changed before one check-out."""
    table = read_faults(example_text("tavistle-v80.faults.yaml"))
    device = read_device(example_text("tavistle-v80.device.yaml"))
    layers = layering({"": (device, 1.0)}, reaches_of(table), lambda: False)
    found = ("look over=nothing seen", "gap at the edge=0.1 mm",
             "other charger=as before")  # fmt: skip
    evidence = evidence_from(table, ("will not charge",), found)

    advised = next_step(
        table, layers, evidence, "block", lambda: True, asks_change=True
    )

    assert advised.block
    for action in (advised.action, *advised.block):
        assert not any(words.endswith(f": {action}.") for words in advised.would_change)
