"""Does a hand-back note say what was signed for, whatever is set right later?"""

import pypdfium2
import pytest
from django.db.models import F

from turnscrew.web.records.models import Accessory, Job
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    booking,
    handing_back,
    kitting,
    setting_right,
)
from turnscrew.web.records.services.handing_back import closing_refusals
from turnscrew.web.records.services.keep import keep
from web.counter_case import signed_in


@pytest.fixture
def tranche(sallowmere, lead, clock):
    by = {"by": lead, "now": clock.at}
    Job.objects.filter(batch=sallowmere, line=1).update(
        state="packed", main_state="packed"
    )
    booking.bring_accessory(sallowmere, sallowmere.jobs.get(line=1), "stylus", 2, **by)
    booking.bring_accessory(sallowmere, None, "stray cable", 3, **by)
    stays = Accessory.objects.get(job__line=1, kind="stylus")
    return handing_back.hand_back(
        sallowmere, [1], taken_by="Q. Rook", with_strays=True,
        explained={stays.pk: handing_back.Stay("lost by us, pay it", 1)}, **by,
    )  # fmt: skip


def note_of(client, batch, tranche) -> str:
    pdf = client.get(f"/batches/{batch.ref}/hand-back/{tranche.ref}/").content
    pages = pypdfium2.PdfDocument(pdf)
    return " ".join(
        " ".join(one.get_textpage().get_text_range() for one in pages).split()
    )


def test_it_says_what_goes_what_stays_and_what_strays(
    sallowmere, tranche, lead
) -> None:
    note = note_of(signed_in(lead), sallowmere, tranche)

    assert "1 adapter, 1 sleeve, 1 stylus" in note
    assert "Came with them and does not go back no. what why 1 1 stylus lost by" in note
    assert "Goes back too, of no device here 3 stray cable" in note


def test_a_device_that_stays_without_a_serial_is_named_without_a_gap(
    sallowmere, lead, clock
) -> None:
    Job.objects.filter(batch=sallowmere, line=1).update(
        state="packed", main_state="packed"
    )
    blank = Job.objects.get(batch=sallowmere, line=7)
    blank.serial = ""
    keep(blank, clock.at)
    tranche = handing_back.hand_back(
        sallowmere, [1], taken_by="Q. Rook", by=lead, now=clock.at,
        explained={
            one.pk: handing_back.Stay("kept", one.n_in)
            for one in Accessory.objects.filter(job__line=1)
        },
    )  # fmt: skip
    client = signed_in(lead)

    assert "7: L240, " in note_of(client, sallowmere, tranche)
    page = client.get(f"/batches/{sallowmere.ref}/hand-back/").content.decode()
    assert "<li>7 L240: " in page


def test_a_count_set_right_later_does_not_change_what_was_signed(
    sallowmere, tranche, lead, clock
) -> None:
    client = signed_in(lead)
    before = note_of(client, sallowmere, tranche)
    adapter = Accessory.objects.get(job__batch=sallowmere, job__line=1, kind="adapter")
    clock.move_on(days=1)
    setting_right.correct_accessory(
        adapter, setting_right.RightCount(n_out=0, n_explained=1), by=lead,
        now=clock.at, words="it lies here",
    )  # fmt: skip

    assert before == note_of(signed_in(lead), sallowmere, tranche)


@pytest.fixture
def donor(sallowmere, lead, clock) -> Job:
    """A donor whose accessories stay when all other devices are gone."""
    by = {"by": lead, "now": clock.at}
    job = sallowmere.jobs.get(line=2)
    kitting.declare_donor(job, reckoned(sallowmere, clock.at), **by)
    sallowmere.jobs.exclude(line=2).update(state="handed back")
    Accessory.objects.exclude(job=job).update(n_out=F("n_in"))
    return job


def test_what_came_with_donors_is_signed_for_by_itself(sallowmere, donor, lead) -> None:
    client = signed_in(lead)
    address = f"/batches/{sallowmere.ref}/hand-back/"
    page = client.get(address).content.decode()
    assert "1 dock plug (2)" in page
    assert "wanted one or more" in refused(client, address, strays="")

    post = {"act": "give", "lines": "", "taken_by": "Wen", "strays": "on"}
    assert 302 == client.post(address, post).status_code

    note = note_of(client, sallowmere, sallowmere.tranches.last())
    assert "Goes back too, of no device here" in note
    assert "1 dock plug" in note
    assert not any("accessories" in one for one in closing_refusals(sallowmere))
    assert "No device is packed" in client.get(address).content.decode()


def refused(client, address: str, **fields: str) -> str:
    post = {"act": "give", "lines": "", "taken_by": "Wen", **fields}
    answer = client.post(address, post)
    assert 422 == answer.status_code
    return answer.content.decode()


def test_what_stays_of_a_donor_is_told_with_its_number(
    sallowmere, donor, lead, clock
) -> None:
    plug = Accessory.objects.get(job=donor, kind="dock plug")
    went = handing_back.hand_back(
        sallowmere, [], taken_by="Wen", with_strays=True,
        explained={plug.pk: handing_back.Stay("kept with the donor")},
        by=lead, now=clock.at,
    )  # fmt: skip

    note = note_of(signed_in(lead), sallowmere, went)

    assert "no. what why 2 1 dock plug kept with the donor" in note


def test_an_adapter_that_stays_is_none_of_those_that_go(
    sallowmere, lead, clock
) -> None:
    Job.objects.filter(batch=sallowmere, line__in=[1, 7]).update(
        state="packed", main_state="packed"
    )
    stays = Accessory.objects.get(job__batch=sallowmere, job__line=1, kind="adapter")
    went = handing_back.hand_back(
        sallowmere, [1, 7], taken_by="Wen", by=lead, now=clock.at,
        explained={stays.pk: handing_back.Stay("on charge, follows")},
    )  # fmt: skip

    note = note_of(signed_in(lead), sallowmere, went)

    assert "1 adapter on charge, follows" in note
    assert "1: adapter: NOT HANDED BACK AS FIT" not in note
    assert "7: adapter: NOT HANDED BACK AS FIT" in note


def test_of_two_reasons_for_one_accessory_none_is_dropped(sallowmere, lead) -> None:
    Job.objects.filter(batch=sallowmere, line=1).update(
        state="packed", main_state="packed"
    )

    told = refused(
        signed_in(lead), f"/batches/{sallowmere.ref}/hand-back/", lines="1",
        explained="1 adapter = a; 1 adapter = b",
    )  # fmt: skip

    assert "found two reasons for 1 adapter, wanted one" in told
