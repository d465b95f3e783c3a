"""Is a comeback told from another fault, another device and an old job?"""

from datetime import date

import pytest

from small_batch import TERMS, line
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.price.comeback import FRESH_DAMAGE, comeback_of, past_words

PASSED = (("function check-out", "passed"),)


def job(**facts) -> PastJob:
    usual = {
        "family": "N", "end": "mended", "confirmed": "KBD", "serial": "A001",
        "asset": "X001", "day": date(2026, 12, 26), "findings": PASSED,
        "parts": ("KEYS",),
    }  # fmt: skip
    return PastJob(**(usual | facts))


def test_the_same_fault_within_the_promise_is_free() -> None:
    found = comeback_of(line(), [job()], TERMS)

    assert found is not None
    assert (37, "part", True) == (found.days, found.stands_as, found.is_free)
    assert "37 days ago" in found.reason
    assert "mended by this workshop (keys dead with KEYS)" in found.reason


@pytest.mark.parametrize(
    ("facts", "proposed", "is_free"),
    [
        ({"confirmed": "FAN"}, "other", False),
        ({"day": date(2026, 10, 1)}, "part", False),
        ({"day": date(2026, 11, 3)}, "part", True),
        ({"day": date(2026, 11, 2)}, "part", False),
        ({"findings": ()}, "ours", True),
        ({"findings": (("function check-out", "failed"),)}, "ours", True),
        ({"findings": (("display", "passed"),)}, "ours", True),
        ({"parts": ()}, "ours", True),
        ({"end": "written off"}, "part", False),
        ({"end": "not mended"}, "part", False),
        ({"confirmed": "FAN", "besides": ("KBD",)}, "part", True),
        ({"confirmed": "FAN", "besides": ("KBD",), "left": ("KBD",)}, "other", False),
    ],
)
def test_its_class_follows_from_the_past(facts, proposed, is_free) -> None:
    found = comeback_of(line(), [job(**facts)], TERMS)

    assert found is not None
    assert (proposed, is_free) == (found.stands_as, found.is_free)


def test_fresh_damage_points_to_the_user_and_is_not_free() -> None:
    found = comeback_of(line(remarks="frame bent by 3 mm"), [job()], TERMS)

    assert found is not None
    assert ("user", True, False) == (found.stands_as, found.is_claim, found.is_free)


@pytest.mark.parametrize(
    ("settled", "past", "remarks", "is_free"),
    [
        ("user", {}, "", False),
        ("other", {}, "", False),
        ("ours", {}, "frame bent by 3 mm", True),
        ("part", {"confirmed": "FAN"}, "", True),
        ("ours", {"day": date(2026, 1, 2)}, "", True),
        ("user", {"confirmed": "FAN"}, "", False),
    ],
)
def test_what_the_lead_settled_stands(settled, past, remarks, is_free) -> None:
    came = line(remarks=remarks, comeback_class=settled)
    found = comeback_of(came, [job(**past)], TERMS)

    assert found is not None
    assert (settled, is_free) == (found.stands_as, found.is_free)
    assert "; settled by the lead; " in found.reason


@pytest.mark.parametrize("word", FRESH_DAMAGE)
def test_each_stated_word_points_to_the_user(word: str) -> None:
    found = comeback_of(line(remarks=f"Lid {word.upper()}, left side"), [job()], TERMS)

    assert found is not None
    assert "user" == found.stands_as
    assert found.reason.endswith(f"fresh damage: {word}")


@pytest.mark.parametrize(
    "remarks",
    [
        "", "absentbentness", "wetted label", "not bent", "no liquid inside",
        "corner fine", "uncracked", "holds somebody's card",
    ],
)  # fmt: skip
def test_other_words_and_denied_ones_do_not(remarks: str) -> None:
    found = comeback_of(line(remarks=remarks), [job()], TERMS)

    assert found is not None
    assert "part" == found.stands_as


def test_a_word_that_stood_at_hand_back_is_not_fresh() -> None:
    before = (("body look", "frame bent by 3 mm as received"), *PASSED)

    same = comeback_of(line(remarks="frame bent"), [job(findings=before)], TERMS)
    more = comeback_of(
        line(remarks="frame bent, lid cracked"), [job(findings=before)], TERMS
    )

    assert same is not None
    assert more is not None
    assert ("part", "user") == (same.stands_as, more.stands_as)
    assert more.reason.endswith("fresh damage: cracked")


def test_liquid_found_now_points_to_the_user_unless_it_was_there() -> None:
    fresh = comeback_of(line(found="KBD+LIQ"), [job()], TERMS)
    old = comeback_of(line(found="LIQ"), [job(confirmed="LIQ", parts=())], TERMS)

    assert fresh is not None
    assert old is not None
    assert ("user", "ours") == (fresh.stands_as, old.stands_as)


