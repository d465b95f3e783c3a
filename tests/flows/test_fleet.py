"""Does a fleet tell what fails, how sure that is, and keep quiet where it is not?"""

import random
from dataclasses import replace

import pytest
import scipy

from turnscrew.core.fleet.question import FleetFailures, FleetGroup
from turnscrew.errors import BadArgumentError
from turnscrew.flows.fleet.advice import advice_of
from turnscrew.flows.fleet.counts import told_of_fleet

SITES = (("Night team", 60), ("North round", 120), ("South round", 130))
GROUPS = [FleetGroup(site, "V80", n / 4, n / 4) for site, n in SITES]


def failures(cause: str, *counts: int, cost_minor: int | None = None):
    def n_costed(n: int) -> int:
        return 0 if cost_minor is None else n

    return [
        FleetFailures(site, "V80", cause, n, n * (cost_minor or 0), n_costed(n))
        for (site, _), n in zip(SITES, counts, strict=True)
    ]


GLASS = failures("T-GLS", 6, 2, 1, cost_minor=10_000)
PACKS = failures("T-BAT", 2, 2, 1)


def test_it_gives_rates_with_limits_by_hand_of_the_example() -> None:
    # The example batch: glass 9 in 77.5 device-years, reckoned apart for it.
    glass, packs = told_of_fleet(GROUPS, [*GLASS, *PACKS]).causes

    assert 77.5 == glass.rate.total_time
    found = (glass.rate.rate, glass.rate.rate_lower, glass.rate.rate_upper)
    assert found == pytest.approx((0.116, 0.061, 0.203), abs=5e-4)
    night = dict(glass.by_site)["Night team"]
    assert (0.40, 0.17, 0.79) == pytest.approx(
        (night.rate, night.rate_lower, night.rate_upper), abs=5e-3
    )
    found = (packs.rate.rate, packs.rate.rate_lower, packs.rate.rate_upper)
    assert found == pytest.approx((0.065, 0.025, 0.136), abs=5e-4)


def test_it_advises_on_the_glass_and_keeps_quiet_on_the_packs() -> None:
    answer = told_of_fleet(GROUPS, [*GLASS, *PACKS])

    (advice,) = advice_of(answer)
    assert ("V80", "T-GLS", "Night team") == (advice.model, advice.cause, advice.site)
    assert (6, 9) == (advice.n, advice.n_all)
    assert 0.194 == pytest.approx(advice.share, abs=5e-4)
    assert 0.0026 == pytest.approx(advice.chance, abs=5e-5)
    # Were it like the others, 3 in 62.5 years, .72 would have come in its 15.
    assert 6 - 0.72 == pytest.approx(advice.saved_n)
    assert round(5.28 * 10_000) == advice.saved_minor
    assert "6 of 9 at Night team" in advice.says
    assert advice.known_by < advice.n
    packs = next(one for one in answer.causes if one.cause == "T-BAT")
    chance = next(s.p_value for s in packs.screen.sites if s.name == "Night team")
    assert 0.25 == pytest.approx(chance, abs=5e-3)


def test_what_is_saved_has_limits_of_both_counts_at_the_level_asked_for() -> None:
    wide, narrow = (
        advice_of(told_of_fleet(GROUPS, GLASS, confidence=level))[0]
        for level in (0.99, 0.9)
    )

    assert wide.ratio_limits[0] < narrow.ratio_limits[0]
    assert wide.saved_limits[0] < narrow.saved_limits[0] < narrow.saved_n
    assert narrow.saved_n < narrow.saved_limits[1] < wide.saved_limits[1]
    assert "(limits of 99 %)" in wide.says
    # By hand, of exact limits 2.6130 to 11.8424 of six and 0.8177 to 7.7537 of three.
    below = ((6 - 2.6130) ** 2 + (15 / 62.5 * (7.7537 - 3)) ** 2) ** 0.5
    above = ((11.8424 - 6) ** 2 + (15 / 62.5 * (3 - 0.8177)) ** 2) ** 0.5
    assert (5.28 - below, 5.28 + above) == pytest.approx(narrow.saved_limits, abs=1e-3)


def test_what_shows_that_it_has_helped_is_seldom_seen_where_nothing_changed() -> None:
    (advice,) = advice_of(told_of_fleet(GROUPS, GLASS))
    assert advice.helped_by is not None
    terms, most = advice.helped_by

    assert terms > 1
    # Six a term as before, or 0.72 as elsewhere.
    assert scipy.special.pdtr(most, 6 * terms) < 0.05
    assert scipy.special.pdtr(most, 0.72 * terms) > 0.95


def test_it_compares_no_sites_below_five_failures() -> None:
    answer = told_of_fleet(GROUPS, failures("T-CAM", 4, 0, 0))

    (camera,) = answer.causes
    assert () == advice_of(answer)
    assert "too few failures" == camera.screen.status
    assert {None} == {site.rank for site in camera.screen.sites}
    assert camera.rate.rate_upper > camera.rate.rate


def test_it_seldom_blames_where_all_sites_are_alike() -> None:
    # Poisson failures at one rate: at most q of such fleets single a site out.
    rng = random.Random(5)
    sizes = [rng.randint(20, 90) for _ in range(6)]
    groups = [FleetGroup(f"site {k}", "V80", n, n) for k, n in enumerate(sizes)]
    blamed = 0
    for _ in range(400):
        rows = [
            FleetFailures(
                one.site, "V80", "X",
                sum(rng.random() < 0.05 for _ in range(round(one.device_years))),
            )
            for one in groups
        ]  # fmt: skip
        blamed += bool(advice_of(told_of_fleet(groups, rows)))
    assert blamed <= 0.05 * 400


