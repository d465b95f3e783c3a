"""What may a customer's contact see, and of which batch?"""

from dataclasses import dataclass
from datetime import datetime

from django.core import signing
from django.http import Http404

from turnscrew.web.records.models import Approval, Batch, ContactLink, Photo
from turnscrew.web.records.queries.batch_input import found_on, terms_of


@dataclass(frozen=True)
class ContactView:
    """Their own batch, and what waits for their answer."""

    link: ContactLink
    pending: list[Approval]
    answered: list[Approval]
    photos: list[Photo]
    currency: str = ""


def contact_link(address: str, now: datetime) -> ContactLink:
    """Give the invitation behind a signed address; nothing if it does not hold."""
    try:
        ref = signing.Signer(salt="contact").unsign(address)
    except signing.BadSignature:
        raise Http404 from None
    rows = ContactLink.objects.select_related("batch__customer", "made_by")
    link = rows.filter(ref=ref, is_withdrawn=False, expires_at__gt=now).first()
    if link is None:
        raise Http404
    return link


def contact_view(link: ContactLink, now: datetime) -> ContactView:
    """Give what an invitation shows: the devices asked about, and nothing else."""
    asked = list(
        Approval.objects.filter(job__batch=link.batch)
        .select_related("job")
        .order_by("job__line")
    )
    terms = terms_of(link.batch)
    for one in asked:
        codes = found_on(one.job, now)
        says = [terms.faults[code].says for code in codes if code in terms.faults]
        one.says = " + ".join(says)  # type: ignore[attr-defined]
    return ContactView(
        currency=terms.currency,
        link=link,
        pending=[one for one in asked if not one.answer],
        answered=[one for one in asked if one.answer],
        photos=list(
            Photo.objects.filter(
                job__in=[one.job_id for one in asked], is_cleared=True, is_removed=False
            ).select_related("job")
        ),
    )


def link_named(batch: Batch, ref: str) -> ContactLink:
    """Give one invitation of a batch."""
    link = batch.contact_links.filter(ref=ref).first()
    if link is None:
        raise Http404
    return link


def links_of(batch: Batch) -> list[ContactLink]:
    """Give the invitations of a batch."""
    return list(batch.contact_links.select_related("made_by"))


def answers_of(batch: Batch) -> list[Approval]:
    """Give the answers asked for in a batch, given or not."""
    asked = Approval.objects.filter(job__batch=batch).select_related("job")
    return list(asked.order_by("job__line", "id"))
