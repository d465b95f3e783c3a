"""
Does the belief agree with a general library for Bayesian networks, and how fast is it?

Thousands of random sets of signs and findings on every example family are given to both
in one run. Run it in an environment with ``requirements/bench.txt``::

    python -m pip install --require-hashes -r requirements/bench.txt
    PYTHONPATH=src python benchmarks/belief.py
"""

import random
import sys
import time
from pathlib import Path

import pyagrum

from turnscrew.core.diagnose.evidence import (
    Evidence,
    Finding,
    belief_after,
    shares_of_reading,
    told_of,
)
from turnscrew.core.model.faults import NOTHING_WRONG, FaultTable
from turnscrew.files.faults_file import read_faults

EXAMPLES = Path(__file__).parents[1] / "examples"
N_SETS = 2000


def network_of(table: FaultTable) -> "pyagrum.BayesNet":
    names = [*table.faults, NOTHING_WRONG]
    net = pyagrum.BayesNet()
    net.add(pyagrum.LabelizedVariable("fault", "fault", names))
    total = sum(fault.weight for fault in table.faults.values())
    share = 1 - table.nothing_wrong
    prior = [share * fault.weight / total for fault in table.faults.values()]
    net.cpt("fault").fillWith([*prior, table.nothing_wrong])
    for sign, told in table.signs.items():
        rows = [(1 - told_of(told.chances, n), told_of(told.chances, n)) for n in names]
        _add(net, f"sign {sign}", ["no", "yes"], names, rows)
    for name, test in table.tests.items():
        rows = [told_of(test.means, n) for n in names]
        _add(net, f"test {name}", list(test.all_outcomes), names, rows)
    return net


def _add(net, name, labels, faults, rows) -> None:
    net.add(pyagrum.LabelizedVariable(name, name, labels))
    net.addArc("fault", name)
    for fault, row in zip(faults, rows, strict=True):
        net.cpt(name)[{"fault": fault}] = list(row)


def random_evidence(table: FaultTable, rng: random.Random) -> Evidence:
    signs = [s for s in table.signs if rng.random() < 0.2]
    findings: list[Finding] = []
    for name, test in table.tests.items():
        if rng.random() > 0.4:
            continue
        if test.reading and rng.random() < 0.7:
            ends = [x for x in (test.reading.low, test.reading.high) if x is not None]
            value = rng.choice(ends) * rng.uniform(0.97, 1.03)
            findings.append(Finding(name, "within limits", value))
        else:
            findings.append(Finding(name, rng.choice(test.all_outcomes)))
    return Evidence(tuple(signs), tuple(findings))


def given(table: FaultTable, evidence: Evidence) -> dict[str, list[float]]:
    told = {f"sign {sign}": [0.0, 1.0] for sign in evidence.signs}
    for finding in evidence.findings:
        test = table.tests[finding.name]
        shares = [float(o == finding.outcome) for o in test.all_outcomes]
        if test.reading and finding.reading is not None:
            shares = list(shares_of_reading(test.reading, finding.reading))
        told[f"test {finding.name}"] = shares
    return told


def main() -> int:
    worst = 0.0
    for path in sorted(EXAMPLES.rglob("*.faults.yaml")):
        table = read_faults(path.read_text("utf-8"))
        net = network_of(table)
        engine = pyagrum.LazyPropagation(net)
        rng = random.Random(1)
        weights = table.weights
        own_s = peer_s = 0.0
        n = n_excluded = 0
        largest = 0.0
        while n < N_SETS:
            evidence = random_evidence(table, rng)
            start = time.perf_counter()
            own = belief_after(table, weights, evidence)
            own_s += time.perf_counter() - start
            if own.is_floored:
                n_excluded += 1
                continue
            start = time.perf_counter()
            engine.setEvidence(given(table, evidence))
            engine.makeInference()
            posterior = engine.posterior("fault").tolist()
            peer_s += time.perf_counter() - start
            for name, p in zip((*table.faults, NOTHING_WRONG), posterior, strict=True):
                largest = max(largest, abs(own.after[name] - p))
            n += 1
        worst = max(worst, largest)
        print(
            f"{table.family}: {n} sets, largest difference {largest:.1e};"
            f" {1e3 * own_s / n:.2f} ms here, {1e3 * peer_s / n:.2f} ms there,"
            f" ratio {peer_s / own_s:.1f}; {n_excluded} sets excluded everything"
        )
    return 0 if worst < 1e-9 else 1


if __name__ == "__main__":
    sys.exit(main())
