"""Do failures that clump on devices count as fewer, where anybody knows of it?"""

from dataclasses import replace

import pytest

from turnscrew.core.fleet.question import FleetFailures, FleetGroup
from turnscrew.core.reliability.clumping import dispersion_within
from turnscrew.flows.fleet.clumps import (
    chance_of_clumps,
    dispersion_by,
    place_of,
    repeats_of,
    year_of,
)
from turnscrew.flows.fleet.counts import told_of_fleet


def groups(**years_of: tuple[float, ...]) -> list[FleetGroup]:
    """Give a group for each place, by the years under watch of its devices."""
    return [
        FleetGroup(
            site, "M", sum(years), sum(years), n_devices=len(years),
            model_year=2020 + len(site),
            years_squared=sum(one * one for one in years),
        )
        for site, years in years_of.items()
    ]  # fmt: skip


def failed(site: str, cause: str, each: dict[float, tuple[int, ...]]) -> FleetFailures:
    """Give failures by device, under the years that it was watched."""
    told = [(n, years) for years, ns in each.items() for n in ns]
    return FleetFailures(
        site, "M", cause, sum(n for n, _ in told), model_year=2020 + len(site),
        n_devices=len(told), squares=sum(n * n for n, _ in told),
        by_years=sum(n * years for n, years in told),
    )  # fmt: skip


FLEET = groups(A=(1.0,) * 20, BB=(2.0,) * 10)
# At A one device in two failed once; at BB, where each failed six times, none is odd.
EVEN = [failed("A", "fan", {1.0: (1,) * 10}), failed("BB", "fan", {2.0: (6,) * 10})]
CLUMPS = [failed("A", "fan", {1.0: (5, 5)}), failed("BB", "fan", {2.0: (1,) * 6})]


@pytest.mark.parametrize("name_of", [place_of, year_of])
def test_each_place_has_a_rate_of_its_own(name_of) -> None:
    assert 1.0 == dispersion_by(name_of, FLEET, EVEN)
    # With one rate for both, those of the worse place would look like clumps.
    assert dispersion_by(lambda _: "all", FLEET, EVEN) > 1.4


def test_the_sums_of_a_place_are_those_of_its_devices() -> None:
    told = dispersion_by(place_of, FLEET, CLUMPS)

    # By hand, device by device: at A rate 1/2, at BB 3/10 a year.
    off = 2 * (5 - 0.5) ** 2 + 18 * 0.5**2 + 6 * (1 - 0.6) ** 2 + 4 * 0.6**2
    assert told == pytest.approx(off / (10 * 19 / 20 + 6 * 9 / 10))
    unequal = groups(A=(1.0, 1.0, 4.0))
    rows = [failed("A", "fan", {1.0: (2,), 4.0: (4,)})]
    assert dispersion_by(place_of, unequal, rows) == pytest.approx(
        dispersion_within(
            failures=[6], squares=[20], by_exposure=[18], exposure=[6],
            exposure_squares=[18], n_units=[3],
        )
    )  # fmt: skip


@pytest.mark.parametrize(
    "unknown",
    [
        ([replace(one, n_devices=0.0) for one in FLEET], CLUMPS),
        ([replace(one, years_squared=0.0) for one in FLEET], CLUMPS),
        (FLEET, [replace(one, squares=0.0) for one in CLUMPS]),
    ],
)
def test_where_nobody_knows_of_devices_nothing_is_told(unknown) -> None:
    assert dispersion_by(place_of, FLEET, CLUMPS) > 2
    assert chance_of_clumps(FLEET, CLUMPS) < 1e-4

    assert 1.0 == dispersion_by(place_of, *unknown)
    assert 1.0 == chance_of_clumps(*unknown)


def test_a_fault_is_told_only_beyond_what_all_faults_together_make_by_chance() -> None:
    # Two failures of one device of twenty, and two others: pairs 1, by chance 0.3.
    once = failed("A", "lid", {1.0: (2, 1, 1)})
    rows = [*CLUMPS, once]
    chance = chance_of_clumps(FLEET, [once])
    assert chance == pytest.approx(0.2592, abs=1e-4)

    told = list(repeats_of(told_of_fleet(FLEET, rows), 0.05))
    assert [("fan", 16, 8)] == [(one.cause, one.n, one.n_devices) for one in told]
    assert told[0].chance == pytest.approx(2 * chance_of_clumps(FLEET, CLUMPS))
    # Alone, it is told as soon as its own chance is low enough; of two, twice that.
    both = told_of_fleet(FLEET, rows)
    assert 1 == len(list(repeats_of(both, 1.9 * chance)))
    assert 2 == len(list(repeats_of(both, 2.1 * chance)))
