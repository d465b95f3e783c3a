"""What is known of a customer?"""

from datetime import datetime
from typing import Any

from django.http import Http404

from turnscrew.web.records.models import Customer
from turnscrew.web.records.queries.agreement import agreement_by_site
from turnscrew.web.records.queries.duties import duties_of
from turnscrew.web.records.queries.fleet_page import customer_fleet
from turnscrew.web.records.queries.money_page import stands_of
from turnscrew.web.records.queries.viewings import viewings_of


def customer_named(ref: str) -> Customer:
    """Give a customer by reference."""
    customer = Customer.objects.filter(ref=ref).first()
    if customer is None:
        raise Http404
    return customer


def customer_page(customer: Customer, now: datetime) -> dict[str, Any]:
    """Give contacts, places, fleets, what failed and batches of a customer."""
    batches = customer.batches.values_list("ref", flat=True)
    return {
        "customer": customer,
        "duties": duties_of(customer),
        "contacts": list(customer.contacts.all()),
        "sites": list(customer.sites.all()),
        "fleets": list(customer.fleets.select_related("site")),
        "batches": list(customer.batches.exclude(terms_text="")[:100]),
        "n_items": customer.items.count(),
        "fleet": customer_fleet(customer, now),
        "stands": stands_of(customer),
        "agreement": agreement_by_site(customer),
        "viewed": viewings_of([customer.ref, *batches])[0],
    }
