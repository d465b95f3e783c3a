"""Do sums over units give what the units themselves give, whole or in parts?"""

import numpy as np
import pytest

from random_fleets import random_fleet
from random_lives import generator
from turnscrew.core.reliability.curves import cumulative_hazard, survival_curve
from turnscrew.core.reliability.likelihood import ratio_limits
from turnscrew.core.reliability.lognormal import fit_lognormal
from turnscrew.core.reliability.mean_parts import (
    mean_of_parts,
    part_sums,
    whole_steps,
)
from turnscrew.core.reliability.recurrence import mean_cumulative
from turnscrew.core.reliability.sums import sums_of, together
from turnscrew.core.reliability.table import FleetTable
from turnscrew.core.reliability.weibull import fit_weibull

KINDS = [(True, False), (True, True), (False, False), (False, True)]


def fleets(n: int = 40):
    """Give fleets of all kinds: whole ages or not, weights or not."""
    for seed in range(n):
        is_whole, with_weight = KINDS[seed % 4]
        yield random_fleet(
            seed, 12 + 7 * (seed % 5), is_whole=is_whole, with_weight=with_weight,
            with_entry=seed % 3 > 0, shape=1.0 + seed % 2,
        )  # fmt: skip


def parted(table: FleetTable, seed: int) -> list[FleetTable]:
    """Give a fleet in three parts by chance, without those that are empty."""
    part = generator(seed).integers(0, 3, table.n_units)
    return [table.part(part == k) for k in range(3) if (part == k).any()]


def test_lives_paired_in_order_give_the_same_laws_and_curves() -> None:
    for table in fleets():
        sums = sums_of(table)
        for cause in table.causes:
            units, paired = table.first_failures(cause), sums.lives(cause)
            assert units.n_units == pytest.approx(paired.n_units)
            assert units.n_events == pytest.approx(paired.n_events)
            for fit in (fit_weibull, fit_lognormal):
                one, other = fit(units), fit(paired)
                assert one.status == other.status
                if one.mu is not None:
                    assert one.loglik == pytest.approx(other.loglik, rel=1e-9)
                    assert one.mu == pytest.approx(other.mu, rel=1e-6)
                    assert one.sigma == pytest.approx(other.sigma, rel=1e-6)
            for curve, name in ((survival_curve, "low"), (cumulative_hazard, "low")):
                a, b = curve(units), curve(paired)
                assert np.array_equal(a.age, b.age)
                assert getattr(a, name) == pytest.approx(
                    getattr(b, name), nan_ok=True, abs=1e-12
                )


def test_paired_lives_have_the_same_limits() -> None:
    table = random_fleet(5, 80)
    units, paired = table.first_failures("glass"), sums_of(table).lives("glass")

    one = ratio_limits(fit_weibull(units), units, "shape")
    other = ratio_limits(fit_weibull(paired), paired, "shape")
    assert (one.low, one.high) == pytest.approx((other.low, other.high), rel=1e-8)


def test_every_paired_life_ends_after_it_begins() -> None:
    # Lives refuse an entry that is not before the exit: making them is the test.
    for table in fleets(80):
        sums = sums_of(table)
        for cause in table.causes:
            assert sums.lives(cause).n_rows <= 3 * table.n_units


def test_parts_add_up_to_the_whole() -> None:
    for seed, table in enumerate(fleets()):
        whole = sums_of(table)
        added = together(sums_of(part) for part in parted(table, seed))
        assert (whole.sites, whole.model_years) == (added.sites, added.model_years)
        assert (whole.causes, whole.n_rows) == (added.causes, added.n_rows)
        for name in (
            "n_units",
            "n_running",
            "exposure",
            "failures",
            "n_costed",
            "cost",
        ):
            assert getattr(whole, name) == pytest.approx(getattr(added, name))
        for name in ("entries", "ends", "running", "events", "costs"):
            a, b = getattr(whole, name), getattr(added, name)
            assert np.array_equal(a.age, b.age)
            assert a.weight == pytest.approx(b.weight)
        for cause in whole.causes:
            assert whole.expected(cause) == pytest.approx(added.expected(cause))


def test_sums_are_those_of_a_plain_count() -> None:
    for table in fleets(12):
        sums = sums_of(table)
        for i, site in enumerate(sums.sites):
            for j, year in enumerate(sums.model_years):
                mine = [
                    k for k in range(table.n_units)
                    if table.site[k] == site and table.model_year[k] == year
                ]  # fmt: skip
                time = sum(
                    table.weight[k] * (table.end_age[k] - table.entry_age[k])
                    for k in mine
                )
                assert sums.exposure[i, j] == pytest.approx(time)
                for c in range(len(table.causes)):
                    n = sum(
                        table.weight[u]
                        for u, what in zip(
                            table.event_unit, table.event_cause, strict=True
                        )
                        if u in mine and what == c
                    )
                    assert sums.failures[c, i, j] == pytest.approx(n)


def test_expected_failures_are_those_of_each_age_by_itself() -> None:
    # A plain loop: every failure is shared out over all units at risk at its age.
    for table in fleets(16):
        sums = sums_of(table)
        for c, cause in enumerate(table.causes):
            slow = np.zeros(sums.exposure.shape)
            for unit, age, what in zip(
                table.event_unit, table.event_age, table.event_cause, strict=True
            ):
                if what != c:
                    continue
                at_risk = (table.entry_age < age) & (age <= table.end_age)
                share = table.weight * at_risk / table.weight[at_risk].sum()
                for k in np.flatnonzero(at_risk):
                    row = sums.sites.index(table.site[k])
                    column = sums.model_years.index(int(table.model_year[k]))
                    slow[row, column] += table.weight[unit] * share[k]
            assert sums.expected(cause) == pytest.approx(slow)
            assert slow.sum() == pytest.approx(sums.failures[c].sum())


@pytest.mark.parametrize("is_by_cost", [False, True])
def test_the_mean_of_parts_is_that_of_the_whole(is_by_cost: bool) -> None:
    for seed, table in enumerate(fleets()):
        whole = sums_of(table)
        events = whole.costs if is_by_cost else whole.events
        if not len(events.age):
            continue
        n = float((whole.n_costed if is_by_cost else whole.failures).sum())
        steps = whole_steps(whole.entries, whole.ends, events, n)
        told = mean_of_parts(
            steps,
            [
                part_sums(part.recurrences(is_by_cost=is_by_cost), steps)
                for part in parted(table, seed)
            ],
        )
        plain = mean_cumulative(table.recurrences(is_by_cost=is_by_cost))
        # A failure that cost nothing is a step of the plain one alone.
        at = np.isin(plain.age, told.age)
        assert told.mean == pytest.approx(plain.mean[at], rel=1e-9)
        scale = float(plain.variance.max())
        assert told.variance == pytest.approx(plain.variance[at], abs=1e-9 * scale)
        assert told.n_units == pytest.approx(plain.n_units)
        assert told.n_events == pytest.approx(plain.n_events)
