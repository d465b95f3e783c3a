"""Does every line of every opening that the examples allow speak German?"""

from collections.abc import Iterator

import pytest

from flows.bench.bench_cases import all_cases
from turnscrew.core.bench.run import Line
from turnscrew.core.model.german import GERMAN
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.papers.telling import texts_in

CASES = all_cases()
NAMES = [f"{device.name} {device.revision} {run.reach[0]}" for device, run in CASES]


def sentences_of(line: Line) -> Iterator[str]:
    # What is mended is named by the test itself, not by an engine.
    yield from () if line.kind == "work" else (line.says,)
    yield from (*line.cautions, *line.details, *line.points)
    yield from (line.why, line.power, line.stop, line.fastener)


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_nothing_of_ours_is_left_as_it_was_written(case) -> None:
    device, run = case
    own = frozenset(texts_in(device))
    book = Phrasebook(GERMAN, {text: text for text in own if text not in GERMAN})

    left = {
        words
        for line in run.lines
        for text in sentences_of(line)
        for words in book.unsaid(text)
        if not any(words in one for one in own)
    }

    assert set() == left
