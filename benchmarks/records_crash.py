"""
Is anything lost that was acknowledged when the power goes?

A process writes a storm of stock and custody moves and says of each, after it was
committed, which entry it wrote. Another kills it at a random moment, opens the records
again, looks for every entry that was acknowledged, and audits the whole. The records
grow from kill to kill. On the database named by TURNSCREW_DATABASE, else on SQLite, in
a folder that is new.
"""

# The settings read the folder of the records when they are first imported.
# ruff: noqa: PLC0415

import argparse
import os
import random
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

NOW = datetime(2027, 2, 1, 9, tzinfo=UTC)
TERMS = Path(__file__).resolve().parents[1] / "examples" / "sallowmere" / "terms.yaml"
PLACES = ("shelf A", "shelf B", "bench 1", "bench 2")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--storm", type=int, help=argparse.SUPPRESS)
    said = parser.parse_args()
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "turnscrew.web.settings")
    if said.storm is not None:
        storm(random.Random(said.storm))
        return
    with tempfile.TemporaryDirectory() as folder:
        os.environ["TURNSCREW_HOME"] = folder
        kill_often(said.times, random.Random(said.seed))


def storm(chance: random.Random) -> None:
    import django

    django.setup()
    from turnscrew.core.model.job_state import Standing
    from turnscrew.web.records.models import Entry, Job, Part, Person
    from turnscrew.web.records.services import custody, stock

    by = Person.objects.get(key="lead")
    jobs, parts = list(Job.objects.all()), list(Part.objects.all())
    while True:
        if chance.random() < 0.5:
            job = chance.choice(jobs)
            to = Standing("received", chance.choice(PLACES), by.ref)
            custody.move(job, to, by=by, now=NOW)
            journal = "custody"
        else:
            part = chance.choice(parts)
            verb = chance.choice(["received", "found", "used", "lost"])
            stock.move_stock(part, verb, 1, by=by, now=NOW, words="storm")
            journal = "stock"
        last = Entry.objects.filter(journal=journal).latest("sequence")
        print(journal, last.sequence, last.digest, flush=True)


def kill_often(n_times: int, chance: random.Random) -> None:
    import django

    django.setup()
    from django.db import connection

    populate()
    n_acknowledged = n_unsaid = 0
    kept: dict[tuple[str, int], str] = {}
    require_whole(kept)
    for _ in range(n_times):
        said = killed(chance)
        kept.update(said)
        n_acknowledged += len(said)
        connection.close()
        n_unsaid += require_whole(kept)
    print(
        f"{n_times} kills, {n_acknowledged} entries acknowledged, 0 lost,"
        f" {n_unsaid} written and not yet acknowledged, every audit clean"
    )


def killed(chance: random.Random) -> dict[tuple[str, int], str]:
    """Start a storm, end it at a random moment, give what it had acknowledged."""
    words = [sys.executable, __file__, "--storm", str(chance.randrange(2**31))]
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout
        first = child.stdout.readline()
        time.sleep(chance.uniform(0, 0.4))
        child.kill()
        lines = [first, *child.stdout]
    said = {}
    for line in lines:
        # The last line may have been cut in the middle by the kill.
        if line.endswith("\n"):
            journal, sequence, digest = line.split()
            said[journal, int(sequence)] = digest
    assert said, "the storm wrote nothing"
    return said


def require_whole(kept: dict[tuple[str, int], str]) -> int:
    from turnscrew.web.records.models import Entry
    from turnscrew.web.records.queries.audit import audited
    from turnscrew.web.records.queries.moment import one_moment

    with one_moment():
        rows = Entry.objects.filter(journal__in=("stock", "custody"))
        there = {(one.journal, one.sequence): one.digest for one in rows}
        found = audited()
    lost = {name for name, digest in kept.items() if there.get(name) != digest}
    assert not lost, f"acknowledged and lost: {sorted(lost)[:5]}"
    assert not found.breaks, str(found.breaks[0])
    unsaid = set(there) - set(kept)
    for name in unsaid:
        kept[name] = there[name]
    return len(unsaid)


def populate() -> None:
    """Make records with a few parts and jobs; their entries were never said."""
    from turnscrew.core.model.batch import BatchLine
    from turnscrew.files.terms_file import without_customer
    from turnscrew.web.keeping.owner import first_owner
    from turnscrew.web.keeping.upgrade import bring_up_to_date
    from turnscrew.web.records.models import Batch, Customer, Part
    from turnscrew.web.records.services import booking, stock

    bring_up_to_date()
    by = first_owner(NOW)
    assert by is not None
    customer = Customer.objects.create(name="Storm")
    batch = Batch.objects.create(
        customer=customer, name="Storm", received=NOW.date(),
        terms_text=without_customer(TERMS.read_text("utf-8")),
    )  # fmt: skip
    lines = [BatchLine(line=n, serial="", model="L240") for n in range(1, 9)]
    booking.receive(batch, lines, by=by, now=NOW)
    for n in range(4):
        part = Part.objects.create(number=f"P-{n}", description="part")
        stock.move_stock(part, "received", 100_000, by=by, now=NOW)


if __name__ == "__main__":
    main()
