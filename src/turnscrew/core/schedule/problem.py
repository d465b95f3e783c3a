"""
What is there to plan: which jobs, which people, from when and until when?

Times of a day are counted in ticks from the opening of the workshop, so that a pace of
1.30 stays a whole number. All people begin a day together. A job is not left open over
night: it is begun only where it ends within that person's minutes of the day, and one
of no minutes only on a day on which that person is there. The time a pack then spends
on charge needs no hands, but somebody in the workshop: it counts until the last person
goes home, and a device not charged by then is done the next day somebody is there.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, Decimal

TICKS = 100
"""Ticks to a minute. [1/min]"""

LAST_DAY = 20_000
"""No plan goes beyond this workshop day."""


@dataclass(frozen=True)
class Job:
    """
    Work on one device, done by one person in one go.

    Parameters
    ----------
    name
        Number of the device in its batch.
    kind
        Kind of work: jobs of one kind in a row need no set-up between them.
    minutes
        Standard minutes, hands on. [min]
    rank_day
        Day by which the hand rule orders the jobs.
    due_day
        Day by whose end the device must be done; ``None`` if it can not be late.
    release_day
        First day on which it may begin: parts there, answer there.
    after
        Jobs that must be done before this one begins, as donors must be stripped.
    skills
        Sign-offs its worker must hold.
    charge_minutes
        Time on charge after the work. [min]
    never
        Why it cannot be done at all; empty if it can.
    """

    name: int
    kind: str
    minutes: int
    rank_day: int
    due_day: int | None = None
    release_day: int = 1
    after: tuple[int, ...] = ()
    skills: frozenset[str] = frozenset()
    charge_minutes: int = 0
    never: str = ""


@dataclass(frozen=True)
class Bench:
    """
    One person and their time.

    Parameters
    ----------
    person
        Role of the person.
    minutes_a_day
        Bench minutes of a day. [min]
    pace
        Own minutes to a standard minute. [1]
    skills
        Sign-offs held.
    away
        Days away.
    """

    person: str
    minutes_a_day: int
    pace: Decimal = Decimal(1)
    skills: frozenset[str] = frozenset()
    away: frozenset[int] = frozenset()

    def ticks_on(self, day: int) -> int:
        """
        Give the bench time of a day.

        Parameters
        ----------
        day
            Workshop day.

        Returns
        -------
        int
            Ticks; 0 on a day away.
        """
        return 0 if day in self.away else self.minutes_a_day * TICKS

    def ticks_for(self, job: Job) -> int:
        """
        Give the time this person needs for a job.

        Parameters
        ----------
        job
            The job.

        Returns
        -------
        int
            Ticks, rounded up.
        """
        ticks = job.minutes * TICKS * self.pace
        return int(ticks.to_integral_value(ROUND_CEILING))

    def may_do(self, job: Job) -> bool:
        """
        Say whether this person holds every sign-off a job needs.

        Parameters
        ----------
        job
            The job.

        Returns
        -------
        bool
            True if so.
        """
        return job.skills <= self.skills


@dataclass(frozen=True)
class ScheduleProblem:
    """
    Everything a plan must observe.

    Parameters
    ----------
    jobs
        The jobs.
    benches
        The people; where two are free at once the first is served first.
    taken
        Ticks at the beginning of a day that are spoken for, as for receiving, by
        person and day.
    """

    jobs: tuple[Job, ...]
    benches: tuple[Bench, ...]
    taken: Mapping[tuple[str, int], int] = field(default_factory=dict)

    def taken_on(self, bench: Bench, day: int) -> int:
        """
        Give the ticks at the beginning of a day that are spoken for.

        Parameters
        ----------
        bench
            The person.
        day
            Workshop day.

        Returns
        -------
        int
            Ticks.
        """
        return self.taken.get((bench.person, day), 0)

    def closing_ticks(self, day: int) -> int:
        """
        Give the time at which the last person goes home.

        Parameters
        ----------
        day
            Workshop day.

        Returns
        -------
        int
            Ticks; 0 if nobody is there.
        """
        return max((bench.ticks_on(day) for bench in self.benches), default=0)

    def done_day(self, job: Job, day: int, end_ticks: int) -> int:
        """
        Give the day on which a device is done, charged too.

        Parameters
        ----------
        job
            The job.
        day
            Day on which the work ends.
        end_ticks
            When it ends.

        Returns
        -------
        int
            Workshop day.
        """
        ready = end_ticks + job.charge_minutes * TICKS
        if not job.charge_minutes or ready <= self.closing_ticks(day):
            return day
        later = range(day + 1, LAST_DAY)
        return next((d for d in later if self.closing_ticks(d)), LAST_DAY)

    def impossible(self) -> dict[int, str]:
        """
        Find the jobs nobody can ever do.

        Returns
        -------
        dict[int, str]
            For each such job the constraint it breaks, and by how much.
        """
        found: dict[int, str] = {}
        for job in self.jobs:
            reason = self._reason_against(job)
            if reason:
                found[job.name] = reason
        for _ in self.jobs:
            more = {
                job.name: f"waits for {hit}, which can not be done"
                for job in self.jobs
                if job.name not in found
                for hit in job.after
                if hit in found
            }
            if not more:
                break
            found |= more
        return found

    def _reason_against(self, job: Job) -> str:
        if job.never:
            return job.never
        able = [bench for bench in self.benches if bench.may_do(job)]
        if not able:
            if not job.skills:
                return "nobody works here"
            return "nobody is signed off for " + " and ".join(sorted(job.skills))
        shortest = min(able, key=lambda b: b.ticks_for(job) - b.minutes_a_day * TICKS)
        needed, there = shortest.ticks_for(job), shortest.minutes_a_day * TICKS
        if not there:
            return f"{shortest.person} has no bench minutes"
        if needed > there:
            return (
                f"takes {shortest.person} {needed / TICKS:g} min of a day of "
                f"{there / TICKS:g}: {(needed - there) / TICKS:g} min too long to be "
                f"closed the same day"
            )
        return ""


def receiving(benches: Iterable[Bench], minutes: int) -> dict[tuple[str, int], int]:
    """
    Share the receiving of a batch among everybody who is there.

    Everybody takes the same share, at the standard pace, from the first day on which
    somebody is there, and nobody begins other work before their share is done. Somebody
    away on that day takes none.

    Parameters
    ----------
    benches
        The people.
    minutes
        Standard minutes of the whole batch. [min]

    Returns
    -------
    dict
        Ticks by person and day.
    """
    everybody = [bench for bench in benches if bench.minutes_a_day]
    days = range(1, LAST_DAY)
    first = next((d for d in days if any(b.ticks_on(d) for b in everybody)), 1)
    there = [bench for bench in everybody if bench.ticks_on(first)]
    taken: dict[tuple[str, int], int] = {}
    for index, bench in enumerate(there):
        share = minutes * TICKS // len(there) + (index < minutes * TICKS % len(there))
        for day in days:
            part = min(share, bench.ticks_on(day))
            if part:
                taken[bench.person, day] = part
            share -= part
            if not share:
                break
    return taken
