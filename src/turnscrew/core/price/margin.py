"""
What does each kind of job earn?

Profit = revenue - parts - labour at true minutes - rework. A job of which one of them
is not known is left out and counted: taken as zero, a missing cost would be a profit.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction

from turnscrew.core.model.wanted import refuse, unlike
from turnscrew.core.price.money import half_up

N_WORST = 3
"""Kinds shown as the worst; a choice of the workshop's. [1]"""

Key = tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class JobMoney:
    """
    What is known of the money of one job.

    Parameters
    ----------
    model
        Model of the device.
    fault
        Fault mended; several are one fault of their own.
    customer
        Whose device it is.
    revenue_minor
        What was charged before tax; ``None`` if not known. [minor units]
    parts_minor
        Cost of the parts used; ``None`` if not known. [minor units]
    minutes
        True minutes of hands; ``None`` if not known. [min]
    rework_minor
        Parts and labour of its comebacks that were free; 0 without any, ``None`` if
        there is one of which they are not known. [minor units]
    is_agreed
        Whether a price was agreed, where its revenue is not known.
    """

    model: str
    fault: str
    customer: str
    revenue_minor: int | None
    parts_minor: int | None
    minutes: float | None
    rework_minor: int | None = 0
    is_agreed: bool = True

    def __post_init__(self) -> None:
        """Refuse costs below 0 and what is no amount."""
        told = [
            unlike(name, value, least=0, is_whole=name != "minutes")
            for name, value in (
                ("parts_minor", self.parts_minor),
                ("minutes", self.minutes),
                ("rework_minor", self.rework_minor),
            )
            if value is not None
        ]
        if self.revenue_minor is not None:
            told.append(unlike("revenue_minor", self.revenue_minor, is_whole=True))
        refuse(*told)

    @property
    def missing(self) -> tuple[str, ...]:
        """
        Name what is not known.

        Returns
        -------
        tuple[str, ...]
            Words; empty if the job can be reckoned.
        """
        told = {
            "revenue" if self.is_agreed else "an agreed quote": self.revenue_minor,
            "cost of parts": self.parts_minor,
            "minutes": self.minutes,
            "cost of a comeback": self.rework_minor,
        }
        return tuple(name for name, value in told.items() if value is None)


@dataclass(frozen=True)
class Earned:
    """
    What the jobs of one kind earned together.

    Parameters
    ----------
    key
        The kind.
    n
        Jobs reckoned. [1]
    n_left_out
        Jobs left out as something is not known. [1]
    revenue_minor
        Revenue before tax. [minor units]
    parts_minor
        Cost of parts. [minor units]
    labour_minor
        Cost of the minutes, rounded job by job. [minor units]
    rework_minor
        Cost of free comebacks. [minor units]
    """

    key: Key
    n: int
    n_left_out: int
    revenue_minor: int
    parts_minor: int
    labour_minor: int
    rework_minor: int

    @property
    def profit_minor(self) -> int:
        """
        Give the profit of all of them.

        Returns
        -------
        int
            The profit; below 0 a loss. [minor units]
        """
        costs = self.parts_minor + self.labour_minor + self.rework_minor
        return self.revenue_minor - costs

    @property
    def profit_each_minor(self) -> float | None:
        """
        Give the mean profit of a job.

        Returns
        -------
        float or None
            The mean, a float; ``None`` if every job was left out. [minor units]
        """
        return self.profit_minor / self.n if self.n else None


