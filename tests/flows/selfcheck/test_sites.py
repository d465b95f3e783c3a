"""Do predictions and sites come out as printed elsewhere?"""

import pytest

from turnscrew.flows.selfcheck.case import Case, misses
from turnscrew.flows.selfcheck.sites import CASES


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_it_gives_the_published_figures(case: Case) -> None:
    assert () == misses(case)
