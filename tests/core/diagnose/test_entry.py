"""What did the person at the bench enter?"""

from dataclasses import replace

import pytest

from core.diagnose.small_bench import TABLE
from turnscrew.core.diagnose.entry import evidence_from, finding_from, says_mended
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
        ("volts=9,5 V", "wanted a reading such as 9.5 V, if the comma"),
        ("volts=much", "wanted a reading such as"),
        ("swap=as befor", 'perhaps "as before"'),
        ("change pack=mended", "wanted still at fault"),
        ("ghost=not tried", "unknown test ghost"),
        ("change pak=still at fault", 'perhaps "change pack"'),
        ("check-out=passed", "wanted still at fault"),
        ("swap=9 V", "wanted one of charges, as before, not tried"),
        ("volts=1e3 V", "wanted a reading such as"),
        (f"volts={9:0>400} V", "wanted a reading such as"),
        ("volts=9.5 v", "the unit v, wanted V"),
        ("=low", "the unknown test"),
    ],
)
def test_it_asks_and_never_guesses(text, said) -> None:
    with pytest.raises(BadArgumentError, match=said.replace("(", r"\(")):
        finding_from(TABLE, text)


def test_it_knows_a_sign_by_the_words_of_the_customer() -> None:
    assert ("dead",) == evidence_from(TABLE, ("No Light", "dead"), ()).signs


def test_it_names_the_sign_that_was_meant() -> None:
    with pytest.raises(BadArgumentError, match='perhaps "no light"'):
        evidence_from(TABLE, ("no ligt",), ())


def test_it_takes_a_sign_told_twice_once_and_keeps_findings_in_order() -> None:
    found = evidence_from(
        TABLE, ("dead", "no light"), ("swap=as before", "volts=-0.2 V")
    )

    assert ("dead",) == found.signs
    assert (Finding("swap", "as before"), Finding("volts", "low", -0.2)) == (
        found.findings
    )


def test_it_says_a_finding_as_it_was_entered() -> None:
    assert "volts: 8.9" == finding_from(TABLE, "volts=8.90 V").words
    assert "volts: low" == finding_from(TABLE, "volts=low").words


def test_it_tells_everything_that_is_wrong_at_once() -> None:
    with pytest.raises(BadArgumentError) as caught:
        evidence_from(TABLE, ("deaf",), ("volts=9", "swap=maybe"))

    assert 3 == len(str(caught.value).splitlines())


def test_it_takes_no_word_for_a_side_that_has_no_limit() -> None:
    volts = TABLE.tests["volts"]
    assert volts.reading is not None
    open_below = replace(volts, reading=replace(volts.reading, low=None))
    table = replace(TABLE, tests={**TABLE.tests, "volts": open_below})

    assert Finding("volts", "high") == finding_from(table, "volts=high")
    with pytest.raises(BadArgumentError, match="found low, wanted one of within"):
        finding_from(table, "volts=low")


@pytest.mark.parametrize(
    ("text", "is_so"),
    [
        ("change pack=mended", True),
        ("change pack = mended", True),
        ("check-out=mended", True),
        ("change pack=still at fault", False),
        ("volts=mended", False),
        ("nonsense=mended", False),
    ],
)
def test_only_a_repair_or_its_check_out_says_that_it_works(text, is_so) -> None:
    assert is_so == says_mended(TABLE, text)
