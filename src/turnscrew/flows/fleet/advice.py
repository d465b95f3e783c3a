"""What should be changed, what would it save, and how will we know?"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot
from typing import TypeAlias

import scipy

from turnscrew.core.fleet.advice import TERMS_BEYOND, Advice, Of
from turnscrew.core.fleet.answer import CauseAnswer, FleetAnswer
from turnscrew.core.reliability.prediction import CountPrediction, predict_count
from turnscrew.core.reliability.rates import compare_rates, rate_limits
from turnscrew.core.reliability.sites import Site, SiteScreen

Key: TypeAlias = tuple[str, str, Of, str]
"""Model, cause, kind of group and its name."""


def advice_of(
    answer: FleetAnswer, by_age: Mapping[Key, tuple[float, ...]] | None = None
) -> tuple[Advice, ...]:
    """
    Advise where a place or model-year has more failures than the others.

    Parameters
    ----------
    answer
        What is known of the fleet.
    by_age
        Failures that the ages of a group alone would bring in one term, in two and so
        on; of each group that stands out where age matters. [1]

    Returns
    -------
    tuple[Advice, ...]
        The most costly first; empty where the numbers say nothing.
    """
    made = [
        given
        for cause in answer.causes
        for given in _of_cause(cause, answer, by_age or {})
    ]
    made = list(_merged(made, answer))
    made.sort(key=lambda one: (-(one.saved_minor or 0), -one.saved_n, one.cause))
    return tuple(made)


def _merged(advice: Sequence[Advice], answer: FleetAnswer) -> Iterator[Advice]:
    """Give each group once: a place that is one model-year bears both names."""
    told = {(one.model, one.cause, one.of, one.site) for one in advice}
    year_of = {(model, place): year for model, place, year in answer.same}
    place_of = {(model, year): place for model, place, year in answer.same}
    for one in advice:
        key = (one.model, one.site)
        if one.of == "place":
            yield replace(one, same_as=year_of.get(key, ""))
        elif (one.model, one.cause, "place", place_of.get(key)) not in told:
            yield one


def standing_out(answer: FleetAnswer) -> Iterator[Key]:
    """
    Give the groups with more failures than their ages alone would bring.

    Parameters
    ----------
    answer
        What is known of the fleet.

    Yields
    ------
    Key
        Model, cause, kind and name of each.
    """
    for cause in answer.causes:
        for of, screen in _screens(cause):
            for site in screen.sites:
                if cause.is_by_age and site.verdict == "more":
                    yield cause.model, cause.cause, of, site.name


def _screens(cause: CauseAnswer) -> Iterator[tuple[Of, SiteScreen]]:
    yield "place", cause.screen
    if cause.year_screen is not None:
        yield "model-year", cause.year_screen


def _of_cause(
    cause: CauseAnswer, answer: FleetAnswer, by_age: Mapping[Key, tuple[float, ...]]
) -> Iterator[Advice]:
    for of, screen in _screens(cause):
        whole = sum(site.exposure for site in screen.sites)
        n_all = sum(site.failures for site in screen.sites)
        for site in screen.sites:
            if site.verdict != "more":
                continue
            years = cause.ahead_at[of].get(site.name, 0.0)
            pair = _Pair(
                site, n_all - site.failures, whole - site.exposure,
                by_age[cause.model, cause.cause, of, site.name]
                if cause.is_by_age
                else tuple(years * terms for terms in range(1, TERMS_BEYOND + 1)),
                cause.rate.confidence,
            )  # fmt: skip
            yield _advised(cause, of, pair, answer.n_compared)


@dataclass(frozen=True)
class _Pair:
    """
    A group and all others.

    Parameters
    ----------
    site
        The group.
    n_others
        Failures of the others. [1]
    others
        Their time under watch, or failures expected by their ages. [years or 1]
    ahead
        The same of the group in one term to come, in two, and so on. [years or 1]
    confidence
        Level of both limits together. [1]
    """

    site: Site
    n_others: int
    others: float
    ahead: tuple[float, ...]
    confidence: float

    def saved(self) -> tuple[float, float, float]:
        """
        Give what would not fail in a term, with limits of the difference of two rates.

        Each side moves as far as its own exact limit; both distances are squared and
        added (Zou and Donner 2008, from memory).
        """
        one = rate_limits(
            failures=self.site.failures, total_time=self.site.exposure,
            confidence=self.confidence,
        )  # fmt: skip
        two = rate_limits(
            failures=self.n_others, total_time=self.others, confidence=self.confidence
        )
        fewer = one.rate - two.rate
        low = fewer - hypot(one.rate - one.rate_lower, two.rate_upper - two.rate)
        high = fewer + hypot(one.rate_upper - one.rate, two.rate - two.rate_lower)
        ahead = self.ahead[0]
        return ahead * fewer, ahead * max(0.0, low), ahead * high

    def like_others(self, ahead: float) -> CountPrediction:
        """Foretell the failures of such a group with the rate of the others."""
        return self._predicted(self.n_others, self.others, ahead)

    def helped_by(self) -> tuple[int, int] | None:
        """Give in how many terms how many failures are too few for the old rate."""
        for terms, ahead in enumerate(self.ahead, 1):
            most = self.like_others(ahead).upper
            as_now = self._predicted(self.site.failures, self.site.exposure, ahead)
            if as_now.chances[: most + 1].sum() <= (1 - self.confidence) / 2:
                return terms, most
        return None

    def _predicted(self, n: int, time: float, ahead: float) -> CountPrediction:
        return predict_count(
            failures=[n], exposure=[time], future_exposure=[ahead],
            confidence=self.confidence,
        )  # fmt: skip


def _advised(cause: CauseAnswer, of: Of, pair: _Pair, n_compared: int) -> Advice:
    site = pair.site
    n_all = site.failures + pair.n_others
    share = site.exposure / (site.exposure + pair.others)
    against = compare_rates(
        count1=site.failures, exposure1=site.exposure, count2=pair.n_others,
        exposure2=pair.others, confidence=pair.confidence,
    )  # fmt: skip
    saved_n, *saved_limits = pair.saved()
    each = cause.cost_of_one_minor
    return Advice(
        model=cause.model,
        cause=cause.cause,
        of=of,
        site=site.name,
        n=site.failures,
        n_all=n_all,
        n_devices=cause.devices_at[of].get(site.name),
        share=share,
        is_by_age=cause.is_by_age,
        confidence=pair.confidence,
        ratio=float("inf") if against.ratio is None else against.ratio,
        ratio_limits=(against.lower, against.upper),
        chance=float(scipy.special.bdtrc(site.failures - 1, n_all, share)),
        p_adjusted=site.p_adjusted,
        n_compared=n_compared,
        saved_n=saved_n,
        saved_limits=(saved_limits[0], saved_limits[1]),
        cost_minor=None if each is None else round(site.failures * each),
        saved_minor=None if each is None else round(saved_n * each),
        known_by=pair.like_others(pair.ahead[0]).upper,
        helped_by=pair.helped_by(),
        is_gone=not pair.ahead[0],
    )
