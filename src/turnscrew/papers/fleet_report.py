"""How does a customer's manager read what their fleet does, on four pages at most?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from turnscrew.core.fleet.answer import YEAR_DAYS, CauseAnswer, FaultLife, FleetReport
from turnscrew.core.model.amounts import money
from turnscrew.core.model.german import GERMAN_FLEET
from turnscrew.core.model.german.fleet import AXES
from turnscrew.core.reliability.rates import RateLimits
from turnscrew.papers.charts import (
    fan_chart,
    funnel_chart,
    life_chart,
    mean_chart,
    rate_chart,
    shelf_chart,
)
from turnscrew.papers.fleet_sheet import SOURCE
from turnscrew.papers.page import Page, head, language_of, notation_of
from turnscrew.papers.panes import Chart
from turnscrew.papers.set_aside import written
from turnscrew.papers.telling import Telling, told_pdf

MOST_ROWS = 14
"""Causes in a table; the rest is counted. [1]"""

FEW = 10
"""Failures below which limits are called wide; a choice, no source. [1]"""

MOST_ADVICE = 4
"""Pieces of advice that fit the first page. [1]"""

WAYS = {
    "early": "early in life: look at how they were made or fitted",
    "by wear": "by wear: renewing in time may help",
    "neither shown": "as if by chance: age tells nothing",
    "too few to tell": "too few to tell",
}
"""What each way of failing means for who looks after the fleet."""


@dataclass(frozen=True)
class Pictures:
    """
    The pictures of a report, the same on paper and on the page.

    Parameters
    ----------
    rates
        How often what fails.
    funnel
        Places of the most telling fault; empty if there is nothing to compare.
    life
        Share of devices without a failure.
    mean
        Failures of a device.
    shelf
        What is held against demand.
    fan
        What is to come.
    """

    rates: Chart
    funnel: Chart
    life: Chart
    mean: Chart
    shelf: Chart
    fan: Chart


def pictures(report: FleetReport, names: Mapping[str, str]) -> Pictures:
    """
    Draw a report.

    Parameters
    ----------
    report
        The report.
    names
        What each cause is called.

    Returns
    -------
    Pictures
        Its pictures.
    """
    funnel = Chart("", "No places to compare.")
    shown = _most_telling(report)
    if shown is not None:
        title = f"{shown.model} {names.get(shown.cause) or shown.cause}"
        funnel = funnel_chart(shown.screen, title)
    return Pictures(
        rates=rate_chart(report.answer.causes, names),
        funnel=funnel,
        life=life_chart(_told_lives(report), names),
        mean=mean_chart(report.models),
        shelf=shelf_chart(report.shelf, names),
        fan=fan_chart(report.shelf, names),
    )


def fleet_report_pdf(
    report: FleetReport,
    *,
    title: str,
    names: Mapping[str, str] | None = None,
    n_without_cause: int = 0,
    page: Page = "a4",
) -> bytes:
    """
    Print a report on a fleet.

    Parameters
    ----------
    report
        The report.
    title
        Whose fleet, and which time.
    names
        What each cause is called.
    n_without_cause
        Failures whose cause nobody knows; they are in no figure. [1]
    page
        Size of the paper, with its language; names stay as they were written.

    Returns
    -------
    bytes
        The PDF, at most four pages.
    """
    names = names or {}
    telling = Telling({"de": GERMAN_FLEET}, language_of(page), notation_of(page))
    drawn = pictures(report, names)
    causes = report.answer.causes
    data: dict[str, Any] = {
        "head": head("Fleet report", page, device=written(title)),
        "summary": summary(report, n_without_cause),
        "few": few_words(report),
        "advice": [
            one.worded(names.get(one.cause, "")) for one in report.advice[:MOST_ADVICE]
        ],
        "silence": silence(report),
        "causes": [_cause_row(one, names) for one in causes[:MOST_ROWS]],
        "more": more_words(causes),
        "places": list(_place_rows(report, names)),
        "years": list(_year_rows(report, names))[:MOST_ROWS],
        "lives": [_life_row(one, names) for one in _told_lives(report)],
        "costs": list(_cost_lines(report))[:MOST_ADVICE],
        "holds": list(_hold_rows(report, names)),
        "paying": list(_paying_rows(report))[:MOST_ROWS],
        "conventions": list(conventions(report.wishes.confidence)),
    }
    for name in ("rates", "funnel", "life", "mean", "shelf", "fan"):
        chart: Chart = getattr(drawn, name)
        data[name] = {"svg": telling.drawn(chart.svg, _AXES), "says": chart.says}
    return told_pdf(SOURCE, data, telling)


_AXES = {"de": AXES}


def conventions(confidence: float) -> tuple[str, ...]:
    """
    Say how a report was reckoned.

    Parameters
    ----------
    confidence
        Level of its limits. [1]

    Returns
    -------
    tuple[str, ...]
        A sentence or two for each kind of figure.
    """
    level = f"{100 * confidence:g} %"
    return (
        f"Rates: exact Poisson limits of {level} for devices watched for a time; a "
        "year is 365.25 days.",
        "Places and model-years: exact test against all others, all comparisons of "
        "this report counted together (Benjamini and Hochberg); where age matters, "
        "against what their ages alone would bring. Nothing is compared below five "
        "failures.",
        "Lives: first failure in the watch; devices that came into the watch late "
        "count from then on; Weibull law by maximum likelihood, limits by its "
        f"logarithm; curves by Kaplan and Meier, bands of {level} at each age.",
        "Failures of a device by age: mean cumulative function, robust variance, "
        "log-normal limits.",
        "Next term: what is not known of the rate counts in (gamma and Poisson); "
        "where age matters, each part in service is taken at its own age by the "
        f"Weibull law, and a renewed part starts anew. Limits of {level}.",
        "Shelf: pieces that cover the term with the chance named, one piece a failure, "
        "nothing coming in.",
    )


def summary(report: FleetReport, n_without_cause: int = 0) -> str:
    """
    Give a fleet in one sentence.

    Parameters
    ----------
    report
        The report.
    n_without_cause
        Failures whose cause nobody knows. [1]

    Returns
    -------
    str
        Devices, time and failures.
    """
    units = [one.n_units for one in report.models]
    known = [n for n in units if n is not None]
    devices = f"{sum(known):,.0f} devices, " if len(known) == len(units) else ""
    text = (
        f"{devices}{report.device_years:,.0f} device-years under watch, "
        f"{report.n_failures:,} failures."
    )
    if n_without_cause:
        text += f" {n_without_cause} more of unknown cause are in no figure."
    return text


def few_words(report: FleetReport) -> str:
    """
    Say where there are few data.

    Parameters
    ----------
    report
        The report.

    Returns
    -------
    str
        Sentences; empty if there is none to say.
    """
    told = [
        f"No failure of {one.model or 'any device'} in {one.device_years:,.0f} "
        f"device-years: at most {100 * one.rate.rate_upper:.1f} in 100, and no more is "
        "known."
        for one in report.models
        if not one.rate.failures
    ]
    few = [one for one in report.answer.causes if one.rate.failures < FEW]
    if few:
        told.append(
            f"Few data: {len(few)} of {len(report.answer.causes)} faults have fewer "
            f"than {FEW} failures; their limits are wide, and nothing is concluded "
            "from them alone."
        )
    return " ".join(told)


def silence(report: FleetReport) -> str:
    """
    Say that nothing is to be said.

    Parameters
    ----------
    report
        The report.

    Returns
    -------
    str
        A sentence.
    """
    return (
        f"No place and no model-year differs from the others beyond chance "
        f"({report.answer.n_compared} comparisons). There is nothing to advise from "
        "these numbers."
    )


def more_words(causes: tuple[CauseAnswer, ...]) -> str:
    """
    Say what a table leaves out.

    Parameters
    ----------
    causes
        All causes.

    Returns
    -------
    str
        A sentence; empty if nothing is left out.
    """
    rest = causes[MOST_ROWS:]
    if not rest:
        return ""
    n = sum(int(one.rate.failures) for one in rest)
    faults = "fault" if len(rest) == 1 else "faults"
    return f"Not shown: {len(rest)} rarer {faults}, {n} failures together."


def tenth_words(life: FaultLife) -> str:
    """
    Say by which age one in ten has failed.

    Parameters
    ----------
    life
        The life.

    Returns
    -------
    str
        The age with its limits, or that it is not known.
    """
    tenth = life.tenth
    if life.way == "too few to tell":
        return life.way
    if tenth.estimate is None or tenth.low is None or tenth.high is None:
        return "not known"
    age, low, high = (x / YEAR_DAYS for x in (tenth.estimate, tenth.low, tenth.high))
    return f"{age:.1f} years ({low:.1f} to {high:.1f})"


def shape_words(life: FaultLife) -> str:
    """
    Say the shape of the law of a life.

    Parameters
    ----------
    life
        The life.

    Returns
    -------
    str
        The shape with its limits, or that it is not known.
    """
    limits = life.shape
    if life.way == "too few to tell":
        return life.way
    if limits.estimate is None or limits.low is None or limits.high is None:
        return "not known"
    return f"{limits.estimate:.2f} ({limits.low:.2f} to {limits.high:.2f})"


def _most_telling(report: FleetReport) -> CauseAnswer | None:
    """Give the fault advised on, or else the most frequent that was compared."""
    advised = {(one.model, one.cause) for one in report.advice if one.of == "place"}
    compared = [
        one
        for one in report.answer.causes
        if one.screen.status == "screened" and len(one.screen.sites) > 1
    ]
    first = [one for one in compared if (one.model, one.cause) in advised]
    return next(iter([*first, *compared]), None)


def _told_lives(report: FleetReport) -> tuple[FaultLife, ...]:
    told = [one for one in report.lives if one.way != "too few to tell"]
    # Wear and early failure tell more than chance does.
    told.sort(key=lambda one: one.way == "neither shown")
    return tuple(told[:8])


def _fault(cause: str, names: Mapping[str, str]) -> str:
    called = names.get(cause)
    return written(f"{cause} {called}" if called else cause)


def _in_100(rate: RateLimits) -> tuple[str, str]:
    low, high = 100 * rate.rate_lower, 100 * rate.rate_upper
    return f"{100 * rate.rate:.1f}", f"{low:.1f} to {high:.1f}"


def _cause_row(one: CauseAnswer, names: Mapping[str, str]) -> list[str]:
    each = one.cost_of_one_minor
    return [
        written(one.model), _fault(one.cause, names), f"{one.rate.failures:.0f}",
        *_in_100(one.rate), "not known" if each is None else money(round(each)),
        f"{one.ahead.lower} to {one.ahead.upper}",
    ]  # fmt: skip


def _place_rows(report: FleetReport, names: Mapping[str, str]) -> Iterable[list[str]]:
    shown = _most_telling(report)
    if shown is None:
        return
    for site, rate in shown.by_site[:MOST_ROWS]:
        name = _fault(shown.cause, names)
        yield [name, written(site), f"{rate.failures:.0f}", *_in_100(rate)]


def _year_rows(report: FleetReport, names: Mapping[str, str]) -> Iterable[list[str]]:
    odd = {(one.model, one.cause) for one in report.advice if one.of == "model-year"}
    for cause in report.answer.causes:
        if (cause.model, cause.cause) not in odd or cause.year_screen is None:
            continue
        more = {s.name for s in cause.year_screen.sites if s.verdict == "more"}
        for year, rate in cause.by_year:
            yield [
                f"{written(cause.model)} {_fault(cause.cause, names)}", written(year),
                f"{rate.failures:.0f}", *_in_100(rate),
                "more than the others" if year in more else "",
            ]  # fmt: skip


def _life_row(one: FaultLife, names: Mapping[str, str]) -> list[str]:
    fault = f"{written(one.model)} {_fault(one.cause, names)}"
    return [fault, tenth_words(one), shape_words(one), WAYS[one.way]]


def _cost_lines(report: FleetReport) -> Iterable[str]:
    for one in report.models:
        if one.cost is not None:
            curve, years = one.cost, one.cost.age[-1] / YEAR_DAYS
            yield (
                f"{one.model}: repairs of a device cost "
                f"{money(round(float(curve.mean[-1])))} "
                f"({money(round(float(curve.low[-1])))} to "
                f"{money(round(float(curve.high[-1])))}) by {years:.1f} years."
            )


def _hold_rows(report: FleetReport, names: Mapping[str, str]) -> Iterable[list[str]]:
    for one in report.shelf[:MOST_ROWS]:
        yield [
            written(one.model), _fault(one.cause, names), f"{one.level.stock}",
            f"{one.level.reached:.0%}", f"{one.fan.low[-1]} to {one.fan.high[-1]}",
        ]  # fmt: skip


def _paying_rows(report: FleetReport) -> Iterable[list[str]]:
    for one in report.paying:
        low, mean, high = one.most
        told = money(round(mean)) if mean > 0 else "it does not pay"
        limits = f"{money(round(low))} to {money(round(high))}"
        yield [written(one.model), f"{one.age_years}", told, limits]
