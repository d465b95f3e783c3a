"""A day that only a slip of the pen can mean is refused before anything is kept."""

from datetime import date

import pytest

from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.web.records.models import Batch
from turnscrew.web.records.services import booking
from turnscrew.web.records.services.refusal import RefusedError
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
