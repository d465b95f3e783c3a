"""
How sure is a constant rate, do two rates differ, how long must a test run?

Counts are taken as Poisson. Every answer names the rule of its limits and of its
p-value, since several of each are in print and differ in the first digits.
"""

import math
from dataclasses import dataclass
from typing import Literal, get_args

import scipy

from turnscrew.core.model.wanted import refuse, unlike, unlisted
from turnscrew.core.reliability.counts import LimitRule, count_limits
from turnscrew.core.reliability.two_counts import (
    Alternative,
    IntervalRule,
    Pair,
    PRule,
    interval_of,
    p_value,
)

Termination = Literal["time", "failure", "multiple"]
Sided = Literal[1, 2]
Exactness = Literal["exact", "approximate"]


@dataclass(frozen=True, slots=True)
class RateLimits:
    """
    A constant rate with its limits.

    Parameters
    ----------
    failures
        Failures counted. [1]
    total_time
        Time in service of all units together. [unit of time]
    rate
        Failures by time. [1/unit of time]
    rate_lower
        Lower limit of the rate; 0 after no failure. [1/unit of time]
    rate_upper
        Upper limit of the rate. [1/unit of time]
    mtbf
        Mean time between failures; infinite after no failure. [unit of time]
    mtbf_lower
        Its lower limit. [unit of time]
    mtbf_upper
        Its upper limit; infinite where there is none. [unit of time]
    confidence
        Level of the limits. [1]
    sided
        2: both limits together hold the level; 1: each limit alone holds it. [1]
    termination
        What ended the observation.
    rule
        How the limits were made; of ``exact`` the rule that the termination asks for.
    exactness
        Whether the limits hold their level whatever the rate.
    """

    failures: float
    total_time: float
    rate: float
    rate_lower: float
    rate_upper: float
    mtbf: float
    mtbf_lower: float
    mtbf_upper: float
    confidence: float
    sided: Sided
    termination: Termination
    rule: LimitRule
    exactness: Exactness

    @property
    def factor_lower(self) -> float | None:
        """Give the lower limit by the MTBF; ``None`` after no failure. [1]."""
        return self.mtbf_lower / self.mtbf if self.failures else None

    @property
    def factor_upper(self) -> float | None:
        """Give the upper limit by the MTBF; ``None`` after no failure. [1]."""
        return self.mtbf_upper / self.mtbf if self.failures else None


@dataclass(frozen=True, slots=True)
class ExpectedRatio:
    """
    How many times more was seen than was expected.

    Parameters
    ----------
    observed
        Events seen. [1]
    expected
        Events expected, taken as known. [1]
    ratio
        Observed by expected. [1]
    lower
        Lower limit of the ratio. [1]
    upper
        Upper limit of the ratio. [1]
    confidence
        Level of the two limits together. [1]
    rule
        How the limits were made.
    """

    observed: float
    expected: float
    ratio: float
    lower: float
    upper: float
    confidence: float
    rule: LimitRule


@dataclass(frozen=True, slots=True)
class RateComparison:
    """
    Two rates side by side.

    Parameters
    ----------
    count1
        Events of the first. [1]
    exposure1
        Its exposure. [unit of exposure]
    count2
        Events of the second. [1]
    exposure2
        Its exposure. [unit of exposure]
    ratio
        First rate by second; infinite if only the second has no events, ``None`` if
        neither has. [1]
    lower
        Lower limit of the ratio. [1]
    upper
        Upper limit of the ratio; infinite where there is none. [1]
    expected_count1
        Events of the first to expect if the ratio were as supposed. [1]
    p_value
        Probability of a result so far off if the ratio were as supposed. [1]
    z
        The statistic of a rule that has one; else ``None``. [1]
    supposed_ratio
        The ratio that is tested. [1]
    alternative
        The side on which a result counts as far off.
    p_rule
        How the p-value was made.
    interval_rule
        How the limits were made; rules of p-value and limits may disagree.
    confidence
        Level of the limits: both together, or the one of a one-sided test. [1]
    """

    count1: int
    exposure1: float
    count2: int
    exposure2: float
    ratio: float | None
    lower: float
    upper: float
    expected_count1: float
    p_value: float
    z: float | None
    supposed_ratio: float
    alternative: Alternative
    p_rule: PRule
    interval_rule: IntervalRule
    confidence: float


