"""Do the pages of a batch speak German alone to whoever chose it, with every figure?"""

import pkgutil
import re
from collections import Counter as Tally
from collections.abc import Callable, Iterator
from html import unescape
from importlib import import_module

import pytest
from django import forms
from django.apps import apps
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db.models import CharField, TextField
from django.utils import translation

from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.web import counter as counter_pages
from turnscrew.web.counter import spoken as speaking
from turnscrew.web.records.models import (
    Accessory,
    Batch,
    ContactLink,
    Invoice,
    Job,
    Part,
    Person,
    Photo,
    SupplierReturn,
)
from turnscrew.web.records.photo_files import drawing_of
from turnscrew.web.records.queries.asked_first import asked_first
from turnscrew.web.records.queries.recognition import devices_described
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.services import people
from turnscrew.web.records.services.people import contact_address
from web.browser.bench_case import describe
from web.counter.test_returns import picture
from web.counter.test_whole_batch import Counter, at
from web.counter.two_languages import left_alone, texts_of
from web.known_faults import all_is_known

ALIKE = (
    "Material", "Name", "Status", "Original", "Plan", "Person", "Version", "Letter",
)  # fmt: skip
"""Words that are spelled alike in both languages."""

MARKED = re.compile("„[^“]*“")
_ISO = re.compile(r"\b(\d{4})-(\d\d)-(\d\d)\b")
_JOURNAL = re.compile(r"<table><caption>Jour.*?</table>", re.DOTALL)
_CODES = {
    "state", "main_state", "end", "stage", "verb", "outcome", "asked", "verdict",
    "comeback_class", "data_class", "lock", "cause", "agrees", "answer", "result",
    "language", "rights", "journal", "kind", "use", "ended_as", "terms_text",
}  # fmt: skip


@pytest.fixture
def counter(lead, helper, clock) -> Counter:
    return Counter(lead)


@pytest.fixture
def batch(counter, sallowmere, lead, clock) -> Batch:
    """Give the example batch with something in nearly every state."""
    describe(sallowmere, lead, clock.at)
    ask_and_answer(counter, sallowmere)
    strip_and_order(counter, sallowmere)
    pack_and_bill(counter, sallowmere, lead, clock)
    return sallowmere


def ask_and_answer(counter: Counter, batch: Batch) -> None:
    counter.enters(at(batch, "approvals/"), "ask")
    counter.enters(at(batch, "approvals/"), "take", name="Q. Rook", yes="40", no="59")
    counter.enters(at(batch, "approvals/"), "invite", name="Q. Rook")
    agreed = {"lines": "18", "cover": "tamper label", "name": "Q. Rook"}
    counter.enters(at(batch, "approvals/"), "agree", **agreed, day="2026-01-02")
    tranches = "20 V80 by day 4\n2 R50"
    counter.enters(at(batch, "ahead/"), "expect", expected=tranches)


def strip_and_order(counter: Counter, batch: Batch) -> None:
    counter.enters(at(batch, "donors/"), "declare", lines="2 6")
    parts = re.findall(
        r'name="part" value="(\d+)"', counter.reads(at(batch, "donors/"))
    )
    counter.enters(at(batch, "donors/"), "lay", part=parts[0], place="tray Q7")
    counter.enters(
        at(batch, "donors/"),
        "test",
        part=parts[0],
        is_good="yes",
        how="in a known body",
    )
    needs = re.findall(
        r'name="numbers" value="([^"]+)"', counter.reads(at(batch, "order/"))
    )
    counter.enters(at(batch, "order/"), "place", numbers=needs[:1])
    counter.enters(at(batch), "quote")
    counter.enters(at(batch), "kit")
    faulty = {
        "number": "C-FN", "n": "1", "stage": "on the shelf", "reason": "frame bent",
        "evidence": "beside a straight one", "asked": "credit", "on_shelf": "on",
        "deadline": "2027-02-10",
    }  # fmt: skip
    counter.enters("/stock/returns/", "begin", **faulty)
    ended = SupplierReturn.objects.get()
    counter.enters("/stock/returns/", f"send-{ended.ref}", credit_by="2027-02-20")
    counter.enters(
        "/stock/returns/", f"settle-{ended.ref}", end="credited", minor="5.00"
    )
    counter.enters("/stock/returns/", "begin", **faulty)


