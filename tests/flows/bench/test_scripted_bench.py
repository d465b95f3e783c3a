"""Is one slip of the hands caught before the device is closed, and no right work?"""

import random
from collections import Counter
from collections.abc import Iterator

import pytest

from flows.bench.bench_cases import all_cases
from scripted_bench import (
    SLIPS,
    Bench,
    Rebuild,
    Slip,
    SlipKind,
    Stop,
    possible_slips,
    rebuild,
)
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import Stroke, state_of
from turnscrew.core.model.device import Device

N_EACH = 40
LEAST_CAUGHT = 0.98


def at_bench(
    device: Device, run: Run, slip: Slip | None, rng: random.Random
) -> Rebuild:
    return rebuild(device, Bench(run, state_of, refusal), slip, rng)


def planted(kind: SlipKind, rng: random.Random) -> Iterator[tuple[Device, Run, Slip]]:
    """Plant slips of one kind, family by family, revision by revision."""
    by_device: dict[tuple[str, str], list[tuple[Device, Run]]] = {}
    for device, run in all_cases():
        if possible_slips(device, run, kind, rng):
            key = (device.name, device.revision)
            by_device.setdefault(key, []).append((device, run))
    pools = list(by_device.values())
    for index in range(N_EACH):
        device, run = rng.choice(pools[index % len(pools)])
        yield device, run, rng.choice(possible_slips(device, run, kind, rng))


def is_caught(stop: Stop | None) -> bool:
    return stop is not None and stop.phase != "final"


def in_a_table(caught: Counter[str], missed: list[str]) -> str:
    rows = [f"{kind:6} {caught[kind]:3} of {N_EACH}" for kind in SLIPS]
    total = f"all    {caught.total():3} of {N_EACH * len(SLIPS)}"
    return "\n".join(["slip   caught", *rows, total, *missed])


def test_it_catches_nearly_every_slip_before_it_is_closed() -> None:
    rng = random.Random(2027)
    caught: Counter[str] = Counter()
    families: Counter[tuple[str, str]] = Counter()
    missed = []
    for kind in SLIPS:
        for device, run, slip in planted(kind, rng):
            at = at_bench(device, run, slip, rng)
            stop = at.to_the_end()
            families[device.name, device.revision] += 1
            if is_caught(stop):
                caught[kind] += 1
            else:
                missed.append(
                    f"missed: {device.name} {device.revision}, {run.reach}: {slip}; "
                    f"overlooked {at.eyes.overlooked}"
                )
    table = in_a_table(caught, missed)
    print("\n" + table)  # noqa: T201 - the figures are wanted

    assert caught.total() >= LEAST_CAUGHT * N_EACH * len(SLIPS), table
    # Three families, two revisions each.
    assert 6 == len(families)


@pytest.mark.parametrize("kind", SLIPS)
def test_it_asks_of_every_slip_where_it_can_be_seen(kind) -> None:
    """Eyes that never fail catch all; what they miss is never asked in time."""
    rng = random.Random(7)
    missed = []
    for device, run, slip in planted(kind, rng):
        at = at_bench(device, run, slip, rng)
        at.eyes.p_seen = 1.0
        if not is_caught(at.to_the_end()):
            missed.append((device.name, device.revision, run.reach, str(slip)))

    assert [] == missed


def test_it_stops_no_rebuild_that_is_right() -> None:
    stops = []
    for device, run in all_cases():
        at = at_bench(device, run, None, random.Random(1))
        stop = to_the_end_but_for_power(at)
        if stop or at.hands.thing.faults():
            stops.append((device.name, device.revision, run.reach, stop))
        assert not at.bench.state.tray
        assert len(run.lines) == len(at.bench.strokes)

    assert len(all_cases()) >= 50
    assert [] == stops


def to_the_end_but_for_power(at: Rebuild) -> Stop | None:
    """Go to the end; a test that has no power is passed over: see the next test."""
    while at.bench.line is not None:
        line = at.bench.line
        if line.asks == "test" and not line.may_power:
            facts = {"answer": "not possible", "reason": line.power}
            assert "" == at.bench.tell(Stroke("answer", line.number, facts))
            continue
        stop = at.one_line()
        if stop is not None:
            return stop
    return None


def test_it_asks_for_no_test_that_has_no_power() -> None:
    asked = [
        f"{device.name} {device.revision}, {', '.join(run.reach)}, line {line.number}, "
        f"{line.name}: {line.power}"
        for device, run in all_cases()
        for line in run.lines
        if line.asks == "test" and not line.may_power
    ]

    assert [] == asked


def test_it_says_at_every_line_what_truly_is_off_and_in_the_tray() -> None:
    rng = random.Random(3)
    for device, run in rng.sample(all_cases(), 12):
        at = at_bench(device, run, None, rng)
        thing = at.hands.thing
        while at.bench.line is not None:
            state = at.bench.state
            joints_off = set(device.joints) - thing.made
            parts_off = set(device.parts) - thing.parts_on
            lying = {letter: len(got) for letter, got in thing.tray.items() if got}
            assert joints_off | parts_off == set(state.off) | (parts_off & joints_off)
            assert thing.parts_aside == set(state.aside)
            assert lying == dict(state.tray)
            line = at.bench.line
            assert len(parts_off - set(device.joints)) <= line.n_off
            if to_next(at) is not None:
                break


def to_next(at: Rebuild) -> Stop | None:
    line = at.bench.line
    assert line is not None
    if line.asks == "test" and not line.may_power:
        facts = {"answer": "not possible", "reason": line.power}
        at.bench.tell(Stroke("answer", line.number, facts))
        return None
    return at.one_line()
