"""What did the person at the bench enter?"""

import pytest

from core.diagnose.small_bench import TABLE
from turnscrew.core.diagnose.entry import evidence_from, finding_from
from turnscrew.core.diagnose.evidence import Finding
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        ("volts=9.5 V", Finding("volts", "within limits", 9.5)),
        ("volts = 8.9V", Finding("volts", "low", 8.9)),
        ("volts=11.2 V", Finding("volts", "high", 11.2)),
        ("volts=low", Finding("volts", "low")),
        ("swap=as before", Finding("swap", "as before")),
        ("swap=could not tell", Finding("swap", "could not tell")),
        ("change pack=still at fault", Finding("change pack", "still at fault")),
        ("change pack=not tried", Finding("change pack", "not tried")),
        ("check-out=still at fault", Finding("check-out", "still at fault")),
    ],
)
def test_it_reads_what_was_meant(text, finding) -> None:
    assert finding == finding_from(TABLE, text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("volts", "wanted TEST=OUTCOME"),
        ("volts=", "wanted TEST=OUTCOME"),
        ("vots=9 V", 'perhaps "volts"'),
        ("volts=9", "no unit, wanted V"),
        ("volts=9000 mV", "the unit mV, wanted V"),
        ("volts=9,5 V", "wanted a reading such as"),
        ("volts=much", "wanted a reading such as"),
        ("swap=as befor", 'perhaps "as before"'),
        ("change pack=mended", "wanted still at fault"),
        ("ghost=not tried", "unknown test ghost"),
    ],
)
def test_it_asks_and_never_guesses(text, said) -> None:
    with pytest.raises(BadArgumentError, match=said.replace("(", r"\(")):
        finding_from(TABLE, text)


def test_it_knows_a_sign_by_the_words_of_the_customer() -> None:
    assert ("dead",) == evidence_from(TABLE, ("No Light", "dead"), ()).signs


def test_it_tells_everything_that_is_wrong_at_once() -> None:
    with pytest.raises(BadArgumentError) as caught:
        evidence_from(TABLE, ("deaf",), ("volts=9", "swap=maybe"))

    assert 3 == len(str(caught.value).splitlines())
