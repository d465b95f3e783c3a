"""Do the pages of stock, money, fleet, people and safety leave no English in German?"""

import re
from collections.abc import Iterator, Mapping
from datetime import timedelta
from types import SimpleNamespace

import pypdfium2
import pytest
from django.db.models import Model
from django.utils import translation

from turnscrew.core.ledger.verbs import VERBS
from turnscrew.core.model.german.journal import JOURNAL_VERBS
from turnscrew.core.model.notation import Notation
from turnscrew.files.faults_file import read_faults
from turnscrew.papers.telling import Telling
from turnscrew.web.counter.spoken import telling
from turnscrew.web.counter.templatetags import house
from turnscrew.web.records.models import (
    Accessory,
    Allotment,
    Batch,
    Contact,
    Customer,
    Description,
    DonorPart,
    Duty,
    Incident,
    Job,
    KnownGood,
    LockRequest,
    LookAlike,
    Lot,
    OrderLine,
    PackLog,
    Part,
    PartFit,
    Person,
    SafetyKind,
    SignOff,
    Site,
    Trial,
    Waste,
)
from turnscrew.web.records.queries import margins
from turnscrew.web.records.queries.batch_page import order_needs
from turnscrew.web.records.queries.descriptions import device_in
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.services import (
    arrival,
    booking,
    customers,
    finishing,
    fits,
    goods,
    invoicing,
    kitting,
    locks,
    people,
    quoting,
    safety,
    stock,
    trials,
    waste,
)
from web.counter.test_margins import home
from web.counter.two_languages import left_alone, texts_of
from web.counter.worked import describe, kitted, taken, work
from web.counter_case import signed_in
from web.known_faults import NOT_SHOWN, TRIAL

TO_THE_END = "until=2028-09-30&lost=900.00&fleet="

TABLETS = {"Night team": 60, "North round": 120, "South round": 130}

ALIKE = (
    "Name", "Text", "Version", "Element", "Position", "Median", "Letter", "Turnscrew",
)  # fmt: skip
"""Words that both languages spell alike."""

OWN: Mapping[type[Model], tuple[str, ...]] = {
    Accessory: ("kind",),
    Batch: ("name",),
    Contact: ("name", "reach"),
    Customer: ("name", "contract"),
    Duty: ("words",),
    Incident: ("what", "done", "learnt"),
    Job: ("number", "model", "revision", "serial", "place", "reported", "remarks"),
    KnownGood: ("what", "fits", "place", "key", "verified_with"),
    LockRequest: ("asked_of", "words", "answer"),
    Lot: ("name", "marks_seen", "first_use_how"),
    PackLog: ("pack", "reading", "place"),
    Part: ("number", "description", "model", "place", "marks"),
    PartFit: ("claimed_by", "position"),
    Person: ("name", "key"),
    SignOff: ("skill",),
    Site: ("name",),
    Trial: ("load", "position", "tried", "words"),
    Waste: ("what", "receiver", "receipt"),
}
"""What people wrote, by where it is kept."""

FACT = re.compile(r"\b(?:parts|joints|moves)\.[a-z -]+")
"""Where something stands in a description; this is typed letter by letter."""


def own_words(batch: Batch) -> Iterator[str]:
    for kind, names in OWN.items():
        for row in kind.objects.all():  # type: ignore[attr-defined]
            yield from (getattr(row, name) for name in names)
    for code, fault in terms_of(batch).faults.items():
        yield from (code, fault.says)
    for text in Description.objects.values_list("faults_text", flat=True):
        for key, one in read_faults(text).known_good.items() if text else ():
            yield from (key, one.what)
    for one in Description.objects.all():
        yield from device_in(one, "").parts
    yield from LookAlike.objects.values_list("tell", flat=True)
    yield from (*ALIKE, "Health and Safety Executive")


def much_is_on_record(batch: Batch, lead: Person, helper: Person, now) -> None:
    """Bring the example batch into a state that fills the pages of the house."""
    by = {"by": lead, "now": now}
    describe(batch, lead, now)
    row = taken(kitted(batch, 38, lead, now), lead, now, "bench 1")
    work(row, lead, now + timedelta(seconds=30), other=helper)
    row = taken(kitted(batch, 43, lead, now), lead, now, "bench 2")
    work(row, lead, now, other=helper, until=lambda line: line.number > 14)
    customer, job = batch.customer, batch.jobs.get(line=1)
    for site, n in TABLETS.items():
        customers.count_fleet(customer, "V80", site, n, now=now)
    customers.add_contact(customer, "Wen Arkady", "7 11 20")
    customers.answer_duty(
        customer, customers.Answered("bound", "yes", now.date(), "paper 4"), now=now
    )
    quoting.keep_quotes(batch, reckoned(batch, now), **by)
    kitting.declare_donors(batch, [2, 6, 14], reckoned(batch, now), **by)
    for piece in DonorPart.objects.all()[:2]:
        kitting.test_donor_part(piece, is_good=True, how="known good", **by)
    part = Part.objects.get(number="T-GL2")
    for ago, n in enumerate((5, 8, 4, 5, 7, 3, 6, 4), start=1):
        at = now - timedelta(days=30 * ago)
        for _ in range(n):
            Allotment.objects.create(part=part, job=job, state="used", at=at)
    fits.claim_fit(part, fits.Place("V80", "2", "front glass"), "Wolder Parts", **by)
    answer = reckoned(batch, now)
    wanted = [need.number for need in order_needs(batch, answer)]
    kitting.place_order(batch, wanted, **by)
    kitting.allot(batch, reckoned(batch, now), **by)
    first, *_ = OrderLine.objects.all()
    parcel = goods.Parcel(first.n, "L-77", "alike in all", goods.ACCEPTED)
    goods.goods_in(first, parcel, **by)
    nothing_is_amiss(job, lead, now)
    invoicing.invoice(batch, **by)
    booking.sign_off(
        helper, "pack removal", by=lead, now=now, on=now.date(),
        until=now.date() + timedelta(days=9),
    )  # fmt: skip


