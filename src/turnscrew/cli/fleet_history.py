"""The command ``turnscrew fleet`` on histories of a fleet."""

import json
import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from turnscrew.cli.opening import paper_in
from turnscrew.cli.reading import fleet_from
from turnscrew.cli.said import Wording, said, says_in
from turnscrew.cli.workers import spread_over
from turnscrew.cli.writing import write_whole
from turnscrew.core.fleet.answer import CauseAnswer, FaultLife, FleetReport, Shelf
from turnscrew.core.fleet.question import Wishes
from turnscrew.core.model.amounts import money, percent, sureness
from turnscrew.core.model.nearest import wanted_name
from turnscrew.core.price.replace import replacements_from_texts
from turnscrew.core.reliability.rates import RateLimits
from turnscrew.core.reliability.table import FleetTable
from turnscrew.core.stock.service import implied_level
from turnscrew.errors import BadArgumentError
from turnscrew.files.fleet_file import FleetHistory
from turnscrew.flows.fleet.report import fleet_report
from turnscrew.flows.fleet.spread import Spread
from turnscrew.flows.fleet.twice import units_in_two
from turnscrew.papers.fleet_report import fleet_report_pdf
from turnscrew.papers.fleet_words import (
    WAYS,
    age_words,
    few_words,
    silence,
    star,
    summary,
    tenth_words,
)

_MOST_TWICE = 20
"""Units in two files that are named; the rest is counted. [1]"""


@dataclass(frozen=True)
class Options:
    """
    The options of the command.

    Parameters
    ----------
    confidence
        How sure limits are. [1]
    term_days
        Days of a term. [d]
    target
        Chance that nobody waits. [1]
    replace
        What replaces a model, in words.
    pdf
        File to print the report to; ``None`` for none.
    title
        Whose fleet.
    paper
        Size of the paper.
    engine
        Where the parts are worked on.
    n_workers
        Processes, where there are several. [1]
    as_json
        True for JSON.
    is_implied
        The chance follows from two prices.
    wording
        How what is printed and the report are read.
    """

    confidence: float
    term_days: float
    target: float
    replace: tuple[str, ...]
    pdf: Path | None
    title: str
    paper: str
    engine: str
    n_workers: int
    as_json: bool
    is_implied: bool = False
    wording: Wording = Wording()


def level_from(lacking: str, over: str) -> float | None:
    """
    Read two prices and give the chance that nobody waits that they imply.

    Parameters
    ----------
    lacking
        Cost of a piece lacking, in words; empty for none.
    over
        Cost of a piece too many, in words.

    Returns
    -------
    float or None
        The chance; ``None`` if neither price is given. [1]

    Raises
    ------
    BadArgumentError
        If one is given alone, cannot be read, or is not above 0.
    """
    if not lacking and not over:
        return None
    return implied_level(over=_price("over", over), lacking=_price("lacking", lacking))


def _price(name: str, text: str) -> float:
    try:
        price = Decimal(text)
    except InvalidOperation:
        price = Decimal(0)
    if not price.is_finite() or price <= 0:
        found = text or "none"
        raise BadArgumentError(f"{name}: found {found}, wanted a price such as 12.00")
    return float(price)


def show(paths: Sequence[Path], options: Options) -> None:
    """
    Report on a fleet from its histories.

    Parameters
    ----------
    paths
        The files; together they are one fleet, no unit in two of them.
    options
        What is wanted.
    """
    says = says_in(options.wording, "fleet")
    report, without = reported(paths, options)
    if options.pdf is not None:
        write_whole(
            options.pdf,
            fleet_report_pdf(
                report, title=options.title or paths[0].stem,
                n_without_cause=len(without),
                page=paper_in(options.paper, options.wording),
            )
        )  # fmt: skip
    if options.as_json:
        told = document(report, without)
        if options.is_implied:
            told["implied_level"] = options.target
        print(json.dumps(told, ensure_ascii=False))
        return
    lines = (*_lines(report, without), *_ends(options))
    print("\n".join(said(lines, says)))


