"""What failed in a fleet, how sure is that, and is there anything to advise?"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from scipy.special import bdtrc

from turnscrew.core.reliability.prediction import CountPrediction, predict_count
from turnscrew.core.reliability.rates import RateLimits, rate_limits
from turnscrew.core.reliability.sites import SiteScreen, screen_sites
from turnscrew.errors import BadArgumentError

SITES_FOR_SPREAD = 10
"""
Sites from which on what sites vary anyhow can be told from one odd site among them;
a choice, no source. [1]
"""


@dataclass(frozen=True)
class FleetGroup:
    """
    Devices of one model at one site.

    Parameters
    ----------
    site
        The site.
    model
        The model.
    n_devices
        How many are in service there. [1]
    """

    site: str
    model: str
    n_devices: int


@dataclass(frozen=True)
class FleetFailures:
    """
    Failures of one cause in one group during the time under watch.

    Parameters
    ----------
    site
        The site.
    model
        The model.
    cause
        The fault, by its code.
    n
        How many. [1]
    cost_minor
        What they cost together; ``None`` if that is not known. [minor units]
    """

    site: str
    model: str
    cause: str
    n: int
    cost_minor: int | None = None


@dataclass(frozen=True)
class CauseAnswer:
    """
    What is known of one cause in one model.

    Parameters
    ----------
    model
        The model.
    cause
        The fault.
    rate
        Failures a device-year, with limits.
    by_site
        The same by site, those without a failure among them.
    screen
        Whether a site differs from the others.
    ahead
        Failures to come in the next time of the same length.
    """

    model: str
    cause: str
    rate: RateLimits
    by_site: tuple[tuple[str, RateLimits], ...]
    screen: SiteScreen
    ahead: CountPrediction


@dataclass(frozen=True)
class Advice:
    """
    One thing to change, with what it rests on.

    Parameters
    ----------
    model
        The model.
    cause
        The fault.
    site
        Where.
    n
        Failures there. [1]
    n_all
        Failures at all sites. [1]
    share
        Share of the devices that are there. [1]
    chance
        How likely so many or more of all are there if the site is like the others. [1]
    saved_n
        Failures that would not have been, were it like the others. [1]
    saved_minor
        What those cost; ``None`` if costs are not known. [minor units]
    known_by
        Most failures next time that still fit a site like the others; more shows that
        nothing has changed. [1]
    """

    model: str
    cause: str
    site: str
    n: int
    n_all: int
    share: float
    chance: float
    saved_n: float
    saved_minor: int | None
    known_by: int

    @property
    def says(self) -> str:
        """Give it in one sentence."""
        return (
            f"{self.cause} on {self.model}: {self.n} of {self.n_all} at {self.site}, "
            f"which has {self.share:.1%} of them; chance of so many {self.chance:.4f}. "
            f"Look there for the cause; about {self.saved_n:.1f} fewer each such time. "
            f"It has helped if no more than {self.known_by} come next time."
        )


@dataclass(frozen=True)
class FleetAnswer:
    """
    What is known of a fleet.

    Parameters
    ----------
    years
        Time under watch. [years]
    causes
        Every model and cause that failed, the most frequent first.
    advice
        What to change; empty where the numbers say nothing.
    n_screened
        Faults whose sites were compared; each is adjusted for its own sites alone. [1]
    """

    years: float
    causes: tuple[CauseAnswer, ...]
    advice: tuple[Advice, ...]
    n_screened: int


def told_of_fleet(
    groups: Sequence[FleetGroup],
    failures: Sequence[FleetFailures],
    *,
    years: float,
    confidence: float = 0.9,
    q: float = 0.05,
) -> FleetAnswer:
    """
    Say what failed in a fleet during some time, and what to advise.

    Parameters
    ----------
    groups
        The devices, by site and model.
    failures
        What failed.
    years
        Time under watch. [years]
    confidence
        Level of both limits together. [1]
    q
        Share of false blame allowed among the sites that are singled out. [1]

    Returns
    -------
    FleetAnswer
        Rates with limits, sites, and advice.

    Raises
    ------
    BadArgumentError
        If the time is not above 0, a group stands twice or has no devices, or a failure
        is of a group that is not there: a rate needs those it could have met.
    """
    _refuse(groups, failures, years)
    keys = dict.fromkeys((one.model, one.cause) for one in failures if one.n)
    causes = [
        _cause(key, groups, failures, years=years, confidence=confidence, q=q)
        for key in keys
    ]
    causes.sort(key=lambda one: (-one.rate.failures, one.model, one.cause))
    screened = [one for one in causes if one.screen.status == "screened"]
    advice = [given for one in screened for given in _advice(one, failures)]
    return FleetAnswer(years, tuple(causes), tuple(advice), len(screened))


def _refuse(
    groups: Sequence[FleetGroup], failures: Sequence[FleetFailures], years: float
) -> None:
    told = [] if years > 0 else [f"years: found {years:g}, wanted more than 0"]
    told += _bad_groups(groups)
    known = {(group.site, group.model) for group in groups}
    for number, one in enumerate(failures, 1):
        if (one.site, one.model) not in known:
            told.append(
                f"failure {number}: found {one.model} at {one.site}, wanted a group "
                "with its number of devices: without it there is no rate"
            )
        if one.n < 0:
            told.append(f"failure {number}: found {one.n}, wanted 0 or more")
    if told:
        raise BadArgumentError("; ".join(told))


def _bad_groups(groups: Sequence[FleetGroup]) -> Iterator[str]:
    seen: set[tuple[str, str]] = set()
    for number, group in enumerate(groups, 1):
        if (group.site, group.model) in seen:
            yield f"group {number}: found {group.model} at {group.site} again"
        if group.n_devices < 1:
            yield f"group {number}: found {group.n_devices} devices, wanted 1 or more"
        seen.add((group.site, group.model))


def _cause(
    key: tuple[str, str],
    groups: Iterable[FleetGroup],
    failures: Iterable[FleetFailures],
    *,
    years: float,
    confidence: float,
    q: float,
) -> CauseAnswer:
    model, cause = key
    mine = [group for group in groups if group.model == model]
    time = [group.n_devices * years for group in mine]
    n_at: Counter[str] = Counter()
    for one in failures:
        if (one.model, one.cause) == key:
            n_at[one.site] += one.n
    counts = [n_at[group.site] for group in mine]
    limits = [
        rate_limits(failures=n, total_time=t, confidence=confidence)
        for n, t in zip(counts, time, strict=True)
    ]
    whole = sum(time)
    has_spread = len(mine) >= SITES_FOR_SPREAD
    return CauseAnswer(
        model=model,
        cause=cause,
        rate=rate_limits(failures=sum(counts), total_time=whole, confidence=confidence),
        by_site=tuple(zip((group.site for group in mine), limits, strict=True)),
        screen=screen_sites(
            counts, time, names=[group.site for group in mine], alternative="greater",
            spread="taken off" if has_spread else "left in", q=q, confidence=confidence,
        ),
        ahead=predict_count(
            failures=[sum(counts)], exposure=[whole], future_exposure=[whole],
            confidence=confidence,
        ),
    )  # fmt: skip


def _advice(cause: CauseAnswer, failures: Sequence[FleetFailures]) -> Iterable[Advice]:
    """Advise where a site has more than the others, all its sites counted."""
    time = {name: rate.total_time for name, rate in cause.by_site}
    whole = sum(time.values())
    n_all = int(cause.rate.failures)
    cost_minor = _cost_of_one(cause, failures)
    for site in cause.screen.sites:
        if site.verdict != "more":
            continue
        others_time = whole - time[site.name]
        n_others = n_all - site.failures
        share = time[site.name] / whole
        usual = n_others / others_time * time[site.name]
        # A site like the others, with what is not known of their rate.
        ahead = predict_count(
            failures=[n_others], exposure=[others_time],
            future_exposure=[time[site.name]],
        )  # fmt: skip
        saved_n = site.failures - usual
        yield Advice(
            model=cause.model,
            cause=cause.cause,
            site=site.name,
            n=site.failures,
            n_all=n_all,
            share=share,
            chance=float(bdtrc(site.failures - 1, n_all, share)),
            saved_n=saved_n,
            saved_minor=None if cost_minor is None else round(saved_n * cost_minor),
            known_by=ahead.upper,
        )


def _cost_of_one(cause: CauseAnswer, failures: Iterable[FleetFailures]) -> float | None:
    """Give the mean cost of a failure whose cost is known."""
    known = [
        (one.n, one.cost_minor)
        for one in failures
        if (one.model, one.cause) == (cause.model, cause.cause)
        and one.cost_minor is not None
        and one.n
    ]
    n = sum(count for count, _ in known)
    return sum(cost for _, cost in known) / n if n else None
