"""Records in the form of the first tables, written without today's services."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

from turnscrew.core.ledger import entry as ledger

TABLES = ("Batch", "Customer", "Entry", "EntryWords", "Item", "Job", "Part", "Person")
N_JOBS = 30

Table = Callable[[str], Any]


def fill(table: Table, now: datetime) -> None:
    """Write a customer with a batch, parts on the shelf, and sealed journals."""
    person = add(table("Person"), key="lead", name="Owner", rights="lead")
    customer = add(table("Customer"), name="First customer")
    batch = add(
        table("Batch"), customer=customer, name="First batch", received=now.date(),
        terms_text="batch: first",
    )  # fmt: skip
    chain = Chain(table, "custody", person.ref, now)
    for line in range(1, N_JOBS + 1):
        item = add(table("Item"), customer=customer, serial=f"S{line}", model="L240")
        job = add(
            table("Job"), batch=batch, item=item, line=line, number=f"F-{line}",
            model="L240", state="received", place="goods-in", holder=person.ref,
        )  # fmt: skip
        facts = {"state": "received", "place": "goods-in", "holder": person.ref}
        chain.add("moved", job.ref, facts, words=f"line {line}")
    chain.close()
    chain = Chain(table, "stock", person.ref, now)
    for n in range(1, 4):
        part = add(table("Part"), number=f"P-{n}", description="part", on_hand=n)
        chain.add("received", part.ref, {"n": n})
    chain.close()


def add(table: Any, **columns: object) -> Any:
    return table.objects.create(**columns)


class Chain:
    """One journal, sealed entry by entry."""

    def __init__(self, table: Table, journal: str, author: str, now: datetime) -> None:
        self.table, self.journal, self.author, self.at = table, journal, author, now
        self.n, self.digest = 0, ledger.START

    def add(self, verb: str, subject: str, facts: dict, words: str = "") -> None:
        self.n += 1
        self.at += timedelta(seconds=1)
        salt = "5a" * 16 if words else ""
        sealed = ledger.Entry(
            journal=self.journal, sequence=self.n,
            at=self.at.isoformat(timespec="microseconds"), author=self.author,
            verb=verb, subject=subject, facts=facts,
            words_digest=ledger.words_digest(salt, words) if words else "",
            corrects=0, previous=self.digest,
        )  # fmt: skip
        row = add(
            self.table("Entry"), journal=self.journal, sequence=self.n, at=self.at,
            author=self.author, verb=verb, subject=subject,
            facts=ledger.facts_text(facts), words_digest=sealed.words_digest,
            previous=self.digest, digest=sealed.digest,
        )  # fmt: skip
        if words:
            add(self.table("EntryWords"), entry=row, salt=salt, text=words)
        self.digest = sealed.digest

    def close(self) -> None:
        self.table("Head").objects.filter(journal=self.journal).update(
            sequence=self.n, digest=self.digest, at=self.at
        )
