"""Is the bench told how this very device came the last time?"""

from turnscrew.web.records.queries import bench_runs
from web.bench.case import taken
from web.browser.bench_case import kitted

BENT, WHOLE = 3, 32
"""Lines of the example batch: one told of in the description, and one that is not."""

WORDS = "TV8-11676 came so before: frame bent by 3 mm at the lower right."


def heeded(batch, number, lead, now) -> list[str]:
    run = bench_runs.run_in(taken(kitted(batch, number, lead, now), lead, now))
    return [line.says for line in run.lines if line.does == "heed"]


def test_it_says_how_a_device_came_that_comes_again(batch, lead, now) -> None:
    assert WORDS in heeded(batch, BENT, lead, now)


def test_it_says_so_of_no_other_device(batch, lead, now) -> None:
    assert "came so before" not in str(heeded(batch, WHOLE, lead, now))
