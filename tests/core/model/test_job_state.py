"""A device has one state, one place and one holder, and never waits without a day."""

from datetime import date
from itertools import product

import pytest

from turnscrew.core.model.job_state import (
    ENDED,
    MAIN_STATES,
    SIDE_STATES,
    STATES,
    WAITING,
    Standing,
    lies_open,
    may_follow,
    next_main,
    refusals,
)

DAY = date(2027, 2, 3)


def at(state: str, main: str = "") -> Standing:
    main = main or (state if state in MAIN_STATES else "received")
    until = DAY if state in WAITING else None
    return Standing(state, "bench 1", "a1", until, main, "why")


def test_it_goes_the_whole_usual_way() -> None:
    before = None
    for state in MAIN_STATES:
        assert () == refusals(before, at(state))
        before = at(state)


@pytest.mark.parametrize("state", sorted(WAITING))
def test_it_refuses_to_wait_without_a_day(state) -> None:
    before = at("open")
    without_day = Standing(state, "bench 1", "a1", None, "open", "why")
    without_reason = Standing(state, "bench 1", "a1", DAY, "open", "  ")

    assert () == refusals(before, at(state, "open"))
    assert any("day: found none" in told for told in refusals(before, without_day))
    assert any("reason: found none" in t for t in refusals(before, without_reason))


def test_it_refuses_no_place_and_no_holder_both_at_once() -> None:
    nowhere = Standing("identified", " ", "", None, "identified")

    told = refusals(at("received"), nowhere)

    assert ["place", "holder"] == [one.split(":")[0] for one in told]


def test_it_never_leaves_an_ended_state_but_for_the_end_of_the_promise() -> None:
    for state in ENDED:
        wanted = ("promise over",) if state == "handed back" else ()
        assert wanted == may_follow(at(state, "packed"))


def test_it_hands_back_only_what_is_packed() -> None:
    before = [at(state) for state in MAIN_STATES]
    here = [state for state in MAIN_STATES if state not in ENDED]
    before += [at(side, main) for side, main in product(SIDE_STATES, here)]

    may = {one.state for one in before if "handed back" in may_follow(one)}

    assert {"packed"} == {state for state in may if state not in WAITING}
    for one in before:
        if one.state in WAITING and "handed back" in may_follow(one):
            assert "packed" == one.main


def test_it_closes_only_what_was_tested_open_or_takes_its_tests_back() -> None:
    may = {state for state in MAIN_STATES if "closed" in may_follow(at(state))}

    assert {"tested open", "closed", "final-tested", "charged and clean"} == may


def test_it_makes_no_donor_of_an_open_device() -> None:
    may = {state for state in MAIN_STATES if "donor" in may_follow(at(state))}

    assert set(MAIN_STATES[: MAIN_STATES.index("open")]) == may


def test_it_remembers_what_it_left_to_wait() -> None:
    waiting = at("awaiting part", "kitted")

    assert "kitted" == next_main(at("kitted"), "awaiting part")
    assert {"kitted", "open"} <= set(may_follow(waiting))
    assert "packed" not in may_follow(waiting)


def test_it_knows_every_state_in_one_order() -> None:
    assert len(STATES) == len(set(STATES))
    assert ("received",) == may_follow(None)


@pytest.mark.parametrize(
    ("state", "main", "wanted"),
    [
        ("open", "open", True), ("tested open", "tested open", True),
        ("parked open", "open", True), ("soaking", "open", True),
        ("isolated", "tested open", True), ("soaking", "kitted", False),
        ("closed", "closed", False), ("second look", "closed", False),
    ],
)  # fmt: skip
def test_it_lies_open_while_it_waits_too(state, main, wanted) -> None:
    assert wanted == lies_open(state, main)
