"""Is no remark lost, and is each sorted to what it asks for?"""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from small_batch import TERMS, line
from turnscrew.core.reconcile.remarks import (
    hazard_holds,
    observed_holds,
    remark_holds,
    skills_asked,
)


@pytest.mark.parametrize(
    ("words", "start"),
    [
        ("case gap 5 mm, warm", "isolate it"),
        ("5 mm gap, warm", "isolate it"),
        ("pack swollen", "isolate it"),
        ("smells of disinfectant and needs gloves", "contaminated"),
        ("locked to the customer's management", "locked"),
        ("frame bent by 3 mm", "damaged on arrival"),
        ("holds somebody's private memory card", "private property"),
        ("owner wants the old storage module back", "old part goes back"),
        ("wet inside", "wet inside"),
        ("a sticker with a cat", "to be read by the lead"),
    ],
)
def test_a_remark_is_sorted_by_its_words(words, start) -> None:
    holds = remark_holds(words)

    assert any(str(hold).startswith(start) for hold in holds)
    assert all(words in str(hold) for hold in holds)


@given(st.text(min_size=1))
def test_no_remark_is_lost(words) -> None:
    holds = remark_holds(words)

    assert bool(words.strip()) == bool(holds)
    assert all(words.strip() in str(hold) for hold in holds)


def test_a_worn_pack_is_isolated_before_anything_is_said() -> None:
    assert hazard_holds(line(found="BAT"), TERMS)[0].says.startswith("isolate it")
    assert () == hazard_holds(line(found="FAN"), TERMS)


def test_an_unknown_data_class_counts_as_the_strictest() -> None:
    assert "data class not known" in str(hazard_holds(line(data=""), TERMS)[0])


@pytest.mark.parametrize(
    ("remark", "kind", "is_kind"),
    [
        ("broken glass in the bag", "glass", True),
        ("glass cracked", "glass", True),
        ("cracked glass, loose pieces", "glass", True),
        ("glass is broken", "glass", True),
        ("burnt smell", "pack", True),
        ("screen burn-in", "pack", False),
        ("from locker 12", "locked", False),
        ("call the manager before opening", "locked", False),
        ("locked by a password", "locked", True),
        ("managed by the owner", "locked", True),
    ],
)
def test_words_that_sound_alike_are_told_apart(remark, kind, is_kind) -> None:
    assert is_kind == (kind in {hold.kind for hold in remark_holds(remark)})


@pytest.mark.parametrize(
    ("reported", "is_pack"),
    [
        ("battery swollen, hot and smoking", True),
        ("Puffed: pack bulging", True),
        ("gets hot while charging", False),
        ("", False),
    ],
)
def test_what_a_customer_says_of_a_pack_counts(reported, is_pack) -> None:
    holds = hazard_holds(line(reported=reported), TERMS)

    assert is_pack == any(hold.kind == "pack" for hold in holds)


@pytest.mark.parametrize(
    ("gap_mm", "is_pack"), [(None, False), (0.0, False), (1.9, False), (2.0, True)]
)
def test_a_gap_of_the_case_is_taken_for_a_pack_that_swells(gap_mm, is_pack) -> None:
    """From 2 mm on: common practice, no source."""
    device = replace(line(found="FAN"), gap_mm=gap_mm)

    holds = [str(hold) for hold in observed_holds(device, TERMS) if hold.kind == "pack"]

    assert is_pack == bool(holds)
    assert all("gap of the case 2 mm" in words for words in holds)


def test_a_pack_seen_to_be_bad_asks_for_whoever_may_handle_it() -> None:
    plain, bad = line(found="FAN"), line(found="BAT")
    skills = skills_asked(bad, TERMS)

    assert skills
    assert skills.isdisjoint(skills_asked(plain, TERMS))
    for seen in ({"gap_mm": 3.0}, {"remarks": "case bulging"}, {"reported": "swollen"}):
        assert skills <= skills_asked(replace(plain, **seen), TERMS)


@pytest.mark.parametrize(
    ("told", "kinds"),
    [
        ("pack swollen", {"pack"}),
        ("pack log: warm", {"pack"}),
        ("pack not swollen", set()),
        ("water running out of the side", {"wet"}),
        ("liquid inside, pack swollen", {"pack", "wet"}),
        ("no liquid inside", set()),
        ("hinge stiff", set()),
    ],
)
def test_what_is_written_of_a_device_later_counts_too(told, kinds) -> None:
    device = replace(line(found="FAN"), told=(told,))

    assert kinds == {hold.kind for hold in observed_holds(device, TERMS)}
