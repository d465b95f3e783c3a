"""Is no remark lost, and is each sorted to what it asks for?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from small_batch import TERMS, line
from turnscrew.core.reconcile.remarks import hazard_holds, remark_holds


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