@dataclass(frozen=True, slots=True)
class LengthOfTest:
    """
    How long a test must run to prove an MTBF.

    Parameters
    ----------
    total_time
        Time in test of all units together. [unit of time]
    factor
        The same, by the MTBF to be proven. [1]
    failures
        Failures allowed. [1]
    confidence
        Level at which the MTBF is then proven. [1]
    p_pass
        Probability of passing at the true MTBF that was given; ``None`` without. [1]
    termination
        ``time``: ends after this time; ``failure``: at one failure more than allowed.
    """

    total_time: float
    factor: float
    failures: int
    confidence: float
    p_pass: float | None
    termination: Literal["time", "failure"]


def rate_limits(
    *,
    failures: float,
    total_time: float,
    confidence: float = 0.9,
    sided: Sided = 2,
    termination: Termination = "time",
    rule: LimitRule = "exact",
) -> RateLimits:
    """
    Estimate a constant rate and its limits.

    Rule ``exact`` takes chi-squared with 2r + 2 degrees of freedom for the lower limit
    of the MTBF and 2r for the upper one if a time ended the observation, and 2r for
    both if a failure did. Units that left at many different times (``multiple``) have
    no exact limits: ``exact`` then gives the wider pair, called approximate.

    Parameters
    ----------
    failures
        Failures counted. [1]
    total_time
        Time in service of all units together. [unit of time]
    confidence
        Level of the limits. [1]
    sided
        2: both limits together hold the level; 1: each limit alone holds it. [1]
    termination
        What ended the observation.
    rule
        How the limits are made.

    Returns
    -------
    RateLimits
        Rate and MTBF with limits; the MTBF has no upper limit after no failure.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range, or a failure ended it and none is counted.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1; both pairs of degrees of
    freedom are in print for multiple censoring (2r/2r after Nelson 1982).
    """
    refuse(
        unlike("failures", failures, least=0),
        unlike("total_time", total_time, above=0),
        unlike("confidence", confidence, above=0, below=1),
        unlisted("sided", sided, get_args(Sided)),
        unlisted("termination", termination, get_args(Termination)),
        unlisted("rule", rule, get_args(LimitRule)),
        _no_last_failure(failures, termination),
    )
    used = rule
    if rule == "exact":
        used = "2r/2r" if termination == "failure" else "2r+2/2r"
    p_out = (1 - confidence) / sided
    # A one-sided level below a half would give limits on the wrong side.
    refuse(unlike("(1 - confidence) / sided", p_out, most=0.5))
    low, high = count_limits(failures, p_out, p_out, used)
    own = "2r/2r" if termination == "failure" else "2r+2/2r"
    is_exact = used == own and termination != "multiple"
    return RateLimits(
        failures=failures,
        total_time=total_time,
        rate=failures / total_time,
        rate_lower=low / total_time,
        rate_upper=high / total_time,
        mtbf=_upside_down(failures, total_time),
        mtbf_lower=_upside_down(high, total_time),
        mtbf_upper=_upside_down(low, total_time),
        confidence=confidence,
        sided=sided,
        termination=termination,
        rule=used,
        exactness="exact" if is_exact else "approximate",
    )


def expected_ratio(
    *,
    observed: float,
    expected: float,
    confidence: float = 0.95,
    rule: LimitRule = "exact",
) -> ExpectedRatio:
    """
    Compare a count with the count expected.

    Parameters
    ----------
    observed
        Events seen. [1]
    expected
        Events expected, taken as known. [1]
    confidence
        Level of the two limits together. [1]
    rule
        How the limits are made.

    Returns
    -------
    ExpectedRatio
        The ratio and its limits.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.
    """
    refuse(
        unlike("observed", observed, least=0),
        unlike("expected", expected, above=0),
        unlike("confidence", confidence, above=0, below=1),
        unlisted("rule", rule, get_args(LimitRule)),
    )
    p_out = (1 - confidence) / 2
    used: LimitRule = "2r+2/2r" if rule == "exact" else rule
    low, high = count_limits(observed, p_out, p_out, used)
    return ExpectedRatio(
        observed=observed,
        expected=expected,
        ratio=observed / expected,
        lower=low / expected,
        upper=high / expected,
        confidence=confidence,
        rule=used,
    )


