"""One customer: who answers, where their devices are, and how many they have."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone, translation

from turnscrew.core.fleet.question import Wishes
from turnscrew.core.price.replace import Replacement, replacements_from_texts
from turnscrew.errors import BadArgumentError
from turnscrew.papers.fleet_words import conventions
from turnscrew.papers.page import Size
from turnscrew.papers.set_aside import written
from turnscrew.web.counter import forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.downloads import pdf, picture
from turnscrew.web.counter.looks import look_at_contacts
from turnscrew.web.records.queries.customer_page import customer_named, customer_page
from turnscrew.web.records.queries.fleet_page import (
    WATCHED_DAYS,
    customer_fleet,
    fleet_paper,
    fleet_pictures,
)
from turnscrew.web.records.queries.no_fault_found import not_found_by_model
from turnscrew.web.records.queries.papers import paper_of
from turnscrew.web.records.queries.rights import allow
from turnscrew.web.records.services import customers

TIMES = ((91, "a term"), (365, "a year"), (1096, "three years"), (1826, "five years"))
"""Times under watch that are offered, in days."""


def customer(request: HttpRequest, ref: str) -> HttpResponse:
    """Show a customer, and keep what is known of them."""
    one = customer_named(ref)
    look_at_contacts(request, one)

    def keep(entered: Entered) -> Done:
        customers.keep_customer_data(one, now=timezone.localtime(), **entered)
        return Done("kept")

    def add(entered: Entered) -> Done:
        customers.add_contact(one, entered["name"], entered["reach"])
        return Done(f"{written(entered['name'])}: added")

    def answer(entered: Entered) -> Done:
        told = customers.Answered(
            entered["code"], entered["answer"], entered["on"], entered["words"]
        )
        customers.answer_duty(one, told, now=timezone.localtime())
        return Done(f"{told.code}: {told.answer}")

    def count(entered: Entered) -> Done:
        customers.count_fleet(
            one, entered["model"], entered["site"], entered["n_devices"],
            now=timezone.localtime(), in_service_on=entered["in_service_on"],
        )  # fmt: skip
        return Done("counted")

    initial = {
        "name": one.name, "address": one.address, "contract": one.contract,
        "tax_number": one.tax_number, "keep_months": one.keep_months,
        "charge_low_percent": one.charge_low_percent,
        "charge_high_percent": one.charge_high_percent,
    }  # fmt: skip
    acts = {
        "keep": Act(
            keep, "Keep", forms.CustomerData, "counter", initial, is_whole=True
        ),
        "answer": Act(
            answer,
            "Write the answer",
            forms.DutyAnswered,
            "counter",
            {"on": timezone.localdate()},
        ),
        "add": Act(add, "Add", forms.ContactMade),
        "count": Act(count, "Write the count", forms.FleetCounted),
    }
    return page(
        request, "counter/customer.html",
        lambda: customer_page(customer_named(ref), timezone.localtime()), acts,
    )  # fmt: skip


def fleet(request: HttpRequest, ref: str) -> HttpResponse:
    """Show what a customer's fleet tells, with its pictures."""
    one, days = customer_named(ref), _days(request)
    others, refused = _replacements(request)

    def told() -> dict[str, Any]:
        fleet = customer_fleet(one, timezone.localtime(), days, others)
        drawn = fleet_pictures(fleet)
        return {
            "customer": one, "fleet": fleet, "days": days, "times": TIMES,
            "not_found": not_found_by_model(one),
            "conventions": conventions(Wishes().confidence),
            "replace": _asked(request), "wrong": refused,
            "pictures": drawn and {
                name: picture(chart) for name, chart in vars(drawn).items() if chart.svg
            },
        }  # fmt: skip

    return page(request, "counter/fleet.html", told, {})


def fleet_report(request: HttpRequest, ref: str) -> HttpResponse:
    """Print what a customer's fleet tells, with what it cost."""
    allow(request.person, "money")  # type: ignore[attr-defined]
    one = customer_named(ref)
    paper = request.GET.get("paper", "a4")
    size: Size = "letter" if paper == "letter" else "a4"
    others, _ = _replacements(request)
    told = customer_fleet(one, timezone.localtime(), _days(request), others)
    made = fleet_paper(one, told, paper_of(size, translation.get_language()))
    if made is None:
        raise Http404
    return pdf(made, f"fleet-{one.ref}.pdf")


def _asked(request: HttpRequest) -> str:
    return request.GET.get("replace", "")[:300].replace("\0", "")


def _replacements(request: HttpRequest) -> tuple[dict[str, Replacement], str]:
    """Give what replaces each model, and what of it cannot be read."""
    words = [one for one in _asked(request).split(";") if one.strip()]
    try:
        return replacements_from_texts(words), ""
    except BadArgumentError as error:
        return {}, str(error)


def _days(request: HttpRequest) -> int:
    """Give the time under watch that is asked for, a term if it is none we offer."""
    asked = request.GET.get("days", "")
    offered = {str(days) for days, _ in TIMES}
    return int(asked) if asked in offered else WATCHED_DAYS
