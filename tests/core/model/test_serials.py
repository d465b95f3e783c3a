"""Which words stand for no number?"""

import pytest

from turnscrew.core.model.serials import number_read


@pytest.mark.parametrize(
    "text", ["unread", " Unread ", "N/A", "(illegible)", "?", "-", "unleserlich", ""]
)
def test_what_says_that_none_was_read_is_no_number(text) -> None:
    assert "" == number_read(text).strip()


@pytest.mark.parametrize("text", ["UNR-0017", "NA-1", "0", "none-2", " PL3-10000"])
def test_a_number_stays_as_it_was_written(text) -> None:
    assert text == number_read(text)
