"""What failed in a fleet, how sure is that, and where does it fail more often?"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from turnscrew.core.fleet.advice import Of
from turnscrew.core.fleet.answer import YEAR_DAYS, CauseAnswer, FleetAnswer
from turnscrew.core.fleet.question import FleetFailures, FleetGroup
from turnscrew.core.model.wanted import refuse, unlike
from turnscrew.core.reliability.discoveries import adjust_p
from turnscrew.core.reliability.fit import LifeFit
from turnscrew.core.reliability.rates import RateLimits, rate_limits
from turnscrew.core.reliability.sites import Site, SiteScreen, screen_sites
from turnscrew.errors import BadArgumentError
from turnscrew.flows.fleet.ahead import Outlook, steady
from turnscrew.flows.fleet.clumps import (
    chance_of_clumps,
    dispersion_by,
    place_of,
    year_of,
)

SITES_FOR_SPREAD = 10
"""
Sites from which on what sites vary anyhow can be told from one odd site among them;
a choice, no source. [1]
"""


NO_PLACE, NO_YEAR = "", "0"
"""Names of a place and of a model-year that nobody knows."""


@dataclass(frozen=True, eq=False)
class Aged:
    """
    What the ages of the devices tell of one cause.

    Parameters
    ----------
    expected
        Failures each site and model-year would have, were age all that counts. [1]
    outlook
        What foretells the cause.
    fit
        The law of its parts.
    """

    expected: Mapping[tuple[str, int], float]
    outlook: Outlook
    fit: LifeFit


def outlook_of(
    failures: float, device_years: float, years_a_day: float, aged: Aged | None
) -> Outlook:
    """
    Give what foretells one cause: the ages where they matter, else one rate.

    Parameters
    ----------
    failures
        Failures so far. [1]
    device_years
        Time in which they came. [years]
    years_a_day
        Time in service of all devices in a day to come. [years/d]
    aged
        What ages tell, where they matter.

    Returns
    -------
    Outlook
        The outlook.
    """
    if aged is not None:
        return aged.outlook
    return steady(failures, device_years, years_a_day * YEAR_DAYS)


def told_of_fleet(
    groups: Sequence[FleetGroup],
    failures: Sequence[FleetFailures],
    *,
    aged: Mapping[tuple[str, str], Aged] | None = None,
    term_days: float = 91.0,
    confidence: float = 0.9,
    q: float = 0.05,
) -> FleetAnswer:
    """
    Say what failed in a fleet during some time, and where it failed more often.

    Parameters
    ----------
    groups
        The devices, by site, model and model-year.
    failures
        What failed.
    aged
        What ages tell, by model and cause, where age matters.
    term_days
        Length of a term. [d]
    confidence
        Level of both limits together. [1]
    q
        Share of false blame allowed among all that is singled out. [1]

    Returns
    -------
    FleetAnswer
        Rates with limits, sites and model-years.

    Raises
    ------
    BadArgumentError
        If a group stands twice or was not watched, or a failure is of a group that is
        not there: a rate needs those it could have met.
    """
    refuse(unlike("term_days", term_days, above=0))
    _refuse(groups, failures)
    by_model: dict[str, list[FleetGroup]] = {}
    for group in groups:
        by_model.setdefault(group.model, []).append(group)
    by_cause: dict[tuple[str, str], list[FleetFailures]] = {}
    for one in failures:
        if one.n:
            by_cause.setdefault((one.model, one.cause), []).append(one)
    levels = (confidence, q)
    causes = [
        _cause(by_model[key[0]], rows, (aged or {}).get(key), term_days, levels)
        for key, rows in by_cause.items()
    ]
    causes.sort(key=lambda one: (-one.rate.failures, one.model, one.cause))
    adjusted, n_compared = _adjusted(causes, q)
    n_screened = sum(one.screen.status == "screened" for one in causes)
    return FleetAnswer(
        tuple(adjusted), n_screened, n_compared, frozenset(_same(groups))
    )


def _same(groups: Sequence[FleetGroup]) -> Iterator[tuple[str, str, str]]:
    """Give places all of whose devices are of one model-year, as no others are."""
    years: dict[tuple[str, str], set[int]] = {}
    places: dict[tuple[str, int], set[str]] = {}
    for one in groups:
        years.setdefault((one.model, one.site), set()).add(one.model_year)
        places.setdefault((one.model, one.model_year), set()).add(one.site)
    for (model, site), of in years.items():
        year, *others = of
        if year and not others and places[model, year] == {site}:
            yield model, site, str(year)


def _refuse(groups: Sequence[FleetGroup], failures: Sequence[FleetFailures]) -> None:
    told = list(_bad_groups(groups))
    known = {(group.site, group.model, group.model_year) for group in groups}
    for number, one in enumerate(failures, 1):
        if (one.site, one.model, one.model_year) not in known:
            told.append(
                f"failure {number}: found {one.model} at {one.site}, wanted a group "
                "with its time under watch: without it there is no rate"
            )
        if one.n < 0:
            told.append(f"failure {number}: found {one.n}, wanted 0 or more")
    if told:
        raise BadArgumentError("; ".join(told))


def _bad_groups(groups: Sequence[FleetGroup]) -> Iterator[str]:
    seen: set[tuple[str, str, int]] = set()
    for number, group in enumerate(groups, 1):
        key = (group.site, group.model, group.model_year)
        if key in seen:
            yield f"group {number}: found {group.model} at {group.site} again"
        if not group.device_years > 0:
            yield (
                f"group {number}: found {group.device_years:g} device-years, "
                "wanted more than 0"
            )
        if not group.years_ahead >= 0:
            yield (
                f"group {number}: found {group.years_ahead:g} device-years ahead, "
                "wanted 0 or more"
            )
        seen.add(key)


def _cause(
    groups: Sequence[FleetGroup],
    rows: Sequence[FleetFailures],
    aged: Aged | None,
    term_days: float,
    levels: tuple[float, float],
) -> CauseAnswer:
    confidence, q = levels
    n, years = sum(one.n for one in rows), sum(one.device_years for one in groups)
    times = [one.device_years for one in groups]
    by_site, by_year = _splits(groups, rows, times)
    years_ahead = sum(group.years_ahead for group in groups)
    outlook = outlook_of(n, years, years_ahead / term_days, aged)
    against_site, against_year = by_site, by_year
    if aged is not None:
        expected = [aged.expected.get((one.site, one.model_year), 0) for one in groups]
        against_site, against_year = _splits(groups, rows, expected)
    against_site = _known(against_site, NO_PLACE) or against_site
    against_year = _known(against_year, NO_YEAR)
    coming = _splits(groups, (), [one.years_ahead for one in groups])
    several = len(by_year) > 1
    return CauseAnswer(
        model=groups[0].model,
        cause=rows[0].cause,
        rate=rate_limits(failures=n, total_time=years, confidence=confidence),
        by_site=_rates(by_site, confidence),
        by_year=_rates(by_year, confidence) if several else (),
        screen=_screened(
            against_site, dispersion_by(place_of, groups, rows), confidence, q
        ),
        year_screen=_screened(
            against_year, dispersion_by(year_of, groups, rows), confidence, q
        )
        if len(against_year) > 1
        else None,
        ahead=outlook.predicted(term_days, confidence),
        is_by_age=aged is not None,
        years_ahead=years_ahead,
        ahead_at={
            "place": {name: time for name, _, time in coming[0]},
            "model-year": {name: time for name, _, time in coming[1]},
        },
        devices_at=_devices_at(rows),
        repeats_chance=chance_of_clumps(groups, rows),
        cost_minor=sum(one.cost_minor for one in rows),
        n_costed=sum(one.n_costed for one in rows),
    )


def _devices_at(rows: Sequence[FleetFailures]) -> Mapping[Of, Mapping[str, int]]:
    """Count the devices that failed by group; nothing where nobody knows."""
    places: Counter[str] = Counter()
    years: Counter[str] = Counter()
    for one in rows:
        if one.n_devices is None:
            return {"place": {}, "model-year": {}}
        places[one.site] += one.n_devices
        years[str(one.model_year)] += one.n_devices
    return {"place": places, "model-year": years}


_Split = list[tuple[str, int, float]]
"""Name, failures, and time under watch or failures expected, of each group."""


def _splits(
    groups: Sequence[FleetGroup],
    rows: Sequence[FleetFailures],
    weights: Sequence[float],
) -> tuple[_Split, _Split]:
    """Split by site and by model-year."""
    pairs = list(zip(groups, weights, strict=True))
    return (
        _split([(g.site, w) for g, w in pairs], [(one.site, one.n) for one in rows]),
        _split(
            [(str(g.model_year), w) for g, w in pairs],
            [(str(one.model_year), one.n) for one in rows],
        ),
    )


def _known(split: _Split, unknown: str) -> _Split:
    """Leave out the devices of which nobody knows the place or the model-year."""
    return [one for one in split if one[0] != unknown]


def _split(times: Iterable[tuple[str, float]], ns: Iterable[tuple[str, int]]) -> _Split:
    time: dict[str, float] = {}
    for name, years in times:
        time[name] = time.get(name, 0.0) + years
    counts: Counter[str] = Counter()
    for name, n in ns:
        counts[name] += n
    return [(name, counts[name], years) for name, years in time.items() if years > 0]


def _rates(split: _Split, confidence: float) -> tuple[tuple[str, RateLimits], ...]:
    return tuple(
        (name, rate_limits(failures=n, total_time=years, confidence=confidence))
        for name, n, years in split
    )


def _screened(split: _Split, within: float, confidence: float, q: float) -> SiteScreen:
    return screen_sites(
        [n for _, n, _ in split], [years for _, _, years in split],
        names=[name for name, _, _ in split], alternative="greater",
        spread="taken off" if len(split) >= SITES_FOR_SPREAD else "left in",
        within=within, q=q, confidence=confidence,
    )  # fmt: skip


def _adjusted(causes: Sequence[CauseAnswer], q: float) -> tuple[list[CauseAnswer], int]:
    """Adjust every chance for all comparisons made, of all faults together."""
    used = [
        site.p_used for cause in causes for screen in _screens(cause)
        for site in screen.sites
    ]  # fmt: skip
    left = iter(adjust_p(used).tolist())

    def again(screen: SiteScreen) -> SiteScreen:
        if not _is_compared(screen):
            return screen
        return replace(
            screen, sites=tuple(_told(s, next(left), q) for s in screen.sites)
        )

    made = [
        replace(
            cause,
            screen=again(cause.screen),
            year_screen=None if cause.year_screen is None else again(cause.year_screen),
        )
        for cause in causes
    ]
    return made, len(used)


def _screens(cause: CauseAnswer) -> Iterator[SiteScreen]:
    for screen in (cause.screen, cause.year_screen):
        if screen is not None and _is_compared(screen):
            yield screen


def _is_compared(screen: SiteScreen) -> bool:
    return screen.status == "screened" and len(screen.sites) > 1


def _told(site: Site, p_adjusted: float, q: float) -> Site:
    if site.verdict == "too few to tell":
        return replace(site, p_adjusted=p_adjusted)
    is_more = p_adjusted <= q and site.ratio > 1
    return replace(
        site, p_adjusted=p_adjusted, verdict="more" if is_more else "as others"
    )
