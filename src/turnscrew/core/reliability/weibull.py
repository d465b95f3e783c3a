"""
Which Weibull law do these lives follow?

Maximum likelihood with right censoring, ages of entry and weights. For a fixed shape k
the scale is closed, scale^k = sum(exit^k - entry^k) / failures, so that one equation in
k is left. It is solved by the method of Newton; near its root the sums are continued by
their series in k, so that a long table is read once.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from turnscrew.core.reliability.fit import Covariance, Family, LifeFit, RiskSet, Status
from turnscrew.core.reliability.lives import Flags, Floats, Indices, Lives
from turnscrew.errors import BadArgumentError

# Rows held in the inner cache at once, and few enough that no product is spread over
# threads; rows of the sample that gives a first shape; terms of the series. Measured on
# a machine with 2 cores.
_BLOCK = 8192
_SAMPLE = 16_384
_N_TERMS = 9
_ORDERS = np.arange(_N_TERMS)
_FACTORIALS = np.array([math.factorial(m) for m in range(_N_TERMS)], dtype=np.float64)
# Sums of order m + j for each order j of the series and m = 0, 1, 2; none beyond.
_SHIFTED = _ORDERS[:, None] + np.arange(3)
_MOST_PASSES = 100
_SHAPES = (1e-4, 1e5)


@dataclass(frozen=True)
class _Block:
    """Logarithms of age of some rows, from one age counted, and what they weigh."""

    exit: Floats
    counts: Floats
    weight: Floats | None
    entry: Floats | None
    entry_weight: Floats | None


@dataclass(frozen=True)
class _Start:
    """A first shape, and the logarithm of age from which the others are counted."""

    shape: float
    ref: float


@dataclass(frozen=True)
class _Solved:
    """The likeliest shape, its sums of x^m e^(k x), and the sum over the failures."""

    shape: float
    sums: Floats
    event_sum: float


def fit_weibull(lives: Lives) -> LifeFit:
    """
    Fit a Weibull law of two parameters.

    Parameters
    ----------
    lives
        The lives, part of them censored or watched from a later age.

    Returns
    -------
    LifeFit
        The law; without figures if there is no failure, if all failures are at the last
        age, or if no shape is likeliest.

    References
    ----------
    J. F. Lawless, Statistical Models and Methods for Lifetime Data, 2nd ed. (2003),
    sections 2.4 and 5.2.
    """
    n_events = lives.n_events
    if not n_events:
        return unfitted("weibull", "no failures", lives)
    last = float(lives.exit.max())
    if not (lives.is_event & (lives.exit < last)).any():
        return unfitted("weibull", "failures at the last age", lives)
    start = _start(lives, last)
    solved = _solved(lives, start, n_events)
    if solved is None:
        return unfitted("weibull", "no maximum", lives)
    return _told(lives, start.ref, solved, n_events)


def unfitted(family: Family, status: Status, lives: Lives) -> LifeFit:
    """
    Say why no law was fitted.

    Parameters
    ----------
    family
        The law.
    status
        Why.
    lives
        The lives.

    Returns
    -------
    LifeFit
        A fit without figures.
    """
    return LifeFit(
        family,
        status,
        None,
        None,
        None,
        None,
        lives.n_units,
        lives.n_events,
        risk_set_of(lives),
    )


def risk_set_of(lives: Lives) -> RiskSet:
    """
    Name the rule by which lives are at risk.

    Parameters
    ----------
    lives
        The lives.

    Returns
    -------
    str
        Whether ages of entry counted.
    """
    return "watched from age 0" if lives.entry is None else "entry < age <= exit"


@dataclass(frozen=True)
class CausesFit:
    """
    One law for each cause, where the first failure of any ends the life.

    Parameters
    ----------
    causes
        The causes.
    fits
        The law of each; other causes were taken as censoring, which holds if the
        causes are independent.
    loglik
        Sum over the causes that were fitted or did not fail; ``None`` if one had
        failures and no law. [1]
    """

    causes: tuple[str, ...]
    fits: tuple[LifeFit, ...]
    loglik: float | None

    def reliability(self, age: float) -> float | None:
        """
        Give the share that no cause has stopped by an age.

        Parameters
        ----------
        age
            Age. [d]

        Returns
        -------
        float
            Share running, a cause without failures stopping nobody; ``None`` if a cause
            with failures has no law. [1]

        Raises
        ------
        BadArgumentError
            If the age is not above 0.
        """
        shares = [1.0 if not f.n_events else f.reliability(age) for f in self.fits]
        known = [share for share in shares if share is not None]
        return math.prod(known) if len(known) == len(shares) else None

    def p_stopped_by(self, cause: str, age: float) -> float | None:
        """
        Give the share that one cause stops before an age, the others at work too.

        Parameters
        ----------
        cause
            The cause.
        age
            Age. [d]

        Returns
        -------
        float
            Cumulative incidence; ``None`` if a cause with failures has no law. [1]

        Raises
        ------
        BadArgumentError
            If there is no such cause or the age is not above 0.
        """
        if cause not in self.causes:
            known = ", ".join(self.causes)
            raise BadArgumentError(f"cause: found {cause}, wanted one of {known}")
        if self.reliability(age) is None:
            return None
        fit = self.fits[self.causes.index(cause)]
        if fit.shape is None or fit.scale is None:
            return 0.0
        # In u = (age / scale)^shape the hazard is 1, and the integral is smooth; cut
        # where less than e^-40 is left.
        top = min((age / fit.scale) ** fit.shape, 40.0)
        nodes, weights = np.polynomial.legendre.leggauss(200)
        # Squared steps look closely at early ages, where other causes may start fast.
        root = 0.5 * math.sqrt(top) * (nodes + 1)
        ages = fit.scale * (root**2) ** (1 / fit.shape)
        left = [self.reliability(max(float(one), 1e-300)) or 0.0 for one in ages]
        return float(math.sqrt(top) * np.sum(weights * root * np.array(left)))


def fit_weibull_causes(
    lives: Lives, cause: Indices, causes: tuple[str, ...]
) -> CausesFit:
    """
    Fit a Weibull law for each of several causes that compete.

    Parameters
    ----------
    lives
        The lives, each to its first failure of any cause.
    cause
        Place of the cause among the causes, -1 where the life did not end with a
        failure. [1], shape (n_rows,)
    causes
        The causes.

    Returns
    -------
    CausesFit
        The laws.

    Raises
    ------
    BadArgumentError
        If a failure has no cause, or a life that did not fail has one.
    """
    if np.shape(cause) != lives.exit.shape:
        raise BadArgumentError(
            f"cause: found shape {np.shape(cause)}, wanted {lives.exit.shape}"
        )
    wrong = ((cause >= 0) != lives.is_event) | (cause >= len(causes))
    if wrong.any():
        rows = ", ".join(str(row) for row in np.flatnonzero(wrong)[:100])
        raise BadArgumentError(
            f"row {rows}: found another cause, wanted 0 to {len(causes) - 1} "
            "for a failure and -1 else"
        )
    fits = tuple(fit_weibull(_of_cause(lives, cause == i)) for i in range(len(causes)))
    logliks = [fit.loglik for fit in fits if fit.n_events]
    known = [loglik for loglik in logliks if loglik is not None]
    total = math.fsum(known) if len(known) == len(logliks) else None
    return CausesFit(causes, fits, total)


def _of_cause(lives: Lives, is_event: Flags) -> Lives:
    return Lives(lives.exit, is_event, lives.entry, lives.weight)


def _start(lives: Lives, last: float) -> _Start:
    """Start from the law of a sample of a long table, else from the last age."""
    ref = math.log(last)
    if lives.n_rows > 4 * _SAMPLE:
        sample = fit_weibull(_every(lives, lives.n_rows // _SAMPLE))
        # Counted from its scale the series is short; far above it, floats would end.
        if sample.mu is not None and sample.sigma is not None:
            is_safe = ref - sample.mu < 50 * sample.sigma
            return _Start(1 / sample.sigma, sample.mu if is_safe else ref)
    mean = float(np.log(lives.exit[lives.is_event]).mean())
    return _Start(min(max(1 / max(ref - mean, 1e-12), 0.05), 20.0), ref)


def _every(lives: Lives, step: int) -> Lives:
    return Lives(
        lives.exit[::step],
        lives.is_event[::step],
        None if lives.entry is None else lives.entry[::step],
        None if lives.weight is None else lives.weight[::step],
    )


def _blocks(lives: Lives, ref: float) -> Iterator[_Block]:
    """Give rows in blocks that stay in the inner cache, their logarithms taken anew."""
    for begin in range(0, lives.n_rows, _BLOCK):
        rows = slice(begin, begin + _BLOCK)
        weight = None if lives.weight is None else lives.weight[rows]
        counts = lives.is_event[rows].astype(np.float64)
        if weight is not None:
            counts *= weight
        x = np.log(lives.exit[rows])
        x -= ref
        if lives.entry is None:
            yield _Block(x, counts, weight, None, None)
            continue
        entry = lives.entry[rows]
        # Rows from age 0 count nothing.
        late = np.flatnonzero(entry)
        begins = np.log(entry[late])
        begins -= ref
        yield _Block(
            x, counts, weight, begins, None if weight is None else weight[late]
        )


def _solved(lives: Lives, start: _Start, n_events: float) -> _Solved | None:
    """Find the likeliest shape between the shapes that are too low and too high."""
    low, high = _SHAPES
    shape = start.shape
    blocks: Iterable[_Block] = _blocks(lives, start.ref)
    if lives.n_rows <= _SAMPLE:
        blocks = tuple(blocks)
    for _ in range(_MOST_PASSES):
        sums, event_sum = _sums(blocks, shape)
        step, continued = _nearby(event_sum / n_events, shape, sums)
        if continued is not None:
            return _Solved(shape + step, continued, event_sum)
        slope = _score(event_sum / n_events, shape, sums)[0]
        low, high = (shape, high) if slope > 0 else (low, shape)
        if high / low < 1 + 1e-14:
            break
        shape += step
        if not low < shape < high:
            shape = math.sqrt(low * high)
        if not isinstance(blocks, tuple):
            blocks = _blocks(lives, start.ref)
    return None


def _nearby(
    event_mean: float, shape: float, sums: Floats
) -> tuple[float, Floats | None]:
    """Give the step to the root, and the sums there if the series reaches so far."""
    slope, bend = _score(event_mean, shape, sums)
    step = -slope / bend if bend < 0 else math.copysign(shape, slope)
    step = min(max(step, -0.6 * shape), 2.0 * shape)
    if abs(step) > 0.1 * shape:
        return step, None
    reached = step
    for _ in range(20):
        slope, bend = _score(event_mean, shape + reached, _continued(sums, reached))
        if not bend < 0:
            return step, None
        reached -= slope / bend
        if abs(slope / bend) < 1e-15 * shape:
            break
    left = abs(reached) ** (_N_TERMS - 2) / math.factorial(_N_TERMS - 2)
    is_near = left * abs(sums[_N_TERMS - 1]) <= 1e-11 * abs(sums[0] / shape)
    return (reached, _continued(sums, reached)) if is_near else (step, None)


def _score(event_mean: float, shape: float, sums: Floats) -> tuple[float, float]:
    """Give slope and bend of the profile log-likelihood for each failure."""
    mean = sums[1] / sums[0]
    slope = 1 / shape + event_mean - mean
    return float(slope), float(-1 / shape**2 - (sums[2] / sums[0] - mean**2))


def _continued(sums: Floats, step: float) -> Floats:
    """Continue the first three sums to a shape nearby by their series."""
    powers = step**_ORDERS / _FACTORIALS
    return np.asarray(powers @ sums[_SHIFTED])


def _sums(blocks: Iterable[_Block], shape: float) -> tuple[Floats, float]:
    """Sum w x^m e^(k x) over exits less entries, 0 beyond, and w x over failures."""
    sums, event_sum = [0.0] * _N_TERMS, 0.0
    for block in blocks:
        event_sum += float(block.exit @ block.counts)
        _add(sums, block.exit, block.weight, shape, 1.0)
        if block.entry is not None:
            _add(sums, block.entry, block.entry_weight, shape, -1.0)
    return np.array([*sums, 0.0, 0.0]), event_sum


def _add(
    sums: list[float], x: Floats, weight: Floats | None, shape: float, sign: float
) -> None:
    term = shape * x
    np.exp(term, out=term)
    if weight is not None:
        term *= weight
    # The bare sum: in a small table its wrapper would take a tenth of all time.
    add = np.add.reduce
    sums[0] += sign * float(add(term))
    # The even powers by one product each, the odd ones by a scalar product.
    square = x * x
    for m in range(1, _N_TERMS, 2):
        sums[m] += sign * float(term @ x)
        term *= square
        sums[m + 1] += sign * float(add(term))


def _told(lives: Lives, ref: float, solved: _Solved, d: float) -> LifeFit:
    """Give the law with its observed information on mu and log sigma."""
    shape, sums = solved.shape, solved.sums
    below = math.log(sums[0] / d) / shape
    # Sums of z e^z and z^2 e^z, where e^z sums to the failures.
    a1 = d * shape * (sums[1] / sums[0] - below)
    a2 = d * shape**2 * ((sums[2] - 2 * below * sums[1]) / sums[0] + below**2)
    information = ((d * shape**2, a1 * shape), (a1 * shape, d + a2))
    mu = ref + below
    age_sum = solved.event_sum + d * ref
    loglik = d * math.log(shape) + shape * (age_sum - d * mu) - age_sum - d
    return LifeFit(
        "weibull",
        "fitted",
        float(mu),
        1 / shape,
        inverse(information),
        float(loglik),
        lives.n_units,
        d,
        risk_set_of(lives),
    )


def inverse(information: Covariance) -> Covariance:
    """
    Turn an information of two figures into their covariance.

    Parameters
    ----------
    information
        The observed information. [1]

    Returns
    -------
    tuple
        The covariance. [1]
    """
    (a, b), (_, c) = information
    size = a * c - b * b
    return (float(c / size), float(-b / size)), (float(-b / size), float(a / size))
