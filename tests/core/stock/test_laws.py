"""Do the laws of demand agree with other programs and with one another?"""

import random

import numpy as np
import pytest
from scipy import stats

from turnscrew.core.stock.laws import (
    CompoundPoisson,
    Counted,
    NegativeBinomial,
    Poisson,
    first_at,
    law_of_all,
)
from turnscrew.errors import BadArgumentError


def test_it_agrees_with_other_poisson_and_negative_binomial_laws() -> None:
    chance = random.Random(2)
    for _ in range(400):
        mean, size = 10 ** chance.uniform(-3, 4), 10 ** chance.uniform(-1, 5)
        for law, other in [
            (Poisson(mean), stats.poisson(mean)),
            (NegativeBinomial(mean, size), stats.nbinom(size, size / (size + mean))),
        ]:
            made = law.chances()
            counts = np.unique(np.linspace(0, len(made) - 1, 50).astype(int))

            assert 1 == pytest.approx(made.sum(), abs=1e-12)
            assert other.pmf(counts) == pytest.approx(made[counts], rel=1e-8, abs=1e-18)


@pytest.mark.parametrize(
    "law",
    [
        Poisson(0.0),
        Poisson(7.5),
        NegativeBinomial(6.0, 0.3),
        CompoundPoisson(3.0, (0.1, 0.5, 0.0, 0.4)),
        CompoundPoisson(3000.0, (0.0, 0.5, 0.5)),
        CompoundPoisson.logarithmic(orders=0.4, theta=0.9),
        Counted((0.25, 0.25, 0.0, 0.5)),
    ],
)
def test_it_has_the_mean_and_variance_it_says(law) -> None:
    made = law.chances()
    counts = np.arange(len(made))
    mean = counts @ made

    assert 1 == pytest.approx(made.sum())
    assert mean == pytest.approx(law.mean)
    assert (counts - mean) ** 2 @ made == pytest.approx(law.variance, rel=1e-8)
    assert 1 == pytest.approx(law.order_sizes().sum())
    assert 0 == law.order_sizes()[0]


def test_it_sums_the_orders_one_number_at_a_time() -> None:
    law = CompoundPoisson(2.5, (0.2, 0.3, 0.1, 0.4))
    made, folded = np.zeros(200), np.array([1.0])
    for n in range(40):
        made[: len(folded)] += stats.poisson.pmf(n, 2.5) * folded
        folded = np.convolve(folded, law.sizes)

    assert made[:60] == pytest.approx(law.chances()[:60], rel=1e-9)


def test_it_keeps_its_digits_where_no_order_is_next_to_impossible() -> None:
    law = CompoundPoisson(4000.0, (0.0, 1.0))
    counts = np.arange(3800, 4200, 20)

    assert stats.poisson.pmf(counts, 4000) == pytest.approx(
        law.chances()[counts], rel=1e-7
    )


def test_it_keeps_the_size_unrounded() -> None:
    law = NegativeBinomial.from_sd(mean=16, sd=9)

    assert 256 / 65 == pytest.approx(law.size)
    assert 81 == pytest.approx(law.variance)


def test_it_looks_ahead_as_the_gamma_mixture_does() -> None:
    law = NegativeBinomial.ahead(failures=12, exposure=344.44, future_exposure=100)
    rates = np.linspace(1e-6, 0.2, 200_001)
    density = stats.gamma.pdf(rates, 12.5, scale=1 / 344.44)
    for n in range(6):
        mixed = np.trapezoid(density * stats.poisson.pmf(n, 100 * rates), rates)

        assert mixed == pytest.approx(law.chances()[n], rel=1e-6)


def test_it_adds_laws() -> None:
    both = law_of_all([Poisson(2.0), Poisson(3.5)])
    other = stats.poisson.pmf(np.arange(12), 5.5)

    assert other == pytest.approx(both.chances()[:12])


@pytest.mark.parametrize(
    "call",
    [
        lambda: Poisson(-1.0),
        lambda: Poisson(float("nan")),
        lambda: NegativeBinomial(1.0, 0.0),
        lambda: NegativeBinomial.from_sd(mean=4, sd=2),
        lambda: NegativeBinomial.ahead(
            failures=0, exposure=5, future_exposure=1, shape=0
        ),
        lambda: NegativeBinomial.ahead(failures=1, exposure=0, future_exposure=1),
        lambda: CompoundPoisson(1.0, (0.5, 0.4)),
        lambda: CompoundPoisson(1.0, (1.0,)),
        lambda: CompoundPoisson.logarithmic(orders=1, theta=1),
        lambda: Counted(()),
        lambda: Counted((1.5, -0.5)),
        lambda: law_of_all([]),
    ],
)
def test_it_refuses_what_is_no_law(call) -> None:
    with pytest.raises(BadArgumentError, match="found"):
        call()


def test_it_refuses_a_law_too_long_for_its_table() -> None:
    # Its 0.95 quantile lies at 19 million pieces, beyond the longest table.
    with pytest.raises(BadArgumentError, match="chance of more than"):
        NegativeBinomial(5e6, 0.5).chances()


def test_the_first_that_reaches_is_the_last_where_none_does() -> None:
    reached = np.array([0.2, 0.5, 0.9])

    assert [0, 1, 2, 2] == [first_at(reached, wanted) for wanted in (0, 0.5, 0.9, 1)]
