"""Do lengths, numbers and weeks read as a workshop chose, and mean the same?"""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.model.notation import MM_PER_INCH, Notation, inches
from turnscrew.errors import BadArgumentError

INCH = Notation("inch")
COMMA = Notation(sign="comma")


@pytest.mark.parametrize(
    ("mm", "wanted"),
    [
        # 25.4 mm is an inch and 1 mm is 0.0394 in, exact by the agreement of 1959
        # (from memory); the others are reckoned by hand from it.
        ("25.4", "1.000"),
        ("1.0", "0.039"),
        ("100", "3.94"),
        ("3.5", "0.138"),
        ("0.05", "0.0020"),
        ("0", "0.00"),
    ],
)
def test_it_reckons_inches(mm, wanted) -> None:
    assert wanted == str(inches(Decimal(mm)))


@given(st.decimals(0, 10_000, places=2), st.integers(0, 2))
def test_millimetres_reckoned_back_are_the_same(mm, places) -> None:
    told = round(mm, places)
    back = inches(told) * MM_PER_INCH

    assert told == round(back, places)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("3.5 mm under the head", "3.5 mm (0.138 in) under the head"),
        ("gap 4.5 to 5.1 mm", "gap 4.5 to 5.1 mm (0.177 to 0.201 in)"),
        ("312 × 214 mm", "312 × 214 mm (12.28 × 8.43 in)"),
        ("3,5 mm tief", "3,5 mm (0,138 in) tief"),
        ("M2 x 0.4 - 3.5", "M2 x 0.4 - 3.5"),
        ("M2 x 3 mm", "M2 x 3 mm (0.12 in)"),
        ("M2.5 x 4 mm", "M2.5 x 4 mm (0.16 in)"),
        ("2.5 mm², 3 mm/s, 1.2.3 mm", "2.5 mm², 3 mm/s, 1.2.3 mm"),
        ("no figure at all", "no figure at all"),
    ],
)
def test_it_puts_inches_beside_lengths_and_leaves_threads(text, wanted) -> None:
    assert wanted == INCH.says(text)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("19.4 V at 2.05 A", "19,4 V at 2,05 A"),
        ("between 4.5 and 5.1 mm", "between 4,5 and 5,1 mm"),
        ("a share of 12.5 %", "a share of 12,5 %"),
        ("serial 12.34, part C.10", "serial 12.34, part C.10"),
        ("1,234 g and 3 mm", "1,234 g and 3 mm"),
        ("M2.5 x 4 mm, 1.5 mm", "M2.5 x 4 mm, 1,5 mm"),
    ],
)
def test_it_writes_the_comma_where_a_unit_shows_a_measure(text, wanted) -> None:
    assert wanted == COMMA.says(text)


def test_german_keeps_its_comma_unless_the_point_was_chosen() -> None:
    assert "3,5 mm" == Notation().says("3,5 mm", has_comma=True)
    assert "3,5 mm" == COMMA.says("3,5 mm", has_comma=True)
    assert "3.5 mm" == Notation(sign="point").says("3,5 mm", has_comma=True)


def test_it_writes_amounts() -> None:
    point = Notation(sign="point")

    assert "3,712.18" == Notation().money(371218)
    assert "3.712,18" == COMMA.money(371218)
    assert "3.712,18" == Notation().money(371218, has_comma=True)
    assert "3,712.18" == point.money(371218, has_comma=True)
    assert "–" == COMMA.money(None)


def test_amounts_in_a_sentence_follow() -> None:
    said = "quote 1,082.22 within 85.25, of V2.0.1"

    assert "quote 1.082,22 within 85,25, of V2.0.1" == COMMA.prose(said)
    assert said == Notation().prose(said)
    assert "1,50" == COMMA.prose("1,50", has_comma=True)


@given(st.decimals(-9999, 9999, places=3))
def test_it_reads_what_it_would_write(value) -> None:
    text = f"{value:f}"

    assert value == Notation().number(text)
    assert value == COMMA.number(text.replace(".", ","))
    assert value == Notation().number(text.replace(".", ","), has_comma=True)


@pytest.mark.parametrize(
    ("notation", "text", "said"),
    [
        (Notation(), "1,5", "1 whole and 5 tenths"),
        (COMMA, "1.5", "1 whole and 5 tenths"),
        (Notation(), "1,234", "1 whole and 234 thousandths, or 1234"),
        (COMMA, "116.12", "write 116,12"),
        (Notation(), "1,23456", "1 whole and 23456 parts of one"),
        (Notation(), "1.2.3", "wanted a number such as 1.5"),
        (COMMA, "one", "wanted a number such as 1,5"),
    ],
)
def test_the_other_sign_is_shown_back_in_words(notation, text, said) -> None:
    with pytest.raises(BadArgumentError, match=said):
        notation.number(text)


@given(
    st.dates(date(2000, 1, 1), date(2100, 1, 1)),
    st.sampled_from([("monday", 0), ("saturday", 5), ("sunday", 6)]),
)
def test_a_week_begins_on_its_first_day(day, week) -> None:
    name, weekday = week
    first = Notation(week=name).begin_of_week(day)

    assert weekday == first.weekday()
    assert first <= day < first + timedelta(days=7)