def nothing_is_amiss(job: Job, lead: Person, now) -> None:
    """Look at one device and at the house."""
    by = {"by": lead, "now": now}
    people.begin_safety()
    strap = SafetyKind.objects.get(name="wrist strap")
    people.check_safety(strap, "passed", by=lead, now=now - timedelta(days=9))
    safety.report_incident("near miss", "a tool fell", done="picked up", **by)
    safety.log_pack("P-7", "swollen", reading="9 mm", place="fire box 1", **by)
    waste.throw_away(waste.Scrap("glass", 100), job=job, **by)
    kept = waste.throw_away(waste.Scrap("battery"), **by)
    waste.let_go([kept.ref], waste.Receipt("Wolder Yard", "W-1"), **by)
    trials.plan_trial(job, TRIAL, **by)
    trials.end_trial(job, NOT_SHOWN, **by)
    water = "cloth damp with water"
    finishing.note_cleaning(job, "coated picture", water, are_trims_right=True, **by)
    finishing.note_charge(job, finishing.Charged(80, 30), **by)
    arrival.mark_damage(job, arrival.Damage("back", "dent", 20, 30, "deep"), **by)
    locks.note_lock(job, "locked", **by)
    due = now.date() + timedelta(days=3)
    locks.ask_administrator(job, "Wen Arkady", due, words="unlock it", **by)


def pages_of(batch: Batch, person: Person) -> Mapping[str, str]:
    item = batch.jobs.get(line=1).item.ref
    customer = f"/customers/{batch.customer.ref}"
    return {
        "stock": "/stock/", "part": "/stock/T-GL2/", "another part": "/stock/T-AD/",
        "part to the end": f"/stock/T-GL2/?{TO_THE_END}whole&good=9",
        "part that shrinks": f"/stock/T-GL2/?{TO_THE_END}shrinking",
        "goods-in": "/stock/goods-in/", "waste": "/stock/waste/",
        "known good": "/stock/known-good/", "money": "/money/",
        "customer": f"{customer}/", "fleet": f"{customer}/fleet/?replace=V80%3D389/5",
        "descriptions": "/descriptions/", "description": "/descriptions/V80/",
        "checks": f"/items/{item}/checks/", "safety": "/safety/", "people": "/people/",
        "person": f"/people/{person.ref}/", "own times": "/own-times/",
        "audit": "/audit/", "handover": "/handover/", "manual": "/docs/",
        "find": "/find/?code=V8012345",
    }  # fmt: skip


def test_no_english_is_left_and_nothing_is_marked_as_unknown(
    sallowmere, lead, helper, now, clock, settings
) -> None:
    settings.DOCS = ""
    much_is_on_record(sallowmere, lead, helper, now)
    own = set(own_words(sallowmere))
    client, told = signed_in(lead), {}
    for language in ("en", "de"):
        people.speak_to(lead, language, now=now)
        for name, address in pages_of(sallowmere, helper).items():
            page = client.get(address).content.decode()
            told[language, name] = FACT.sub("", page)
    translation.activate("en")

    left = {
        name: left_alone(told["en", name], told["de", name], own=own)
        for name in pages_of(sallowmere, helper)
    }
    marked = {
        name: [text for text in texts_of(told["de", name]) if "„" in text]
        for name in pages_of(sallowmere, helper)
    }
    assert {} == {name: some for name, some in left.items() if some}
    assert {} == {name: some for name, some in marked.items() if some}


def test_the_page_of_money_is_german_when_much_was_earned(
    sallowmere, lead, now, clock, monkeypatch
) -> None:
    home(sallowmere, lead, now)
    margins._kept.clear()
    minutes = {job.ref: 30.0 for job in sallowmere.jobs.all()}
    told_by = margins._Minutes(minutes, {lead.ref: sum(minutes.values())})
    monkeypatch.setattr(margins, "_minutes_on_record", lambda: told_by)
    own = set(own_words(sallowmere))
    client, told = signed_in(lead), {}
    for language in ("en", "de"):
        people.speak_to(lead, language, now=now)
        told[language] = client.get("/money/").content.decode()
    translation.activate("en")

    assert [] == left_alone(told["en"], told["de"], own=own)
    assert "„" not in told["de"]
    assert "Die Sorten, die je Arbeit am wenigsten einbringen" in told["de"]


