"""
Small random batches to plan, the same for the same seed.

The draws come in a fixed order; a change here changes every batch.
"""

import random
from dataclasses import replace
from decimal import Decimal

from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem

PEOPLE = ("lead", "helper", "trainee")
SKILLS = ("board", "pack")


def random_schedule(
    rng: random.Random, n_jobs: int, n_people: int = 3
) -> ScheduleProblem:
    """
    Draw one batch of at most n_jobs jobs.

    Now and then a job can not be done by anybody; that is wanted.
    """
    benches = tuple(
        draw_bench(rng, person) for person in PEOPLE[: rng.randint(1, n_people)]
    )
    kinds = [draw_kind(rng, index) for index in range(rng.randint(1, 4))]
    jobs: list[Job] = []
    for name in range(1, rng.randint(1, n_jobs) + 1):
        kind, minutes, skills, charge = rng.choice(kinds)
        due = rng.choice((None, 1, 2, 2, 3, 4, 6))
        jobs.append(
            Job(
                name=name,
                kind=kind,
                minutes=minutes if rng.random() < 0.8 else rng.randint(1, 12),
                rank_day=due or 9,
                due_day=due,
                release_day=rng.choice((1, 1, 1, 2, 3)),
                after=draw_after(rng, jobs),
                skills=skills,
                charge_minutes=charge,
            )
        )
    rng.shuffle(jobs)
    return ScheduleProblem(tuple(jobs), benches, draw_taken(rng, benches))


def with_no_time(rng: random.Random, problem: ScheduleProblem) -> ScheduleProblem:
    """
    Draw jobs that take no minutes, and now and then somebody who has none.

    Who is there has none only where another has some.
    """
    first, *others = problem.benches
    return replace(
        problem,
        jobs=tuple(
            replace(job, minutes=0) if rng.random() < 0.4 else job
            for job in problem.jobs
        ),
        benches=(
            replace(first, minutes_a_day=0) if others and rng.random() < 0.1 else first,
            *others,
        ),
    )


def draw_bench(rng: random.Random, person: str) -> Bench:
    return Bench(
        person=person,
        minutes_a_day=rng.choice((10, 12, 12, 15)),
        pace=rng.choice((Decimal(1), Decimal(1), Decimal("1.3"), Decimal("0.85"))),
        skills=frozenset(s for s in SKILLS if rng.random() < 0.75),
        away=frozenset(d for d in range(1, 6) if rng.random() < 0.15),
    )


def draw_kind(rng: random.Random, index: int) -> tuple[str, int, frozenset[str], int]:
    skills = frozenset(s for s in SKILLS if rng.random() < 0.15)
    charge = rng.choice((0, 0, 0, 2, 4, 8))
    return f"kind {index}", rng.randint(1, 11), skills, charge


def draw_after(rng: random.Random, earlier: list[Job]) -> tuple[int, ...]:
    if not earlier or rng.random() < 0.75:
        return ()
    chosen = rng.sample(earlier, min(len(earlier), rng.choice((1, 1, 2))))
    return tuple(sorted(job.name for job in chosen))


def draw_taken(
    rng: random.Random, benches: tuple[Bench, ...]
) -> dict[tuple[str, int], int]:
    return {
        (bench.person, day): rng.randint(1, 600)
        for bench in benches
        for day in (1, 2)
        if rng.random() < 0.3
    }
