"""Does the tray stay right whatever is told, taken back or said to differ?"""

import random
from collections import Counter
from collections.abc import Mapping
from typing import Any

import pytest

from random_strokes import likely_stroke
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import BenchState, Stroke
from turnscrew.web.records.models import BenchStroke, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.tray import tray_of
from turnscrew.web.records.services.refusal import RefusedError
from web.bench.case import taken, told
from web.browser.bench_case import kitted

LINES = (
    1, 3, 4, 5, 8, 10, 11, 13, 15, 16, 18, 20, 22, 24, 28, 32, 33, 44, 45, 52,
)  # fmt: skip
N_LONG, N_SHORT = 200, 30
"""Strokes of the first device of a group, and of each other one. [1]"""


def by_kind(run: Run, state: BenchState) -> dict[str, int]:
    """Count the pieces in the tray by kind, as the journal does."""
    kinds: Counter[str] = Counter()
    for letter, n in state.tray.items():
        own = [one.fastener for one in run.lines if one.letter == letter]
        kinds[run.fasteners.get(letter) or next(filter(None, own), "")] += n
    return {kind: n for kind, n in kinds.items() if n}


def as_known(stroke: Stroke, other: Any) -> Mapping[str, Any]:
    """Let somebody who works here have looked."""
    return {
        name: other.ref if value == "P2" else value
        for name, value in stroke.facts.items()
    }


@pytest.mark.parametrize("group", range(2))
def test_it_keeps_the_tray_right_over_random_walks(
    batch, lead, helper, now, group
) -> None:
    seen: Counter[str] = Counter()
    lines = LINES[group::2]
    for index, line in enumerate(lines):
        rng = random.Random(line)
        row = taken(kitted(batch, line, lead, now), lead, now)
        run = bench_runs.run_in(row)
        job = Job.objects.get(pk=row.job_id)
        for _ in range(N_LONG if not index else N_SHORT):
            state = bench_runs.told(row).state
            last = state.held[-1].line if state.held else -1
            stroke = likely_stroke(run, state.at, last, rng)
            facts = as_known(stroke, helper)
            sent = Stroke(stroke.act, stroke.line, facts)
            wrong = refusal(run, state, sent, lead.ref)
            try:
                kept = told(row, lead, now, stroke.act, stroke.line, facts)
                seen[kept.act] += 1
                assert not wrong
            except RefusedError as error:
                seen["refused"] += 1
                assert wrong, (stroke, str(error))
            after = bench_runs.told(row).state
            assert by_kind(run, after) == tray_of(job), (line, stroke)
        # A bench has five places only.
        Job.objects.filter(pk=job.pk).update(place=f"walked {line}")

    assert min(seen[act] for act in ("done", "answer", "differs", "undo")) > 5
    assert seen["refused"] > 15
    standing = BenchStroke.objects.values_list("standing", flat=True)
    assert {"held"} == set(standing)
    assert () == audited().breaks
