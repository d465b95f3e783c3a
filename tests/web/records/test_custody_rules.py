"""What holds of clocks that go back, of donors and of what they may give?"""

from datetime import timedelta

import pytest

from turnscrew.errors import BadFileError
from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    Customer,
    DonorPart,
    Entry,
    Job,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import kitting
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.refusal import RefusedError
from web.conftest import sallowmere_contents
from web.counter_case import signed_in

DONOR, WAITING = 14, 8
"""A laptop to be stripped, whose fan another of the example batch can have."""


def test_a_clock_set_back_keeps_the_order_and_is_marked(
    sallowmere, lead, now, clock
) -> None:
    job = Job.objects.get(batch=sallowmere, line=8)
    for minutes in (10, -30, 20):
        append(
            "custody", "moved", job.ref, by=lead, now=now + timedelta(minutes=minutes),
            facts={"state": "received", "place": "shelf", "holder": lead.ref,
                   "until": None},
        )  # fmt: skip
    last = list(Entry.objects.filter(journal="custody").order_by("-sequence")[:3])

    assert [False, True, False] == [one.is_clock_doubtful for one in last[::-1]]
    assert last[0].sequence == last[2].sequence + 2
    assert () == audited().breaks
    shown = signed_in(lead).get(f"/items/{job.item.ref}/").content.decode()
    assert "doubtful" in shown


def taken_from_donor(sallowmere, lead, now, *, consent: str) -> Allotment:
    """Promise a donor's part to a device, which then turns out another customer's."""
    answer = reckoned(sallowmere, now)
    donor = kitting.declare_donor(
        Job.objects.get(batch=sallowmere, line=DONOR), answer, by=lead, now=now,
        consent=consent,
    )  # fmt: skip
    part = DonorPart.objects.filter(donor=donor, part__number="C-FN").get()
    part.state = DonorPart.GOOD
    part.save()
    other = Job.objects.get(batch=sallowmere, line=WAITING)
    other.batch = Batch.objects.create(
        customer=Customer.objects.create(name="Somebody else"), name="Elsewhere",
        received=sallowmere.received, terms_text=sallowmere.terms_text,
    )  # fmt: skip
    other.save()
    return Allotment.objects.create(
        job=other, part=part.part, donor_part=part, state=Allotment.PROMISED, at=now
    )


def test_a_donors_part_goes_to_nobody_else_without_consent(
    sallowmere, lead, now
) -> None:
    wish = taken_from_donor(sallowmere, lead, now, consent="")

    with pytest.raises(RefusedError, match="another customer, no consent given"):
        kitting.fit(wish.job, by=lead, now=now)
    wish.refresh_from_db()
    assert Allotment.PROMISED == wish.state


def test_consent_alone_does_not_widen_what_the_terms_allow(
    sallowmere, lead, now
) -> None:
    wish = taken_from_donor(sallowmere, lead, now, consent="the equipment desk")
    donor_part = wish.donor_part
    assert donor_part is not None

    assert "same customer" == donor_part.donor.use
    with pytest.raises(RefusedError, match="another customer, no consent given"):
        kitting.fit(wish.job, by=lead, now=now)


@pytest.mark.parametrize("part", ["C-BT", "C-SD"])
def test_terms_that_list_packs_or_storage_for_harvest_are_refused(part) -> None:
    contents = dict(sallowmere_contents())
    text = contents["terms.yaml"].decode()
    spoilt = text.replace("harvest: [C-KBA", f"harvest: [{part}, C-KBA")
    assert spoilt != text

    with pytest.raises(BadFileError) as refused:
        read_batch_folder({**contents, "terms.yaml": spoilt.encode()})
    assert any(part in str(problem) for problem in refused.value.problems)
