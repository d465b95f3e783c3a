"""Which papers does a batch on record have, and how is one made?"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.job_state import ENDED
from turnscrew.core.price.account import account_of
from turnscrew.papers.batch.beside import NOTHING, Beside
from turnscrew.papers.batch.remarks import reason_written
from turnscrew.papers.page import Page, Paper, Size
from turnscrew.papers.set_aside import written
from turnscrew.web.records.convert import item_of, ledger_entry
from turnscrew.web.records.models import Entry, Invoice, Person, Tranche
from turnscrew.web.records.queries.adapters import AdapterStand, adapters_of
from turnscrew.web.records.queries.batch_input import jobs_of
from turnscrew.web.records.queries.closing import NOT_MENDED
from turnscrew.web.records.queries.notation import notation
from turnscrew.web.records.queries.passed_over import passed_over_words
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.taken_out import taken_out_of

TITLES = {
    "batch-sheet.pdf": "Batch sheet",
    "approval-message.pdf": "Approvals, to print",
    "approval-message.txt": "Approvals, to send",
    "order-list.pdf": "Order list, all the batch needs, ordered or not",
    "kit-lists.pdf": "Kit lists",
    "device-labels.pdf": "Device labels",
    "isolation-labels.pdf": "Isolation labels",
    "donor-cards.pdf": "Donor cards",
    "receipt.pdf": "Receipt to the customer",
    "invoice.pdf": "Invoice of the whole batch, as planned",
    "evidence.pdf": "Test and evidence pages",
}

WITH_MONEY = frozenset({
    "batch-sheet.pdf", "approval-message.pdf", "approval-message.txt",
    "order-list.pdf", "invoice.pdf",
})  # fmt: skip
"""Papers that name amounts: for those who may see money."""


def papers_here() -> list[tuple[str, str]]:
    """Name the papers of a batch with their titles; a day sheet for each bench."""
    people = Person.objects.filter(has_left=False, minutes_a_day__gt=0)
    keys = people.order_by("order", "id").values_list("key", flat=True)
    sheets = {f"day-sheet-{key}.pdf": f"Day sheet, {key}" for key in keys}
    return list({**TITLES, **sheets}.items())


def paper_of(size: Size, language: str = "en") -> Paper:
    """Give a size of paper on which figures read as the workshop chose."""
    return Paper(size, notation(), language)


def invoice_bytes(invoice: Invoice, size: Page) -> bytes:
    """Make the paper of an invoice that was sent, from its own lines."""
    from turnscrew.papers.batch import trade  # noqa: PLC0415 - the typesetter is slow

    at = Entry.objects.get(subject=invoice.ref, verb="invoiced").at
    answer = reckoned(invoice.batch, at, past_time=True)
    lines = invoice.lines.select_related("job").order_by("job__line", "id")
    items = tuple(
        item_of(answer.by_name[line], own)
        for line, own in groupby(lines, key=lambda row: row.job.line)
    )
    account = account_of(items, (), answer.batch.parts, 0)
    sent = trade.Sent(invoice.number, invoice.on, invoice.due_on)
    return trade.invoice(replace(answer, items=items, account=account), size, sent)


def hand_back_bytes(tranche: Tranche, size: Page) -> bytes:
    """Make the note that went with a tranche, as things stood when it left."""
    from turnscrew.papers.batch import hand_back  # noqa: PLC0415 - slow typesetter

    batch = tranche.batch
    at = tranche.signature.at
    answer = reckoned(batch, at, past_time=True)
    jobs = tranche.jobs.prefetch_related("accessories__checks").order_by("line")
    went = _went_with(tranche)
    handed = {job.ref for job in jobs}
    line_of = dict(batch.jobs.values_list("ref", "line"))
    kept = {ref for ref, _, _ in went.explained}
    stays = [
        f"{job.line}: {written(f'{job.model} {job.serial}'.rstrip())}, {job.state}"
        + (f", {reason_written(job.reason)}" if job.reason else "")
        + (f", until {job.waits_until:%d %b %Y}" if job.waits_until else "")
        for job in jobs_of(batch, at)
        if job.state not in ENDED
    ]
    goes_with = {
        job.line: ", ".join(f"{n} {written(kind)}" for kind, n in went.out[job.ref])
        or ("nothing" if job.ref in kept else "nothing came")
        for job in jobs
    }
    adapters = {
        job.line: tuple(
            _stand(one)
            for one in adapters_of(job.accessories.all(), at)
            if one.is_cut or one.accessory.kind in dict(went.out[job.ref])
        )
        for job in jobs
    }
    as_it_came = [
        job
        for job in jobs
        if job.state == "returned unrepaired" or job.ended_as == NOT_MENDED
    ]
    taken = taken_out_of(as_it_came, at, written)
    given = hand_back.HandBack(
        on=tranche.handed_on,
        taken_by=tranche.taken_by,
        lines=[job.line for job in jobs],
        goes_with=goes_with,
        adapters=adapters,
        stays=stays,
        note=tranche.note,
        as_it_came=frozenset(job.line for job in as_it_came),
        strays=[
            f"{n} {kind}"
            for ref, told in went.out.items()
            if ref not in handed
            for kind, n in told
        ],
        passed_over=passed_over_words(jobs, at),
        taken_out={job.line: taken[job.pk] for job in as_it_came if taken[job.pk]},
        explained=[(line_of.get(ref), what, why) for ref, what, why in went.explained],
    )
    return hand_back.hand_back_note(answer, size, given)


@dataclass(frozen=True)
class _Went:
    """What was written to have gone out with a signature, and what not, by subject."""

    out: Mapping[str, list[tuple[str, int]]]
    explained: list[tuple[str, str, str]]


def _went_with(tranche: Tranche) -> _Went:
    """Give what was signed for, from the journal: later corrections change nothing."""
    about = [tranche.batch.ref, *tranche.batch.jobs.values_list("ref", flat=True)]
    rows = Entry.objects.filter(
        journal="custody", verb__in=("accessory out", "accessory explained"),
        at=tranche.signature.at, subject__in=about,
    ).select_related("words").order_by("sequence")  # fmt: skip
    out: Mapping[str, list[tuple[str, int]]] = defaultdict(list)
    explained = []
    for row in rows:
        told = ledger_entry(row)
        if told.verb == "accessory out":
            out[told.subject].append((told.text("kind"), told.n("n")))
        else:
            what = f"{told.n('n')} {told.text('kind')}"
            explained.append(
                (told.subject, what, row.words.text if hasattr(row, "words") else "")
            )
    return _Went(out, explained)


def _stand(one: AdapterStand) -> str:
    kind = one.accessory.kind
    return f"{written(kind)}{one.says.removeprefix(kind)}"


def paper_bytes(
    name: str, answer: BatchAnswer, size: Page, beside: Beside = NOTHING
) -> bytes | None:
    """Make one paper; nothing if there is no such paper or nothing to say."""
    # The typesetter is slow to load, and most pages print nothing.
    from turnscrew.papers.batch.every import every_paper  # noqa: PLC0415

    papers = every_paper(answer, size, (), beside)
    if name not in papers:
        return None
    content = papers[name]()
    return content.encode() if isinstance(content, str) else content
