"""The runs of the example families, in every revision, for many goals."""

from functools import cache

from example_files import example_text
from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import BenchState
from turnscrew.core.model.device import Device
from turnscrew.core.opening.compile import removal_wanted
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.flows.bench.goal import Goal, Lying, Work
from turnscrew.flows.bench.plan import run_for

FAMILIES = ("grondle-r50", "pellorin-l240", "tavistle-v80")


def never() -> bool:
    return False


@cache
def devices() -> tuple[Device, ...]:
    """Give the three families in every revision."""
    texts = [example_text(f"{name}.device.yaml") for name in FAMILIES]
    return tuple(
        read_device(text, revision=revision)
        for text in texts
        for revision in revisions_in(text)
    )


def goals(device: Device) -> list[str]:
    """Name one part for each removal: a part inside another stands for that one."""
    found = {removal_wanted(device, name): name for name in reversed(device.parts)}
    return [
        name
        for removal, name in reversed(found.items())
        if removal.kind == "joint" or not device.parts[removal.name].fixed
    ]


def work_on(*names: str) -> Goal:
    """Want some parts reached and worked on."""
    work = tuple(Work(says=f"Mend {name}.", reach=name) for name in names)
    return Goal(reach=names, work=work)


@cache
def run_to(device_index: int, *names: str) -> Run:
    return run_for(devices()[device_index], work_on(*names), Lying(), never)


def all_cases() -> list[tuple[Device, Run]]:
    """Give every family and part with its run; of a later revision every other."""
    return [
        (device, run_to(index, name))
        for index, device in enumerate(devices())
        for name in goals(device)[:: 1 if device.name in _first(index) else 2]
    ]


def _first(index: int) -> set[str]:
    """Name the family of a device if it is the first revision of it."""
    known = [device.name for device in devices()]
    return {known[index]} - set(known[:index])


def lying_after(run: Run, state: BenchState) -> Lying:
    """Say how a device lies after some strokes."""
    done = [line.posture for line in run.lines[: state.at] if line.posture]
    return Lying(
        off=state.off,
        aside=state.aside,
        tray=state.tray,
        letters=run.letters,
        fasteners=run.fasteners,
        posture=done[-1] if done else "",
    )