def reported(
    paths: Sequence[Path], options: Options
) -> tuple[FleetReport, list[tuple[Path, int]]]:
    """
    Reckon the report on a fleet.

    Parameters
    ----------
    paths
        The files; together they are one fleet, no unit in two of them.
    options
        What is wanted.

    Returns
    -------
    tuple
        The report; file and line of failures of unknown cause.

    Raises
    ------
    BadFileError
        If a file is no such history, with every problem and its line.
    BadArgumentError
        If the engine is not known, a file is named twice, or a unit stands in two.
    """
    wishes = Wishes(
        term_days=options.term_days,
        confidence=options.confidence,
        target=options.target,
        replacements=replacements_from_texts(options.replace),
    )
    _refuse_same_file(paths)
    with spread_over(options.engine, options.n_workers) as spread:
        read = spread.each(fleet_from, paths)
        parts = spread.each(_tables, read)
        told = spread.gathered(spread.each(_besides, read))
        _refuse_twice(parts, paths, spread)
        report = fleet_report(parts, wishes=wishes, spread=spread)
    _refuse_replaced(wishes.replacements, [one.model for one in report.models])
    without = [
        (path, line)
        for path, (lines, _) in zip(paths, told, strict=True)
        for line in lines
    ]
    return report, without


def _tables(read: FleetHistory) -> Mapping[str, FleetTable]:
    return read.tables


def _besides(read: FleetHistory) -> tuple[tuple[int, ...], int]:
    return read.without_cause, read.n_rows


def _refuse_same_file(paths: Sequence[Path]) -> None:
    """Refuse a file that is named twice."""
    named: dict[str, Path] = {}
    for path in paths:
        # A link to itself leads nowhere; it is told as one when it is read.
        place = os.path.realpath(path)
        if place in named:
            raise BadArgumentError(
                f"histories: found {named[place]} and {path}, the same file, "
                "wanted each file once"
            )
        named[place] = path


def _refuse_replaced(replaced: Iterable[str], models: Sequence[str]) -> None:
    """Refuse to replace a model that is not there."""
    names = [one for one in models if one]
    for name in replaced:
        if name not in models:
            wanted = wanted_name(name, names) if names else "a fleet that names models"
            raise BadArgumentError(f"replace: found {name or 'none'}, wanted {wanted}")


def _refuse_twice(
    parts: Sequence[Mapping[str, FleetTable]], paths: Sequence[Path], spread: Spread
) -> None:
    """Refuse units that stand in two files."""
    twice = [
        f"{unit} in {paths[one]} and {paths[other]}"
        for unit, one, other in units_in_two(parts, spread)
    ]
    if twice:
        more = f"; and {len(twice) - _MOST_TWICE:,} more" * (len(twice) > _MOST_TWICE)
        found = "; ".join(twice[:_MOST_TWICE]) + more
        raise BadArgumentError(f"units: found {found}, wanted each in one file")


def document(
    report: FleetReport, without: Sequence[tuple[Path, int]] = ()
) -> dict[str, Any]:
    """
    Give a report for programs.

    Parameters
    ----------
    report
        The report.
    without
        File and line of failures of unknown cause.

    Returns
    -------
    dict
        Figures, each with its unit in its name.
    """
    return {
        "term_days": report.wishes.term_days,
        "confidence": report.wishes.confidence,
        "device_years": report.device_years,
        "failures": report.n_failures,
        "without_cause": [{"file": path.name, "line": line} for path, line in without],
        "comparisons": report.answer.n_compared,
        "models": [
            {
                "model": one.model, "units": one.n_units,
                "device_years": one.device_years,
            }
            for one in report.models
        ],
        "causes": [_cause(one) for one in report.answer.causes],
        "advice": [{**_finite(asdict(one)), "says": one.says} for one in report.advice],
        "repeats": [{**asdict(one), "says": one.says} for one in report.repeats],
        "lives": [_life(one) for one in report.lives],
        "shelf": [
            {
                "model": one.model, "cause": one.cause, "days": one.days,
                "is_age_open": report.is_age_open(one),
                "pieces": one.level.stock, "measure": one.level.measure,
                "target": one.level.target, "reached": one.level.reached,
            }
            for one in report.shelf
        ],
        "paying": [asdict(one) for one in report.paying],
    }  # fmt: skip


def _cause(one: CauseAnswer) -> dict[str, Any]:
    held = {site.name: site for site in one.screen.sites}
    return {
        "model": one.model, "cause": one.cause, **_rate(one.rate),
        "cost_minor": one.cost_minor, "costed": one.n_costed,
        "next_term": {
            "mean": one.ahead.mean, "lower": one.ahead.lower, "upper": one.ahead.upper,
            "is_by_age": one.is_by_age,
        },
        "places": [
            {
                "place": name, **_rate(rate),
                "p_adjusted": held[name].p_adjusted if name in held else None,
                # At a place too young for the fault nothing was to be expected.
                "verdict": held[name].verdict if name in held else "nothing expected",
            }
            for name, rate in one.by_site
        ],
        "model_years": [{"year": year, **_rate(rate)} for year, rate in one.by_year],
    }  # fmt: skip


