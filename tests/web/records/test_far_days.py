"""A day that only a slip of the pen can mean is refused before anything is kept."""

import re
from datetime import date

import pytest
from django.core.exceptions import ValidationError

from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.errors import BadFileError
from turnscrew.files.history_file import read_history
from turnscrew.web.counter.fields import DayField
from turnscrew.web.records.models import Batch, Part
from turnscrew.web.records.services import booking
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.stock import move_stock
from web.conftest import SALLOWMERE
from web.counter_case import signed_in

TERMS = (SALLOWMERE / "terms.yaml").read_text("utf-8")


@pytest.mark.parametrize("year", [1999, 2100, 2127, 9999])
def test_it_books_no_batch_whose_devices_would_bear_numbers_of_another(
    year, lead, now, sallowmere
) -> None:
    """A number bears two digits of the year: 2127 would give those of 2027 again."""
    said = booking.Booking("Far", date(year, 2, 1), TERMS)
    with pytest.raises(RefusedError) as refused:
        booking.book(said, by=lead, now=now)

    told = f"received: found {year}-02-01, wanted a day of the years 2000 to 2099"
    assert (told,) == refused.value.reasons
    assert "„" not in Phrasebook(GERMAN_COUNTER).says(told)
    assert not Batch.objects.filter(name="Far").exists()


def test_the_page_gives_a_far_year_back_to_be_set_right(lead, sallowmere) -> None:
    answer = signed_in(lead).post(
        "/batches/",
        {"act": "book", "name": "Far", "received": "2127-02-01", "terms": TERMS},
    )

    assert 422 == answer.status_code
    assert "2127-02-01" in answer.content.decode()


@pytest.mark.parametrize("year", [2000, 2099])
def test_it_books_a_batch_of_the_first_and_the_last_year(year, lead, now) -> None:
    assert booking.book(
        booking.Booking("Edge", date(year, 2, 1), TERMS), by=lead, now=now
    )


def test_a_field_takes_no_day_that_nobody_can_mean() -> None:
    field = DayField()
    for slip in ("0001-01-01", "1899-12-31", "2200-01-01", "9999-12-31"):
        with pytest.raises(ValidationError) as refused:
            field.clean(slip)

        told = f"found {slip}, wanted a day from 1900-01-01 to 2199-12-31"
        assert [told] == refused.value.messages
        assert "„" not in Phrasebook(GERMAN_COUNTER).says(told)
    assert date(1900, 1, 1) == field.clean("1900-01-01")
    assert date(2199, 12, 31) == field.clean("2199-12-31")


def test_a_table_takes_no_day_that_nobody_can_mean() -> None:
    """Days are added to it: the last day of the calendar has none behind it."""
    content = (SALLOWMERE / "history.csv").read_text("utf-8")
    told = next(iter(re.findall(r"\d{4}-\d\d-\d\d", content)))
    with pytest.raises(BadFileError, match="wanted a day from 1900-01-01 to 2199-12"):
        read_history(content.replace(told, "9999-12-31").encode())


def test_a_shelf_takes_no_more_than_can_be_reckoned_with(lead, now, sallowmere) -> None:
    part = Part.objects.first()
    assert part is not None
    Part.objects.filter(pk=part.pk).update(on_hand=999_999)
    told = "number: found 2 beside 999999 on hand, wanted 1000000 or fewer in all"
    with pytest.raises(RefusedError) as refused:
        move_stock(part, "received", 2, by=lead, now=now)

    assert (told,) == refused.value.reasons
    assert "„" not in Phrasebook(GERMAN_COUNTER).says(told)
    move_stock(part, "received", 1, by=lead, now=now)


def test_a_scan_with_what_no_database_keeps_finds_nothing(lead, sallowmere) -> None:
    answer = signed_in(lead).get("/bench/find/", {"code": "a\0b"})

    assert 404 == answer.status_code
    assert "\\u0000" not in answer.content.decode()
