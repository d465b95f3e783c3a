"""What does an open record of repairs say, and what does it not?"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from turnscrew.core.model.repair_record import (
    STATUSES,
    Barrier,
    RepairRecord,
    RepairStatus,
)
from turnscrew.core.reliability.shares import (
    ShareLimits,
    dirichlet_prior,
    share_limits,
)

PSEUDO_CASES = 30.0
"""Weight of shares counted elsewhere in own cases: a choice, no source. [1]"""

NOT_SORTED = frozenset({"", "Unknown", "Poor data"})
"""Sorts of fault that say that nobody could tell."""

AGE_BANDS = (0.0, 2.0, 4.0, 6.0, 8.0)
"""Where bands of age begin; a band holds its end. [years]"""

AGE_QUANTILES = (0.1, 0.25, 0.5, 0.75, 0.9)
"""Shares of devices younger than the ages shown. [1]"""

NO_RATES = (
    "No rates: nobody knows how many devices were not brought in, so counts and shares "
    "are all there is."
)


@dataclass(frozen=True)
class Outcomes:
    """
    What came of the repairs of some devices.

    Parameters
    ----------
    what
        Which devices.
    n
        Rows. [1]
    counts
        Rows by status, those not known among them. [1]
    shares
        Shares of the known outcomes, with limits.
    """

    what: str
    n: int
    counts: dict[RepairStatus, int]
    shares: dict[RepairStatus, ShareLimits]


@dataclass(frozen=True)
class Ages:
    """
    How old the devices of one category were.

    Parameters
    ----------
    what
        The category.
    n
        Rows with an age. [1]
    n_without
        Rows without one. [1]
    mean_years
        Mean; ``None`` of none. [years]
    quantiles_years
        Ages below which the shares of ``AGE_QUANTILES`` lie. [years]
    """

    what: str
    n: int
    n_without: int
    mean_years: float | None
    quantiles_years: tuple[float, ...]


@dataclass(frozen=True)
class Faults:
    """
    Which sorts of fault one category had.

    Parameters
    ----------
    what
        The category.
    n
        Rows whose sort of fault is known. [1]
    n_unknown
        Rows somebody read and could not tell. [1]
    n_unread
        Rows nobody read. [1]
    shares
        Share of each sort, the most frequent first.
    prior
        The same as a Dirichlet prior of ``pseudo_cases``. [1]
    pseudo_cases
        Its weight in own cases. [1]
    """

    what: str
    n: int
    n_unknown: int
    n_unread: int
    shares: dict[str, ShareLimits]
    prior: dict[str, float]
    pseudo_cases: float


@dataclass(frozen=True)
class OpenRecordAnswer:
    """
    What an open record of repairs says.

    Parameters
    ----------
    n
        Rows. [1]
    outcomes
        By category.
    outcomes_by_age
        By category and band of age.
    ages
        By category.
    faults
        By category, those of which somebody sorted the faults.
    barriers
        Why devices came to their end, by category. [1]
    limits
        What the record cannot say.
    """

    n: int
    outcomes: tuple[Outcomes, ...]
    outcomes_by_age: tuple[Outcomes, ...]
    ages: tuple[Ages, ...]
    faults: tuple[Faults, ...]
    barriers: dict[str, dict[Barrier, int]]
    limits: tuple[str, ...] = (NO_RATES,)


def told_by_open_record(
    records: Sequence[RepairRecord],
    *,
    confidence: float = 0.9,
    pseudo_cases: float = PSEUDO_CASES,
) -> OpenRecordAnswer:
    """
    Count an open record of repairs.

    Parameters
    ----------
    records
        The repairs.
    confidence
        How sure limits of shares are. [1]
    pseudo_cases
        Weight of the priors in own cases. [1]

    Returns
    -------
    OpenRecordAnswer
        Tables by category, the largest first.
    """
    by_category: dict[str, list[RepairRecord]] = {}
    for record in records:
        by_category.setdefault(record.category, []).append(record)
    whole = sorted(by_category.items(), key=lambda one: (-len(one[1]), one[0]))
    outcomes_by_age = [
        _outcomes(f"{name}, {band}", some, confidence)
        for name, rows in whole
        for band, some in _by_age(rows)
    ]
    faults = [_faults(name, rows, confidence, pseudo_cases) for name, rows in whole]
    return OpenRecordAnswer(
        n=len(records),
        outcomes=tuple(_outcomes(name, rows, confidence) for name, rows in whole),
        outcomes_by_age=tuple(outcomes_by_age),
        ages=tuple(_ages(name, rows) for name, rows in whole),
        faults=tuple(one for one in faults if one.n),
        barriers={
            name: dict(Counter(r.barrier for r in rows if r.barrier is not None))
            for name, rows in whole
        },
    )


def _outcomes(what: str, rows: Sequence[RepairRecord], confidence: float) -> Outcomes:
    counts = Counter(record.status for record in rows)
    known = [status for status in STATUSES if status != "Unknown"]
    n_known = sum(counts[status] for status in known)
    return Outcomes(
        what=what,
        n=len(rows),
        counts={status: counts[status] for status in STATUSES},
        shares={
            status: share_limits(counts[status], n_known, confidence=confidence)
            for status in known
        },
    )


def _by_age(
    rows: Iterable[RepairRecord],
) -> Iterable[tuple[str, list[RepairRecord]]]:
    """Sort rows into bands of age; a band holds its end."""
    bands: dict[float, list[RepairRecord]] = {start: [] for start in AGE_BANDS}
    for record in rows:
        if record.age_years is not None:
            starts = [start for start in AGE_BANDS if record.age_years > start]
            bands[starts[-1] if starts else AGE_BANDS[0]].append(record)
    for index, start in enumerate(AGE_BANDS):
        is_last = index + 1 == len(AGE_BANDS)
        end = "" if is_last else f" to {AGE_BANDS[index + 1]:g}"
        yield f"{'over ' if index else ''}{start:g}{end} years", bands[start]


def _ages(what: str, rows: Sequence[RepairRecord]) -> Ages:
    known = np.array([r.age_years for r in rows if r.age_years is not None])
    if not known.size:
        return Ages(what, 0, len(rows), None, ())
    quantiles = np.quantile(known, AGE_QUANTILES)
    return Ages(
        what, len(known), len(rows) - len(known), float(known.mean()),
        tuple(float(one) for one in quantiles),
    )  # fmt: skip


def _faults(
    what: str, rows: Sequence[RepairRecord], confidence: float, pseudo_cases: float
) -> Faults:
    counts = Counter(record.fault for record in rows)
    sorted_out = {
        fault: n
        for fault, n in sorted(counts.items(), key=lambda one: (-one[1], one[0]))
        if fault not in NOT_SORTED
    }
    n = sum(sorted_out.values())
    return Faults(
        what=what,
        n=n,
        n_unknown=sum(counts[fault] for fault in NOT_SORTED - {""}),
        n_unread=counts[""],
        shares={
            fault: share_limits(k, n, confidence=confidence)
            for fault, k in sorted_out.items()
        },
        prior=dirichlet_prior(sorted_out, pseudo_cases=pseudo_cases) if n else {},
        pseudo_cases=pseudo_cases,
    )


def sign_counts(
    records: Iterable[RepairRecord],
) -> dict[tuple[str, str], dict[str, int]]:
    """
    Count the signs beside each sort of fault.

    Parameters
    ----------
    records
        The repairs.

    Returns
    -------
    dict
        For category and sort of fault: rows with each sign, and under "" all rows. [1]
    """
    counts: dict[tuple[str, str], Counter[str]] = {}
    for record in records:
        if record.fault in NOT_SORTED:
            continue
        of = counts.setdefault((record.category, record.fault), Counter())
        of[""] += 1
        of.update(record.signs)
    return {key: dict(of) for key, of in counts.items()}
