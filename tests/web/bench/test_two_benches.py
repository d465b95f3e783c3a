"""
Does everything hold that two benches and a counter tell late, twice and out of turn?

A model goes beside the records: what each bench did by itself, what it was told, and
what the counter moved. After all is told, everything acknowledged must be there once,
and a slow replay from the first stroke on must lead to where the records stand.
"""

import json
import random
from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

import pytest
from django.db import transaction
from django.test import Client

from oracles.bench import standing
from random_strokes import likely_stroke
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import Stroke, state_after, state_of
from turnscrew.errors import TurnscrewError
from turnscrew.web.records.models import (
    Allotment,
    BenchRun,
    BenchStroke,
    Entry,
    Job,
    Part,
    Person,
)
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import bench_places, stock
from web.bench.case import post, taken, work
from web.browser.bench_case import kitted

NEAR_CLOSE, AT_START = 18, 22
"""Lines of the example batch: one device about to be closed, one not yet begun."""

N_STEPS = 9
STANDINGS = {
    BenchStroke.HELD, BenchStroke.AGREED, BenchStroke.DISPUTED, BenchStroke.SETTLED,
}  # fmt: skip


@dataclass
class Bench:
    """One bench: what it believes of each device, and what it has not told yet."""

    name: str
    person: Person
    client: Client
    known: dict[str, list[Stroke]] = field(default_factory=dict)
    waiting: list[dict[str, Any]] = field(default_factory=list)


