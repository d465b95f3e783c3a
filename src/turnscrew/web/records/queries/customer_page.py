"""What is known of a customer?"""

from typing import Any

from django.http import Http404

from turnscrew.web.records.models import Customer


def customer_named(ref: str) -> Customer:
    """Give a customer by reference."""
    customer = Customer.objects.filter(ref=ref).first()
    if customer is None:
        raise Http404
    return customer


def customer_page(customer: Customer) -> dict[str, Any]:
    """Give contacts, places, fleets and batches of a customer."""
    return {
        "customer": customer,
        "contacts": list(customer.contacts.all()),
        "sites": list(customer.sites.all()),
        "fleets": list(customer.fleets.select_related("site")),
        "batches": list(customer.batches.exclude(terms_text="")[:100]),
        "n_items": customer.items.count(),
    }
