"""Is what came back looked at while its face is still up?"""

from collections.abc import Iterator
from dataclasses import replace

from flows.bench.bench_cases import all_cases, lying_after, never
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import Stroke, state_of
from turnscrew.core.model.device import Device
from turnscrew.flows.bench.goal import Goal
from turnscrew.flows.bench.plan import run_for

RIGHT = {
    "look": {"answer": "yes"}, "count": {"left": 0}, "test": {"answer": "passed"},
    "number": {"value": "80"},
}  # fmt: skip


def _own_postures(device: Device, name: str) -> tuple[str, ...]:
    thing = device.joints.get(name) or device.parts.get(name)
    return thing.postures if thing is not None else ()


def _looks(run: Run) -> Iterator[tuple[Line, str]]:
    """Give every look with how the device lies then."""
    posture = run.posture
    for line in run.lines:
        posture = line.posture or posture
        if line.does == "look":
            yield line, posture


def _done(line: Line) -> Stroke:
    facts = RIGHT.get(line.asks, {})
    act = "answer" if facts else "done"
    return Stroke(key=f"k{line.number}", act=act, line=line.number, facts=facts)


def test_nothing_is_looked_at_after_its_face_was_turned_away() -> None:
    n_looks, late = 0, []
    for device, run in all_cases():
        for line, posture in _looks(run):
            for name in line.names:
                own = _own_postures(device, name)
                n_looks += bool(own)
                if own and posture not in own:
                    late.append((device.name, line.number, name, own, posture))

    assert n_looks > 100
    assert [] == late


def test_what_is_owed_a_look_when_it_is_taken_up_again_is_looked_at_in_time() -> None:
    n_owed, late = 0, []
    for device, run in all_cases():
        for line, _ in _looks(run):
            owed = [name for name in line.names if _own_postures(device, name)]
            if not owed:
                continue
            state = state_of(run, map(_done, run.lines[: line.number]))
            lying = replace(lying_after(run, state), to_look=tuple(owed), is_open=True)
            n_owed += len(owed)
            for again, posture in _looks(run_for(device, Goal(), lying, never)):
                late += [
                    (device.name, run.reach, name)
                    for name in again.names
                    if name in owed and posture not in _own_postures(device, name)
                ]

    assert n_owed > 100
    assert [] == late
