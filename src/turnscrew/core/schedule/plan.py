"""What does a plan say: who does which job when, and what comes too late?"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from turnscrew.core.schedule.problem import TICKS, Bench, ScheduleProblem


@dataclass(frozen=True)
class Slot:
    """
    One job in its place.

    Parameters
    ----------
    person
        Who does it.
    job
        Number of the device.
    day
        Workshop day.
    start_ticks
        Beginning, from the opening of the workshop. [ticks]
    end_ticks
        End. [ticks]
    done_day
        Day on which the device is done, charged too.
    """

    person: str
    job: int
    day: int
    start_ticks: int
    end_ticks: int
    done_day: int

    @property
    def minutes(self) -> int:
        """
        Give how long that person takes for it.

        Returns
        -------
        int
            Whole minutes of that person, not the standard ones. [min]
        """
        return round((self.end_ticks - self.start_ticks) / TICKS)


@dataclass(frozen=True)
class Plan:
    """
    A whole plan.

    Parameters
    ----------
    slots
        The jobs in their places, by day, time and person.
    impossible
        Jobs nobody can do, each with the reason.
    """

    slots: tuple[Slot, ...]
    impossible: Mapping[int, str] = field(default_factory=dict)

    @property
    def last_day(self) -> int:
        """
        Give the day on which the last job is done.

        Returns
        -------
        int
            Workshop day; 0 if there is no job.
        """
        return max((slot.done_day for slot in self.slots), default=0)

    def late(self, problem: ScheduleProblem) -> dict[int, int]:
        """
        Give the tardiness of each device that is late.

        Parameters
        ----------
        problem
            The problem planned.

        Returns
        -------
        dict[int, int]
            Days late, by device. [days]
        """
        done = {slot.job: slot.done_day for slot in self.slots}
        return {
            job.name: done[job.name] - job.due_day
            for job in problem.jobs
            if job.due_day is not None and done.get(job.name, 0) > job.due_day
        }

    def clock_ticks(self, problem: ScheduleProblem) -> dict[str, int]:
        """
        Give everybody's time at work, with what was spoken for and without waiting.

        Parameters
        ----------
        problem
            The problem planned.

        Returns
        -------
        dict[str, int]
            Ticks by person.
        """
        worked = {bench.person: 0 for bench in problem.benches}
        for (person, _), ticks in problem.taken.items():
            worked[person] += ticks
        for slot in self.slots:
            worked[slot.person] += slot.end_ticks - slot.start_ticks
        return worked

    def n_set_ups(self, problem: ScheduleProblem) -> int:
        """
        Count how often somebody goes over to another kind of job.

        Parameters
        ----------
        problem
            The problem planned.

        Returns
        -------
        int
            Number of set-ups, each person's first job among them.
        """
        kinds = {job.name: job.kind for job in problem.jobs}
        return sum(
            before != after
            for bench in problem.benches
            for before, after in _changes(self, bench, kinds)
        )


def minutes(ticks: int) -> float:
    """
    Give ticks in minutes.

    Parameters
    ----------
    ticks
        The ticks.

    Returns
    -------
    float
        Minutes. [min]
    """
    return ticks / TICKS


def _changes(
    plan: Plan, bench: Bench, kinds: Mapping[int, str]
) -> Iterator[tuple[str, str]]:
    last = ""
    for slot in plan.slots:
        if slot.person == bench.person:
            yield last, kinds[slot.job]
            last = kinds[slot.job]
