"""Is what is to come read as written, and every wrong line told?"""

import pytest

from turnscrew.core.model.expected import Expected
from turnscrew.errors import BadFileError
from turnscrew.files.expected_text import expected_text, read_expected

MODELS = ("L240", "V80")
TEXT = "40 V80 by day 4\n10 L240\nSHN-0001 by day 2\n1234 by day 3\nPL3-7"


def test_it_reads_counts_numbers_and_days() -> None:
    assert (
        Expected("V80", n=40, due_day=4),
        Expected("L240", n=10),
        Expected(number="SHN-0001", due_day=2),
        Expected(number="1234", due_day=3),
        Expected(number="PL3-7"),
    ) == read_expected(f"\n{TEXT}\r\n\n", MODELS)


def test_it_writes_what_it_reads() -> None:
    assert TEXT == expected_text(read_expected(TEXT, MODELS))
    assert () == read_expected("", MODELS)


def test_it_tells_every_wrong_line() -> None:
    text = (
        "40 V81 by day 4\nV80 by day 4\n0 V80\n3 V80 by day 0\nsome words here\n5 V80"
    )
    with pytest.raises(BadFileError) as told:
        read_expected(text, MODELS)

    assert [1, 2, 3, 4, 5] == [one.line for one in told.value.problems]
    wanted = [one.wanted for one in told.value.problems]
    assert 'perhaps "V80"' == wanted[0]
    assert "how many of V80" in wanted[1]
    assert "one device or more" == wanted[2]
    assert "a workshop day from 1 to 10000" == wanted[3]
    assert "40 V80 by day 4" in wanted[4]


def test_a_number_of_endless_length_is_refused() -> None:
    with pytest.raises(BadFileError):
        read_expected("X" * 61, MODELS)


def test_it_is_read_and_written_in_the_language_of_whoever_types_it() -> None:
    english, german = (
        "40 V80 by day 4\nSHN-1 by day 2",
        "40 V80 bis Tag 4\nSHN-1 bis Tag 2",
    )
    told = read_expected(english, {"V80"})

    assert told == read_expected(german, {"V80"})
    assert (english, german) == (expected_text(told), expected_text(told, "de"))
    assert english == expected_text(told, "fr")
