"""
Do mended units fail more and more rarely, or more and more often?

Power law for the failures of repairable units: expected failures of one unit up to age
t are rate * t ** shape. Below 1 the shape means improvement. Other books write
(t / eta) ** shape, or call 1 - shape the growth slope.
"""

import math
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
import scipy
from numpy.typing import NDArray

from turnscrew.core.model.wanted import refuse, unlike, unlisted
from turnscrew.core.reliability.crow import crow_factors
from turnscrew.core.reliability.systems import Ages, EndedBy, Systems, Times

Estimator = Literal["mle", "modified"]
ShapeRule = Literal["exact", "fisher"]
MtbfRule = Literal["crow", "handbook", "fisher"]
Status = Literal["fitted", "no failure", "all at the end", "too few failures"]


@dataclass(frozen=True, slots=True)
class PowerLaw:
    """
    Power law fitted to the failures of mended units.

    Parameters
    ----------
    status
        ``fitted``, or why there is no fit; figures are then ``None``.
    n_failures
        Failures of all units. [1]
    n_systems
        Units watched. [1]
    shape
        Exponent of age. [1]
    rate
        Factor of the law for one unit, made with the same shape; called lambda or a.
        [1/unit of age ** shape]
    shape_lower
        Lower limit of the shape. [1]
    shape_upper
        Upper limit of the shape. [1]
    end
        Latest age watched, for which the MTBF is given. [unit of age]
    mtbf
        Mean time between failures of one unit at that age. [unit of age]
    mtbf_lower
        Its lower limit; ``None`` where the rule gives none. [unit of age]
    mtbf_upper
        Its upper limit; ``None`` where the rule gives none. [unit of age]
    cramer_von_mises
        Distance of the failures from the law, with the modified shape: n ages if time
        ended it, n - 1 if a failure did. [1]
    confidence
        Level of both limits together. [1]
    estimator
        ``mle``; or ``modified``, without bias.
    termination
        What ended the watch.
    shape_rule
        How the limits of the shape were made.
    mtbf_rule
        How those of the MTBF were made.
    exactness
        Whether the limits of rules ``exact`` and ``crow`` hold whatever the law: only
        if all units were watched from new to one age.
    """

    status: Status
    n_failures: int
    n_systems: int
    shape: float | None
    rate: float | None
    shape_lower: float | None
    shape_upper: float | None
    end: float
    mtbf: float | None
    mtbf_lower: float | None
    mtbf_upper: float | None
    cramer_von_mises: float | None
    confidence: float
    estimator: Estimator
    termination: EndedBy
    shape_rule: ShapeRule
    mtbf_rule: MtbfRule
    exactness: Literal["exact", "approximate"]

    @property
    def eta(self) -> float | None:
        """Give the age at which one failure of one unit is expected. [unit of age]."""
        if self.shape is None or self.rate is None:
            return None
        return float(self.rate ** (-1 / self.shape))

    @property
    def growth_slope(self) -> float | None:
        """Give 1 - shape. [1]."""
        return None if self.shape is None else 1 - self.shape

    def expected(self, age: float) -> float | None:
        """
        Give the failures of one unit to expect up to an age.

        Parameters
        ----------
        age
            The age. [unit of age]

        Returns
        -------
        float | None
            Expected failures; ``None`` without a fit. [1]
        """
        if self.shape is None or self.rate is None:
            return None
        return float(self.rate * age**self.shape)

    def intensity(self, age: float) -> float | None:
        """
        Give the failures by time at an age.

        Parameters
        ----------
        age
            The age. [unit of age]

        Returns
        -------
        float | None
            Intensity of one unit; ``None`` without a fit. [1/unit of age]
        """
        if self.shape is None or self.rate is None:
            return None
        return float(self.rate * self.shape * age ** (self.shape - 1))

    def mtbf_at(
        self, age: float, kind: Literal["instantaneous", "cumulative"] = "instantaneous"
    ) -> float | None:
        """
        Give the mean time between failures at, or up to, an age.

        Parameters
        ----------
        age
            The age. [unit of age]
        kind
            ``instantaneous``: one by the intensity; ``cumulative``: age by failures.

        Returns
        -------
        float | None
            The MTBF of one unit; ``None`` without a fit. [unit of age]
        """
        expected, intensity = self.expected(age), self.intensity(age)
        if expected is None or intensity is None:
            return None
        return age / expected if kind == "cumulative" else 1 / intensity

    def age_at_mtbf(
        self,
        target: float,
        kind: Literal["instantaneous", "cumulative"] = "instantaneous",
    ) -> float | None:
        """
        Give the age at which the MTBF reaches a target.

        Parameters
        ----------
        target
            MTBF wanted. [unit of age]
        kind
            Which of the two MTBFs; the cumulative one lags far behind.

        Returns
        -------
        float | None
            The age; ``None`` without a fit or if the MTBF does not change.
            [unit of age]

        Raises
        ------
        BadArgumentError
            If the target is not above 0.
        """
        refuse(unlike("target", target, above=0))
        if self.shape is None or self.rate is None or self.shape == 1:
            return None
        factor = self.rate * (1 if kind == "cumulative" else self.shape)
        return float((factor * target) ** (1 / (1 - self.shape)))


