"""Is the law that made the lives found among the others?"""

import pytest

from random_lives import generator, random_lives
from turnscrew.core.reliability.best import best_life_fit
from turnscrew.core.reliability.lives import lives_of, lives_until
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize("family", ["weibull", "lognormal"])
@pytest.mark.parametrize("by", ["aic", "bic", "loglik"])
def test_it_finds_the_law_that_made_the_lives(family, by):
    found = best_life_fit(random_lives(1, 3000, family=family), by=by)
    assert family == found.best.family
    assert found.is_clear
    assert 0 == found.ranked[0].behind
    gaps = [one.behind for one in found.ranked]
    assert sorted(gaps) == gaps


def test_it_prefers_fewer_parameters_where_nothing_else_is_told():
    found = best_life_fit(lives_of(generator(1).exponential(500, 400)), by="bic")
    assert "exponential" == found.best.family


def test_it_gives_gaps_that_do_not_hang_on_the_unit():
    lives = random_lives(1, 60, with_entry=False)
    days = best_life_fit(lives)
    hours = best_life_fit(lives_of(lives.exit * 24, lives.is_event))
    for one, other in zip(days.ranked, hours.ranked, strict=True):
        assert one.fit.family == other.fit.family
        assert pytest.approx(one.behind, abs=1e-7) == other.behind


def test_it_names_no_best_without_failures():
    found = best_life_fit(lives_until([], [3, 4]))
    assert found.best is None
    assert not found.is_clear
    assert 3 == len(found.ranked)


def test_it_keeps_laws_that_could_not_be_fitted_last():
    found = best_life_fit(lives_until([6], [4]))
    assert "exponential" == found.best.family
    assert [None, None] == [one.behind for one in found.ranked[1:]]


def test_it_refuses_to_choose_among_none():
    with pytest.raises(BadArgumentError, match="found none"):
        best_life_fit(lives_until([6]), families=())
