"""Do adapters, trials, locks, marks and viewings leave, and lose their names?"""

from datetime import timedelta
from decimal import Decimal

import pytest

from turnscrew.web.keeping import erasing
from turnscrew.web.keeping.tables import carried, rows_of
from turnscrew.web.records.models import (
    AdapterCheck,
    ArrivalMark,
    Finding,
    Finishing,
    Job,
    LockRequest,
    MissingPiece,
    Trial,
    Viewing,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import (
    adapters,
    arrival,
    finishing,
    locks,
    trials,
    viewings,
)
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.keep import keep
from web.keeping.names import NAME, names_everywhere

TABLES = (
    AdapterCheck, ArrivalMark, Finishing, LockRequest, MissingPiece, Trial, Viewing,
)  # fmt: skip


@pytest.fixture
def job(sallowmere, lead, now) -> Job:
    """Give a device with the name of somebody in all that is written beside it."""
    one = sallowmere.jobs.first()
    by = {"by": lead, "now": now}
    found = adapters.AdapterFound(
        belongs="no", owner=f"desk of {NAME}", is_label_read=False, is_cable_whole=True
    )
    adapters.check_adapter(one.accessories.get(kind="adapter"), found, **by)
    plan = trials.TrialPlan(60, f"films of {NAME}", f"as on {NAME}'s desk", 23, 60)
    trials.plan_trial(one, plan, **by)
    end = trials.TrialEnd(60, f"as {NAME} said", "not shown", f"Tell {NAME} to wait")
    trials.end_trial(one, end, **by)
    locks.note_lock(one, "locked", **by)
    due = now.date() + timedelta(days=5)
    locks.ask_administrator(one, f"Aro {NAME}", due, words=f"for {NAME}", **by)
    locks.answer_request(one, is_open=False, words=f"{NAME} says no", **by)
    finishing.note_cleaning(
        one, "keys", "dry cloth", marks_left=f"sticker of {NAME}",
        are_trims_right=True, **by,
    )  # fmt: skip
    arrival.note_condition(one, Decimal("0.5"), {"feet": 1}, **by)
    damage = arrival.Damage("lid", "dent", 10, 20, f"as {NAME} saw")
    arrival.mark_damage(one, damage, **by)
    wrong = {"part": f"key {NAME}", "mode": f"{NAME} pressed it", "cause": "liquid"}
    note_finding(one, Finding.CONFIRMED, wrong=wrong, **by)
    one.again_words = f"{NAME} again"
    keep(one, now)
    viewings.note_viewings(lead.ref, viewings.DEVICE, [one.item.ref], now=now)
    return one


def everything() -> str:
    return "\n".join(
        str(row)
        for model in carried(with_secrets=True).values()
        for row in rows_of(model, with_secrets=True)
    )


def test_every_table_leaves_with_an_export(job) -> None:
    leaving = set(carried(with_secrets=False).values())

    assert set(TABLES) <= leaving
    for model in TABLES:
        assert 1 == len(list(rows_of(model, with_secrets=False)))


def test_no_name_is_left_and_every_count_is(job, sallowmere, lead, now) -> None:
    names_everywhere(sallowmere, by=lead, now=now)
    assert NAME in everything()
    erasing.erase_customer(sallowmere.customer, by=lead, now=now)

    assert NAME not in everything()
    assert [1] * len(TABLES) == [model.objects.count() for model in TABLES]
    assert (60, "not shown") == (
        Trial.objects.get().ran_min,
        Trial.objects.get().result,
    )
    assert () == audited().breaks
