"""Does a hand-back note say what was signed for, whatever is set right later?"""

import pypdfium2
import pytest

from turnscrew.web.records.models import Accessory, Job
from turnscrew.web.records.services import booking, handing_back, setting_right
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
