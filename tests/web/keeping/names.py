"""A finished batch with somebody's name wherever people write one."""

from datetime import datetime
from io import BytesIO

from PIL import Image

from turnscrew.web.records.models import (
    Accessory,
    Approval,
    Batch,
    DataPart,
    Donor,
    DonorPart,
    Finding,
    Invoice,
    Job,
    Part,
    Payment,
    Person,
    Signature,
    Tranche,
    WrittenYes,
)
from turnscrew.web.records.queries.power_bars import holds_bad_pack
from turnscrew.web.records.services import goods, kitting, people, stock
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.handing_back import close_batch, return_unrepaired
from turnscrew.web.records.services.keep import keep
from turnscrew.web.records.services.photos import add_photo
from turnscrew.web.records.services.safety import log_pack

NAME = "Quillfeather"


def names_everywhere(batch: Batch, *, by: Person, now: datetime) -> None:
    """Write the name into every place, and bring every job to its end."""
    customer, jobs = batch.customer, list(batch.jobs.all())
    customer.contacts.create(name=f"Ottoline {NAME}", reach=f"{NAME}@example.org")
    customer.tax_number = f"TAX {NAME}"
    keep(customer, now)
    batch.contact, batch.donor_consent = f"Ottoline {NAME}", f"yes, {NAME}"
    batch.terms_text += f"# as agreed with Ottoline {NAME}\n"
    keep(batch, now)
    people.invite(batch, f"Ottoline {NAME}", by=by, now=now)
    job = jobs[0]
    job.remarks = f"{NAME} wants it first"
    keep(job, now)
    note_finding(job, Finding.SEEN, by=by, now=now, words=f"sticker of {NAME}")
    add_photo(job, picture(), by=by, now=now, caption=f"desk of {NAME}")
    Approval.objects.create(
        job=job, quote_minor=1, asked_at=now, answer="yes", answered_by=NAME
    )
    WrittenYes.objects.create(
        job=job, cover="label", said_by=NAME, said_on=now.date(), at=now, by=by
    )
    part = kitting.keep_data_part(job, by=by, now=now, serial=NAME)
    kitting.end_data_part(part, "returned", by=by, now=now, verified_how=f"to {NAME}")
    money = Invoice.objects.create(
        batch=batch, number="2027-1", on=now.date(), due_on=now.date(), net_minor=0,
        tax_minor=0, owed_minor=0,
    )  # fmt: skip
    Payment.objects.create(invoice=money, minor=0, on=now.date(), how=f"by {NAME}")
    tranche = Tranche.objects.create(
        batch=batch, handed_on=now.date(), taken_by=NAME, note=f"to {NAME}"
    )
    Signature.objects.create(tranche=tranche, name=NAME, strokes=f"M {NAME}", at=now)
    shelf_part = Part.objects.first()
    donor = Donor.objects.create(job=job, consent=NAME, carcass_receipt=NAME)
    DonorPart.objects.create(donor=donor, part=shelf_part, tested_how=f"with {NAME}")
    stock.move_stock(
        shelf_part, "found", 1, by=by, now=now, job=job, words=f"in the bag of {NAME}"
    )
    Accessory.objects.filter(job=job).update(explanation=f"with {NAME}")
    _goods_in(batch, by=by, now=now)
    _all_go_back(jobs, by=by, now=now)
    close_batch(batch, by=by, now=now)


def _goods_in(batch: Batch, *, by: Person, now: datetime) -> None:
    """Write the name where pieces of the batch's own order are compared and tried."""
    part = Part.objects.last()
    line = stock.order(part, 2, by=by, now=now, cost_minor=9, batch=batch)
    good = goods.Parcel(1, "L1", f"as {NAME} said", goods.ACCEPTED)
    lot = goods.goods_in(line, good, by=by, now=now)
    goods.write_first_use(lot, is_good=True, by=by, now=now, how=f"before {NAME}")
    bent = goods.Parcel(1, "L2", f"{NAME} found it bent", goods.REJECTED)
    goods.goods_in(line, bent, by=by, now=now)


def _all_go_back(jobs: list[Job], *, by: Person, now: datetime) -> None:
    for one in jobs:
        if holds_bad_pack(one, now):
            log_pack("its pack", "taken out", by=by, now=now, place="fire box", job=one)
        return_unrepaired(
            one, by=by, now=now, reason=f"{NAME} wants it back", taken_by=NAME
        )
    assert not DataPart.objects.filter(end="").exists()


def picture() -> bytes:
    """Give a small picture in which something is to be seen."""
    drawn = Image.effect_noise((320, 240), 90).convert("RGB")
    written = BytesIO()
    drawn.save(written, "PNG")
    return written.getvalue()
