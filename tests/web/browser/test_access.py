"""Can everybody use every page: by keyboard, on a tablet, with a screen reader?"""

import re
from datetime import datetime, timedelta
from io import BytesIO

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image
from playwright.sync_api import Page, Request

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Batch, Customer, Job, OrderLine, Person
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    custody,
    customers,
    goods,
    invoicing,
    kitting,
    part_photos,
    people,
    photos,
    quoting,
    safety,
    supplier,
    waste,
)
from web.bench.case import taken
from web.browser.bench_case import describe

SERIOUS = {"serious", "critical"}
SIZES = [(1920, 1200), (1280, 800), (820, 1180), (390, 844)]
MOST_BYTES = 150_000


@pytest.fixture
def addresses(desktop: Page, sallowmere, lead, now, live_server) -> list[str]:
    """Give every kind of page, each with something on it."""
    people.begin_safety()
    people.keep_known_good("adapter 19 V", "L240", "bench 1", now=now)
    answer = reckoned(sallowmere, now)
    numbers = [line.part for line in answer.supply.orders]
    kitting.place_order(sallowmere, numbers, by=lead, now=now)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=now)
    quoting.ask(sallowmere, answer, by=lead, now=now)
    kitting.declare_donors(sallowmere, [2, 14], answer, by=lead, now=now)
    kitting.allot(sallowmere, answer, by=lead, now=now)
    invoice = invoicing.invoice(sallowmere, by=lead, now=now)
    link = people.invite(sallowmere, "Wren Tolliver", by=lead, now=now)
    batch = Batch.objects.get(pk=sallowmere.pk)
    describe(batch, lead, now)
    opened = batch.jobs.get(line=18)
    custody.move(opened, Standing("kitted", "shelf", lead.ref), by=lead, now=now)
    taken(Job.objects.get(pk=opened.pk), lead, now)
    file = BytesIO()
    Image.effect_noise((320, 240), 60).save(file, "PNG")
    job = batch.jobs.get(line=56)
    photo = photos.add_photo(job, file.getvalue(), by=lead, now=now)
    item = Job.objects.get(batch=batch, line=56).item
    customer = Customer.objects.get()
    for site, n in (("Night team", 60), ("North round", 120), ("South round", 130)):
        since = now.date() - timedelta(days=10 * n)
        customers.count_fleet(customer, "V80", site, n, now=now, in_service_on=since)
    supply(batch, picture=file.getvalue(), by=lead, now=now)
    under = [
        "", "ahead/", "receive/", "list/", "approvals/", "plan/", "order/", "donors/",
        "hand-back/", "invoice/", "papers/",
    ]  # fmt: skip
    return [
        "/", "/batches/", *(f"/batches/{batch.ref}/{page}" for page in under),
        f"/items/{item.ref}/", "/stock/", "/stock/T-GL2/", "/stock/goods-in/",
        "/stock/known-good/", "/stock/returns/", "/stock/waste/",
        "/money/", f"/money/{invoice.ref}/", "/comebacks/",
        "/safety/", "/people/", f"/people/{Person.objects.all()[0].ref}/", "/audit/",
        f"/jobs/{job.ref}/photos/", f"/photos/{photo.ref}/",
        "/account/", f"/customers/{customer.ref}/", f"/customers/{customer.ref}/fleet/",
        f"/answer/{people.contact_address(link)}/", "/nowhere/", "/find/?code=nothing",
        "/descriptions/", "/descriptions/L240/", "/handover/", "/own-times/",
    ]  # fmt: skip


def supply(batch: Batch, *, picture: bytes, by: Person, now: datetime) -> None:
    """Let pieces fail, things be thrown away, and something happen."""
    told = {"by": by, "now": now}
    line = OrderLine.objects.all()[0]
    parcel = goods.Parcel(1, "L1", "frame bent", goods.REJECTED, send_by=now.date())
    goods.goods_in(line, parcel, **told)
    part, job = line.part, batch.jobs.get(line=56)
    ready = part_photos.looked_at({"front": picture})
    part_photos.keep_known_piece(part, "three dots", ready, **told)
    faulty = supplier.Faulty(2, supplier.FIRST_USE, "dead line", asked="exchange")
    supplier.begin_return(part, faulty, job=job, photo=ready["front"], **told)
    for kind in ("damaged pack", "glass"):
        waste.throw_away(waste.Scrap(kind), job=job, **told)
    safety.report_incident("near miss", "a lid fell", job=job, **told)
    safety.log_pack("P-7", "swollen", place="fire box 1", job=job, **told)


def test_it_lets_everybody_in(desktop: Page, addresses, live_server) -> None:
    found = {}
    for address in addresses:
        desktop.goto(live_server.url + address)
        told = Axe().run(desktop).response["violations"]
        wrong = [one["id"] for one in told if one["impact"] in SERIOUS]
        if wrong:
            found[address] = wrong

    assert {} == found


@pytest.mark.parametrize("language", ["en", "de"])
def test_it_stays_light_and_within_the_screen(
    desktop: Page, addresses, live_server, lead, language
) -> None:
    Person.objects.filter(pk=lead.pk).update(language=language)
    heavy, broad = {}, {}
    asked: list[Request] = []
    desktop.on("requestfinished", lambda request: asked.append(request))
    for address in addresses:
        asked.clear()
        desktop.goto(live_server.url + address, wait_until="load")
        # Pictures within a page have come with it.
        came = [one for one in tuple(asked) if not one.url.startswith("data:")]
        n_bytes = sum(one.sizes()["responseBodySize"] for one in came)
        if n_bytes > MOST_BYTES:
            heavy[address] = n_bytes
        for width, height in SIZES:
            desktop.set_viewport_size({"width": width, "height": height})
            desktop.evaluate("new Promise((done) => requestAnimationFrame(done))")
            broadest = desktop.evaluate("document.documentElement.scrollWidth")
            if broadest > width:
                broad[address, width] = broadest

    assert {} == heavy
    assert {} == broad


def test_it_is_worked_by_keyboard_alone(desktop: Page, addresses, live_server) -> None:
    batch = next(one for one in addresses if re.fullmatch("/batches/[0-9a-f]+/", one))
    desktop.goto(live_server.url + batch)
    # The scan field has the focus; what stands before it is one step back.
    desktop.keyboard.press("Shift+Tab")
    reached = {desktop.evaluate("document.activeElement?.innerText ?? ''")}
    for _ in range(250):
        desktop.keyboard.press("Tab")
        reached.add(desktop.evaluate("document.activeElement?.innerText ?? ''"))
        if "Close the batch" in reached:
            break

    wanted = {"To the contents", "Today", "Receive", "Keep these quotes", "Move them",
              "Write as fitted", "Close the batch"}  # fmt: skip
    assert set() == wanted - reached
