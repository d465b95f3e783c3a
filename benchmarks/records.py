"""
How long do a bench and a counter wait for the records, and how does that grow?

Fills records with items and ten times as many journal entries, whole in their chains,
and audits them. Then a server in a process of its own, as `turnscrew serve` starts it,
and in another process benches and counters: every bench writes one action and every
counter opens one item's record each so many seconds. A wait is reckoned from the moment
the action was due, so that a slow answer cannot hide the ones behind it. Apart from
that, as many as the server will take. On the database named by TURNSCREW_DATABASE,
which must be empty, else on SQLite in a folder that is new.
"""

# The settings read the folder of the records when they are first imported.
# ruff: noqa: PLC0415

import argparse
import json
import os
import random
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from http.client import HTTPConnection, HTTPException
from pathlib import Path

NOW = datetime(2027, 2, 1, 9, tzinfo=UTC)
TERMS = Path(__file__).resolve().parents[1] / "examples" / "sallowmere" / "terms.yaml"
N_ENTRIES_EACH = 10
PER_BATCH = 1000
N_AT_ONCE = 8
CHUNK = 5000


@dataclass
class Waits:
    """How long each answer of one kind took, and how many did not come."""

    seconds: list[float] = field(default_factory=list)
    n_failed: int = 0

    def line(self, name: str) -> str:
        if not self.seconds:
            return f"{name:>8} {0:7} {self.n_failed:7}"
        ms = sorted(1000 * one for one in self.seconds)
        middle, late = ms[len(ms) // 2], ms[min(len(ms) * 95 // 100, len(ms) - 1)]
        return (
            f"{name:>8} {len(ms):7} {self.n_failed:7} {middle:8.1f} {late:8.1f}"
            f" {ms[-1]:8.1f}"
        )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--items", type=int, nargs="+", default=[1_000, 100_000])
    parser.add_argument("--people", type=int, default=50, help="benches and counters")
    parser.add_argument("--every", type=float, default=5.0, help="[s]")
    parser.add_argument("--seconds", type=float, default=300.0)
    parser.add_argument("--flood", type=float, default=20.0, help="[s]")
    parser.add_argument("--quick", action="store_true", help="half a minute in all")
    parser.add_argument("--backups", action="store_true", help="time these alone")
    parser.add_argument("--client", help=argparse.SUPPRESS)
    said = parser.parse_args()
    if said.client:
        ask(json.loads(said.client))
        return
    if said.quick:
        said.items, said.seconds, said.flood = said.items[:1], 10.0, 3.0
    for n_items in said.items:
        # A process for each size: the settings know one folder alone.
        if len(said.items) > 1:
            words = [sys.executable, __file__, "--items", str(n_items)]
            for name in ("people", "every", "seconds", "flood"):
                words += [f"--{name}", str(getattr(said, name))]
            words += ["--backups"] if said.backups else []
            subprocess.run(words, check=True)
        else:
            measure(n_items, said)


def measure(n_items: int, said: argparse.Namespace) -> None:
    os.environ["DJANGO_SETTINGS_MODULE"] = "turnscrew.web.settings"
    with tempfile.TemporaryDirectory() as folder:
        os.environ["TURNSCREW_HOME"] = folder
        import django

        django.setup()
        from django.db import connection

        made = timed(lambda: fill(n_items))
        n_entries = n_items * N_ENTRIES_EACH
        print(f"\n{connection.vendor}: {n_items} items, {n_entries} journal entries")
        print(f"filled in {made:.1f} s, audited in {timed(audit):.1f} s", flush=True)
        if said.backups:
            back_up(Path(folder))
            wipe()
            return
        plan = {"every": said.every, "people": said.people, **keys()}
        connection.close()
        with served(Path(folder)) as port:
            plan["port"] = port
            warm = plan | {"flood": 1.0, "kinds": ["action", "record"]}
            run_client(warm, is_shown=False)
            print("             served  failed   median      p95      max  [ms]")
            run_client(plan | {"seconds": said.seconds})
            for kind in ("action", "record"):
                run_client(plan | {"flood": said.flood, "kinds": [kind]})
        print(f"audited again in {timed(audit):.1f} s: whole")
        wipe()


def back_up(folder: Path) -> None:
    """Time a backup, its restore, and what is brought back of a spoilt one."""
    from django.db import connection

    connection.close()
    database = folder / "records.sqlite3"
    size = f" of {database.stat().st_size / 1e6:.0f} MB" if database.is_file() else ""
    with tempfile.TemporaryDirectory() as elsewhere:
        file, spoilt = Path(elsewhere) / "week.tsb", Path(elsewhere) / "spoilt.tsb"
        turnscrew("backup, proven by a trial", "backup", str(file))
        print(f"backup file: {file.stat().st_size / 1e6:.0f} MB{size}", flush=True)
        home = Path(elsewhere)
        turnscrew("restore", "restore", str(file), "--home", str(home / "whole"))
        contents = bytearray(file.read_bytes())
        contents[len(contents) // 2] ^= 1
        spoilt.write_bytes(contents)
        words = ["restore", str(spoilt), "--what-is-whole", "--home"]
        turnscrew("what is whole of a spoilt one", *words, str(home / "part"))


def turnscrew(name: str, *words: str) -> None:
    """Run one command in a process of its own and say how long it took."""
    command = [sys.executable, "-m", "turnscrew", *words]
    env = dict(os.environ)
    if words[0] == "restore":
        env["TURNSCREW_DATABASE"] = ""
    begun = time.perf_counter()
    done = subprocess.run(command, env=env, capture_output=True, text=True, check=False)
    print(f"{name}: {time.perf_counter() - begun:.1f} s", flush=True)
    if done.returncode not in {0, 1} or not done.stdout:
        raise RuntimeError(done.stderr)


def timed(work: Callable[[], object]) -> float:
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def audit() -> None:
    from turnscrew.web.records.queries.audit import audited

    found = audited()
    assert not found.breaks, str(found.breaks[0])


def wipe() -> None:
    """Leave a server's database as empty as it was found."""
    from django.db import connection

    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("DROP SCHEMA public CASCADE")
            cursor.execute("CREATE SCHEMA public")
    connection.close()


# --- the records ------------------------------------------------------------


def fill(n_items: int) -> None:
    from turnscrew.files.terms_file import without_customer
    from turnscrew.web.keeping.owner import first_owner
    from turnscrew.web.keeping.upgrade import bring_up_to_date
    from turnscrew.web.records.models import Batch, Customer

    terms = without_customer(TERMS.read_text("utf-8"))
    bring_up_to_date()
    owner = first_owner(NOW)
    assert owner is not None
    customer = Customer.objects.create(name="Many")
    chains = {name: Chain(name, owner.ref) for name in ("custody", "bench")}
    for first in range(0, n_items, PER_BATCH):
        day = date(2020, 1, 1) + timedelta(days=first // PER_BATCH)
        batch = Batch.objects.create(
            customer=customer, name=f"Batch of {day}", received=day,
            # No two batches have the same terms, so none is read for another.
            terms_text=f"{terms}# {day}\n",
        )  # fmt: skip
        add_batch(batch, first, min(PER_BATCH, n_items - first), chains)
    for chain in chains.values():
        chain.close()


def add_batch(batch, first: int, n: int, chains: dict) -> None:
    from django.db import transaction

    from turnscrew.web.records.models import Item, Job

    owner = chains["custody"].author
    with transaction.atomic():
        items = Item.objects.bulk_create(
            Item(customer=batch.customer, serial=f"S{first + k:08}", model="L240")
            for k in range(n)
        )
        jobs = Job.objects.bulk_create(
            Job(
                batch=batch, item=item, line=k, number=f"{batch.pk}-{k}",
                serial=item.serial, model="L240", state="received",
                place="goods-in", holder=owner,
            )
            for k, item in enumerate(items, 1)
        )  # fmt: skip
        moved = {"state": "received", "place": "goods-in", "holder": owner}
        for job in jobs:
            chains["custody"].add("moved", job.ref, {**moved, "until": None})
            for step in range(1, N_ENTRIES_EACH):
                words = "looked at it twice" if step == 1 else ""
                chains["bench"].add("action", job.ref, {"step": step}, words)
        for chain in chains.values():
            chain.write()


class Chain:
    """Seals entries as the journals do, and writes them many at a time."""

    def __init__(self, journal: str, author: str) -> None:
        from turnscrew.core.ledger.entry import START

        self.journal, self.author = journal, author
        self.n, self.digest = 0, START
        self.rows: list = []
        self.words: list = []

    def add(self, verb: str, subject: str, facts: dict, words: str = "") -> None:
        from turnscrew.core.ledger import entry as ledger
        from turnscrew.web.records.models import Entry, EntryWords
        from turnscrew.web.records.times import time_text

        self.n += 1
        at = NOW + timedelta(seconds=self.n)
        salt = f"{self.n:032x}" if words else ""
        sealed = ledger.Entry(
            self.journal, self.n, time_text(at), self.author, verb, subject, facts,
            ledger.words_digest(salt, words) if words else "", 0, self.digest,
        )  # fmt: skip
        row = Entry(
            journal=self.journal, sequence=self.n, at=at, author=self.author, verb=verb,
            subject=subject, facts=ledger.facts_text(facts),
            words_digest=sealed.words_digest, previous=self.digest,
            digest=sealed.digest,
        )  # fmt: skip
        self.digest = sealed.digest
        self.rows.append(row)
        if words:
            self.words.append(EntryWords(entry=row, salt=salt, text=words))

    def write(self) -> None:
        from turnscrew.web.records.models import Entry, EntryWords

        Entry.objects.bulk_create(self.rows, batch_size=CHUNK)
        EntryWords.objects.bulk_create(self.words, batch_size=CHUNK)
        self.rows, self.words = [], []

    def close(self) -> None:
        from turnscrew.web.records.models import Head

        Head.objects.filter(journal=self.journal).update(
            sequence=self.n, digest=self.digest, at=NOW + timedelta(seconds=self.n)
        )


def keys() -> dict[str, object]:
    """Sign in at the counter, take a token for the benches, choose what to ask for."""
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.contrib.sessions.backends.db import SessionStore

    from turnscrew.web.records.models import Item, Job, Person
    from turnscrew.web.records.services.tokens import make_token

    owner = Person.objects.get(key="lead")
    assert owner.user is not None
    session = SessionStore()
    session[SESSION_KEY] = str(owner.user.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = owner.user.get_session_auth_hash()
    session.create()
    chance = random.Random(1)
    jobs = list(Job.objects.values_list("ref", flat=True))
    items = list(Item.objects.values_list("ref", flat=True))
    return {
        "session": session.session_key,
        "token": make_token(owner, "bench", ["read", "bench"], NOW),
        "jobs": chance.sample(jobs, min(len(jobs), 500)),
        "items": chance.sample(items, min(len(items), 500)),
    }


@contextmanager
def served(home: Path):
    with socket.socket() as trial:
        trial.bind(("127.0.0.1", 0))
        port = trial.getsockname()[1]
    words = [sys.executable, "-m", "turnscrew", "serve", "--home", str(home)]
    server = subprocess.Popen(
        [*words, "--port", str(port)], stdout=subprocess.PIPE, text=True,
        start_new_session=True,
    )  # fmt: skip
    assert server.stdout
    for line in server.stdout:
        if line.startswith("Stop with"):
            break
    while True:
        try:
            socket.create_connection(("127.0.0.1", port)).close()
            break
        except ConnectionRefusedError:
            time.sleep(0.05)
    try:
        yield port
    finally:
        os.killpg(server.pid, signal.SIGTERM)
        server.communicate()


# --- those who ask ----------------------------------------------------------


def run_client(plan: dict, *, is_shown: bool = True) -> None:
    words = [sys.executable, __file__, "--client", json.dumps(plan)]
    told = subprocess.run(words, check=True, capture_output=True, text=True).stdout
    if is_shown:
        print(told, end="", flush=True)


def ask(plan: dict) -> None:
    waits = {"action": Waits(), "record": Waits()}
    begun = time.perf_counter()
    is_flood = "flood" in plan
    if is_flood:
        people = [(plan["kinds"][k % len(plan["kinds"])], k) for k in range(N_AT_ONCE)]
    else:
        people = [(("action", "record")[k % 2], k) for k in range(plan["people"])]
    threads = [
        threading.Thread(target=one_person, args=(plan, kind, k, begun, waits[kind]))
        for kind, k in people
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    took = time.perf_counter() - begun
    for kind in {kind for kind, _ in people}:
        line = waits[kind].line(kind)
        rate = len(waits[kind].seconds) / took
        print(f"{line}  flooded: {rate:.0f} a second" if is_flood else line)


def one_person(plan: dict, kind: str, k: int, begun: float, waits: Waits) -> None:
    chance = random.Random(k)
    line = HTTPConnection("127.0.0.1", plan["port"], timeout=30)
    is_flood = "flood" in plan
    every = 0.0 if is_flood else plan["every"]
    until = begun + (plan["flood"] if is_flood else plan["seconds"])
    due = begun + every * k / plan["people"]
    while (due := max(due, time.perf_counter()) if is_flood else due) < until:
        time.sleep(max(0.0, due - time.perf_counter()))
        try:
            status = once(line, plan, kind, chance)
        except (HTTPException, OSError):
            line.close()
            status = 0
        if status == 200:
            waits.seconds.append(time.perf_counter() - due)
        else:
            waits.n_failed += 1
        due += every


def once(line: HTTPConnection, plan: dict, kind: str, chance: random.Random) -> int:
    if kind == "action":
        body = json.dumps({"verb": "action", "facts": {"step": chance.randrange(99)}})
        path = f"/api/v1/jobs/{chance.choice(plan['jobs'])}/actions"
        bearer = {"Authorization": f"Bearer {plan['token']}"}
        line.request("POST", path, body, {"Content-Type": "application/json", **bearer})
    else:
        path = f"/items/{chance.choice(plan['items'])}/"
        line.request("GET", path, headers={"Cookie": f"sessionid={plan['session']}"})
    answer = line.getresponse()
    answer.read()
    return answer.status


if __name__ == "__main__":
    main()