def pack_and_bill(counter: Counter, batch: Batch, lead: Person, clock) -> None:
    jobs = list(batch.jobs.filter(state="quoted").order_by("line")[:6])
    lines = ", ".join(str(job.line) for job in jobs)

    def move(*states: str) -> None:
        for state in states:
            entered = {"lines": lines, "place": "bench Q1", "holder": lead.ref}
            why = "Q by courier" if state == "kitted" else ""
            counter.enters(at(batch), "move", state=state, reason=why, **entered)

    move("kitted", "open", "tested open", "closed", "final-tested", "charged and clean")
    all_is_known(jobs, by=lead, now=clock.at)
    move("packed")
    counter.enters(
        at(batch, "hand-back/"), "give", taken_by="Q. Rook",
        lines=", ".join(str(job.line) for job in jobs[:3]),
    )  # fmt: skip
    counter.enters(at(batch, "invoice/"), "bill")
    money = f"/money/{Invoice.objects.get().ref}/"
    counter.enters(money, "pay", minor="2.50", on="2027-02-01", how="till Q")
    photographed(counter, jobs[0])


def photographed(counter: Counter, job: Job) -> None:
    sent = SimpleUploadedFile("q.png", picture(), "image/png")
    page = f"/jobs/{job.ref}/photos/"
    counter.enters(page, "add", photo=sent, caption="the hinge", key="a" * 16)
    photo = f"/photos/{Photo.objects.get().ref}/"
    counter.enters(
        photo, "mark", kind="arrow", x="10", y="20", to_x="30", to_y="40", says="here"
    )
    counter.enters(photo, "mask", left="1", top="2", right="30", bottom="40")
    shown = drawing_of(Photo.objects.get())
    counter.enters(photo, "clear", seen="masked", looked_at=shown)


PAGES: dict[str, Callable[[Batch], str]] = {
    "batches": lambda batch: "/batches/",
    "batch": at,
    **{
        name: (lambda batch, name=name: at(batch, f"{name}/"))  # type: ignore[misc]
        for name in (
            "ahead", "receive", "approvals", "order", "donors", "plan", "papers",
            "accessories", "hand-back", "invoice",
        )
    },
    "scanned": lambda batch: at(batch, "receive/?scan=PL3-99999"),
    "scanned again": lambda batch: at(batch, f"receive/?scan={a_job(batch).serial}"),
    "asked": lambda batch: at(batch, "plan/?late=C-FN%3D2&answers_on=3"),
    "asked wrongly": lambda batch: at(batch, "plan/?answers_on=x"),
    "order today": lambda batch: "/stock/order/",
    "returns": lambda batch: "/stock/returns/",
    "comebacks": lambda batch: "/comebacks/",
    "invoiced": lambda batch: f"/money/{Invoice.objects.get().ref}/",
    "photos": lambda batch: f"/jobs/{Photo.objects.get().job.ref}/photos/",
    "photo": lambda batch: f"/photos/{Photo.objects.get().ref}/",
    "quoted": lambda batch: item_in(batch, "quoted"),
    "waiting": lambda batch: item_in(batch, "awaiting answer"),
    "stripped": lambda batch: item_in(batch, "donor"),
    "packed": lambda batch: item_in(batch, "packed"),
    "gone": lambda batch: item_in(batch, "handed back"),
    "comeback": lambda batch: item_of(batch.jobs.exclude(comeback_class="")[0]),
    "its contact": lambda batch: address_of_contact(),
}  # fmt: skip


def address_of_contact() -> str:
    return f"/answer/{contact_address(ContactLink.objects.get())}/"


def a_job(batch: Batch) -> Job:
    return batch.jobs.order_by("line")[0]


def item_of(job: Job) -> str:
    return f"/items/{job.item.ref}/"


def item_in(batch: Batch, state: str) -> str:
    return item_of(batch.jobs.filter(state=state).order_by("line")[0])


def read(counter: Counter, address: str, language: str, now) -> str:
    """Read a page in a language, without what its journal says."""
    people.speak_to(counter.person, language, now=now)
    with translation.override(language):
        answer = counter.client.get(address, headers={"accept-language": language})
    assert 200 == answer.status_code
    return _JOURNAL.sub("", answer.content.decode())


