"""Is the batch that is laid out again the one that was received?"""

from typing import Any

import pytest
from django.db import transaction

from turnscrew.web.records.models import Batch
from turnscrew.web.records.queries.audit import audited
from web.conftest import received
from web.kept_batch import KeptBatch, values_of


def contents(keeping: KeptBatch, batch: Batch) -> list[dict[str, Any]]:
    tables = keeping.written(batch).rows.values()
    return [values_of(row) for rows in tables for row in rows]


def never() -> Batch:
    raise AssertionError("received twice")


def test_it_lays_out_what_receiving_wrote_to_the_last_row(lead, helper, now) -> None:
    keeping, people = KeptBatch(), (lead, helper)
    with transaction.atomic():
        first = keeping.of(people, lambda: received(lead, now))
        before = contents(keeping, first)
        transaction.set_rollback(True)
    assert len(before) > 700

    again = keeping.of(people, never)

    assert first == again
    assert before == contents(keeping, again)
    assert () == audited().breaks


@pytest.mark.usefixtures("desk")
def test_it_receives_in_earnest_where_others_work_too(lead, helper, now) -> None:
    keeping = KeptBatch()
    keeping.of((lead, helper), lambda: received(lead, now))
    assert keeping.kept is None
