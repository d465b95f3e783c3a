"""Does an answer speak of the quote it was given to, and is that billed?"""

from collections.abc import Callable
from typing import Any

import pytest

from turnscrew.web.records.models import Approval, Batch, Invoice, Job
from web.counter_case import signed_in

GLASS, ALIKE = 4, 12
"""A device that is asked about in the example, and one with the same fault."""

Act = Callable[..., None]


@pytest.fixture
def act(sallowmere, lead, clock) -> Act:
    """Press a button on a page of the batch, some minutes after the last."""
    client = signed_in(lead)

    def press(page: str, does: str, /, **fields: Any) -> None:
        answer = client.post(
            f"/batches/{sallowmere.ref}/{page}", {"act": does, **fields}
        )
        assert 302 == answer.status_code
        clock.move_on(minutes=5)

    return press


def answer(act: Act, *, yes: str = "", no: str = "") -> None:
    seen = Approval.objects.latest("pk").pk
    act("approvals/", "take", name="Ward", yes=yes, no=no, seen=seen)


def sent_home(batch: Batch, *lines: int) -> None:
    batch.jobs.filter(line__in=lines).update(
        state="handed back", main_state="handed back"
    )


def billed(act: Act) -> dict[int, int]:
    act("invoice/", "bill")
    sums: dict[int, int] = {}
    for line in Invoice.objects.latest("pk").lines.all():
        sums[line.job.line] = sums.get(line.job.line, 0) + line.net_minor
    return sums


def last_quote(job: Job) -> tuple[str, int | None]:
    quote = job.quotes.last()
    return quote.code, quote.quote_minor


def test_a_no_by_a_slip_that_was_set_right_is_billed_as_agreed(sallowmere, act) -> None:
    act("approvals/", "ask")
    answer(act, yes=str(ALIKE), no=str(GLASS))
    act("", "quote")
    act("approvals/", "correct", line=GLASS, answer="yes", name="Ward", why="line 40")
    sent_home(sallowmere, GLASS, ALIKE)

    assert {GLASS: 116_12, ALIKE: 116_12} == billed(act)
    assert 1 == sallowmere.jobs.get(line=GLASS).quotes.count()