def fit_power_law(
    times: Times,
    end: Ages | None = None,
    *,
    start: Ages = 0.0,
    termination: EndedBy = "time",
    estimator: Estimator = "mle",
    confidence: float = 0.9,
    shape_rule: ShapeRule = "exact",
    mtbf_rule: MtbfRule = "crow",
) -> PowerLaw:
    """
    Fit a power law to the failures of one or several mended units.

    Units watched over different ages are fitted by the profile score, alike ones in
    closed form.

    Parameters
    ----------
    times
        Ages at failure of one unit, or those of each of several. [unit of age]
    end
        Age up to which it was watched, one for all or one for each; left out, the last
        failure of each ended it. [unit of age]
    start
        Age from which it was watched. [unit of age]
    termination
        What ended the watch.
    estimator
        ``mle``, or ``modified``: (n - 1)/n of it if time ended the watch, (n - k - 1)/n
        if the last failures of k units did.
    confidence
        Level of the limits. [1]
    shape_rule
        ``exact``: chi-squared; ``fisher``: normal on the logarithm.
    mtbf_rule
        ``crow``: exact factors; ``handbook``: the normal form of an older handbook;
        ``fisher``: normal on the logarithm.

    Returns
    -------
    PowerLaw
        The law with limits and conventions.

    Raises
    ------
    BadArgumentError
        If an age lies outside its watch, or a figure is outside its range.

    References
    ----------
    Crow (1975), AMSAA TR-138; MIL-HDBK-189 (1981), appendix C; NIST/SEMATECH
    e-Handbook of Statistical Methods, 8.4.5.2, for ``modified`` and ``handbook``.
    """
    refuse(
        unlisted("estimator", estimator, get_args(Estimator)),
        unlike("confidence", confidence, above=0, below=1),
        unlisted("shape_rule", shape_rule, get_args(ShapeRule)),
        unlisted("mtbf_rule", mtbf_rule, get_args(MtbfRule)),
    )
    systems = Systems.of(times, end, start=start, termination=termination)
    mle = _shape_of(systems)
    unbiased = None if mle is None else _unbiased(systems, mle)
    shape = unbiased if estimator == "modified" else mle
    last = float(systems.ends.max())
    rate = mtbf = None
    limits: tuple[float | None, float | None] = (None, None)
    mtbf_limits = limits
    if mle is not None and shape is not None:
        rate = _rate_of(systems, shape)
        mtbf = last / (_failures_at_last(systems, shape) * shape)
        limits = _shape_limits(systems, mle, confidence, shape_rule)
        # The limits stand on the MTBF by maximum likelihood.
        plain = last / (_failures_at_last(systems, mle) * mle)
        low, high = _mtbf_factors(systems, confidence, mtbf_rule)
        mtbf_limits = (low * plain, None if high is None else high * plain)
    return PowerLaw(
        status=_status(systems, mle, shape),
        n_failures=systems.n_failures,
        n_systems=systems.n_systems,
        shape=shape,
        rate=rate,
        shape_lower=limits[0],
        shape_upper=limits[1],
        end=last,
        mtbf=mtbf,
        mtbf_lower=mtbf_limits[0],
        mtbf_upper=mtbf_limits[1],
        cramer_von_mises=_distance(systems, unbiased),
        confidence=confidence,
        estimator=estimator,
        termination=termination,
        shape_rule=shape_rule,
        mtbf_rule=mtbf_rule,
        exactness=_exactness(systems),
    )


