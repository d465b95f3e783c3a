"""Does the report on a fleet hold what it says, in one part or many?"""

import numpy as np
import pytest

from random_fleets import random_fleet
from random_lives import generator
from turnscrew.core.fleet.question import Counted, FleetFailures, FleetGroup, Wishes
from turnscrew.core.price.replace import Replacement
from turnscrew.core.reliability.sums import sums_of
from turnscrew.core.reliability.table import fleet_table
from turnscrew.core.reliability.weibull import fit_weibull
from turnscrew.errors import BadArgumentError
from turnscrew.flows.fleet.ahead import by_age, steady
from turnscrew.flows.fleet.report import fleet_report

OLD_PACKS = {"shape": 4.0, "scale_d": 800.0}


def test_no_more_is_saved_at_a_place_than_will_come_there() -> None:
    # Failures of the first days, long over: 40 of 200 devices at B, 10 of 200 at A.
    table = fleet_table(
        [f"{site}{k}" for site in "AB" for k in range(200)], [0] * 400, [1000] * 400,
        events=[
            (unit, 0.5 + 19.5 * k / n, "fan", 5_000)
            for first, n in ((0, 10), (200, 40))
            for k, unit in enumerate(range(first, first + n))
        ],
        causes=["fan"], site=["A"] * 200 + ["B"] * 200,
    )  # fmt: skip
    for parts in (
        [{"M": table}],
        [{"M": table.part(np.arange(400) % 3 == k)} for k in range(3)],
    ):
        report = fleet_report(parts)
        (cause,) = report.answer.causes
        (advice,) = report.advice
        assert cause.is_by_age
        # B has four fifths of what comes, and a fifth as many would come like A.
        assert advice.saved_n == pytest.approx(0.6 * cause.ahead.mean, rel=0.05)
        # So few that no count shows a change.
        assert advice.helped_by is None


def test_one_device_that_fails_again_is_told_and_its_place_is_not_blamed() -> None:
    # Of 40 devices one at A failed 20 times, and one at B once; and so in parts.
    events = [(0, 10.0 * k, "fan", 100) for k in range(1, 21)]
    table = fleet_table(
        [str(k) for k in range(40)], [0] * 40, [400] * 40,
        events=[*events, (20, 50, "fan", 100)], causes=["fan"],
        site=["A"] * 20 + ["B"] * 20,
    )  # fmt: skip
    for parts in (
        [{"M": table}],
        [{"M": table.part(np.arange(40) % 2 == k)} for k in range(2)],
    ):
        report = fleet_report(parts)
        (fan,) = report.answer.causes
        (again,) = report.repeats
        assert {"A": 1, "B": 1} == fan.devices_at["place"]
        assert () == report.advice
        assert (21, 2) == (again.n, again.n_devices)
        assert "the 21 failures are of 2 devices" in again.says
        assert again.chance < 1e-9


