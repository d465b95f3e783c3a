"""What should be changed, what would it save, and how will we know?"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import scipy

from turnscrew.core.fleet.answer import Advice, CauseAnswer, FleetAnswer, Of
from turnscrew.core.reliability.prediction import predict_count
from turnscrew.core.reliability.rates import compare_rates
from turnscrew.core.reliability.sites import Site


def advice_of(answer: FleetAnswer) -> tuple[Advice, ...]:
    """
    Advise where a place or model-year has more failures than the others.

    Parameters
    ----------
    answer
        What is known of the fleet.

    Returns
    -------
    tuple[Advice, ...]
        The most costly first; empty where the numbers say nothing.
    """
    made = [given for cause in answer.causes for given in _of_cause(cause, answer)]
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


def _of_cause(cause: CauseAnswer, answer: FleetAnswer) -> Iterator[Advice]:
    yield from _of_groups(cause, "place", cause.screen.sites, answer)
    if cause.year_screen is not None:
        yield from _of_groups(cause, "model-year", cause.year_screen.sites, answer)


def _of_groups(
    cause: CauseAnswer, of: Of, sites: Iterable[Site], answer: FleetAnswer
) -> Iterator[Advice]:
    sites = tuple(sites)
    whole = sum(site.exposure for site in sites)
    n_all = sum(site.failures for site in sites)
    past = dict(cause.by_site if of == "place" else cause.by_year)
    for site in sites:
        if site.verdict != "more":
            continue
        years_ahead = cause.ahead_at[of].get(site.name, 0.0)
        ahead_by_past = years_ahead / past[site.name].total_time
        n_others, others = n_all - site.failures, whole - site.exposure
        against = compare_rates(
            count1=site.failures, exposure1=site.exposure, count2=n_others,
            exposure2=others, confidence=0.9,
        )  # fmt: skip
        # A group like the others, with what is not known of their rate.
        ahead = predict_count(
            failures=[n_others], exposure=[others],
            future_exposure=[site.exposure * ahead_by_past],
        )  # fmt: skip
        saved_n = ahead_by_past * (site.failures - n_others / others * site.exposure)
        each = cause.cost_of_one_minor
        yield Advice(
            model=cause.model,
            cause=cause.cause,
            of=of,
            site=site.name,
            n=site.failures,
            n_all=n_all,
            share=site.exposure / whole,
            is_by_age=cause.is_by_age,
            ratio=float("inf") if against.ratio is None else against.ratio,
            ratio_limits=(against.lower, against.upper),
            chance=float(
                scipy.special.bdtrc(site.failures - 1, n_all, site.exposure / whole)
            ),
            p_adjusted=site.p_adjusted,
            n_compared=answer.n_compared,
            saved_n=saved_n,
            saved_limits=(
                ahead_by_past * _saved(site.failures, against.lower),
                ahead_by_past * _saved(site.failures, against.upper),
            ),
            cost_minor=None if each is None else round(site.failures * each),
            saved_minor=None if each is None else round(saved_n * each),
            known_by=ahead.upper,
            is_gone=not years_ahead,
        )


def _saved(n: int, ratio: float) -> float:
    """Give the failures beyond those of a rate elsewhere, none if it is not less."""
    return max(0.0, n * (1 - 1 / ratio)) if ratio else 0.0
