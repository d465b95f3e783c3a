"""What is said of a fleet in sentences, on its report, its page and in a shell?"""

from turnscrew.core.fleet.answer import (
    YEAR_DAYS,
    CauseAnswer,
    FaultLife,
    FleetReport,
    ModelTold,
    Shelf,
)
from turnscrew.core.model.amounts import counted

MOST_ROWS = 14
"""Causes in a table; the rest is counted. [1]"""

FEW = 10
"""Failures below which limits are called wide; a choice, no source. [1]"""

WAYS = {
    "early": "early in life: look at how they were made or fitted",
    "by wear": "by wear: renewing in time may help",
    "neither shown": "no effect of age shown",
    "too few to tell": "too few to tell",
}
"""What each way of failing means for who looks after the fleet."""


AGE_OPEN = (
    "* Age is left out: it is not known, or too few failures tell whether it matters. "
    "Where parts wear, more may come."
)
"""What the star beside a figure to come means."""


def star(report: FleetReport, one: CauseAnswer | Shelf) -> str:
    """
    Mark a figure to come where nothing is known of what age does.

    Parameters
    ----------
    report
        The report.
    one
        A cause, or what to hold for it.

    Returns
    -------
    str
        A star, or nothing.
    """
    return " *" if report.is_age_open(one) else ""


def age_words(report: FleetReport) -> str:
    """
    Say what a star beside a figure to come means.

    Parameters
    ----------
    report
        The report.

    Returns
    -------
    str
        Two sentences; empty if no figure bears a star.
    """
    return AGE_OPEN if any(map(report.is_age_open, report.answer.causes)) else ""


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
        "log-normal limits; a failure whose cost is not known costs as much as the "
        "mean of those whose cost is. What a year of age needs: by what each device "
        "needed in it; where nothing failed, by exact Poisson limits of the number.",
        "Next term: what is not known of the rate counts in (gamma and Poisson); "
        "where age matters, each part in service is taken at its own age by the "
        "Weibull law of all parts seen, and a renewed part starts anew and may fail "
        f"again. Limits of {level}.",
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
    told = counted(round(sum(known)), "device")
    devices = f"{told}, " if len(known) == len(units) else ""
    text = (
        f"{devices}{_years(report.device_years)} device-years under watch, "
        f"{counted(report.n_failures, 'failure')}."
    )
    if n_without_cause:
        are = "is" if n_without_cause == 1 else "are"
        text += f" {n_without_cause} more of unknown cause {are} in no figure."
    return text


def few_words(report: FleetReport, n_without_cause: int = 0) -> str:
    """
    Say where there are few data.

    Parameters
    ----------
    report
        The report.
    n_without_cause
        Failures whose cause nobody knows, of whichever model. [1]

    Returns
    -------
    str
        Sentences; empty if there is none to say.
    """
    told = [
        _none_failed(one, are_all_known=not n_without_cause)
        for one in report.models
        if not one.rate.failures
    ]
    few = [one for one in report.answer.causes if one.rate.failures < FEW]
    if few:
        causes = report.answer.causes
        some = f"{len(few)} of {counted(len(causes), 'fault')}"
        told.append(
            f"Few data: {some} {'has' if len(few) == 1 else 'have'} fewer than {FEW} "
            "failures; limits are wide, and still too narrow where age matters."
        )
    return " ".join(told)


def _none_failed(one: ModelTold, *, are_all_known: bool) -> str:
    model, years = one.model or "any device", _years(one.device_years)
    if not are_all_known:
        return (
            f"No failure of {model} with a known cause in {years} device-years; "
            "while causes are unknown, no limit can be told."
        )
    return (
        f"No failure of {model} in {years} device-years: at most "
        f"{100 * one.rate.rate_upper:.1f} in 100 device-years, and no more is known."
    )


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
    if not report.answer.n_compared:
        return (
            "Nothing could be compared: no fault has failures enough at more than one "
            "place or model-year."
        )
    told = (
        f"No place and no model-year differs from the others beyond chance "
        f"({counted(report.answer.n_compared, 'comparison')})."
    )
    if report.repeats:
        return told
    return f"{told} There is nothing to advise from these numbers."


def _years(years: float) -> str:
    return f"{years:,.0f}" if years >= 10 else f"{years:,.1f}"


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
    faults, failures = counted(len(rest), "rarer fault"), counted(n, "failure")
    return f"Not shown: {faults}, in all {failures}."


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
        The age with its limits, or that it is not known or beyond all ages watched,
        give or take a month: nothing was seen of the law there.
    """
    tenth = life.tenth
    if life.way == "too few to tell":
        return life.way
    if tenth.estimate is None or tenth.low is None or tenth.high is None:
        return "not known"
    if tenth.estimate > life.oldest_d + YEAR_DAYS / 12:
        return "an age nobody was watched at"
    if tenth.high < YEAR_DAYS / 2:
        return f"{tenth.estimate:.0f} days ({tenth.low:.0f} to {tenth.high:.0f})"
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
