"""How does a customer's manager read what their fleet does, on about four pages?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from turnscrew.core.fleet.advice import TERMS_BEYOND
from turnscrew.core.fleet.answer import (
    YEAR_DAYS,
    CauseAnswer,
    FaultLife,
    FleetReport,
)
from turnscrew.core.model.amounts import money, sureness
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
from turnscrew.papers.fleet_words import (
    MOST_ROWS,
    WAYS,
    age_words,
    conventions,
    few_words,
    more_words,
    shape_words,
    silence,
    star,
    summary,
    tenth_words,
)
from turnscrew.papers.page import Page, head, language_of, notation_of
from turnscrew.papers.panes import Chart
from turnscrew.papers.set_aside import written
from turnscrew.papers.telling import Telling, told_pdf

MOST_ADVICE = 4
"""Pieces of advice that fit the first page. [1]"""

MOST_LIVES = 8
"""Lives in a table; the rest is counted. [1]"""


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
    period: str = "",
    page: Page = "a4",
) -> bytes:
    """
    Print a report on a fleet.

    Parameters
    ----------
    report
        The report.
    title
        Whose fleet.
    names
        What each cause is called.
    n_without_cause
        Failures whose cause nobody knows; they are in no figure. [1]
    period
        Of which time, in a sentence that stands below the head; none if not said.
    page
        Size of the paper, with its language; names stay as they were written.

    Returns
    -------
    bytes
        The PDF: four pages at most, unless names fill more than a line.
    """
    names = names or {}
    telling = Telling({"de": GERMAN_FLEET}, language_of(page), notation_of(page))
    drawn = pictures(report, names)
    causes = report.answer.causes
    places, years = list(_place_rows(report, names)), list(_year_rows(report, names))
    costs, paying = list(_cost_lines(report)), list(_paying_rows(report))
    data: dict[str, Any] = {
        "head": head("Fleet report", page, device=written(title)),
        "whose": written(title),
        "period": period,
        "summary": summary(report, n_without_cause),
        "few": few_words(report, n_without_cause),
        "advice": [
            one.worded(names.get(one.cause, "")) for one in report.advice[:MOST_ADVICE]
        ],
        "silence": silence(report),
        "repeats": [
            one.worded(names.get(one.cause, "")) for one in report.repeats[:MOST_ADVICE]
        ],
        "causes": [
            [*_cause_row(one, names), _ahead(report, one)] for one in causes[:MOST_ROWS]
        ],
        "open_age": age_words(report),
        "more": more_words(causes),
        "places": places[:MOST_ROWS],
        "years": years[:MOST_ROWS],
        "lives": [_life_row(one, names) for one in _told_lives(report)],
        "costs": costs[:MOST_ADVICE],
        "holds": list(_hold_rows(report, names)),
        "paying": paying[:MOST_ROWS],
        "conventions": list(conventions(report.wishes.confidence)),
        "beyond": _beyond(report),
        "rest": {
            "advice": _not_shown(len(report.advice) - MOST_ADVICE),
            "repeats": _not_shown(len(report.repeats) - MOST_ADVICE),
            "places": _not_shown(len(places) - MOST_ROWS),
            "years": _not_shown(len(years) - MOST_ROWS),
            "lives": _not_shown(len(_telling_lives(report)) - MOST_LIVES),
            "costs": _not_shown(len(costs) - MOST_ADVICE),
            "holds": _not_shown(len(report.shelf) - MOST_ROWS),
            "paying": _not_shown(len(paying) - MOST_ROWS),
        },
    }
    for name in ("rates", "funnel", "life", "mean", "shelf", "fan"):
        chart: Chart = getattr(drawn, name)
        data[name] = {"svg": telling.drawn(chart.svg, _AXES), "says": chart.says}
    return told_pdf(SOURCE, data, telling)


def _not_shown(n: int) -> str:
    return f"Not shown: {n} more." if n > 0 else ""


def _beyond(report: FleetReport) -> str:
    """Say how far the far look ahead reaches."""
    days = TERMS_BEYOND * report.wishes.term_days
    is_year = abs(days - YEAR_DAYS) < YEAR_DAYS / 24
    return "The next year" if is_year else f"The next {days:.0f} days"


_AXES = {"de": AXES}


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
    return _telling_lives(report)[:MOST_LIVES]


def _telling_lives(report: FleetReport) -> tuple[FaultLife, ...]:
    told = [one for one in report.lives if one.way != "too few to tell"]
    # Wear and early failure tell more than chance does.
    told.sort(key=lambda one: one.way == "neither shown")
    return tuple(told)


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
    ]  # fmt: skip


def _ahead(report: FleetReport, one: CauseAnswer) -> str:
    return f"{one.ahead.lower} to {one.ahead.upper}{star(report, one)}"


def _place_rows(report: FleetReport, names: Mapping[str, str]) -> Iterable[list[str]]:
    shown = _most_telling(report)
    if shown is None:
        return
    # Those that stand out first, then where most failed.
    more = {site.name for site in shown.screen.sites if site.verdict == "more"}
    rows = sorted(
        shown.by_site, key=lambda row: (row[0] not in more, -row[1].failures, row[0])
    )
    for site, rate in rows:
        name = _fault(shown.cause, names)
        yield [
            name,
            written(site) or "not known",
            f"{rate.failures:.0f}",
            *_in_100(rate),
        ]


def _year_rows(report: FleetReport, names: Mapping[str, str]) -> Iterable[list[str]]:
    odd = {(one.model, one.cause) for one in report.advice if one.of == "model-year"}
    for cause in report.answer.causes:
        if (cause.model, cause.cause) not in odd or cause.year_screen is None:
            continue
        more = {s.name for s in cause.year_screen.sites if s.verdict == "more"}
        for year, rate in cause.by_year:
            yield [
                f"{written(cause.model)} {_fault(cause.cause, names)}",
                "not known" if year == "0" else written(year),
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
            f"{sureness(one.level.reached)}{star(report, one)}",
            f"{one.fan.low[-1]} to {one.fan.high[-1]}",
        ]  # fmt: skip


def _paying_rows(report: FleetReport) -> Iterable[list[str]]:
    for one in report.paying:
        low, mean, high = one.most
        told = money(round(mean)) if mean > 0 else "it does not pay"
        limits = f"{money(round(low))} to {money(round(high))}"
        yield [written(one.model), f"{one.age_years}", told, limits]
