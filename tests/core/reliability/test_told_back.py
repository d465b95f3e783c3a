"""Is what was entered told back: the law that was asked for, the cost, the column?"""

import pytest

from turnscrew.core.reliability.lives import lives_until
from turnscrew.core.reliability.lognormal import fit_lognormal
from turnscrew.core.reliability.sites import screen_sites
from turnscrew.core.reliability.table import fleet_table
from turnscrew.core.reliability.weibull import fit_weibull
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("fit", "family"), [(fit_weibull, "weibull"), (fit_lognormal, "lognormal")]
)
@pytest.mark.parametrize("failures", [[], [6.0], [54.0, 187.0, 216.0]])
def test_a_fit_names_its_law_whether_there_is_one_or_not(fit, family, failures) -> None:
    assert family == fit(lives_until(failures, [5.0])).family


def test_a_cost_that_is_not_known_is_marked_and_none_other() -> None:
    events = [(0, 5.0, "pack", 300), (0, 20.0, "pack", None), (0, 30.0, "pack", 0)]
    table = fleet_table(["a"], [0], [50], events=events, causes=["pack"])
    assert [True, False, True] == table.is_cost_known.tolist()
    assert [300, 0, 0] == table.event_cost_minor.tolist()
    assert [300, 0] == table.recurrences("pack", is_by_cost=True).event_cost.tolist()


@pytest.mark.parametrize(
    ("failures", "exposure", "told"),
    [(["many"], [1.0], "failures"), ([1], ["long"], "exposure")],
)
def test_a_column_of_words_is_refused_by_its_name(failures, exposure, told) -> None:
    with pytest.raises(BadArgumentError, match=f"^{told}"):
        screen_sites(failures, exposure)
