"""How does a device lie now, for the next path that is written for it?"""

from turnscrew.core.bench.owed import owed_after
from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import BenchState
from turnscrew.core.model.device import Device
from turnscrew.core.model.job_state import OPEN
from turnscrew.core.model.turning import postures_in
from turnscrew.flows.bench.goal import Lying
from turnscrew.web.records.models import BenchRun
from turnscrew.web.records.queries import bench_runs


def lying_now(row: BenchRun, device: Device) -> Lying:
    """Say how a device lies, with all that its paths so far leave to be seen to."""
    state, run = bench_runs.state_and_run(row)
    known = {*device.parts, *device.joints}
    ahead = run.lines[state.at] if state.at < len(run.lines) else None
    owed = owed_after(bench_runs.held_lines(row), ahead)
    return Lying(
        off=state.off & known,
        aside=state.aside & set(device.moves),
        tray=state.tray,
        letters=run.letters,
        fasteners=run.fasteners,
        posture=_posture(run, state, device),
        is_open=row.job.state in OPEN,
        to_look=tuple(name for name in owed.looks if name in known),
        to_count=tuple(name for name in owed.counts if _is_counted(name, run, device)),
        n_photos=bench_runs.n_photos(row),
        was_off=bench_runs.was_off(row) & known,
        tested=bench_runs.tested(row),
        out=owed.out,
        was_set=owed.was_set,
        boxed=owed.boxed,
        is_powered=owed.is_powered,
    )


def _is_counted(name: str, run: Run, device: Device) -> bool:
    joint = device.joints.get(name)
    return joint is not None and joint.goes_in_tray and name in run.letters


def _posture(run: Run, state: BenchState, device: Device) -> str:
    done = [run.lines[stroke.line].posture for stroke in state.held]
    postures = postures_in(device)
    known = [posture for posture in done if posture in postures]
    return known[-1] if known else run.posture
