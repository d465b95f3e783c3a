"""The whole report on a fleet, from its tables, in one part or many."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from turnscrew.core.fleet.advice import TERMS_BEYOND, Of
from turnscrew.core.fleet.answer import (
    YEAR_DAYS,
    FaultLife,
    FleetAnswer,
    FleetReport,
    ModelTold,
    Shelf,
)
from turnscrew.core.fleet.question import Counted, FleetFailures, FleetGroup, Wishes
from turnscrew.core.price.replace import Expected
from turnscrew.core.reliability.lives import Floats
from turnscrew.core.reliability.mean_parts import (
    WholeSteps,
    gain_of_parts,
    mean_of_parts,
    part_sums,
    whole_steps,
)
from turnscrew.core.reliability.rates import rate_limits
from turnscrew.core.reliability.recurrence import MeanCurve
from turnscrew.core.reliability.sums import FleetSums, sums_of, together
from turnscrew.core.reliability.table import FleetTable
from turnscrew.core.reliability.weibull import fit_weibull
from turnscrew.errors import BadArgumentError
from turnscrew.flows.fleet.advice import Key, advice_of, standing_out
from turnscrew.flows.fleet.ahead import by_age, shelf_of
from turnscrew.flows.fleet.clumps import repeats_of
from turnscrew.flows.fleet.counts import Aged, outlook_of, told_of_fleet
from turnscrew.flows.fleet.lives import life_of
from turnscrew.flows.fleet.spread import Here, Spread
from turnscrew.flows.fleet.worth import need_between, paying, years_of

Part = Mapping[str, FleetTable]
"""Some units of a fleet, by model."""

_Group = tuple[str, Of, str]
_Whole = tuple[WholeSteps, WholeSteps, tuple[Floats, ...]]
_Means = tuple[MeanCurve | None, MeanCurve | None, tuple[Expected | None, ...]]


def fleet_report(
    parts: Sequence[Part],
    *,
    counted: Counted | None = None,
    wishes: Wishes | None = None,
    spread: Spread | None = None,
) -> FleetReport:
    """
    Report on a fleet.

    Parameters
    ----------
    parts
        The fleet in parts, no unit in two of them.
    counted
        Other models, of which only counts are known.
    wishes
        What the report is to tell.
    spread
        Where the work on each part is done; here if not said.

    Returns
    -------
    FleetReport
        The report; the same, but for the last bits, however the fleet is parted.

    Raises
    ------
    BadArgumentError
        If there is neither a part nor a count.
    """
    counted, wishes = counted or Counted(), wishes or Wishes()
    if not parts and not counted.groups:
        raise BadArgumentError("fleet: found no unit, wanted at least one")
    spread = spread or Here()
    sums = _sums(parts, spread)
    if not sums and not counted.groups:
        raise BadArgumentError("fleet: found no unit, wanted at least one")
    means = _means(parts, sums, spread, wishes)
    lives = {
        (model, cause): life_of(model, one, cause, confidence=wishes.confidence)
        for model, one in sums.items()
        for cause in one.causes
    }
    aged = {
        key: _aged_of(sums[key[0]], life, TERMS_BEYOND * wishes.term_days)
        for key, life in lives.items()
        if life.way in ("by wear", "early")
    }
    answer = told_of_fleet(
        [*(one for m in sums for one in _groups(m, sums[m], wishes)), *counted.groups],
        [*(one for m in sums for one in _failures(m, sums[m])), *counted.failures],
        aged=aged,
        term_days=wishes.term_days,
        confidence=wishes.confidence,
        q=wishes.q,
    )
    models = (
        *_aged(sums, means, wishes.confidence),
        *_not_aged(counted, wishes.confidence),
    )
    return FleetReport(
        wishes=wishes,
        models=models,
        answer=answer,
        advice=advice_of(
            answer, _by_age(answer, parts, aged, spread, wishes.term_days)
        ),
        repeats=tuple(repeats_of(answer, wishes.q)),
        lives=tuple(
            lives[one.model, one.cause]
            for one in answer.causes
            if one.model in sums
        ),
        shelf=tuple(_shelves(answer, aged, wishes)),
        paying=tuple(paying(models, wishes.replacements)),
    )  # fmt: skip


def _aged_of(sums: FleetSums, life: FaultLife, days: float) -> Aged:
    """Tell what ages bring; the law of parts to come is that of all parts seen."""
    expected = sums.expected(life.cause)
    of_all = fit_weibull(sums.part_lives(life.cause))
    fit = life.fit if of_all.covariance is None else of_all
    ages = sums.part_ages[sums.causes.index(life.cause)]
    return Aged(
        {
            (site, year): float(expected[i, j])
            for i, site in enumerate(sums.sites)
            for j, year in enumerate(sums.model_years)
        },
        by_age(ages, fit, days=days),
        fit,
    )


def group_sums(part: Part, wanted: frozenset[_Group]) -> dict[_Group, FleetSums]:
    """
    Add up the units of some groups in one part of a fleet.

    Parameters
    ----------
    part
        The part.
    wanted
        Model, kind and name of each group.

    Returns
    -------
    dict
        The sums of those that have a unit here.
    """
    made: dict[_Group, FleetSums] = {}
    for model, of, name in wanted:
        table = part.get(model)
        if table is None:
            continue
        names = table.site if of == "place" else table.model_year.astype(str)
        keeps = np.asarray(names == name, dtype=bool)
        if keeps.any():
            made[model, of, name] = sums_of(table.part(keeps))
    return made


def _by_age(
    answer: FleetAnswer,
    parts: Sequence[Part],
    aged: Mapping[tuple[str, str], Aged],
    spread: Spread,
    term_days: float,
) -> dict[Key, tuple[float, ...]]:
    """Foretell by their ages alone the groups that stand out."""
    keys = list(standing_out(answer))
    wanted = frozenset((model, of, name) for model, _, of, name in keys)
    if not wanted:
        return {}
    made = spread.gathered(spread.each(group_sums, parts, wanted))
    days = tuple(term_days * k for k in range(1, TERMS_BEYOND + 1))
    told: dict[Key, tuple[float, ...]] = {}
    for model, cause, of, name in keys:
        group = (model, of, name)
        sums = together(one[group] for one in made if group in one)
        ages = sums.part_ages[sums.causes.index(cause)]
        outlook = by_age(ages, aged[model, cause].fit, days=days[-1])
        told[model, cause, of, name] = tuple(outlook.of(day)[0] for day in days)
    return told


def _shelves(
    answer: FleetAnswer, aged: Mapping[tuple[str, str], Aged], wishes: Wishes
) -> Iterator[Shelf]:
    days = wishes.term_days
    for one in answer.causes:
        outlook = outlook_of(
            one.rate.failures, one.rate.total_time, one.years_ahead / days,
            aged.get((one.model, one.cause)),
        )  # fmt: skip
        shelf = shelf_of(one, outlook, days=days, target=wishes.target)
        if shelf is not None:
            yield shelf


def _aged(
    sums: Mapping[str, FleetSums], means: Mapping[str, _Means], confidence: float
) -> Iterator[ModelTold]:
    for model, one in sums.items():
        rate = rate_limits(
            failures=float(one.failures.sum()),
            total_time=float(one.exposure.sum()) / YEAR_DAYS,
            confidence=confidence,
        )
        watched = float(one.entries.age[0]), float(one.ends.age[-1])
        number, cost, needs = means[model]
        n_units = float(one.n_units.sum())
        yield ModelTold(model, n_units, rate, number, cost, watched, needs)


def _not_aged(counted: Counted, confidence: float) -> Iterator[ModelTold]:
    for model in dict.fromkeys(group.model for group in counted.groups):
        years = [one.device_years for one in counted.groups if one.model == model]
        n = sum(one.n for one in counted.failures if one.model == model)
        rate = rate_limits(failures=n, total_time=sum(years), confidence=confidence)
        yield ModelTold(model, None, rate, None, None)


def sums_by_model(part: Part) -> dict[str, FleetSums]:
    """
    Add up one part of a fleet.

    Parameters
    ----------
    part
        The part.

    Returns
    -------
    dict
        Its sums by model.
    """
    return {model: sums_of(table) for model, table in part.items() if table.n_units}


def _sums(parts: Sequence[Part], spread: Spread) -> dict[str, FleetSums]:
    made = spread.gathered(spread.each(sums_by_model, parts))
    models = sorted({model for one in made for model in one})
    return {
        model: together(one[model] for one in made if model in one) for model in models
    }


def mean_sums(part: Part, whole: Mapping[str, _Whole]) -> dict[str, list[Floats]]:
    """
    Give what one part adds to the means of the whole fleet.

    Parameters
    ----------
    part
        The part.
    whole
        The steps of the whole by model, of the number and of the cost of failures, and
        what each step of the cost counts in each year of age.

    Returns
    -------
    dict
        Its sums by model: of the number, of the cost, and of the cost in each year.
    """
    made: dict[str, list[Floats]] = {}
    for model, table in part.items():
        if not table.n_units:
            continue
        number, cost, years = whole[model]
        costs = table.recurrences(is_by_cost=True)
        made[model] = [
            part_sums(table.recurrences(), number),
            part_sums(costs, cost),
            *(part_sums(costs, cost, share) for share in years),
        ]
    return made


def _means(
    parts: Sequence[Part], sums: Mapping[str, FleetSums], spread: Spread, wishes: Wishes
) -> dict[str, _Means]:
    whole = {
        model: _whole(one, is_by_year=model in wishes.replacements)
        for model, one in sums.items()
    }
    made = spread.gathered(spread.each(mean_sums, parts, whole))
    return {
        model: _means_of(
            steps, sums[model], [one[model] for one in made if model in one],
            wishes.confidence,
        )
        for model, steps in whole.items()
    }  # fmt: skip


def _means_of(
    whole: _Whole, sums: FleetSums, parts: Sequence[list[Floats]], confidence: float
) -> _Means:
    *steps, years = whole
    number, cost = (
        mean_of_parts(step, (one[k] for one in parts), confidence=confidence)
        if len(step.age)
        else None
        for k, step in enumerate(steps)
    )
    times = _times(sums)
    gains = [
        gain_of_parts(whole[1], share, (one[2 + k] for one in parts))
        for k, share in enumerate(years)
    ]
    needs = tuple(
        need_between(
            sums, ages, times * gain, times**2 * variance, confidence=confidence
        )
        for ages, (gain, variance) in zip(years_of(sums), gains, strict=False)
    )
    return number, _at_all(cost, times), needs


def _times(sums: FleetSums) -> float:
    """Let a failure of unknown cost cost the mean of those whose cost is known. [1]."""
    known, n = float(sums.n_costed.sum()), float(sums.failures.sum())
    return n / known if 0 < known < n else 1.0


def _at_all(cost: MeanCurve | None, times: float) -> MeanCurve | None:
    if cost is None or times == 1:
        return cost
    return replace(
        cost, mean=times * cost.mean, variance=times**2 * cost.variance,
        low=times * cost.low, high=times * cost.high,
    )  # fmt: skip


def _whole(sums: FleetSums, *, is_by_year: bool) -> _Whole:
    n_events, n_costed = float(sums.failures.sum()), float(sums.n_costed.sum())
    cost = whole_steps(sums.entries, sums.ends, sums.costs, n_costed)
    years = years_of(sums) if is_by_year and len(cost.age) else ()
    return (
        whole_steps(sums.entries, sums.ends, sums.events, n_events),
        cost,
        tuple(cost.between(*ages) for ages in years),
    )


def _groups(model: str, sums: FleetSums, wishes: Wishes) -> list[FleetGroup]:
    ahead = wishes.term_days / YEAR_DAYS
    return [
        FleetGroup(
            site=site,
            model=model,
            device_years=float(sums.exposure[i, j]) / YEAR_DAYS,
            years_ahead=float(sums.n_running[i, j]) * ahead,
            model_year=year,
            n_devices=float(sums.n_units[i, j]),
            years_squared=float(sums.exposure_squares[i, j]) / YEAR_DAYS**2,
        )
        for i, site in enumerate(sums.sites)
        for j, year in enumerate(sums.model_years)
        if sums.exposure[i, j] > 0
    ]


def _failures(model: str, sums: FleetSums) -> list[FleetFailures]:
    """Give the counts; the cost of a cause goes with its first group."""
    made: list[FleetFailures] = []
    for k, cause in enumerate(sums.causes):
        cost, n_costed = round(float(sums.cost[k])), round(float(sums.n_costed[k]))
        for i, site in enumerate(sums.sites):
            for j, year in enumerate(sums.model_years):
                n = round(float(sums.failures[k, i, j]))
                n_devices = round(float(sums.failed[k, i, j]))
                if n:
                    made.append(
                        FleetFailures(
                            site,
                            model,
                            cause,
                            n,
                            cost,
                            n_costed,
                            year,
                            n_devices,
                            squares=float(sums.squares[k, i, j]),
                            by_years=float(sums.by_exposure[k, i, j]) / YEAR_DAYS,
                        )  # fmt: skip
                    )
                    cost = n_costed = 0
    return made