@dataclass(frozen=True)
class Earnings:
    """
    What work earns, kind by kind.

    Parameters
    ----------
    rows
        Least profit a job first, those without a job reckoned last.
    missing
        How many jobs lack what; a job that lacks two things counts in both.
    """

    rows: tuple[Earned, ...]
    missing: tuple[tuple[str, int], ...]

    @property
    def worst(self) -> tuple[Earned, ...]:
        """
        Give the kinds that earn least a job.

        Returns
        -------
        tuple[Earned, ...]
            Three, or as many as can be reckoned, the worst first.
        """
        return tuple(row for row in self.rows if row.n)[:N_WORST]

    @property
    def others(self) -> tuple[Earned, ...]:
        """
        Give the kinds that are not among the worst.

        Returns
        -------
        tuple[Earned, ...]
            The rest of the rows.
        """
        return self.rows[len(self.worst) :]

    @property
    def n(self) -> int:
        """
        Count the jobs reckoned.

        Returns
        -------
        int
            Jobs. [1]
        """
        return sum(row.n for row in self.rows)

    @property
    def n_left_out(self) -> int:
        """
        Count the jobs left out.

        Returns
        -------
        int
            Jobs. [1]
        """
        return sum(row.n_left_out for row in self.rows)

    @property
    def n_jobs(self) -> int:
        """
        Count all jobs.

        Returns
        -------
        int
            Jobs reckoned and left out. [1]
        """
        return self.n + self.n_left_out


def by_kind(job: JobMoney) -> Key:
    """
    Give model and fault of a job.

    Parameters
    ----------
    job
        The job.

    Returns
    -------
    tuple[str, ...]
        Model, then fault.
    """
    return job.model, job.fault


def by_model(job: JobMoney) -> Key:
    """
    Give the model of a job.

    Parameters
    ----------
    job
        The job.

    Returns
    -------
    tuple[str, ...]
        The model.
    """
    return (job.model,)


def by_fault(job: JobMoney) -> Key:
    """
    Give the fault of a job.

    Parameters
    ----------
    job
        The job.

    Returns
    -------
    tuple[str, ...]
        The fault.
    """
    return (job.fault,)


def by_customer(job: JobMoney) -> Key:
    """
    Give the customer of a job.

    Parameters
    ----------
    job
        The job.

    Returns
    -------
    tuple[str, ...]
        The customer.
    """
    return (job.customer,)


def labour_cost_minor(minutes: float, hour_minor: int) -> int:
    """
    Give the cost of some true minutes.

    Parameters
    ----------
    minutes
        True minutes of hands. [min]
    hour_minor
        Cost of an hour. [minor units]

    Returns
    -------
    int
        The cost, a half rounded up. [minor units]

    Raises
    ------
    BadArgumentError
        If a figure is below 0 or the cost is not whole.
    """
    refuse(
        unlike("minutes", minutes, least=0),
        unlike("hour_minor", hour_minor, least=0, is_whole=True),
    )
    return half_up(Fraction(minutes) * hour_minor / 60)


def earnings(
    jobs: Iterable[JobMoney], hour_minor: int, key: Callable[[JobMoney], Key] = by_kind
) -> Earnings:
    """
    Add up what the jobs of each kind earned.

    Parameters
    ----------
    jobs
        The jobs, without those that came back free: they are rework of another.
    hour_minor
        Cost of an hour of hands. [minor units]
    key
        What makes a kind.

    Returns
    -------
    Earnings
        The kinds, the worst first.

    Raises
    ------
    BadArgumentError
        If the cost of an hour is below 0 or not whole.
    """
    refuse(unlike("hour_minor", hour_minor, least=0, is_whole=True))
    listed = list(jobs)
    groups: dict[Key, list[JobMoney]] = defaultdict(list)
    for job in listed:
        groups[key(job)].append(job)
    rows = [_earned(of, group, hour_minor) for of, group in groups.items()]
    missing = Counter(what for job in listed for what in job.missing)
    return Earnings(tuple(sorted(rows, key=_order)), tuple(missing.most_common()))


def _earned(key: Key, jobs: list[JobMoney], hour_minor: int) -> Earned:
    whole = [job for job in jobs if not job.missing]
    return Earned(
        key=key,
        n=len(whole),
        n_left_out=len(jobs) - len(whole),
        revenue_minor=sum(job.revenue_minor or 0 for job in whole),
        parts_minor=sum(job.parts_minor or 0 for job in whole),
        labour_minor=sum(
            labour_cost_minor(job.minutes or 0.0, hour_minor) for job in whole
        ),
        rework_minor=sum(job.rework_minor or 0 for job in whole),
    )


def _order(row: Earned) -> tuple[bool, float, int, Key]:
    each = row.profit_each_minor
    # Of two kinds with one profit a job, a loss is the worse the more there are of it.
    return each is None, each or 0.0, row.profit_minor, row.key