def test_it_finds_a_site_with_six_times_the_rate() -> None:
    rng = random.Random(6)
    groups = [FleetGroup(f"site {k}", "V80", 60, 60) for k in range(6)]
    found = 0
    for _ in range(100):
        rows = [
            FleetFailures(
                one.site, "V80", "X",
                sum(rng.random() < (0.3 if k == 2 else 0.05) for _ in range(60)),
            )
            for k, one in enumerate(groups)
        ]  # fmt: skip
        advice = advice_of(told_of_fleet(groups, rows))
        found += "site 2" in [one.site for one in advice]
    assert found > 90


def test_failures_that_count_half_tell_what_half_of_them_would() -> None:
    twice = [
        replace(one, device_years=2 * one.device_years, years_ahead=2 * one.years_ahead)
        for one in GROUPS
    ]
    (half,) = advice_of(told_of_fleet(GROUPS, GLASS))
    answer = told_of_fleet(twice, failures("T-GLS", 12, 4, 2))
    (cause,) = answer.causes
    screen = replace(cause.screen, within=2.0)
    (one,) = advice_of(replace(answer, causes=(replace(cause, screen=screen),)))

    assert half.ratio_limits == pytest.approx(one.ratio_limits)
    assert half.ratio == pytest.approx(one.ratio)
    assert 2 * half.saved_n == pytest.approx(one.saved_n)
    assert [2 * limit for limit in half.saved_limits] == pytest.approx(one.saved_limits)
    # So many as are fewer than what tells as much as one more.
    assert 2 * (half.known_by + 1) - 1 == one.known_by
    assert 2.0 == one.within
    held = {site.name: site for site in cause.screen.sites}
    assert 30 == held["Night team"].exposure


def test_it_says_nothing_of_saving_where_no_cost_is_known() -> None:
    rows = failures("T-GLS", 6, 2, 1)

    (advice,) = advice_of(told_of_fleet(GROUPS, rows))
    assert advice.saved_minor is None


def test_it_refuses_rates_without_those_that_could_have_failed() -> None:
    wrong = [
        FleetGroup("A", "V80", 0, 1), FleetGroup("B", "V80", 3, 1),
        FleetGroup("B", "V80", 4, -1),
    ]  # fmt: skip
    with pytest.raises(BadArgumentError) as told:
        told_of_fleet(wrong, [FleetFailures("C", "V80", "X", -1)])

    for words in (
        "group 1: found 0 device-years", "group 3: found -1 device-years ahead",
        "found V80 at B again",
        "without it there is no rate", "failure 1: found -1",
    ):  # fmt: skip
        assert words in str(told.value)


def test_a_place_that_is_one_model_year_is_told_of_once() -> None:
    groups = [
        FleetGroup("N", "V80", 15, 15, model_year=2025),
        FleetGroup("S", "V80", 62, 62, model_year=2024),
    ]
    rows = [
        FleetFailures("N", "V80", "glass", 6, model_year=2025),
        FleetFailures("S", "V80", "glass", 3, model_year=2024),
    ]

    (advice,) = advice_of(told_of_fleet(groups, rows))
    assert ("place", "N", "2025") == (advice.of, advice.site, advice.same_as)
    assert "cannot be told apart" in advice.says


def advised(groups, counts):
    rows = [
        FleetGroup(site, "M", years, ahead, of) for site, of, years, ahead in groups
    ]
    failed = [FleetFailures(site, "M", "C", n, model_year=of) for site, of, n in counts]
    return advice_of(told_of_fleet(rows, failed))


def test_a_place_is_called_a_model_year_only_if_its_devices_are_those_of_it() -> None:
    # As many failures and as much time, and yet other devices.
    given = advised(
        [
            ("A", 2020, 10, 2),
            ("A", 2021, 10, 2),
            ("B", 2020, 10, 2),
            ("B", 2021, 10, 2),
        ],
        [("A", 2020, 25), ("A", 2021, 5), ("B", 2020, 5)],
    )
    assert {("place", "A", ""), ("model-year", "2020", "")} == {
        (one.of, one.site, one.same_as) for one in given
    }
    (alike,) = advised([("A", 2020, 10, 2), ("B", 2021, 30, 6)], [("A", 2020, 25)])
    assert ("place", "2020") == (alike.of, alike.same_as)


def test_nothing_is_to_save_where_no_device_is_left() -> None:
    given = advised(
        [("A", 2020, 10, 0), ("B", 2020, 30, 6)], [("A", 2020, 20), ("B", 2020, 5)]
    )

    assert [0] == [one.saved_n for one in given]
    assert given[0].says.endswith(
        "None of these devices is in service any more: nothing is to save."
    )


def test_nobody_is_blamed_for_a_place_or_model_year_that_is_not_known() -> None:
    assert () == advised([("", 2020, 10, 2), ("B", 2020, 30, 6)], [("", 2020, 20)])
    given = advised(
        [("A", 0, 10, 2), ("A", 2021, 30, 6)], [("A", 0, 20), ("A", 2021, 5)]
    )
    assert () == given


def test_a_place_may_be_called_nought() -> None:
    (given,) = advised(
        [("0", 2020, 15, 2), ("1", 2020, 62, 6)], [("0", 2020, 6), ("1", 2020, 3)]
    )

    assert ("place", "0") == (given.of, given.site)


def test_it_refuses_a_term_of_no_days() -> None:
    with pytest.raises(BadArgumentError, match="term_days: found 0"):
        told_of_fleet(GROUPS, GLASS, term_days=0)