@pytest.mark.parametrize(
    ("shape", "n_devices", "mean"), [(0.5, 60, 0.5), (0.3, 20, 0.3)]
)
def test_it_seldom_blames_a_place_where_devices_are_unlike(
    shape: float, n_devices: int, mean: float
) -> None:
    # Rates of devices by a gamma law, alike at all six places. Without the spread
    # between devices 20 and 27 of 100 such fleets had a place blamed.
    rng = np.random.default_rng(8)  # noqa: TID251 - a fixed seed
    blamed = 0
    for _ in range(100):
        site = np.repeat(list("ABCDEF"), rng.integers(n_devices // 2, 2 * n_devices, 6))
        rates = mean * rng.gamma(shape, 1 / shape, len(site))
        unit = np.repeat(np.arange(len(site)), rng.poisson(rates))
        events = [(int(k), float(age), "fan", None) for k, age in
                  zip(unit, 365 * rng.random(len(unit)), strict=True)]  # fmt: skip
        table = fleet_table(
            [str(k) for k in range(len(site))], np.zeros(len(site)),
            np.full(len(site), 365.0), events=events, causes=["fan"], site=list(site),
        )  # fmt: skip
        report = fleet_report([{"M": table}])
        blamed += any(one.of == "place" for one in report.advice)
    assert blamed <= 8


def test_it_still_finds_a_place_with_three_times_the_rate_among_unlike_devices() -> (
    None
):
    rng = np.random.default_rng(9)  # noqa: TID251 - a fixed seed
    found = 0
    for _ in range(40):
        site = np.repeat(list("ABCDEF"), 60)
        rates = np.where(site == "B", 1.5, 0.5) * rng.gamma(0.5, 2, len(site))
        unit = np.repeat(np.arange(len(site)), rng.poisson(rates))
        table = fleet_table(
            [str(k) for k in range(len(site))], np.zeros(len(site)),
            np.full(len(site), 365.0), events=[
                (int(k), float(age), "fan", None) for k, age in
                zip(unit, 365 * rng.random(len(unit)), strict=True)
            ], causes=["fan"], site=list(site),
        )  # fmt: skip
        found += ["B"] == [one.site for one in fleet_report([{"M": table}]).advice]
    assert found >= 30


def test_how_parts_fail_does_not_hang_on_the_limits_that_are_shown() -> None:
    for seed in range(5):
        table = random_fleet(seed, 100, shape=1.4)
        told = [
            fleet_report([{"V80": table}], wishes=Wishes(confidence=level))
            for level in (0.5, 0.9, 0.99)
        ]
        ways = [[life.way for life in one.lives] for one in told]
        assert ways[0] == ways[1] == ways[2]
        ahead = [[c.ahead.mean for c in one.answer.causes] for one in told]
        assert ahead[0] == pytest.approx(ahead[1])
        assert ahead[1] == pytest.approx(ahead[2])


def test_the_same_is_told_of_a_fleet_in_parts() -> None:
    table = random_fleet(3, 400, shape=2.0)
    cut = np.arange(table.n_units) < 150
    whole = fleet_report([{"V80": table}])
    parts = fleet_report([{"V80": table.part(cut)}, {"V80": table.part(~cut)}])

    assert whole.answer.n_compared == parts.answer.n_compared
    for one, other in zip(whole.answer.causes, parts.answer.causes, strict=True):
        assert (one.cause, one.rate.failures) == (other.cause, other.rate.failures)
        assert one.rate.rate_upper == pytest.approx(other.rate.rate_upper, rel=1e-9)
        assert (one.ahead.lower, one.ahead.upper) == (
            other.ahead.lower, other.ahead.upper,
        )  # fmt: skip
    for one, other in zip(whole.lives, parts.lives, strict=True):
        assert one.fit.mu == pytest.approx(other.fit.mu, rel=1e-9)
        assert one.curve.survival == pytest.approx(other.curve.survival, rel=1e-9)
    a, b = whole.models[0].number, parts.models[0].number
    assert a is not None and b is not None
    assert a.mean == pytest.approx(b.mean, rel=1e-9)
    assert a.variance == pytest.approx(b.variance, abs=1e-9 * float(a.variance.max()))
    assert [one.level.stock for one in whole.shelf] == [
        one.level.stock for one in parts.shelf
    ]


def test_old_model_years_are_not_blamed_for_their_age() -> None:
    # All model-years wear alike; the oldest have most failures only because of age.
    blamed = 0
    for seed in range(60):
        report = fleet_report([{"V80": random_fleet(seed, 300, **OLD_PACKS)}])
        assert "by wear" in {life.way for life in report.lives}
        blamed += any(one.of == "model-year" for one in report.advice)
    assert blamed <= 0.05 * 60


def test_a_bad_place_is_found_in_spite_of_wear() -> None:
    found = 0
    for seed in range(40):
        table = random_fleet(seed, 300, site_factors=(4.0, 1.0, 1.0), **OLD_PACKS)
        report = fleet_report([{"V80": table}])
        found += ("glass", "site 0") in {(one.cause, one.site) for one in report.advice}
    assert found >= 38


def test_the_next_term_of_parts_that_wear_holds_its_limits() -> None:
    # Watched to now, then on for a term: the count must lie within 90 % as often.
    inside = n = 0
    for seed in range(150):
        table = random_fleet(
            seed, 400, with_entry=False, years=(2023,), shape=3.0, scale_d=900.0
        )
        now = 300.0
        young = table.part(table.end_age > now + 91)
        before = young.event_age <= now
        past = fleet_table(
            list(young.unit), np.zeros(young.n_units), np.full(young.n_units, now),
            events=[
                (int(u), float(a), young.causes[c], 1)
                for u, a, c in zip(
                    young.event_unit[before], young.event_age[before],
                    young.event_cause[before], strict=True,
                )
            ],
            causes=young.causes, are_repeats_meant=True,
        )  # fmt: skip
        for cause in past.causes:
            k = past.causes.index(cause)
            if not (past.event_cause == k).any():
                continue
            come = int(
                (
                    (young.event_age > now) & (young.event_age <= now + 91)
                    & (young.event_cause == k)
                ).sum()
            )  # fmt: skip
            sums = sums_of(past)
            fit = fit_weibull(sums.part_lives(cause))
            if fit.covariance is None:
                continue
            told = by_age(sums.part_ages[k], fit, days=364).predicted(91)
            inside += told.lower <= come <= told.upper
            n += 1
    # Three standard errors of 90 % below; whole counts hold at least the level.
    assert n > 400
    assert 0.9 - 3 * (0.09 / n) ** 0.5 < inside / n


def test_by_age_and_steady_agree_where_age_tells_nothing() -> None:
    table = random_fleet(11, 900, shape=1.0)
    sums = sums_of(table)
    for cause in table.causes:
        n = float(sums.failures[table.causes.index(cause)].sum())
        years = float(sums.exposure.sum()) / 365.25
        flat = steady(n, years, float(sums.n_running.sum())).predicted(91)
        fit = fit_weibull(sums.part_lives(cause))
        ages = sums.part_ages[table.causes.index(cause)]
        aged = by_age(ages, fit, days=364).predicted(91)
        assert aged.mean == pytest.approx(flat.mean, rel=0.25)
        assert aged.variance >= flat.variance * 0.8


def test_a_part_that_was_renewed_starts_anew() -> None:
    # By hand: A failed at 300 of 400 days, B never, C is retired.
    table = fleet_table(
        ["A", "B", "C"], [0, 0, 0], [400, 250, 100],
        events=[(0, 200, "pack", 1), (0, 300, "pack", 1), (2, 50, "fan", 1)],
        causes=["pack", "fan"], is_running=[True, True, False],
    )  # fmt: skip
    sums = sums_of(table)

    assert [100, 250] == sums.part_ages[0].age.tolist()
    assert [250, 400] == sums.part_ages[1].age.tolist()


def test_what_is_to_come_by_age_is_that_of_parts_played_on() -> None:
    # A slow play of every part in service, renewed as often as it fails, by the law.
    rng = generator(5)
    table = random_fleet(7, 300, with_entry=False, shape=2.5)
    sums = sums_of(table)
    for k, cause in enumerate(table.causes):
        fit = fit_weibull(sums.part_lives(cause))
        assert fit.shape is not None
        assert fit.scale is not None
        ages = np.repeat(sums.part_ages[k].age, sums.part_ages[k].weight.astype(int))
        days, n_plays = 2.5 * fit.scale, 400
        gone = (ages / fit.scale) ** fit.shape
        come = np.zeros((n_plays, len(ages)))
        later = rng.exponential(size=come.shape)
        at = fit.scale * (gone + later) ** (1 / fit.shape) - ages
        while (at <= days).any():
            come += at <= days
            at += fit.scale * rng.weibull(fit.shape, come.shape)
        played = come.sum(axis=1)
        told = by_age(sums.part_ages[k], fit, days=days).of(days)[0]

        off = 4 * played.std() / n_plays**0.5
        assert told == pytest.approx(played.mean(), abs=off)


def test_the_law_of_parts_counts_renewed_ones_too() -> None:
    # By hand: A failed at 200 and 300 of 400 days, B never, C came at 50.
    table = fleet_table(
        ["A", "B", "C"], [0, 0, 50], [400, 250, 100],
        events=[(0, 200, "pack", 1), (0, 300, "pack", 1)], causes=["pack"],
    )  # fmt: skip
    lives = sums_of(table).part_lives("pack")
    weight = {True: {}, False: {}}
    for age, is_event, n in zip(lives.exit, lives.is_event, lives.weight, strict=True):
        rows = weight[bool(is_event)]
        rows[float(age)] = rows.get(float(age), 0) + float(n)

    assert {100.0: 1, 200.0: 1} == weight[True]
    assert {100.0: 2, 250.0: 1} == weight[False]


def test_limits_hold_where_parts_wear_out_within_the_time_looked_at() -> None:
    # Renewed parts that wear fast: the hazard of the old ones alone told threefold.
    rng = generator(3)
    inside, ratios, n_fleets = 0, [], 40
    for _ in range(n_fleets):
        ends = np.round(rng.uniform(300, 900, 150))
        events, come = [], 0
        for unit, end in enumerate(ends):
            at = 400 * rng.weibull(3)
            while at <= end + 364:
                if at <= end:
                    events.append((unit, float(at), "fan", None))
                come += at > end
                at += 400 * rng.weibull(3)
        names = [str(unit) for unit in range(len(ends))]
        table = fleet_table(names, [0] * 150, ends, events=events, causes=["fan"])
        sums = sums_of(table)
        fit = fit_weibull(sums.part_lives("fan"))
        told = by_age(sums.part_ages[0], fit, days=364).predicted(364)
        inside += told.lower <= come <= told.upper
        ratios.append(told.mean / come)

    assert inside >= 0.9 * n_fleets - 3 * (0.09 * n_fleets) ** 0.5
    assert np.mean(ratios) == pytest.approx(1, abs=0.03)


def test_a_steep_law_leaves_the_rest_of_the_report() -> None:
    table = fleet_table(
        [f"u{k}" for k in range(20)], [0] * 20, [700] * 20,
        events=[(k, 50.0 + k, "fan", None) for k in range(20)], causes=["fan"],
    )  # fmt: skip
    report = fleet_report([{"M": table}])

    (fan,) = report.answer.causes
    assert fan.ahead.upper < 100


def test_those_retired_bring_nothing_next_term() -> None:
    table = fleet_table(
        ["A", "B"], [0, 0], [400, 400], events=[(0, 100, "fan", 1)], causes=["fan"],
        is_running=[False, False],
    )  # fmt: skip
    report = fleet_report([{"": table}])

    (fan,) = report.answer.causes
    assert (0, 0) == (fan.ahead.lower, fan.ahead.upper)
    assert () == report.shelf


def test_a_fleet_without_failures_has_an_upper_limit_only() -> None:
    # Exact Poisson: none in 10 years, 90 % both sides: 2.9957 / 10 (from chi-squared).
    table = fleet_table(["A"], [0], [3652.5], causes=[])
    report = fleet_report([{"": table}])

    (model,) = report.models
    assert (0, 0) == (model.rate.failures, model.rate.rate)
    assert 0.29957 == pytest.approx(model.rate.rate_upper, abs=1e-5)
    assert () == report.answer.causes
    assert () == report.advice


def test_counts_alone_give_rates_and_no_lives() -> None:
    counted = Counted(
        (FleetGroup("N", "V80", 15, 15), FleetGroup("S", "V80", 62.5, 62.5)),
        (FleetFailures("N", "V80", "glass", 6), FleetFailures("S", "V80", "glass", 3)),
    )
    report = fleet_report([], counted=counted)

    assert () == report.lives
    # The example of the workshop: 9 in 77.5 device-years.
    assert 9 / 77.5 == pytest.approx(report.models[0].rate.rate)
    (advice,) = report.advice
    assert "N" == advice.site
    assert advice.cost_minor is None


def test_it_refuses_nothing_at_all() -> None:
    with pytest.raises(BadArgumentError, match="found no unit"):
        fleet_report([])


def test_a_cost_not_known_counts_as_the_mean_of_the_others() -> None:
    table = fleet_table(
        ["A", "B"], [0, 0], [400, 400],
        events=[(0, 100, "fan", 500), (1, 90, "fan", None), (1, 200, "fan", 700)],
        causes=["fan"],
    )  # fmt: skip
    report = fleet_report([{"": table}])

    (fan,) = report.answer.causes
    assert (1200, 2) == (fan.cost_minor, fan.n_costed)
    assert 600 == fan.cost_of_one_minor
    cost = report.models[0].cost
    assert cost is not None
    # Three failures of two devices at 6.00 each.
    assert 900 == pytest.approx(cost.mean_at(400))


FOUR_YEARS = Wishes(replacements={"X": Replacement(100_000, 4)})


def test_a_repair_pays_up_to_a_price_by_hand() -> None:
    # Ten devices, a repair of 100.00 for each half of the year: 200.00 a year, always.
    days = [182.0, 364.0, 547.0, 729.0]
    table = fleet_table(
        [str(k) for k in range(10)], [0] * 10, [740] * 10,
        events=[(k, day, "fan", 10_000) for k in range(10) for day in days],
        causes=["fan"],
    )  # fmt: skip
    report = fleet_report([{"X": table}], wishes=FOUR_YEARS)

    assert [(0, 25_000), (1, 25_000)] == [
        (one.age_years, pytest.approx(one.most[1])) for one in report.paying
    ]


def test_what_a_year_needs_has_limits_also_where_all_devices_needed_the_same() -> None:
    # Three devices, each with one failure at 100.00 in its second year, none before.
    table = fleet_table(
        ["A", "B", "C"], [0] * 3, [740] * 3,
        events=[(k, 400.0 + 50 * k, "fan", 10_000) for k in range(3)], causes=["fan"],
    )  # fmt: skip
    (told,) = fleet_report([{"X": table}], wishes=FOUR_YEARS).models
    first, second, third = told.needs
    # Nobody was watched to the end of the third.
    assert third is None
    assert first is not None and second is not None

    assert (0, 0) == (first.mean, first.low)
    # No failure in three years: at most -ln 0.05 of them.
    assert 10_000 * 2.99573 / 3 == pytest.approx(first.high, rel=1e-5)
    # Three failures: exact limits of 90 %, 0.81769 to 7.75366.
    assert 10_000 == pytest.approx(second.mean)
    assert 10_000 * 0.81769 / 3 == pytest.approx(second.low, rel=1e-4)
    assert 10_000 * 7.75366 / 3 == pytest.approx(second.high, rel=1e-4)


def test_limits_of_a_year_hold_their_level_where_a_renewed_part_wears() -> None:
    # A pack lasts 2.5 years, give or take 0.35; who failed early in the third year
    # fails late in the next.
    chance = generator(17)

    def packs(n: int) -> list[tuple[int, float, str, int]]:
        lives = np.cumsum(365.25 * chance.normal(2.5, 0.35, (n, 4)), axis=1)
        return [
            (unit, float(age), "pack", 5000)
            for unit, ages in enumerate(lives)
            for age in ages[ages < 5 * 365.25]
        ]

    many = np.array([age for _, age, _, _ in packs(20_000)]) / 365.25
    truth = [5000 * float(np.sum(np.ceil(many) == k + 1)) / 20_000 for k in range(5)]
    held = np.zeros(5)
    for _ in range(100):
        table = fleet_table(
            [str(k) for k in range(100)], [0] * 100, [5 * 365.25] * 100,
            events=packs(100), causes=["pack"],
        )  # fmt: skip
        (told,) = fleet_report([{"X": table}], wishes=FOUR_YEARS).models
        for k, need in enumerate(told.needs):
            assert need is not None and need.low < need.high
            held[k] += need.low <= truth[k] <= need.high

    assert held.min() >= 82


def test_needs_of_a_year_are_the_same_of_a_fleet_in_parts() -> None:
    table = random_fleet(3, 400, shape=2.0)
    cut = np.arange(table.n_units) < 150
    wishes = Wishes(replacements={"V80": Replacement(50_000, 5)})
    (whole,) = fleet_report([{"V80": table}], wishes=wishes).models
    (parts,) = fleet_report(
        [{"V80": table.part(cut)}, {"V80": table.part(~cut)}], wishes=wishes
    ).models

    assert whole.needs
    for one, other in zip(whole.needs, parts.needs, strict=True):
        assert (one is None) == (other is None)
        if one is not None and other is not None:
            assert one.mean == pytest.approx(other.mean)
            assert (one.low, one.high) == pytest.approx((other.low, other.high))


def test_nobody_tells_of_ages_that_nobody_was_watched_at() -> None:
    late = fleet_table(
        ["A"], [700], [1500], events=[(0, 900, "fan", 100)], causes=["fan"]
    )
    report = fleet_report([{"X": late}], wishes=FOUR_YEARS)
    (told,) = report.models

    assert [False, False, True, True, False] == [
        need is not None for need in told.needs
    ]
    # Of another device, new, nothing is known.
    assert () == report.paying


def test_it_finds_what_every_unit_shows_by_a_plain_count() -> None:
    for seed in range(10):
        table = random_fleet(seed, 80)
        report = fleet_report([{"V80": table}])
        for cause in report.answer.causes:
            k = table.causes.index(cause.cause)
            for site, rate in cause.by_site:
                n = sum(
                    table.site[u] == site
                    for u, c in zip(table.event_unit, table.event_cause, strict=True)
                    if c == k
                )
                assert n == rate.failures


def test_chance_is_brought_by_the_caller_alone() -> None:
    # The same fleet gives the same report, to the last bit.
    one, other = (fleet_report([{"V80": random_fleet(2, 90)}]) for _ in range(2))
    assert [a.says for a in one.advice] == [a.says for a in other.advice]
    assert generator(1).random() == generator(1).random()
    assert [c.ahead.mean for c in one.answer.causes] == [
        c.ahead.mean for c in other.answer.causes
    ]


def test_it_refuses_a_fleet_of_no_device_and_wishes_out_of_range() -> None:
    empty = fleet_table([], [], [], causes=["fan"])
    with pytest.raises(BadArgumentError, match="fleet: found no unit"):
        fleet_report([{"M": empty}])
    for name, value in (("term_days", 0), ("confidence", 2), ("target", 1), ("q", 0)):
        with pytest.raises(BadArgumentError, match=f"{name}: found {value}"):
            Wishes(**{name: value})
    (told,) = fleet_report([{"M": empty, "V80": random_fleet(1, 50)}]).models
    assert "V80" == told.model
