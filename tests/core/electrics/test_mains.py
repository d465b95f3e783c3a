"""Which class is an adapter, and how does a reading stand to a limit?"""

import pytest

from turnscrew.core.electrics.cautions import LIMIT_WORDS, MAINS_WORDS
from turnscrew.core.electrics.mains import COUPLERS, LIMITS, compared, coupler
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize("name", ["C5/C6", "C5", "C6"])
def test_it_knows_a_coupler_by_either_half(name) -> None:
    """Connector and inlet are one pair."""
    assert COUPLERS["C5/C6"] is coupler(name)


def test_it_says_whether_there_is_an_earth_to_measure() -> None:
    """And leaves mains parts to licensed people."""
    assert "earth continuity is measured" in coupler("C14").why
    assert "no earth" in coupler("C8").why
    assert MAINS_WORDS == coupler("C8").caution


@pytest.mark.parametrize("name", LIMITS)
def test_it_takes_the_limit_itself_as_within(name) -> None:
    """A little beyond it is outside; the limit is named with its source."""
    limit = LIMITS[name]
    at, beyond = (limit.low, 0.99 * limit.low) if limit.low else (limit.high, 6.0)

    assert compared(at, name).is_within
    assert not compared(beyond, name).is_within
    assert name in compared(at, name).words
    assert limit.source in compared(at, name).words


def test_it_never_decides_alone() -> None:
    """Limits differ by country, and licensed people decide."""
    assert (LIMIT_WORDS, MAINS_WORDS) == compared(1, "insulation, class I").cautions


def test_it_gives_two_verdicts_on_one_reading() -> None:
    """One milliampere is within one published limit and outside another."""
    names = [name for name in LIMITS if name.startswith("touch current")]

    assert {True, False} == {compared(1.0, name).is_within for name in names}


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: coupler("C19"), "name: found C19, wanted one of C5/C6"),
        (lambda: coupler(""), "name: found "),
        (lambda: compared(1, "any"), "limit_name: found any, wanted one of touch"),
        (lambda: compared(-1, "insulation, class I"), "reading: found -1"),
    ],
)
def test_it_refuses_what_the_tables_lack(reckon, words) -> None:
    """A limit is chosen by its full name."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
