"""Does a donor that goes back tell what was taken out of it?"""

import pypdfium2
import pytest

from turnscrew.web.records.models import DonorPart, Job
from turnscrew.web.records.services import (
    handing_back,
    kitting,
    people,
)
from turnscrew.web.records.services.refusal import RefusedError
from web.counter.donor_case import DONOR, USER, fan_given
from web.counter_case import signed_in


@pytest.fixture(name="gone")
def donor_gone_back(sallowmere, lead, now) -> Job:
    """Fit the fan of a donor, keep its pack in the fire box, and give it back."""
    _, donor, _ = fan_given(sallowmere, lead, now)
    by = {"by": lead, "now": now}
    handing_back.return_unrepaired(donor, reason="wanted back", taken_by="Wen", **by)
    return Job.objects.get(pk=donor.pk)


def note_of(job: Job, lead) -> str:
    page = f"/batches/{job.batch.ref}/hand-back/{job.tranche.ref}/"
    pdf = pypdfium2.PdfDocument(signed_in(lead).get(page).content)
    return " ".join(
        " ".join(one.get_textpage().get_text_bounded() for one in pdf).split()
    )


def test_the_note_says_what_was_taken_out_and_where_it_is(
    gone, lead, now, clock
) -> None:
    told = note_of(gone, lead)

    after = told[told.index("Taken out of it and not in it any more") :]
    assert f"{DONOR} Fan fitted in device {USER}" in after
    assert f"{DONOR} its pack lies at fire box 1" in after
    people.speak_to(lead, "de", now=now)
    german = note_of(gone, lead)
    assert f"{DONOR} Fan eingebaut in Gerät {USER}" in german
    assert "its pack liegt bei fire box 1" in german


def test_the_page_of_the_device_says_so_too(gone, lead, clock) -> None:
    page = signed_in(lead).get(f"/items/{gone.item.ref}/").content.decode()

    assert f"Fan: fitted in device {USER}" in page
    assert "its pack: lies at fire box 1" in page


def test_what_went_back_with_it_is_neither_laid_nor_tested_here(
    gone, lead, now
) -> None:
    bracket = DonorPart.objects.get(donor__job=gone, part__number="C-PV")
    told = {"by": lead, "now": now}

    with pytest.raises(RefusedError, match="found it gone with its donor"):
        kitting.lay_donor_part(bracket, "box 3", **told)
    with pytest.raises(RefusedError, match="found it gone with its donor"):
        kitting.test_donor_part(bracket, is_good=True, how="looked at", **told)