@dataclass
class World:
    """Everything that goes on in one run of the model."""

    rng: random.Random
    now: datetime
    runs: dict[str, Run]
    part: Part
    jobs: list[Job]
    benches: list[Bench]
    acknowledged: dict[str, str] = field(default_factory=dict)
    n_keys: int = 0

    # --- at a bench -------------------------------------------------------------------

    def strike(self, bench: Bench) -> None:
        """Do something to a device, as the page of the bench lets it be done."""
        ref = self.rng.choice(list(self.runs))
        run, strokes = self.runs[ref], bench.known.setdefault(ref, [])
        state = state_of(run, strokes)
        last = state.held[-1].line if state.held else -1
        drawn = likely_stroke(run, state.at, last, self.rng)
        facts = dict(drawn.facts)
        if facts.get("other"):
            others = [one.person.ref for one in self.benches if one is not bench]
            facts["other"] = others[0]
        self.n_keys += 1
        stroke = Stroke(drawn.act, drawn.line, facts, f"key-{self.n_keys:05}")
        if refusal(run, state, stroke, bench.person.ref):
            return
        self.now += timedelta(seconds=self.rng.randint(0, 40))
        bench.waiting.append(
            {
                "key": stroke.key, "run": ref, "act": stroke.act, "line": stroke.line,
                "at": self.now.isoformat(), "facts": facts,
                "after": strokes[-1].key if strokes else "",
            }
        )  # fmt: skip
        strokes.append(stroke)

    def send(self, bench: Bench) -> None:
        """Tell what waits, over a network that loses, doubles and turns round."""
        sent = bench.waiting[: self.rng.randint(1, 8)]
        if not sent:
            return
        way = self.rng.choice(("well", "well", "doubled", "unheard", "turned", "again"))
        if way == "doubled":
            sent = [*sent, *sent]
        if way == "turned":
            sent = self.rng.sample(sent, len(sent))
        answers = self.told(bench, sent)
        if way == "unheard":
            # The answer was lost: the bench knows nothing of it and sends it again.
            return
        self.hear(bench, answers)
        if way == "again":
            self.told(bench, sent)

    def told(self, bench: Bench, sent: list[dict[str, Any]]) -> list[dict[str, str]]:
        body = {"bench": bench.name, "strokes": sent}
        answers = post(bench.client, "tell/", body)["became"]
        assert [one["key"] for one in sent] == [one["key"] for one in answers]
        for one in answers:
            assert one["standing"] in {*STANDINGS, "refused"}
            assert one["against"] or one["standing"] in {"held", "agreed", "settled"}
        return list(answers)

    def hear(self, bench: Bench, answers: list[dict[str, str]]) -> None:
        """Take what the records say in place of what the bench believed."""
        for one in answers:
            if one["standing"] != "refused":
                self.acknowledged[one["key"]] = one["standing"]
        heard = {one["key"] for one in answers}
        bench.waiting = [one for one in bench.waiting if one["key"] not in heard]
        still = {one["run"] for one in bench.waiting}
        for ref in set(self.runs) - still:
            bench.known[ref] = strokes_held(ref)

    # --- at the counter ---------------------------------------------------------------

    def at_the_counter(self, by: Person) -> None:
        """Move the last pieces, or lay a device away."""
        job, part = self.rng.choice(self.jobs), self.part
        job.refresh_from_db()
        part.refresh_from_db()
        wish = Allotment.objects.filter(part=part, job=job).order_by("?").first()
        act = self.rng.choice(("count", "promise", "release", "take", "lost", "park"))
        try:
            if act == "count":
                n = self.rng.randint(0, 2)
                stock.count(part, n, by=by, now=self.now, words="counted")
            elif act == "promise":
                stock.promise(part, job, by=by, now=self.now)
            elif act == "release" and wish is not None:
                stock.release(wish, by=by, now=self.now, words="not wanted")
            elif act == "take":
                stock.take(part, job, by=by, now=self.now)
            elif act == "lost" and part.on_hand > 0:
                stock.move_stock(part, "lost", 1, by=by, now=self.now, words="gone")
            elif act == "park" and self.rng.random() < 0.3:
                bench_places.park(job, by=by, now=self.now, reason="end of the day")
        except TurnscrewError as error:
            assert str(error)

    # --- in the end -------------------------------------------------------------------

    def heal(self) -> None:
        """Let every bench tell all it did, and then tell it once more."""
        for bench in self.rng.sample(self.benches, len(self.benches)):
            everything = list(bench.waiting)
            while bench.waiting:
                answers = self.told(bench, bench.waiting[:8])
                self.hear(bench, answers)
            before = outcome()
            for at in range(0, len(everything), 8):
                self.told(bench, everything[at : at + 8])
            assert before == outcome()

    def settle(self, by: Bench) -> None:
        """Say of every device whose accounts part which one holds."""
        for job in self.jobs:
            row = bench_runs.latest(job)
            apart = row.strokes.filter(standing=BenchStroke.DISPUTED)
            if apart.exists():
                body = {"is_theirs": self.rng.random() < 0.4}
                answer = by.client.post(
                    f"/bench/jobs/{job.ref}/settle/", json.dumps(body),
                    content_type="application/json",
                )  # fmt: skip
                assert answer.status_code in {200, 409}, answer.content

    def check(self) -> None:
        """Compare the records with the model."""
        self._nothing_acknowledged_is_lost()
        for ref in self.runs:
            self._replay_leads_to_the_same(ref)
        self._last_pieces_balance()
        assert () == audited().breaks

    def _nothing_acknowledged_is_lost(self) -> None:
        rows = dict(BenchStroke.objects.values_list("client_key", "standing"))
        assert rows.keys() >= self.acknowledged.keys()
        for key, standing_told in self.acknowledged.items():
            if standing_told in {"held", "agreed", "settled"}:
                assert standing_told == rows[key]
            else:
                assert rows[key] in {BenchStroke.DISPUTED, BenchStroke.SETTLED}
        own = [key for key in rows if key.startswith("key-")]
        assert len(own) == len(set(own))

    def _replay_leads_to_the_same(self, ref: str) -> None:
        row, run = bench_runs.run_named(ref), self.runs[ref]
        strokes = strokes_held(ref)
        people = dict(BenchStroke.objects.values_list("client_key", "by__ref"))
        fast = state_of(run, ())
        for stroke in strokes:
            assert "" == refusal(run, fast, stroke, people[stroke.key])
            fast = state_after(run, fast, stroke)
        state, slow = bench_runs.told(row).state, standing(run, strokes)
        assert fast == state
        assert (slow.at, slow.off, slow.aside) == (state.at, state.off, state.aside)
        assert {k: n for k, n in slow.tray.items() if n} == {
            k: n for k, n in state.tray.items() if n
        }
        # Every stroke that holds has entries of its own in the journal.
        sequences = [one.sequence for one in bench_runs.held(row)]
        assert len(sequences) == len(set(sequences))
        assert (
            len(sequences)
            == Entry.objects.filter(
                journal="bench", sequence__in=sequences, subject=row.job.ref
            ).count()
        )

    def conflicts_are_shown(self) -> None:
        """See every account that parts from another on the page of the bench."""
        told = self.benches[0].client.get("/bench/state/?bench=bench%201").json()
        for job in told["jobs"]:
            apart = BenchStroke.objects.filter(
                run__job__ref=job["ref"], standing=BenchStroke.DISPUTED
            )
            assert apart.count() == len(job["run"]["disputed"])

    def _last_pieces_balance(self) -> None:
        used = Entry.objects.filter(journal="stock", verb="used", subject=self.part.ref)
        wishes = Allotment.objects.filter(part=self.part)
        assert used.count() == wishes.filter(state=Allotment.USED).count()
        self.part.refresh_from_db()
        promised = wishes.filter(state=Allotment.PROMISED, donor_part=None).count()
        assert promised == self.part.promised


