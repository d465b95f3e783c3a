"""Does a bad pack leave with a device that goes back as it came, or to waste?"""

import pytest
from pypdfium2 import PdfDocument

from turnscrew.web.records.models import Job, Tranche
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import booking, custody, handing_back, kitting
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.safety import log_pack
from turnscrew.web.records.services.waste import Receipt
from web.counter_case import signed_in

SWOLLEN_DONOR = 14
BAD = "pack swollen or not known"


@pytest.fixture
def donor(sallowmere, lead, now) -> Job:
    answer = reckoned(sallowmere, now)
    job = sallowmere.jobs.get(line=SWOLLEN_DONOR)
    kitting.declare_donor(job, answer, by=lead, now=now)
    for part in job.data_parts.all():
        kitting.end_data_part(part, "destroyed", by=lead, now=now, verified_how="seen")
    return Job.objects.get(pk=job.pk)


def log(job, who, now, event="taken out", pack="P-14"):
    return log_pack(pack, event, by=who, now=now, place="fire box 1", job=job)


def test_the_page_of_the_donors_names_the_dangers_where_they_are_stripped(
    donor, lead, clock
) -> None:
    page = signed_in(lead).get(f"/batches/{donor.batch.ref}/donors/").content.decode()
    sheet = page.partition("<h2>Donors</h2>")[2].partition("</section>")[0]

    assert "Swollen or unknown pack" in sheet


def test_a_carcass_leaves_once_its_pack_is_out_of_it(donor, lead, helper, now) -> None:
    gone = {"by": lead, "now": now, "receipt": Receipt("Wolder Yard", "W-14")}
    with pytest.raises(RefusedError, match=BAD):
        handing_back.dispose(donor, **gone)
    # Whoever is not signed off for packs does not say that it is out.
    log(donor, helper, now)
    with pytest.raises(RefusedError, match=BAD):
        handing_back.dispose(donor, **gone)
    log(donor, lead, now)
    log(donor, lead, now, "swollen", "P-15")
    with pytest.raises(RefusedError, match=BAD):
        handing_back.dispose(donor, **gone)
    log(donor, lead, now, "boxed", "P-15")

    handing_back.dispose(donor, **gone)
    assert "disposed" == Job.objects.get(pk=donor.pk).state


def test_it_counts_no_line_of_the_log_from_before_it_was_told_anew(
    donor, lead, now, clock
) -> None:
    log(donor, lead, now)
    clock.move_on(minutes=5)
    told = {"by": lead, "now": clock.at, "words": "a second pack is swollen"}
    note_finding(donor, "seen", **told)
    clock.move_on(minutes=5)

    with pytest.raises(RefusedError, match=BAD):
        handing_back.dispose(
            donor, by=lead, now=clock.at, receipt=Receipt("Wolder Yard", "W-14")
        )


def test_a_device_goes_back_as_it_came_against_a_name_and_without_its_bad_pack(
    sallowmere, lead, now, clock
) -> None:
    job = sallowmere.jobs.get(line=25)
    custody.isolate(job, by=lead, now=now, reason="pack warm")
    client, address = signed_in(lead), f"/items/{job.item.ref}/"
    sent = {"act": "give_up", "reason": "wants it back"}
    assert "Taken by" in client.post(address, sent).content.decode()
    sent["taken_by"] = "Wen Arkady"
    refused = client.post(address, sent)
    assert 422 == refused.status_code
    assert BAD in refused.content.decode()

    booking.sign_off(lead, "battery", by=lead, now=now, on=now.date())
    log(job, lead, now)
    assert 302 == client.post(address, sent).status_code
    tranche = Tranche.objects.get()
    assert ("Wen Arkady", "wants it back") == (tranche.taken_by, tranche.note)
    assert [25] == list(tranche.jobs.values_list("line", flat=True))
    page = client.get(f"/batches/{sallowmere.ref}/hand-back/").content.decode()
    assert "1 device to Wen Arkady" in page
    note = client.get(f"/batches/{sallowmere.ref}/hand-back/{tranche.ref}/")
    text = PdfDocument(note.content)[0].get_textpage().get_text_range()
    assert "returned unrepaired" in text
    assert "wants it back" in text
