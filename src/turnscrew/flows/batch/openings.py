"""How long would opening and closing take by the description of the device?"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from math import ceil

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.device import Device
from turnscrew.core.model.quote import DecidedDevice, OpeningUses
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.opening.answer import OpeningAnswer, UsedUp
from turnscrew.core.price.quote import parts_needed
from turnscrew.flows.opening import opening_path

DeviceOf = Callable[[str, str], Device | None]
"""Gives the description of a model and revision, if there is one."""

PathOf = Callable[[BatchLine, tuple[str, ...]], OpeningAnswer]
"""Gives the opening of a device, whose description there is, to what is reached."""


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
    path_of: PathOf,
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
    path_of
        Gives openings.

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
        answer = _answer(line, reach, path_of)
        found[key] = ComputedOpening(line.seen, reach, agreed, *answer)
    return tuple(found.values())


def minutes_by_description(
    batch: BatchInput, device_of: DeviceOf, path_of: PathOf
) -> Callable[[BatchLine], int | None]:
    """
    Give a function that computes the opening of a device, remembering equal ones.

    Parameters
    ----------
    batch
        The batch.
    device_of
        Gives descriptions.
    path_of
        Gives openings.

    Returns
    -------
    Callable
        Gives whole minutes, rounded up, or ``None`` if there is no description or no
        way. [min]
    """

    def minutes(line: BatchLine) -> int | None:
        reach = _reach(batch, line, device_of)
        seconds = _answer(line, reach, path_of)[0] if reach else None
        return None if seconds is None else ceil(seconds / 60)

    return minutes


def uses_by_description(
    batch: BatchInput, device_of: DeviceOf, path_of: PathOf
) -> Callable[[BatchLine], OpeningUses]:
    """
    Give a function that says what opening a device uses up.

    The opening path says it where there is one, else the terms.

    Parameters
    ----------
    batch
        The batch.
    device_of
        Gives descriptions.
    path_of
        Gives openings.

    Returns
    -------
    Callable
        Gives what is used up, and how that is known.
    """

    def uses(line: BatchLine) -> OpeningUses:
        by_terms = uses_by_terms(batch, line)
        reach = _reach(batch, line, device_of) if by_terms.known_by == "terms" else ()
        if not reach:
            return by_terms
        answer = path_of(line, reach)
        if answer.cost_s is None:
            return by_terms
        return _uses_of(batch, line, answer.used_up)

    return uses


def uses_by_terms(batch: BatchInput, line: BatchLine) -> OpeningUses:
    """
    Say what opening a device uses up by the terms alone.

    Parameters
    ----------
    batch
        The batch.
    line
        A device of it.

    Returns
    -------
    OpeningUses
        What is used up.
    """
    if not any(fault.is_opened for fault in batch.terms.faults_of(line)):
        return OpeningUses()
    return OpeningUses(batch.terms.models[line.model].opening_uses, "terms")


def _uses_of(
    batch: BatchInput, line: BatchLine, used_up: Iterable[UsedUp]
) -> OpeningUses:
    """Compare what a path uses up with the parts list and with the terms."""
    parts: list[str] = []
    notes: list[str] = []
    for used in _together(used_up):
        part = batch.parts.get(used.spare)
        if part is None or not part.fits(line.model, line.revision):
            notes.append(f"{used.amount} of {used.spare}, not on the list")
            continue
        n, note = _pieces(used, part)
        parts += [part.part] * n
        notes += note
    agreed = batch.terms.models[line.model].opening_uses
    notes += [
        f"the terms name {name}, the path does not use it up"
        for name in agreed
        if name not in parts
    ]
    return OpeningUses(tuple(parts), "opening path", tuple(notes))


def _together(used_up: Iterable[UsedUp]) -> list[UsedUp]:
    """Add up what is used up for certain, each spare and unit once."""
    found: dict[tuple[str, str], UsedUp] = {}
    for used in used_up:
        if used.why.startswith("only if"):
            continue
        key = (used.spare, used.unit)
        so_far = found[key].n if key in found else 0.0
        found[key] = replace(used, n=so_far + used.n)
    return list(found.values())


def _pieces(used: UsedUp, part: SparePart) -> tuple[int, list[str]]:
    """Count whole units of a part; a unit that differs is said and counted as one."""
    if used.unit in {part.unit, "piece", "set"}:
        # Tenths of a tube do not add up to a whole one to the last digit.
        return max(1, ceil(round(used.n, 9))), []
    said = f"{used.amount} of {used.spare}, which is kept by the {part.unit}"
    return 1, [f"{said}: 1 {part.unit} counted"]


def paths_remembered(device_of: DeviceOf, is_time_up: Callable[[], bool]) -> PathOf:
    """
    Give a function that computes openings, remembering equal ones.

    Parameters
    ----------
    device_of
        Gives descriptions.
    is_time_up
        Asked now and then.

    Returns
    -------
    Callable
        Gives the opening of a device to what is reached.
    """
    known: dict[tuple[str, str, tuple[str, ...]], OpeningAnswer] = {}

    def path(line: BatchLine, reach: tuple[str, ...]) -> OpeningAnswer:
        key = (line.model, line.revision, reach)
        if key not in known:
            device = device_of(line.model, line.revision)
            assert device is not None
            known[key] = opening_path(device, reach, is_time_up)
        return known[key]

    return path


def _answer(
    line: BatchLine, reach: tuple[str, ...], path_of: PathOf
) -> tuple[float | None, str]:
    answer = path_of(line, reach)
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
    held = {
        name for one, name in places_of(batch, line, device).items() if one in wanted
    }
    spares = [name for name in device.parts if name in held]
    return tuple(dict.fromkeys([*spares, *named]))


def places_of(batch: BatchInput, line: BatchLine, device: Device) -> dict[str, str]:
    """
    Say where in a description each spare part goes.

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
    dict[str, str]
        Part by number. Where no pack bears a number, as in what was only recorded, the
        one pack there is stands for that of a fault of the pack.
    """
    places = {part.spare: name for name, part in device.parts.items() if part.spare}
    bad = (f.parts for f in batch.terms.faults_of(line) if f.hazard == "pack")
    lacking = {number for parts in bad for number in parts} - set(places)
    if not lacking:
        return places
    packs = [name for name, part in device.parts.items() if part.kind == "battery"]
    if len(packs) != 1 or device.parts[packs[0]].spare:
        return places
    return places | dict.fromkeys(lacking, packs[0])
