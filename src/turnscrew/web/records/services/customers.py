"""How is it kept who the customers are, where, and how much they have?"""

from dataclasses import dataclass
from datetime import date, datetime

from turnscrew.web.records.models import Contact, Customer, Duty, Fleet, Site
from turnscrew.web.records.queries.duties import DUTIES
from turnscrew.web.records.services.keep import keep, read_anew
from turnscrew.web.records.services.on_record import require_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@dataclass(frozen=True)
class Answered:
    """An answer to a duty: yes or no, since which day, and what shows it."""

    code: str
    answer: str
    on: date | None
    words: str = ""


@writing
def keep_customer_data(
    customer: Customer, *, now: datetime, name: str, address: str, contract: str,
    tax_number: str, keep_months: int, charge_low_percent: int = 60,
    charge_high_percent: int = 100,
) -> None:  # fmt: skip
    """Write who a customer is, how long data are kept, how full devices go back."""
    read_anew(customer)
    require_on_record(customer.pk)
    if not 0 <= charge_low_percent <= charge_high_percent <= 100:
        raise RefusedError(
            f"charge: found {charge_low_percent} to {charge_high_percent} %, wanted "
            "low, then high, both within 0 to 100"
        )
    customer.name, customer.address = name.strip(), address.strip()
    customer.contract, customer.tax_number = contract.strip(), tax_number.strip()
    customer.keep_months = keep_months
    customer.charge_low_percent = charge_low_percent
    customer.charge_high_percent = charge_high_percent
    keep(customer, now)


@writing
def add_contact(customer: Customer, name: str, reach: str) -> Contact:
    """Write who answers questions for a customer."""
    require_on_record(customer.pk)
    return Contact.objects.create(
        customer=customer, name=name.strip(), reach=reach.strip()
    )


@writing
def answer_duty(customer: Customer, told: Answered, *, now: datetime) -> Duty:
    """Write how one duty on a customer's data stands; earlier answers stay."""
    read_anew(customer)
    require_on_record(customer.pk)
    reasons = []
    if told.code not in DUTIES:
        reasons.append(f"duty: found {told.code}, wanted one of {', '.join(DUTIES)}")
    if told.answer not in {"yes", "no"}:
        reasons.append(f"answer: found {told.answer or 'none'}, wanted yes or no")
    if told.on is None or told.on > now.date():
        reasons.append(f"day: found {told.on or 'none'}, wanted one by {now.date()}")
    if reasons:
        raise RefusedError(*reasons)
    duty = Duty.objects.filter(customer=customer, code=told.code).first()
    duty = duty or Duty(customer=customer, code=told.code)
    duty.answer, duty.on, duty.words = told.answer, told.on, told.words.strip()
    keep(duty, now)
    return duty


@writing
def count_fleet(
    customer: Customer,
    model: str,
    site: str,
    n_devices: int,
    *,
    now: datetime,
    in_service_on: date | None = None,
) -> Fleet:
    """Write how many devices of a model a customer has, as of today."""
    require_on_record(customer.pk)
    if in_service_on is not None and in_service_on >= now.date():
        raise RefusedError(
            f"in service since: found {in_service_on}, wanted a day before today"
        )
    place = None
    if site.strip():
        place, _ = Site.objects.get_or_create(customer=customer, name=site.strip())
    return Fleet.objects.create(
        customer=customer, model=model.strip(), site=place, n_devices=n_devices,
        counted_on=now.date(), in_service_on=in_service_on,
    )  # fmt: skip