def compare_rates(
    *,
    count1: int,
    exposure1: float,
    count2: int,
    exposure2: float,
    supposed_ratio: float = 1.0,
    alternative: Alternative = "two-sided",
    p_rule: PRule = "doubled",
    interval_rule: IntervalRule = "central",
    confidence: float = 0.95,
) -> RateComparison:
    """
    Compare two constant rates.

    The exact rules look at how the events of both are shared out, which is binomial
    given their total. The central limits are those that invert the doubled p-value.

    Parameters
    ----------
    count1
        Events of the first. [1]
    exposure1
        Its exposure. [unit of exposure]
    count2
        Events of the second. [1]
    exposure2
        Its exposure. [unit of exposure]
    supposed_ratio
        The ratio to be tested. [1]
    alternative
        ``greater`` if only a first rate that is too high counts, ``less`` if only one
        too low.
    p_rule
        How the p-value is made.
    interval_rule
        How the limits are made.
    confidence
        Level of the limits. [1]

    Returns
    -------
    RateComparison
        Ratio, limits and p-value, with their rules.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range or a rule unknown.

    References
    ----------
    Gu, Ng, Tang and Schucany (2008) for the tests side by side; their printed table
    swaps the exact and the mid-p p-value.
    """
    refuse(
        unlike("count1", count1, least=0, is_whole=True),
        unlike("exposure1", exposure1, above=0),
        unlike("count2", count2, least=0, is_whole=True),
        unlike("exposure2", exposure2, above=0),
        unlike("supposed_ratio", supposed_ratio, above=0),
        unlike("confidence", confidence, above=0, below=1),
        unlisted("alternative", alternative, get_args(Alternative)),
        unlisted("p_rule", p_rule, get_args(PRule)),
        unlisted("interval_rule", interval_rule, get_args(IntervalRule)),
    )
    pair = Pair(int(count1), exposure1, int(count2), exposure2)
    p, z = p_value(pair, supposed_ratio, p_rule, alternative)
    lower, upper = interval_of(pair, interval_rule, alternative, confidence)
    return RateComparison(
        count1=int(count1),
        exposure1=exposure1,
        count2=int(count2),
        exposure2=exposure2,
        ratio=pair.ratio,
        lower=lower,
        upper=upper,
        expected_count1=pair.n * pair.share(supposed_ratio),
        p_value=p,
        z=z,
        supposed_ratio=supposed_ratio,
        alternative=alternative,
        p_rule=p_rule,
        interval_rule=interval_rule,
        confidence=confidence,
    )


def test_length(
    *,
    mtbf: float,
    failures: int = 0,
    confidence: float = 0.9,
    true_mtbf: float | None = None,
    termination: Literal["time", "failure"] = "time",
) -> LengthOfTest:
    """
    Say how long to test so that few failures prove an MTBF.

    Parameters
    ----------
    mtbf
        MTBF to be proven. [unit of time]
    failures
        Failures allowed. [1]
    confidence
        One-sided level of the proof. [1]
    true_mtbf
        What the MTBF really is, to reckon the chance of passing. [unit of time]
    termination
        ``time``: the test passes if at most the allowed failures come in the time;
        ``failure``: the test ends at one failure more and passes if that came later.

    Returns
    -------
    LengthOfTest
        The time of all units together, which is the same under both terminations.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 8.3.1 (method; from memory).
    """
    refuse(
        unlike("mtbf", mtbf, above=0),
        unlike("failures", failures, least=0, is_whole=True),
        unlike("confidence", confidence, above=0, below=1),
        "" if true_mtbf is None else unlike("true_mtbf", true_mtbf, above=0),
        unlisted("termination", termination, ("time", "failure")),
    )
    factor = float(scipy.special.gammaincinv(failures + 1, confidence))
    p_pass = None
    if true_mtbf is not None:
        p_pass = float(scipy.special.gammaincc(failures + 1, factor * mtbf / true_mtbf))
    return LengthOfTest(
        total_time=factor * mtbf,
        factor=factor,
        failures=failures,
        confidence=confidence,
        p_pass=p_pass,
        termination=termination,
    )


def _no_last_failure(failures: float, termination: str) -> str:
    if termination == "failure" and failures == 0:
        return "failures: found 0, wanted at least 1 where a failure ended it"
    return ""


def _upside_down(count: float, total_time: float) -> float:
    return total_time / count if count > 0 else math.inf
