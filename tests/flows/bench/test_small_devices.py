"""Do the rules of the bench hold on devices that nobody thought of?"""

import random
from collections import Counter

from flows.bench.bench_cases import never, work_on
from flows.bench.small_devices import small_device
from scripted_bench import SLIPS, Bench, possible_slips, rebuild
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.state import Stroke, state_of
from turnscrew.flows.bench.goal import Lying
from turnscrew.flows.bench.plan import run_for

N_DEVICES = 300


def test_it_stops_nothing_right_and_catches_each_slip_on_small_devices() -> None:
    caught: Counter[str] = Counter()
    n_runs, wrong = 0, []
    for seed in range(N_DEVICES):
        rng = random.Random(seed)
        device = small_device(rng)
        assert 5 <= len(device.joints) <= 9
        run = run_for(
            device, work_on(rng.choice(("lid", "board", "pack"))), Lying(), never
        )
        if run.status == "impossible":
            assert run.reason
            continue
        n_runs += 1
        at = rebuild(device, Bench(run, state_of, refusal), None, rng)
        while at.bench.line is not None:
            line = at.bench.line
            if line.asks == "test" and not line.may_power:
                facts = {"answer": "not possible", "reason": line.power}
                assert "" == at.bench.tell(Stroke("answer", line.number, facts))
                continue
            stop = at.one_line()
            assert stop is None, (seed, stop)
        assert [] == at.hands.thing.faults(), seed
        for kind in (SLIPS[seed % 5], SLIPS[seed // 5 % 5], "swap"):
            slips = possible_slips(device, run, kind, rng)
            for slip in rng.sample(slips, min(1, len(slips))):
                at = rebuild(device, Bench(run, state_of, refusal), slip, rng)
                at.eyes.p_seen = 1.0
                stop = at.to_the_end()
                caught[kind] += 1
                if stop is None or stop.phase == "final":
                    wrong.append((seed, run.reach, str(slip)))

    assert [] == wrong
    assert n_runs > 250
    assert all(caught[kind] >= 30 for kind in SLIPS), caught
