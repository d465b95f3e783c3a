"""How far is the work on a device at the bench?"""

from pydantic import TypeAdapter

from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import BenchState, Stroke, state_of
from turnscrew.flows.bench.goal import Goal
from turnscrew.web.records.models import BenchRun, BenchStroke, Job

RUNS = TypeAdapter(Run)
GOALS = TypeAdapter(Goal)


class NoRunError(LookupError):
    """No run has that reference."""

    def __str__(self) -> str:
        return f"path: found no {self.args[0]}, wanted one on record"


def latest(job: Job) -> BenchRun | None:
    """Give the newest run of a device."""
    rows = BenchRun.objects.filter(job=job).select_related("description", "job")
    return rows.order_by("-number").first()


def run_named(ref: str) -> BenchRun:
    """Give a run by its reference."""
    rows = BenchRun.objects.select_related("job__batch", "description")
    row = rows.filter(ref=ref).first()
    if row is None:
        raise NoRunError(ref)
    return row


def is_recording(ref: str) -> bool:
    """Say whether a run is the recording of an opening."""
    return BenchRun.objects.filter(ref=ref, kind=BenchRun.RECORDING).exists()


def run_in(row: BenchRun) -> Run:
    """Read the lines of a run."""
    return RUNS.validate_python(row.run)


def held(row: BenchRun) -> list[BenchStroke]:
    """Give the strokes of a run that hold, in order."""
    return list(row.strokes.filter(standing=BenchStroke.HELD).order_by("id"))


def last_key(row: BenchRun) -> str:
    """Give the key of the last stroke that holds; empty if there is none."""
    last = row.strokes.filter(standing=BenchStroke.HELD).order_by("-id").first()
    return last.client_key if last is not None else ""


def stroke_of(row: BenchStroke) -> Stroke:
    """Read a stroke."""
    return Stroke(row.act, row.line, row.facts, row.client_key)  # type: ignore[arg-type]


def state_and_run(row: BenchRun) -> tuple[BenchState, Run]:
    """Say how a device stands, with the run it stands in."""
    run = run_in(row)
    return state_of(run, [stroke_of(one) for one in held(row)]), run


def work_done(row: BenchRun) -> frozenset[str]:
    """Name what was done to a device in this run and those before it."""
    done: set[str] = set()
    rows = BenchRun.objects.filter(job=row.job, number__lte=row.number)
    for one in rows:
        was, run = state_and_run(one)
        done |= {
            run.lines[stroke.line].says
            for stroke in was.held
            if run.lines[stroke.line].phase == "work"
        }
    return frozenset(done)