def own_words(batch: Batch) -> Iterator[str]:
    """Give what people wrote, from every row and from the terms."""
    for table in apps.get_app_config("records").get_models():
        names = [
            field.name
            for field in table._meta.get_fields()
            if isinstance(field, CharField | TextField) and field.name not in _CODES
        ]
        for row in table.objects.values_list(*names) if names else ():
            # Our own words, where the records keep them, are no excuse.
            yield from (text for text in row if text and text not in GERMAN_COUNTER)
    for number, description in Part.objects.values_list("number", "description"):
        yield from (description, f"{number} {description}")
    yield from Accessory.objects.values_list("kind", flat=True)
    yield from Person.objects.values_list("key", flat=True)
    for device in devices_described().values():
        for revision in device.revisions.values():
            yield from (revision.confirm, *revision.marks, *revision.marks.values())
    yield from (one.cover for one in asked_first(batch))
    terms = terms_of(batch)
    yield from (fault.says for fault in terms.faults.values())
    yield from (pair.tell for pair in terms.look_alikes)
    yield from terms.models


def figures(page: str) -> Tally[int]:
    """Count the numbers of a page, its months by name in both languages."""
    text = " ".join(texts_of(page))
    text = _ISO.sub(lambda day: f"{int(day[3])} {day[1]}", text)
    return Tally(map(int, re.findall(r"\d+", text)))


def test_it_has_a_page_of_every_kind(batch) -> None:
    assert len(PAGES) == len({address(batch) for address in PAGES.values()})


def test_it_leaves_no_text_in_english_and_no_figure_out(counter, batch, clock) -> None:
    own = {*ALIKE, *own_words(batch)}
    left, marked, differing = {}, {}, {}
    for name, address in PAGES.items():
        english = read(counter, address(batch), "en", clock.at)
        german = read(counter, address(batch), "de", clock.at)
        left[name] = left_alone(english, german, own=own)
        marked[name] = MARKED.findall(" ".join(texts_of(unescape(german))))
        a, b = figures(english), figures(german)
        differing[name] = ((a - b), (b - a))

    assert {} == {name: texts for name, texts in left.items() if texts}
    assert {} == {name: texts for name, texts in marked.items() if texts}
    assert {} == {name: two for name, two in differing.items() if any(two)}
    assert "en" == translation.get_language()


@pytest.fixture
def german(counter, sallowmere, clock) -> Iterator[Counter]:
    """Give somebody at the counter who is spoken to in German."""
    people.speak_to(counter.person, "de", now=clock.at)
    with translation.override("en"):
        yield counter


def told_after(page: str) -> str:
    """Give what a page says of the act before it."""
    found = re.search(r'<p class="told" role="status">(.*?)</p>', page)
    assert found is not None
    return unescape(found[1])


def test_it_says_what_an_act_led_to(german, sallowmere, lead) -> None:
    first = sallowmere.jobs.order_by("line")[0]
    says = [
        told_after(german.enters(address, act, **entered))
        for address, act, entered in (
            (at(sallowmere, "approvals/"), "ask", {}),
            (
                at(sallowmere, "approvals/"), "take",
                {"name": "Q. Rook", "yes": "40", "no": "59"},
            ),
            (
                at(sallowmere), "lock",
                {"lines": f"{first.line}", "lock": "locked"},
            ),
            (
                at(sallowmere), "move",
                {"lines": f"{first.line}", "state": "awaiting part",
                 "place": "Plan", "holder": lead.ref, "until": "2027-02-04",
                 "reason": "Glass"},
            ),
            (
                item_of(first), "move",
                {"state": "awaiting part", "place": "Plan", "holder": lead.ref,
                 "until": "2027-02-04", "reason": "Glass"},
            ),
            (item_of(first), "bring", {"kind": "Letter", "n": "2"}),
            (at(sallowmere, "accessories/"), "accessory_right", {
                "row": first.accessories.latest("id").pk, "n_in": "3", "why": "one",
            }),
        )
    ]  # fmt: skip

    assert [
        "nach 8 Geräten gefragt",
        "2 Antworten eingetragen",
        "1 Gerät: gesperrt",
        "1 Gerät: wartet auf Ersatzteil",
        # What somebody wrote stays, even if it is a word of ours.
        "wartet auf Ersatzteil, Plan",
        "2 Letter hinzugefügt",
        "durch einen neuen Eintrag berichtigt; der alte bleibt lesbar",
    ] == says


