"""Booking a batch, its list, and its devices."""

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone

from turnscrew.core.model.amounts import counted
from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.serials import number_read
from turnscrew.files.batch_file import read_batch
from turnscrew.files.batch_folder import is_of_batch, read_batch_folder
from turnscrew.files.terms_file import read_terms
from turnscrew.papers.batch.list_words import again_written, twice_written
from turnscrew.web.counter import forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.expecting_forms import BookAhead
from turnscrew.web.counter.pasted import listed_in, table_in
from turnscrew.web.records.queries import (
    batch_page,
    find,
    receiving_page,
    recognition,
)
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.said_otherwise import customer_otherwise
from turnscrew.web.records.services import booking, folders
from turnscrew.web.records.services.receiving_next import receive_next
from turnscrew.web.records.services.recognition import note_sightings
from turnscrew.web.records.services.refusal import RefusedError

_WANTED_FILES = (
    "terms.yaml, people.yaml, a table batch, parts, customer-list or history, or a "
    "description that the terms name"
)
_DESCRIPTIONS = (".device.yaml", ".faults.yaml")


def batches(request: HttpRequest) -> HttpResponse:
    """List the batches, and book another."""
    person = request.person  # type: ignore[attr-defined]

    def load(entered: Entered) -> Done:
        files = entered["chosen"]
        wrong = [one.name for one in files if not _is_wanted(one.name)]
        if wrong:
            raise RefusedError(
                *(f"file: found {name}, wanted {_WANTED_FILES}" for name in wrong)
            )
        contents = {one.name: one.read() for one in files}
        handed_in = read_batch_folder(
            {name: text for name, text in contents.items() if is_of_batch(name)}
        )
        came = folders.receive_folder(
            contents, handed_in, by=person, now=timezone.localtime()
        )
        return Done(
            f"{counted(len(handed_in.lines), 'device')} received", _address(came.batch),
            came.otherwise,
        )  # fmt: skip

    def book(entered: Entered) -> Done:
        said = booking.Booking(
            entered["name"], entered["received"], entered["terms"],
            expected_text=entered["expected"],
        )  # fmt: skip
        batch = booking.book(said, by=person, now=timezone.localtime())
        told = "booked: now the customer's list and the devices"
        notes = customer_otherwise(read_terms(entered["terms"]))
        return Done(told, _address(batch), notes)

    acts = {
        "load": Act(load, "Receive these files", forms.BookFolder),
        "book": Act(
            book, "Book", BookAhead, initial={"received": timezone.localdate()}
        ),
    }

    def context() -> Mapping[str, Any]:
        return {
            "batches": batch_page.batches(),
            "closed": [b for b in batch_page.batches(is_open=False) if b.closed_on],
        }

    return page(request, "counter/batches.html", context, acts)


def _address(batch: Any) -> str:
    return reverse("counter:batch", args=[batch.ref])


def _is_wanted(name: str) -> bool:
    return is_of_batch(name) or name.endswith(_DESCRIPTIONS)


def customer_list(request: HttpRequest, ref: str) -> HttpResponse:
    """Keep the customer's own list, whatever its headings."""
    batch = find.batch_with_terms(ref)
    person = request.person  # type: ignore[attr-defined]

    def keep(entered: Entered) -> Done:
        listed = listed_in(entered)
        booking.keep_list(batch, listed, by=person, now=timezone.localtime())
        return Done(f"{counted(len(listed), 'row')} kept", _address(batch))

    acts = {"keep": Act(keep, "Keep this list", forms.KeepList)}
    return page(request, "counter/customer_list.html", lambda: _compared(batch), acts)


def receive(request: HttpRequest, ref: str) -> HttpResponse:
    """Receive devices one scan at a time, or a table of them; compare at once."""
    batch = find.batch_with_terms(ref)
    person = request.person  # type: ignore[attr-defined]

    def several(entered: Entered) -> Done:
        content, name = table_in(entered, "batch")
        lines = read_batch(content, name)
        booking.receive(batch, lines, by=person, now=timezone.localtime())
        return Done(f"{counted(len(lines), 'device')} received")

    def one(entered: Entered) -> Done:
        line = _line(entered, booking.next_line(batch))
        now, lock = timezone.localtime(), entered["lock"]
        job = receive_next(batch, line, by=person, now=now, lock=lock)
        note_sightings(job, seen, by=person, now=now)
        return Done(f"device {job.line} received as {job.number}", request.path)

    scanned = request.GET.get("scan", "")[:120].replace("\0", "").strip()
    told, initial = receiving_page.looked_up(batch, scanned) if scanned else ([], {})
    seen = recognition.seen_in(request.GET.getlist("saw"))
    ranked = recognition.recognition_of(initial.get("serial", ""), seen)
    written = recognition.written_of(initial.get("model", ""), initial.get("rev", ""))
    told, initial = receiving_page.by_body(told, initial, ranked)
    acts = {
        "one": Act(one, "Receive", forms.ReceiveOne, "look", initial),
        "several": Act(several, "Receive them all", forms.KeepLines),
    }
    if request.htmx and request.method == "GET":  # type: ignore[attr-defined]
        return render(request, "counter/compared.html", _compared(batch))

    def context() -> Mapping[str, Any]:
        return {
            **_compared(batch),
            "scanned": scanned,
            "told": told,
            "recognition": ranked,
            "seen": seen,
            "written": written,
            "saw": recognition.spelled(seen),
        }

    return page(request, "counter/receive.html", context, acts)


def _line(entered: Entered, number: int) -> BatchLine:
    def several(text: str) -> tuple[str, ...]:
        return tuple(piece.strip() for piece in text.split("+") if piece.strip())

    return BatchLine(
        line=number,
        serial=number_read(entered["serial"].strip()),
        model=entered["model"].strip(),
        asset=entered["asset"].strip(),
        revision=entered["rev"].strip(),
        site=entered["site"].strip(),
        due_day=entered["due_day"],
        reported=entered["reported"].strip(),
        found=several(entered["found"]),
        accessories=several(entered["acc"]),
        data=entered["data_class"],
        remarks=entered["remarks"].strip(),
    )


def _compared(batch: Any) -> dict[str, Any]:
    """Compare list and bodies, with every hold a device has."""
    answer = reckoned(batch, timezone.localtime())
    found = answer.reconciliation
    return {
        "batch": batch,
        "answer": answer,
        "found": found,
        "missing": [(row, again_written(found, row)) for row in found.missing],
        "twice": twice_written(found),
        "held": [device for device in answer.devices if device.holds],
        "n_here": len(answer.devices),
        "n_listed": len(answer.batch.listed),
        "models": answer.batch.terms.models,
        "receive_min": answer.minutes["receiving"],
    }