@pytest.mark.parametrize(
    ("address", "told"),
    [
        ("/descriptions/papers/emergency-card-a4.pdf", "Im Notfall"),
        ("/people/{}/card-a4.pdf", "Darf allein"),
        ("/handover/sheet-a4.pdf", "Kein Gerät liegt offen"),
        ("/customers/{}/fleet/report/", "Was wie oft ausfällt"),
    ],
)
def test_its_prints_follow_the_language_of_who_prints(
    sallowmere, lead, helper, now, clock, address, told
) -> None:
    customers.count_fleet(sallowmere.customer, "V80", "Night team", 60, now=now)
    people.speak_to(lead, "de", now=now)
    ref = sallowmere.customer.ref if "customers" in address else helper.ref
    pdf = signed_in(lead).get(address.format(ref)).content
    translation.activate("en")

    pages = pypdfium2.PdfDocument(pdf)
    assert told in " ".join(page.get_textpage().get_text_bounded() for page in pages)


@pytest.mark.parametrize(
    ("verb", "facts", "told"),
    [
        (
            "tested",
            {"act": "answer", "does": "charge", "line": 16, "value": "80"},
            "geprüft: Eintrag Antwort, tut laden, Zeile 16, Wert 80",
        ),
        (
            "action",
            {"act": "done", "does": "lift", "name": "speaker", "signed": True},
            "Handgriff: Eintrag fertig, tut abheben, Name speaker, unterschrieben Ja",
        ),
        ("action", {"does": "new path"}, "Handgriff: tut neuer Weg"),
        (
            "action",
            {"does": "look into a rushed sheet"},
            "Handgriff: tut eiliges Blatt ansehen",
        ),
        (
            "moved",
            {"holder": "customer", "place": "bench 1, place 1"},
            "bewegt: bei Kunde, Platz bench 1, Platz 1",
        ),
    ],
)
def test_a_journal_of_the_bench_is_german(verb, facts, told) -> None:
    entry = SimpleNamespace(verb=verb, told=facts)

    with translation.override("de"):
        assert told == house.entry_words(entry)


def test_a_reading_is_read_off_and_a_path_says_why_in_german() -> None:
    with translation.override("de"):
        assert ("abgelesen", "gut") == (
            house.answered("read"), house.answered("passed"),
        )  # fmt: skip
        why = house.entry_why("closed up as it is")
    assert "geschlossen, wie es ist" == why
    assert "read" == house.answered("read")


def test_every_verb_of_a_journal_has_its_german() -> None:
    verbs = {verb for verbs in VERBS.values() for verb in verbs}

    assert set() == verbs - set(JOURNAL_VERBS)


def test_an_entry_keeps_what_people_wrote(sallowmere, lead, now, clock) -> None:
    part = Part.objects.get(number="T-GL2")
    stock.count(part, part.on_hand - 1, by=lead, now=now, words="lost, not counted")
    people.speak_to(lead, "de", now=now)
    page = signed_in(lead).get("/stock/T-GL2/").content.decode()
    translation.activate("en")

    assert "<td>verloren: Zahl 1</td><td>lost, not counted</td>" in page
    assert "<td>Anfangsbestand</td>" in page


@pytest.mark.parametrize(
    ("english", "german"),
    [
        ("1,254 device-years under watch, 25 failures.",
         "1.254 Gerätejahre beobachtet, 25 Ausfälle."),
        ("comeback, no charge", "Rückläufer, ohne Berechnung"),
        ("no charge", "ohne Berechnung"),
        ("wait until 03 Mar 2027", "warten bis 3. März 2027"),
        ("They cost about 1,410.53.", "Sie kosten etwa 1.410,53."),
        ("4.2 years (3.1 to 5.6)", "4,2 Jahre (3,1 bis 5,6)"),
        ("1.23 (0.98 to 1.40)", "1,23 (0,98 bis 1,40)"),
        ("V80 front glass cracked 11.7 (6.1 to 20.3)",
         "V80 front glass cracked 11,7 (6,1 bis 20,3)"),
    ],
)  # fmt: skip
def test_a_sentence_reads_as_german_is_written(english, german) -> None:
    with translation.override("de"):
        assert german == house.told(english)
    assert english == house.told(english)


def test_amounts_in_sentences_follow_the_decimal_sign() -> None:
    told = "They cost about 1,410.53."
    pointed = telling().phrases

    assert "Sie kosten etwa 1,410.53." == Telling(
        pointed, "de", Notation(sign="point")
    ).says(told)
    assert "They cost about 1.410,53." == Telling(
        pointed, "en", Notation(sign="comma")
    ).says(told)


def test_a_stroke_is_named_by_kind_and_verb() -> None:
    with translation.override("de"):
        assert "Schraube lösen" == house.stroke_words("undo screw")
        assert "wenden" == house.stroke_words("turn")
    assert "undo screw" == house.stroke_words("undo screw")
