"""Is whoever receives a batch told what must be settled because of the list?"""

from small_batch import batch, line
from turnscrew.flows.batch.listed import compared, holds_from_list

PHOTO = "serial unread: take a photo of its label, or of where one should be"


def test_a_serial_that_cannot_be_read_asks_for_a_photo() -> None:
    given = batch(line(1, serial=""), line(2, serial=""), line(3), line(4, asset=""))
    found = compared(given)
    holds = holds_from_list(found)

    # Blank never equals blank, and what was not read stays in the batch.
    assert () == found.duplicate_serials
    for number in (1, 2):
        assert PHOTO in [hold.says for hold in holds[number]]
    assert all(PHOTO != hold.says for n in (3, 4) for hold in holds.get(n, ()))
