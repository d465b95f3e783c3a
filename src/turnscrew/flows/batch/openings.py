"""How long would opening and closing take by the description of the device?"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import ceil

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.device import Device
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.price.quote import parts_needed
from turnscrew.flows.opening import opening_path

DeviceOf = Callable[[str, str], Device | None]
"""Gives the description of a model and revision, if there is one."""


@dataclass(frozen=True)
class ComputedOpening:
    """
    Opening and closing of one kind of job, computed.

    Parameters
    ----------
    model
        Model and revision.
    reach
        What is reached.
    standard_min
        Agreed minutes of opening, closing and exchange; ``None`` if there are none.
        [min]
    computed_s
        Hands-on time of the computed way in and back; ``None`` if there is no way.
        [s]
    proof
        How far the way is proven.
    """

    model: str
    reach: tuple[str, ...]
    standard_min: int | None
    computed_s: float | None
    proof: str


def computed_openings(
    batch: BatchInput,
    devices: Iterable[DecidedDevice],
    device_of: DeviceOf,
    is_time_up: Callable[[], bool],
) -> tuple[ComputedOpening, ...]:
    """
    Compute opening and closing for each kind of job of a batch.

    Parameters
    ----------
    batch
        The batch.
    devices
        Its devices, decided.
    device_of
        Gives descriptions.
    is_time_up
        Asked now and then.

    Returns
    -------
    tuple[ComputedOpening, ...]
        One for each model, revision and set of parts, in order.
    """
    found: dict[tuple[str, str, tuple[str, ...]], ComputedOpening] = {}
    for device in sorted(devices, key=lambda d: (d.line.model, d.line.revision)):
        line = device.line
        reach = _reach(batch, line, device_of) if device.is_mended else ()
        key = (line.model, line.revision, reach)
        if not reach or key in found:
            continue
        work = device.work
        standard = batch.terms.models[line.model].minutes.open_close
        agreed = None if standard is None else work.open_close + work.exchange
        answer = _answer(line, reach, device_of, is_time_up)
        found[key] = ComputedOpening(line.seen, reach, agreed, *answer)
    return tuple(found.values())


def minutes_by_description(
    batch: BatchInput, device_of: DeviceOf, is_time_up: Callable[[], bool]
) -> Callable[[BatchLine], int | None]:
    """
    Give a function that computes the opening of a device, remembering equal ones.

    Parameters
    ----------
    batch
        The batch.
    device_of
        Gives descriptions.
    is_time_up
        Asked now and then.

    Returns
    -------
    Callable
        Gives whole minutes, rounded up, or ``None`` if there is no description or no
        way. [min]
    """
    known: dict[tuple[str, str, tuple[str, ...]], int | None] = {}

    def minutes(line: BatchLine) -> int | None:
        reach = _reach(batch, line, device_of)
        key = (line.model, line.revision, reach)
        if key not in known:
            seconds = _answer(line, reach, device_of, is_time_up)[0] if reach else None
            known[key] = None if seconds is None else ceil(seconds / 60)
        return known[key]

    return minutes


def _answer(
    line: BatchLine,
    reach: tuple[str, ...],
    device_of: DeviceOf,
    is_time_up: Callable[[], bool],
) -> tuple[float | None, str]:
    device = device_of(line.model, line.revision)
    assert device is not None
    answer = opening_path(device, reach, is_time_up)
    if answer.cost_s is None:
        return None, f"impossible: {answer.reason}"
    return answer.hands_on_s, answer.status


def _reach(batch: BatchInput, line: BatchLine, device_of: DeviceOf) -> tuple[str, ...]:
    device = device_of(line.model, line.revision)
    return () if device is None else reach_of(batch, line, device)


def reach_of(batch: BatchInput, line: BatchLine, device: Device) -> tuple[str, ...]:
    """
    Name the parts of a description that stand for the spare parts needed.

    Parameters
    ----------
    batch
        The batch.
    line
        A device of it.
    device
        Its description, in its revision.

    Returns
    -------
    tuple[str, ...]
        Names in the description; none if nothing is opened.
    """
    faults = batch.terms.faults_of(line)
    if not any(fault.is_opened for fault in faults):
        return ()
    used_up = batch.terms.models[line.model].opening_uses
    wanted = set(parts_needed(line, batch.terms, batch.parts)) - set(used_up)
    named = [n for fault in faults for n in fault.reach if n in device.parts]
    spares = [name for name, part in device.parts.items() if part.spare in wanted]
    return tuple(dict.fromkeys([*spares, *named]))