def strokes_held(ref: str) -> list[Stroke]:
    """Read what holds of a run from the rows alone."""
    rows = BenchStroke.objects.filter(run__ref=ref, standing=BenchStroke.HELD)
    return [bench_runs.stroke_of(row) for row in rows.order_by("id")]


def outcome() -> tuple[Any, ...]:
    """Give all that telling something once more must not change."""
    return (
        list(BenchStroke.objects.order_by("id").values_list("client_key", "standing")),
        Entry.objects.count(),
        list(Part.objects.order_by("pk").values_list("on_hand", "promised")),
        list(Job.objects.order_by("pk").values_list("state", "place", "holder")),
    )


@pytest.fixture
def made(batch, lead, helper, at_lead, at_helper, now) -> dict[str, Any]:
    """Bring two devices to the benches; they want the last piece of one part."""
    part = Part.objects.order_by("pk").first()
    assert part is not None
    stock.count(part, 1, by=lead, now=now, words="the last piece")
    rows: dict[int, BenchRun] = {}
    for line in (NEAR_CLOSE, AT_START):
        job = kitted(batch, line, lead, now)
        stock.promise(part, job, by=lead, now=now)
        rows[line] = taken(job, lead, now)
    work(rows[NEAR_CLOSE], lead, now, helper, lambda line: line.asks == "close")
    return {"part": part, "rows": list(rows.values())}


def world_of(seed: int, made: dict[str, Any], people: Any, now: datetime) -> World:
    benches = [Bench(f"bench {n}", *one) for n, one in enumerate(people, 1)]
    rows = made["rows"]
    for bench in benches:
        bench.known = {row.ref: strokes_held(row.ref) for row in rows}
    return World(
        rng=random.Random(seed),
        now=now,
        runs={row.ref: bench_runs.run_in(row) for row in rows},
        part=made["part"],
        jobs=[Job.objects.get(pk=row.job_id) for row in rows],
        benches=benches,
    )


def lived_through(world: World, lead: Person) -> Counter[str]:
    for _ in range(N_STEPS):
        bench = world.rng.choice(world.benches)
        act = world.rng.choice(("strike", "strike", "strike", "send", "counter"))
        if act == "strike":
            for _ in range(world.rng.randint(1, 4)):
                world.strike(bench)
        elif act == "send":
            world.send(bench)
        else:
            world.at_the_counter(lead)
    world.heal()
    if BenchStroke.objects.filter(standing=BenchStroke.DISPUTED).exists():
        world.conflicts_are_shown()
        world.check()
        world.settle(world.benches[0])
    world.acknowledged = {
        key: standing_told
        for key, standing_told in world.acknowledged.items()
        if standing_told in {"held", "agreed"}
    }
    rows = BenchStroke.objects.filter(client_key__startswith="key-")
    ends = Counter(rows.values_list("standing", flat=True))
    world.check()
    return ends


def test_it_loses_and_doubles_nothing_between_two_benches_and_the_counter(
    made, lead, helper, at_lead, at_helper, now, n_fuzz
) -> None:
    ends: Counter[str] = Counter()
    people = ((lead, at_lead), (helper, at_helper))
    for seed in range(n_fuzz // 3):
        # Nothing of a run is kept, nor remembered by what reads it.
        with transaction.atomic():
            try:
                ends += lived_through(world_of(seed, made, people, now), lead)
            except Exception as error:
                raise AssertionError(f"seed {seed}") from error
            transaction.set_rollback(True)

    # The runs met every way in which two accounts can go together.
    assert {"held", "agreed"} < set(ends)
    assert set(ends) & {"disputed", "settled"}