def _status(systems: Systems, mle: float | None, shape: float | None) -> Status:
    if shape is not None:
        return "fitted"
    if systems.n_failures == 0:
        return "no failure"
    return "all at the end" if mle is None else "too few failures"


def _exactness(systems: Systems) -> Literal["exact", "approximate"]:
    is_one = systems.termination == "time" or systems.n_systems == 1
    return "exact" if systems.is_alike and is_one else "approximate"


def _shape_of(systems: Systems) -> float | None:
    n, ends = systems.n_failures, systems.ends
    behind = float(np.log(ends[systems.system] / systems.times).sum())
    if n == 0 or behind <= 0:
        return None
    if systems.is_alike:
        return n / behind
    top = float(ends.max())
    logs = float(np.log(systems.times / top).sum())
    end, start = ends / top, systems.starts / top
    log_end = np.log(end)
    log_start = np.log(np.where(start > 0, start, 1.0))

    def score(log_shape: float) -> float:
        b = math.exp(log_shape)
        high, low = end**b, np.where(start > 0, start**b, 0.0)
        moved = (high @ log_end - low @ log_start) / (high - low).sum()
        return n / b + logs - n * float(moved)

    # The score falls; near 0 it is positive, and far out its sign is that of the ages.
    low, high = -12.0, 6.0
    if score(low) <= 0 or score(high) >= 0:
        return None
    return math.exp(scipy.optimize.brentq(score, low, high, xtol=1e-14, rtol=1e-14))


def _rate_of(systems: Systems, shape: float) -> float:
    # The ages by the last one: a large power of a large age has no place in a number.
    return _failures_at_last(systems, shape) * math.exp(
        -shape * math.log(systems.ends.max())
    )


def _failures_at_last(systems: Systems, shape: float) -> float:
    """Give the mean number of failures of a unit by the last age of all. [1]."""
    last = systems.ends.max()
    spans = (systems.ends / last) ** shape - (systems.starts / last) ** shape
    return systems.n_failures / float(spans.sum())


def _n_ended(systems: Systems) -> int:
    return systems.n_systems if systems.termination == "failure" else 0


def _unbiased(systems: Systems, mle: float) -> float | None:
    kept = systems.n_failures - 1 - _n_ended(systems)
    return mle * kept / systems.n_failures if kept > 0 else None


def _shape_limits(
    systems: Systems, mle: float, confidence: float, rule: ShapeRule
) -> tuple[float | None, float | None]:
    n, p_out = systems.n_failures, (1 - confidence) / 2
    if rule == "fisher":
        far = math.exp(-float(scipy.special.ndtri(p_out)) / math.sqrt(n))
        return mle / far, mle * far
    half_df = n - _n_ended(systems)
    if half_df < 1:
        return None, None
    low = float(scipy.special.gammaincinv(half_df, p_out))
    high = float(scipy.special.gammainccinv(half_df, p_out))
    return mle * low / n, mle * high / n


def _mtbf_factors(
    systems: Systems, confidence: float, rule: MtbfRule
) -> tuple[float, float | None]:
    n = systems.n_failures
    z = -float(scipy.special.ndtri((1 - confidence) / 2))
    if rule == "crow":
        return crow_factors(n, confidence, systems.termination)
    if rule == "fisher":
        far = math.exp(z * math.sqrt(2 / n))
        return 1 / far, far
    low = (n / (n + z * z / 4 + math.sqrt(n * z * z / 2 + z**4 / 16))) ** 2
    left = n - z * math.sqrt(n / 2)
    return low, (n / left) ** 2 if left > 0 else None


def _distance(systems: Systems, shape: float | None) -> float | None:
    inner = systems.inner()
    # Ages of units watched from later than new would need another statistic.
    if shape is None or inner.n_failures < 1 or np.any(systems.starts > 0):
        return None
    u: NDArray[np.float64] = np.sort(inner.times / inner.ends[inner.system]) ** shape
    m = len(u)
    middles = (2 * np.arange(1, m + 1) - 1) / (2 * m)
    return float(1 / (12 * m) + ((u - middles) ** 2).sum())
