"""Are parts that look alike told apart wherever one is handled?"""

import re
from typing import Any

import pypdfium2
import pytest

from turnscrew.files.terms_file import read_terms
from turnscrew.web.records.models import Batch, LookAlike, Lot, OrderLine
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.services import parts_list
from web.bench.case import taken
from web.browser.bench_case import kitted
from web.conftest import sallowmere_contents
from web.counter_case import signed_in

TELL = "count the contacts of the key tail: 26 or 30"
KEYS = 8
"""Line of the example batch whose keys are exchanged: 26 contacts, never 30."""


@pytest.fixture
def counter(lead, clock) -> Any:
    return signed_in(lead)


def page(counter: Any, address: str) -> str:
    answer = counter.get(address)
    assert 200 == answer.status_code
    return str(answer.content.decode())


def ordered(counter: Any, batch: Batch) -> OrderLine:
    """Order all that is needed; give the line of one that has a look-alike."""
    address = f"/batches/{batch.ref}/order/"
    needs = re.findall(r'name="numbers" value="([^"]+)"', page(counter, address))
    counter.post(address, {"act": "place", "numbers": needs})
    return OrderLine.objects.get(part__number__in=["C-KBA", "C-KBB"], n__gt=0)


def books(counter: Any, line: OrderLine, lot: str, marks_seen: str) -> int:
    sent = {
        "act": "book", "order": line.ref, "n": 1, "lot": lot, "marks_seen": marks_seen,
        "outcome": "accepted", "asked": "credit",
    }  # fmt: skip
    return int(counter.post("/stock/goods-in/", sent).status_code)


def test_it_is_told_when_ordering_receiving_picking_and_fitting(
    counter, batch, lead, now
) -> None:
    assert TELL in page(counter, f"/batches/{batch.ref}/order/")

    line = ordered(counter, batch)
    goods_in = page(counter, "/stock/goods-in/")
    own = goods_in[goods_in.index(line.part.number) :].partition("</section>")[0]
    assert TELL in own

    kits = counter.get(f"/batches/{batch.ref}/papers/kit-lists.pdf").content
    sheets = [p.get_textpage().get_text_bounded() for p in pypdfium2.PdfDocument(kits)]
    kit = " ".join(" ".join(sheets).split()).split("Kit for device ")
    (own_kit,) = [one for one in kit if one.startswith(f"{KEYS}-")]
    assert f"Look-alike: not C-KBB: {TELL}" in own_kit

    run = taken(kitted(batch, KEYS, lead, now), lead, now)
    fits = [one for one in bench_runs.run_in(run).lines if one.spare == "C-KBA"]
    assert fits
    assert all(any(TELL in words for words in one.cautions) for one in fits)


def test_a_new_lot_under_the_same_number_wants_a_fresh_comparison(
    counter, batch
) -> None:
    line = ordered(counter, batch)
    part = line.part
    line.n = 3
    line.save()

    assert 302 == books(counter, line, "lot 1", "26 contacts, as the known one")
    # The number of the supplier is the same; the part in the bag may not be.
    assert 422 == books(counter, line, "lot 2", "")
    assert 422 == books(counter, line, "lot 2", "  ")
    assert ["lot 1"] == [lot.name for lot in Lot.objects.filter(part=part)]
    assert 302 == books(counter, line, "lot 2", "30 contacts: not the known one")
    assert {"26 contacts, as the known one", "30 contacts: not the known one"} == {
        lot.marks_seen for lot in Lot.objects.filter(part=part)
    }


def test_pairs_told_apart_in_one_way_are_each_told(batch, lead, now) -> None:
    other = "count the contacts of the panel tail: 30 or 40"
    terms = read_terms(
        sallowmere_contents()["terms.yaml"].decode().replace(other, TELL)
    )
    for _ in range(2):
        parts_list.keep_parts([], terms, by=lead, now=now)

    alike = LookAlike.objects.filter(tell=TELL).order_by("id")

    pairs = [{part.number for part in one.parts.all()} for one in alike]
    assert pairs == [{"C-KBA", "C-KBB"}, {"C-DPA", "C-DPB"}]
