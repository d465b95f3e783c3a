"""Does advice speak German, whatever was found before?"""

import random
from collections.abc import Iterator

import pytest

from example_files import example_text
from turnscrew.core.diagnose.advice import Advice
from turnscrew.core.diagnose.evidence import Evidence, Finding
from turnscrew.core.diagnose.pose import reaches_of
from turnscrew.core.model.faults import FaultTable
from turnscrew.core.model.german import GERMAN
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.faults_file import read_faults
from turnscrew.flows.diagnosis import layering, next_step
from turnscrew.papers.telling import texts_in

N_DRAWN = 30
"""States of evidence for each table. [1]"""


def drawn_evidence(table: FaultTable, rng: random.Random) -> Evidence:
    """Draw a sign, and what came of two tests."""
    found = [
        Finding(name, rng.choice(table.tests[name].all_outcomes))
        for name in rng.sample(sorted(table.tests), 2)
    ]
    return Evidence((rng.choice(sorted(table.signs)),), tuple(found))


def sentences_of(advice: Advice) -> Iterator[str]:
    yield advice.how
    yield from (*advice.cautions, *advice.known_good)
    yield from (*advice.why, *advice.would_change)


@pytest.mark.parametrize("family", ["pellorin-l240", "tavistle-v80", "grondle-r50"])
def test_nothing_of_ours_is_left_as_it_was_written(family) -> None:
    text = example_text(f"{family}.device.yaml")
    devices = {name: (read_device(text, revision=name), 1.0)
               for name in revisions_in(text)}  # fmt: skip
    table = read_faults(example_text(f"{family}.faults.yaml"))
    own = {*texts_in(table), *texts_in(tuple(one for one, _ in devices.values()))}
    book = Phrasebook(GERMAN, {text: text for text in own if text not in GERMAN})
    layers = layering(devices, reaches_of(table), lambda: False)
    rng = random.Random(family)

    left, n_said = set(), 0
    for _ in range(N_DRAWN):
        evidence = drawn_evidence(table, rng)
        advice = next_step(table, layers, evidence, "block", lambda: True)
        for sentence in filter(None, sentences_of(advice)):
            n_said += 1
            unsaid = book.unsaid(sentence)
            left |= {one for one in unsaid if not any(one in name for name in own)}

    assert set() == left
    assert n_said > 5 * N_DRAWN
