"""What may a customer's contact see, and of which batch?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.core import signing
from django.db.models import Max
from django.http import Http404

from turnscrew.core.model.job_state import ENDED
from turnscrew.core.model.quote import ON_COMEBACK
from turnscrew.web.records.models import (
    Approval,
    Batch,
    ContactLink,
    InvoiceLine,
    Job,
    Photo,
)
from turnscrew.web.records.queries.found_faults import found_on
from turnscrew.web.records.queries.in_parts import among
from turnscrew.web.records.queries.terms_text import terms_of


@dataclass(frozen=True)
class ContactView:
    """Their own batch, and what waits for their answer."""

    link: ContactLink
    pending: list[Approval]
    newest: int
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


def questions_of(batch: Batch) -> list[Approval]:
    """Give the questions that wait for an answer: of each device the last one asked."""
    return _waiting(_asked_in(batch))


def _asked_in(batch: Batch) -> list[Approval]:
    asked = Approval.objects.filter(job__batch=batch).select_related("job")
    return list(asked.order_by("job__line", "id"))


def _waiting(asked: Iterable[Approval]) -> list[Approval]:
    last = {one.job_id: one for one in asked}
    # Of what has left, or is a donor by now, nothing is asked any more: nobody would
    # act on the answer.
    over = {*ENDED, "donor"}
    open_ = [
        one
        for one in last.values()
        if one.answer == Approval.PENDING and one.job.state not in over
    ]
    # What is billed was agreed: a later answer would leave the invoice without cause.
    lines = InvoiceLine.objects.values_list("job_id", flat=True)
    billed = set(among(lines, "job", [one.job_id for one in open_]))
    return [one for one in open_ if one.job_id not in billed]


def newest_question(batch: Batch) -> int:
    """Give the number of the newest question of a batch; 0 if nothing was asked."""
    asked = Approval.objects.filter(job__batch=batch)
    return asked.aggregate(newest=Max("pk"))["newest"] or 0


def contact_view(link: ContactLink) -> ContactView:
    """Give what an invitation shows: the devices asked about, and nothing else."""
    every = _asked_in(link.batch)
    answered = [one for one in every if one.answer]
    pending = _waiting(every)
    asked = [*pending, *answered]
    terms = terms_of(link.batch)
    for one in asked:
        codes = found_on(one.job)
        says = [terms.faults[code].says for code in codes if code in terms.faults]
        one.says = " + ".join(says)  # type: ignore[attr-defined]
        one.is_beside = _is_beside(one.job)  # type: ignore[attr-defined]
    return ContactView(
        currency=terms.currency,
        link=link,
        newest=max((one.pk for one in every), default=0),
        pending=pending,
        answered=answered,
        photos=list(
            among(
                Photo.objects.filter(is_cleared=True, is_removed=False).select_related(
                    "job"
                ),
                "job",
                [one.job_id for one in asked],
            )
        ),
    )


def _is_beside(job: Job) -> bool:
    """Say whether a price is for what a device has beside a comeback at no charge."""
    quote = job.quotes.last()
    rows = quote.charges if quote is not None else []
    return any(str(row["says"]).endswith(ON_COMEBACK) for row in rows)


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
    """Give the answers asked for in a batch, given, pending or asked anew since."""
    rows = _asked_in(batch)
    waiting = {one.pk for one in _waiting(rows)}
    for one in rows:
        is_old = one.answer == Approval.PENDING and one.pk not in waiting
        old = "left unanswered" if one.job.state in ENDED else "asked anew"
        one.told = old if is_old else one.answer or "pending"  # type: ignore[attr-defined]
    return rows