def _rate(rate: RateLimits) -> dict[str, Any]:
    return {
        "failures": rate.failures, "device_years": rate.total_time,
        "rate_per_year": rate.rate, "rate_lower": rate.rate_lower,
        "rate_upper": rate.rate_upper,
    }  # fmt: skip


def _life(one: FaultLife) -> dict[str, Any]:
    return {
        "model": one.model, "cause": one.cause, "way": one.way,
        "shape": one.fit.shape, "shape_low": one.shape.low,
        "shape_high": one.shape.high, "scale_d": one.fit.scale,
        "tenth_d": one.tenth.estimate, "tenth_low_d": one.tenth.low,
        "tenth_high_d": one.tenth.high, "oldest_d": one.oldest_d,
        "limits": one.shape.convention, "risk_set": one.fit.risk_set,
    }  # fmt: skip


def _finite(values: Mapping[str, Any]) -> dict[str, Any]:
    """Turn what has no upper end, which JSON cannot write, into nothing."""

    def one(value: Any) -> Any:
        if isinstance(value, (tuple, list)):
            return [one(item) for item in value]
        return None if value == float("inf") else value

    return {name: one(value) for name, value in values.items()}


def _lines(report: FleetReport, without: Sequence[tuple[Path, int]]) -> Iterator[str]:
    yield summary(report, len(without))
    if few := few_words(report, len(without)):
        yield few
    yield from _to_look_at(report, without)
    yield ""
    yield "what to change:"
    yield from (f"  {one.says}" for one in report.advice)
    if not report.advice:
        yield f"  {silence(report)}"
    yield from (f"  {one.says}" for one in report.repeats)
    yield ""
    yield (
        f"failures in 100 device-years, exact limits of "
        f"{percent(report.wishes.confidence)}; next term:"
    )
    for cause in report.answer.causes:
        each = cause.cost_of_one_minor
        cost = "cost not known" if each is None else f"{money(round(each))} each"
        rate, low, high = (
            100 * x
            for x in (cause.rate.rate, cause.rate.rate_lower, cause.rate.rate_upper)
        )
        yield (
            f"  {_named(cause)}: {cause.rate.failures:.0f}; {rate:.1f} "
            f"({low:.1f} to {high:.1f}); {cost}; "
            f"next term {cause.ahead.lower} to {cause.ahead.upper}"
            f"{star(report, cause)}"
        )
    yield ""
    yield "how long parts last:"
    yield from map(_life_line, report.lives)
    yield ""
    yield f"hold for {report.wishes.term_days:g} days, nothing coming in:"
    for one in report.shelf:
        yield (
            f"  {_named(one)}: {one.level.stock} "
            f"({sureness(one.level.reached)} sure that nobody waits)"
            f"{star(report, one)}"
        )
    if open_age := age_words(report):
        yield open_age
    if report.paying:
        yield ""
        yield "up to which price a repair pays for one more year:"
    for paying in report.paying:
        least, mean, most = (money(round(x)) for x in paying.most)
        at = f"{paying.model} at {paying.age_years} years".strip()
        yield f"  {at}: {mean} ({least} to {most})"


def _to_look_at(
    report: FleetReport, without: Sequence[tuple[Path, int]]
) -> Iterator[str]:
    yield from (f"  {path.name}:{line}: cause not known" for path, line in without[:20])
    yield from (
        f"{names}: the same but for case, counted apart" for names in _alike(report)
    )


def _alike(report: FleetReport) -> Iterator[str]:
    """Give the models, causes and places that may be one and the same."""
    causes = report.answer.causes
    for names in (
        {one.model for one in report.models},
        {one.cause for one in causes},
        {name for one in causes for name, _ in one.by_site},
    ):
        alike: dict[str, list[str]] = {}
        for name in sorted(names):
            alike.setdefault(name.casefold(), []).append(name)
        yield from (" and ".join(some) for some in alike.values() if len(some) > 1)


def _ends(options: Options) -> Iterator[str]:
    if options.is_implied:
        yield ""
        level = percent(options.target, 1)
        yield f"The two prices imply a level of {level} for the shelf."
    if options.pdf is not None:
        yield ""
        yield f"printed to {options.pdf}"


def _life_line(one: FaultLife) -> str:
    words = WAYS[one.way]
    if one.way != "too few to tell":
        words = f"one in ten by {tenth_words(one)}; {words}"
    return f"  {_named(one)}: {words}"


def _named(one: CauseAnswer | FaultLife | Shelf) -> str:
    """Name a fault by its model, where the fleet names models."""
    return f"{one.model} {one.cause}".strip()
