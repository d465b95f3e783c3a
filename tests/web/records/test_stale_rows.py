"""Does what one person wrote stay, when another had read the row before?"""

import ast
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from turnscrew.web.records.models import Batch, Description, Invoice, Job, Person
from turnscrew.web.records.queries.data_terms import NO_START
from turnscrew.web.records.services import (
    arrival,
    customers,
    descriptions,
    findings,
    invoicing,
    locks,
    people,
    quoting,
    recognition,
)
from turnscrew.web.records.services.custody import DataTerms, decide_data
from turnscrew.web.records.services.refusal import RefusedError
from web.browser.bench_case import describe

ON_A_DEVICE: dict[str, Callable[..., Any]] = {
    "condition": lambda job, **by: arrival.note_condition(job, None, {}, **by),
    "lock": lambda job, **by: locks.note_lock(job, "locked", **by),
    "comeback": lambda job, **by: quoting.settle_comeback(job, "ours", **by),
    "data": lambda job, **by: decide_data(
        job, "P", DataTerms(NO_START, "Wen Arkady"), **by
    ),
    "revision": lambda job, **by: recognition.take_for(job, "2", **by),
}


@pytest.mark.parametrize("what", ON_A_DEVICE)
def test_a_device_stays_where_another_put_it_meanwhile(
    sallowmere, lead, now, what
) -> None:
    describe(sallowmere, lead, now)
    device = sallowmere.jobs.filter(model="V80").first()
    read_before = Job.objects.get(pk=device.pk)
    elsewhere = {"state": "identified", "place": "bench 2", "holder": "someone"}
    Job.objects.filter(pk=read_before.pk).update(**elsewhere)

    ON_A_DEVICE[what](read_before, by=lead, now=now)

    kept = Job.objects.filter(pk=read_before.pk).values(*elsewhere).get()
    assert elsewhere == kept


def test_an_erased_customer_stays_erased(sallowmere, lead, now) -> None:
    customer = sallowmere.customer
    type(customer).objects.filter(pk=customer.pk).update(name="-", is_erased=True)

    with pytest.raises(RefusedError, match="found one erased"):
        customers.keep_customer_data(
            customer, now=now, name="Sallowmere", address="", contract="",
            tax_number="", keep_months=12,
        )  # fmt: skip

    customer.refresh_from_db()
    assert ("-", True) == (customer.name, customer.is_erased)


def test_a_reminder_does_not_bring_back_what_was_paid(sallowmere, lead, now) -> None:
    bill = Invoice.objects.create(
        batch=sallowmere, number="2027-0001", on=now.date(),
        due_on=now.date() - timedelta(days=1), net_minor=5000, tax_minor=0,
        owed_minor=5000,
    )  # fmt: skip
    read_before = Invoice.objects.get(pk=bill.pk)
    invoicing.pay(bill, 3000, on=now.date(), how="transfer", by=lead, now=now)

    invoicing.remind(read_before, by=lead, now=now)

    bill.refresh_from_db()
    assert (2000, now.date()) == (bill.owed_minor, bill.reminded_on)


def test_who_left_does_not_come_back_by_choosing_a_language(
    sallowmere, helper, now
) -> None:
    read_before = Person.objects.get(pk=helper.pk)
    people.let_go(helper, now=now)

    people.speak_to(read_before, "de", now=now)

    helper.refresh_from_db()
    assert ("de", True) == (helper.language, helper.has_left)


def test_a_description_that_was_withdrawn_is_not_released(
    sallowmere, lead, now
) -> None:
    one = Description.objects.create(
        model="V80", number=99, text="device: {}", state=Description.TRIED, by=lead,
        at=now,
    )  # fmt: skip
    read_before = Description.objects.get(pk=one.pk)
    descriptions.withdraw(one, by=lead)

    with pytest.raises(RefusedError, match="found withdrawn"):
        descriptions.release(read_before, by=lead)


def test_a_finding_is_withdrawn_once(sallowmere: Batch, lead, now) -> None:
    finding = sallowmere.jobs.get(line=1).findings.first()
    read_before = type(finding).objects.get(pk=finding.pk)
    findings.withdraw_finding(finding, by=lead, now=now, words="another device")

    with pytest.raises(RefusedError, match="withdrawn already"):
        findings.withdraw_finding(read_before, by=lead, now=now, words="again")


def test_no_service_saves_what_it_was_handed_without_reading_it_anew() -> None:
    services = Path(invoicing.__file__).parent
    found = [
        f"{path.name}: {function.name} saves {name}"
        for path in sorted(services.glob("*.py"))
        for function in ast.walk(ast.parse(path.read_text()))
        if isinstance(function, ast.FunctionDef) and path.name != "keep.py"
        for name in saved_whole(function) & handed(function) - read_again(function)
    ]

    assert [] == found


def handed(function: ast.FunctionDef) -> set[str]:
    """Give the rows handed to a service; what hands a row on has read it itself."""
    in_turn = any(
        isinstance(one, ast.Name) and one.id == "writing"
        for one in function.decorator_list
    )
    return {one.arg for one in function.args.args} if in_turn else set()


def saved_whole(function: ast.FunctionDef) -> set[str]:
    saved = set()
    for node in ast.walk(function):
        match node:
            case ast.Call(
                func=ast.Attribute(value=ast.Name(id=name), attr="save"), keywords=[]
            ):
                saved.add(name)
            case ast.Call(func=ast.Name(id="keep"), args=[ast.Name(id=name), *_]):
                saved.add(name)
    return saved


def read_again(function: ast.FunctionDef) -> set[str]:
    read = set()
    for node in ast.walk(function):
        match node:
            case ast.Call(func=ast.Name(id="read_anew"), args=[ast.Name(id=name)]):
                read.add(name)
            case ast.Assign(targets=[ast.Name(id=name)]):
                read.add(name)
    return read
