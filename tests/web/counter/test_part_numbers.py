"""Has every part its page, whatever the trade wrote for its number?"""

import pytest
from django.urls import get_resolver, reverse
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.web.part_address import OWN_WORDS, PartNumberConverter
from turnscrew.web.records.models import Job, Part
from turnscrew.web.records.services import booking, goods, stock, supplier
from web.conftest import sallowmere_contents
from web.counter_case import signed_in

NUMBERS = (
    "C/77", "C/77/", "/C77", "C//77", "order", "returns", "waste", "goods-in",
    "known-good", "part-photos/a/b", "..", ".", "~C77", "~", "A 1#?%2F", "ö/ü",
)  # fmt: skip
HOUSE = ("/", "/stock/", "/stock/goods-in/", "/stock/order/", "/stock/returns/")


@pytest.fixture
def part(request, sallowmere) -> Part:
    Part.objects.filter(number="C-FN").update(number=request.param)
    return Part.objects.get(number=request.param)


@pytest.mark.parametrize("part", NUMBERS, indirect=True)
def test_it_has_its_page_and_can_be_counted(part, lead, clock) -> None:
    address = reverse("counter:part", args=[part.number])
    client = signed_in(lead)

    counted = client.post(address, {"act": "count", "n": 41, "why": "a round"})

    assert 302 == counted.status_code
    assert counted["location"] == address
    assert Part.objects.get(pk=part.pk).on_hand == 41
    assert "a round" in client.get(address).content.decode()


@pytest.mark.parametrize("number", ["C/77", "order"])
def test_every_page_that_names_it_answers(number, lead, helper, clock, now) -> None:
    contents = {
        name: content.replace(b"C-FN", number.encode())
        for name, content in sallowmere_contents().items()
    }
    told, terms = read_batch_folder(contents), contents["terms.yaml"].decode()
    batch = booking.load_folder(told, terms, by=lead, now=now)
    part = Part.objects.get(number=number)
    address = reverse("counter:part", args=[number])
    job = Job.objects.get(batch=batch, line=8)
    stock.promise(part, job, by=lead, now=now)
    line = stock.order(part, 2, by=lead, now=now, cost_minor=3, batch=batch)
    parcel = goods.Parcel(1, "L1", "as the known one", goods.ACCEPTED)
    goods.goods_in(line, parcel, by=lead, now=now)
    stock.keep_reorder_point(part, 99, now=now)
    faulty = supplier.Faulty(1, "first use", "dead", "a photo")
    supplier.begin_return(part, faulty, by=lead, now=now)
    client = signed_in(lead)

    named = [address in client.get(page).content.decode() for page in HOUSE]

    assert named == [True] * len(HOUSE)


@given(st.text(min_size=1, max_size=40))
def test_its_address_is_one_plain_word_that_reads_back(number) -> None:
    kept = PartNumberConverter()
    address = kept.to_url(number)

    assert kept.to_python(address) == number
    assert "/" not in address
    assert address.strip(".")


def test_no_page_of_the_stock_hides_a_part() -> None:
    counter = get_resolver().namespace_dict["counter"][1]
    beside = {
        str(one.pattern).removeprefix("stock/").rstrip("/")
        for one in counter.url_patterns
        if str(one.pattern).startswith("stock/") and str(one.pattern) != "stock/"
    }

    assert {word for word in beside if "<" not in word} == set(OWN_WORDS)