def reasons_in(page: str) -> list[str]:
    box = page.partition('id="reasons"')[2].partition("</ul>")[0]
    return [unescape(one) for one in re.findall("<li>(.*?)</li>", box)]


@pytest.mark.parametrize(
    ("page", "act", "entered", "reasons"),
    [
        (
            "hand-back/", "give", {"lines": "1", "taken_by": "Q. Rook"},
            ["Gerät 1: Stand angenommen, gesucht verpackt"],
        ),
        (
            "hand-back/", "give", {"lines": "1-"},
            [
                "Abgegebene Geräte: gefunden 1-, gesucht Nummern wie 1, 3-9",
                "Entgegengenommen von, Name wie unterschrieben: "
                "Dieses Feld ist zwingend erforderlich.",
            ],
        ),
        (
            "approvals/", "take", {"name": "Q. Rook", "yes": "1", "no": "1"},
            ["ja und nein zu 1 gefunden, gesucht eines"],
        ),
        (
            "donors/", "declare", {"lines": "99"},
            ["Geräte: gefunden 99, gesucht Nummern dieses Loses"],
        ),
        (
            "invoice/", "bill", {},
            ["Geräte: keines zu berechnen, gesucht eines oder mehr"],
        ),
        (
            "receive/", "several", {},
            ["Tabelle: weder Datei noch eingefügte Zeilen gefunden, gesucht eines "
             "davon"],
        ),
    ],
)  # fmt: skip
def test_it_says_why_something_is_not_done(
    german, sallowmere, page, act, entered, reasons
) -> None:
    told = german.is_refused(at(sallowmere, page), act, **entered)

    assert reasons == reasons_in(told)
    assert "Nicht getan" in told


@pytest.mark.parametrize(
    ("entered", "said"),
    [
        (
            "116.12",
            "gefunden 116.12, das vielleicht 116 Ganze und 12 Hundertstel heisst; "
            "nichts wurde gespeichert: ist das gemeint, 116,12 schreiben; gesucht ein "
            "Betrag wie 116,12, mit Komma",
        ),
        ("zwei", "gefunden zwei, gesucht ein Betrag wie 116,12, mit Komma"),
    ],
)
def test_it_repeats_an_amount_as_it_was_entered(german, entered, said) -> None:
    told = german.is_refused(
        "/stock/returns/", "begin", number="C-FN", n="1", stage="on the shelf",
        reason="bent", asked="credit", expected_minor=entered,
    )  # fmt: skip

    label = "Erwartete Gutschrift; leer für den bezahlten Preis"
    assert [f"{label}: {said}"] == reasons_in(told)


def test_it_keeps_a_choice_as_it_was_in_english(german, sallowmere) -> None:
    page = german.reads(item_of(sallowmere.jobs.order_by("line")[0]))

    assert '<option value="awaiting answer">wartet auf Antwort</option>' in page
    assert ">Imke Vasterling</option>" in page


def test_it_has_german_for_every_label_choice_and_button() -> None:
    with translation.override("de"):
        left = [
            (form.__name__, text)
            for form in every_form()
            for text in texts_of_form(form)
            if text not in (*ALIKE, "Deutsch") and text == speaking.chosen(text)
        ]
    assert [] == left


def every_form() -> Iterator[type[forms.BaseForm]]:
    for module in pkgutil.iter_modules(counter_pages.__path__):
        if module.name.endswith("forms"):
            held = import_module(f"{counter_pages.__name__}.{module.name}")
            for one in vars(held).values():
                if isinstance(one, type) and issubclass(one, forms.BaseForm):
                    yield one


def texts_of_form(form: type[forms.BaseForm]) -> Iterator[str]:
    for field in form.base_fields.values():  # type: ignore[attr-defined]
        if field.widget.is_hidden:
            continue
        yield from filter(None, (str(field.label or ""), str(field.help_text)))
        for _, words in getattr(field, "choices", ()):
            if re.search("[a-z]{3}", str(words)):
                yield str(words)