@pytest.mark.parametrize(
    "facts", [{"serial": "B777"}, {"day": None}, {"day": date(2027, 3, 1)}]
)
def test_another_serial_or_an_unknown_day_is_none(facts) -> None:
    assert comeback_of(line(), [job(**facts)], TERMS) is None


def test_a_blank_serial_never_matches_a_blank() -> None:
    assert comeback_of(line(serial=""), [job(serial="")], TERMS) is None


@pytest.mark.parametrize("asset", ["", "X002"])
def test_a_body_without_a_number_in_common_has_no_past_here(asset) -> None:
    other = job(serial="B777", asset=asset)

    assert () == past_words(line(), [other], TERMS)
    assert () == past_words(line(asset=asset, serial="C1"), [job()], TERMS)
    assert () == past_words(line(asset="", serial="C1"), [job(asset="")], TERMS)


def test_a_job_found_by_the_owners_number_is_possible_only() -> None:
    told = past_words(line(), [job(serial="B777"), job()], TERMS)

    assert told[0].startswith("possible, by owner's number (B777)")
    assert told[1].startswith("2026-12-26: mended by this workshop")


def test_the_latest_of_several_jobs_counts() -> None:
    jobs = [job(day=date(2027, 1, 20)), job(day=date(2026, 12, 1))]
    found = comeback_of(line(), jobs, TERMS)

    assert found is not None
    assert 12 == found.days


def test_a_later_job_of_another_function_does_not_end_the_promise() -> None:
    keys = job(day=date(2026, 12, 26))
    fan = job(confirmed="FAN", day=date(2027, 1, 20), parts=())
    for past in ([keys, fan], [fan, keys]):
        found = comeback_of(line(), past, TERMS)
        assert found is not None
        assert (37, "part", True) == (found.days, found.stands_as, found.is_free)


def test_a_serial_is_the_same_however_it_was_written() -> None:
    found = comeback_of(line(), [job(serial="a-0 01")], TERMS)

    assert found is not None
    assert found.is_free
    assert 1 == len(past_words(line(), [job(serial="a-0 01")], TERMS))


def test_another_fault_beside_it_is_named_as_none_of_it() -> None:
    found = comeback_of(line(found="KBD+FAN"), [job()], TERMS)

    assert found is not None
    assert found.reason.endswith("; besides FAN, to be agreed apart")
    assert ("KBD",) == found.covers


def test_every_fault_mended_in_a_job_is_promised() -> None:
    both = job(besides=("FAN",), parts=("KEYS", "FAN"))
    for found in ("KBD", "FAN", "FAN+KBD"):
        again = comeback_of(line(found=found), [both], TERMS)
        assert again is not None
        assert (True, found) == (again.is_free, "+".join(again.covers))
        assert "mended by this workshop (keys dead, fan worn with" in again.reason
        assert "besides" not in again.reason


def test_faults_of_two_jobs_are_each_promised() -> None:
    fan = job(confirmed="FAN", day=date(2027, 1, 20), parts=("FAN",))
    found = comeback_of(line(found="KBD+FAN+BAT"), [job(), fan], TERMS)

    assert found is not None
    assert ("KBD", "FAN") == found.covers
    assert found.reason.endswith("; besides BAT, to be agreed apart")


@pytest.mark.parametrize(
    ("settled", "covers"), [("ours", ("BAT", "FAN")), ("user", ()), (None, ())]
)
def test_what_the_lead_calls_ours_is_covered_as_it_was_found(settled, covers) -> None:
    found = comeback_of(line(found="BAT+FAN", comeback_class=settled), [job()], TERMS)

    assert found is not None
    assert covers == found.covers


def test_of_two_jobs_on_one_day_the_later_counts() -> None:
    failed = job(findings=(("function check-out", "failed"),))
    found = comeback_of(line(), [failed, job()], TERMS)

    assert found is not None
    assert "part" == found.stands_as


def test_a_serial_of_another_model_is_another_device() -> None:
    assert comeback_of(line(), [job(family="V80")], TERMS) is None


@pytest.mark.parametrize(("day", "days"), [(20, 10), (10, 0), (9, None)])
def test_it_counts_to_the_day_the_device_came(day: int, days: int | None) -> None:
    left = job(day=date(2027, 2, 10))
    came = line(2, serial="A001", came=date(2027, 2, day))

    found = comeback_of(came, [left], TERMS)

    assert days == (found.days if found else None)
    assert (days is not None) == bool(past_words(came, [left], TERMS))


def test_the_promise_ends_for_what_comes_late_into_a_batch() -> None:
    found = comeback_of(line(came=date(2027, 3, 27)), [job()], TERMS)

    assert found is not None
    assert (91, False) == (found.days, found.is_free)


def test_no_device_is_its_own_past() -> None:
    own = job(day=date(2027, 2, 1), line=1)

    assert comeback_of(line(), [own], TERMS) is None
    assert () == past_words(line(), [own], TERMS)
