"""Do returns, waste, incidents, packs and duties leave, and lose their names?"""

import pytest

from turnscrew.web.keeping import erasing
from turnscrew.web.keeping.tables import carried, rows_of
from turnscrew.web.records.models import (
    Duty,
    Incident,
    Job,
    PackLog,
    Part,
    SupplierReturn,
    Waste,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import custody, customers, safety, supplier, waste
from web.keeping.names import NAME, names_everywhere

TABLES = (SupplierReturn, Waste, Incident, PackLog, Duty)


@pytest.fixture
def job(sallowmere, lead, now) -> Job:
    """Give a device with the name of somebody in all that was written about it."""
    one = sallowmere.jobs.first()
    by = {"by": lead, "now": now}
    told = supplier.Faulty(
        1, supplier.FIRST_USE, f"{NAME} saw it dead", f"as {NAME} showed"
    )
    back = supplier.begin_return(Part.objects.first(), told, job=one, **by)
    supplier.settle_return(back, "written off", words=f"{NAME} threw it away", **by)
    gone = waste.throw_away(waste.Scrap("glass", 80), job=one, **by)
    waste.let_go([gone.ref], waste.Receipt(f"{NAME} Yard", f"W-{NAME}"), **by)
    hurt = safety.report_incident(
        "injury", f"{NAME} cut a finger", done=f"{NAME} was bandaged", job=one, **by
    )
    safety.close_incident(hurt, learnt=f"gloves for {NAME}", **by)
    safety.log_pack(
        f"pack of {NAME}", "looked at", reading=f"5 V, said {NAME}", place="shelf",
        job=one, **by,
    )  # fmt: skip
    answered = customers.Answered("bound", "yes", now.date(), f"signed by {NAME}")
    customers.answer_duty(sallowmere.customer, answered, now=now)
    custody.decide_data(
        one, "P", custody.DataTerms("given account", NAME, words=f"ask {NAME}"), **by
    )
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
    before = [model.objects.count() for model in TABLES]
    erasing.erase_customer(sallowmere.customer, by=lead, now=now)

    assert NAME not in everything()
    assert 0 not in before
    assert before == [model.objects.count() for model in TABLES]
    assert ("written off", 80) == (
        SupplierReturn.objects.exclude(job=None).get().end,
        Waste.objects.get().mass_g,
    )  # fmt: skip
    assert () == audited().breaks
