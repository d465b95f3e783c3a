"""Is a piece written as fitted only where hands told so?"""

from dataclasses import replace

import pytest

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Allotment, Job, Part, PartFit
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.tray import tray_of
from turnscrew.web.records.services import custody, hands, stock
from turnscrew.web.records.services.refusal import RefusedError
from web.bench.case import anew, taken, work
from web.browser.bench_case import kitted

KEYS, KEYPAD = 18, "H-KP"
"""A scanner that is in for its keys alone, and the part for them."""


@pytest.fixture
def promised(batch, lead, now) -> Job:
    job = kitted(batch, KEYS, lead, now)
    part = Part.objects.get(number=KEYPAD)
    stock.count(part, 2, by=lead, now=now, words="looked")
    stock.promise(Part.objects.get(pk=part.pk), job, by=lead, now=now)
    return job


def stands(job: Job) -> tuple[int, list[str]]:
    wishes = Allotment.objects.filter(job=job, part__number=KEYPAD)
    on_hand = Part.objects.get(number=KEYPAD).on_hand
    return on_hand, list(wishes.values_list("state", flat=True))


def test_what_was_closed_up_as_it_is_has_no_new_part(
    promised, at_lead, lead, helper, now
) -> None:
    run = taken(promised, lead, now)
    assert KEYPAD in [line.spare for line in bench_runs.run_in(run).lines]
    work(run, lead, now, helper, lambda line: line.phase == "work")
    last = anew(at_lead, promised, why="closed up as it is", is_closing=True)
    work(last, lead, now, helper, lambda line: line.phase == "final")

    assert "closed" == Job.objects.get(pk=promised.pk).state
    assert (2, [Allotment.PROMISED]) == stands(promised)
    known = PartFit.objects.filter(part__number=KEYPAD)
    assert not known.exclude(fitted_on=None).exists()
    assert () == audited().breaks


def test_what_hands_fitted_is_off_the_shelf(promised, lead, helper, now) -> None:
    run = taken(promised, lead, now)
    work(run, lead, now, helper, lambda line: line.phase == "final")

    assert "closed" == Job.objects.get(pk=promised.pk).state
    assert (1, [Allotment.USED]) == stands(promised)


def test_a_device_with_parts_off_is_closed_by_hand_only_with_a_reason(
    promised, lead, helper, now
) -> None:
    run = taken(promised, lead, now)
    work(run, lead, now, helper, lambda line: line.phase == "work")
    assert bench_runs.told(run).state.off
    told = {"by": lead, "now": now}
    for kind, n in tray_of(promised).items():
        hands.tell(promised, "refitted", {"kind": kind, "n": n}, **told)
    custody.move(promised, Standing("tested open", "bench 1", lead.ref), **told)
    closed = Standing("closed", "bench 1", lead.ref)

    with pytest.raises(RefusedError, match="path: found off at the bench"):
        custody.move(promised, closed, **told)

    custody.move(promised, replace(closed, reason="closed on paper"), **told)
    assert "closed" == Job.objects.get(pk=promised.pk).state
