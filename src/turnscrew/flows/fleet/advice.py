"""What should be changed, what would it save, and how will we know?"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, hypot, inf
from typing import TypeAlias

from turnscrew.core.fleet.advice import TERMS_BEYOND, Advice, Of
from turnscrew.core.fleet.answer import CauseAnswer, FleetAnswer
from turnscrew.core.reliability.prediction import JEFFREYS, GammaLaw, predict_count
from turnscrew.core.reliability.rates import rate_limits
from turnscrew.core.reliability.sites import Site, SiteScreen
from turnscrew.core.reliability.two_counts import Pair, interval_of

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
                cause.rate.confidence, screen.within,
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
    within
        How many failures tell as much as one. [1]
    """

    site: Site
    n_others: int
    others: float
    ahead: tuple[float, ...]
    confidence: float
    within: float

    def ratio(self) -> float:
        """Give the rate there by the rate elsewhere; infinite if none failed there."""
        ratio = self._told().ratio
        return inf if ratio is None else ratio

    def ratio_limits(self) -> tuple[float, float]:
        """Give the exact limits of the rate there by the rate elsewhere."""
        return interval_of(self._told(), "central", "two-sided", self.confidence)

    def saved(self) -> tuple[float, float, float]:
        """
        Give what would not fail in a term, with limits of the difference of two rates.

        Each side moves as far as its own exact limit; both distances are squared and
        added (Zou and Donner 2008, from memory).
        """
        told = self._told()
        one, two = (
            rate_limits(failures=n, total_time=time, confidence=self.confidence)
            for n, time in (
                (told.count1, told.exposure1),
                (told.count2, told.exposure2),
            )
        )
        fewer = one.rate - two.rate
        low = fewer - hypot(one.rate - one.rate_lower, two.rate_upper - two.rate)
        high = fewer + hypot(one.rate_upper - one.rate, two.rate - two.rate_lower)
        ahead = self.ahead[0]
        return ahead * fewer, ahead * max(0.0, low), ahead * high

    def most_like_others(self, ahead: float) -> int:
        """Give the most failures that fit such a group with the rate of the others."""
        told = self._told()
        size = told.count2 + JEFFREYS.shape
        mean = size * ahead / told.exposure2 / self.within
        law = GammaLaw(size, size)
        most = predict_count(
            failures=[0], exposure=[0], future_exposure=[mean], prior=law,
            confidence=self.confidence,
        ).upper  # fmt: skip
        # All counts below those that tell as much as one more.
        return ceil(self.within * (most + 1)) - 1

    def helped_by(self) -> tuple[int, int] | None:
        """Give in how many terms how many failures are too few for the old rate."""
        for terms, ahead in enumerate(self.ahead, 1):
            most = self.most_like_others(ahead)
            # The same devices as before: what clumps on them does so again.
            as_now = predict_count(
                failures=[self.site.failures], exposure=[self.site.exposure],
                future_exposure=[ahead], confidence=self.confidence,
            )  # fmt: skip
            if as_now.chances[: most + 1].sum() <= (1 - self.confidence) / 2:
                return terms, most
        return None

    def _told(self) -> Pair:
        """Give both, so many failures as tell as much as one counted once."""
        return Pair(
            self.site.failures / self.within, self.site.exposure / self.within,
            self.n_others / self.within, self.others / self.within,
        )  # fmt: skip


def _advised(cause: CauseAnswer, of: Of, pair: _Pair, n_compared: int) -> Advice:
    site = pair.site
    n_all = site.failures + pair.n_others
    share = site.exposure / (site.exposure + pair.others)
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
        ratio=pair.ratio(),
        ratio_limits=pair.ratio_limits(),
        within=pair.within,
        chance=site.p_value,
        p_adjusted=site.p_adjusted,
        n_compared=n_compared,
        saved_n=saved_n,
        saved_limits=(saved_limits[0], saved_limits[1]),
        cost_minor=None if each is None else round(site.failures * each),
        saved_minor=None if each is None else round(saved_n * each),
        known_by=pair.most_like_others(pair.ahead[0]),
        helped_by=pair.helped_by(),
        is_gone=not pair.ahead[0],
    )
