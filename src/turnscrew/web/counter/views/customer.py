"""One customer: who answers, where their devices are, and how many they have."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from turnscrew.web.counter import forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.records.queries.customer_page import customer_named, customer_page
from turnscrew.web.records.services import customers


def customer(request: HttpRequest, ref: str) -> HttpResponse:
    """Show a customer, and keep what is known of them."""
    one = customer_named(ref)

    def keep(entered: Entered) -> Done:
        customers.keep_customer_data(one, now=timezone.now(), **entered)
        return Done("kept")

    def add(entered: Entered) -> Done:
        customers.add_contact(one, entered["name"], entered["reach"])
        return Done(f"{entered['name']}: added")

    def count(entered: Entered) -> Done:
        customers.count_fleet(
            one, entered["model"], entered["site"], entered["n_devices"],
            now=timezone.now(),
        )  # fmt: skip
        return Done("counted")

    initial = {
        "name": one.name, "address": one.address, "contract": one.contract,
        "tax_number": one.tax_number, "keep_months": one.keep_months,
    }  # fmt: skip
    acts = {
        "keep": Act(keep, "Keep", forms.CustomerData, "counter", initial),
        "add": Act(add, "Add", forms.ContactMade),
        "count": Act(count, "Write the count", forms.FleetCounted),
    }
    return page(
        request, "counter/customer.html",
        lambda: customer_page(customer_named(ref), timezone.now()), acts,
    )  # fmt: skip
