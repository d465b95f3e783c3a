"""Do the bounds meet figures reckoned by hand, and are they ever above a best plan?"""

from turnscrew.core.schedule import bounds
from turnscrew.core.schedule.alike import classes_in
from turnscrew.core.schedule.bounds import Figures, bound_of
from turnscrew.core.schedule.problem import (
    TICKS,
    Bench,
    Job,
    ScheduleProblem,
    receiving,
)


def bounded(*jobs: Job, benches: tuple[Bench, ...] = (Bench("lead", 100),)) -> Figures:
    problem = ScheduleProblem(jobs, benches)
    return bound_of(problem, classes_in(problem, [job.name for job in jobs]))


def due(name: int, minutes: int, day: int, kind: str = "pack", **more: int) -> Job:
    return Job(name, kind, minutes, day, day, **more)


def test_the_days_late_are_those_of_the_shortest_first() -> None:
    # Ends of 50, 100, 150 ... min on days of 100: days 1, 1, 2, 2, 3, all due on day 1.
    assert Figures(3, 1 + 1 + 2, 1) == bounded(*(due(n, 50, 1) for n in range(5)))


def test_days_late_count_beyond_the_last_due_day_in_full_days() -> None:
    # Two wholes of 100 a day; the third ends on day 3, the fourth on day 4.
    assert Figures(3, 1 + 2 + 3, 1) == bounded(*(due(n, 100, 1) for n in range(4)))


def test_what_is_late_alone_is_late_in_every_plan() -> None:
    late = due(1, 10, 1, release_day=4)
    assert Figures(1, 3, 1) == bounded(late, due(2, 10, 4))
    assert Figures(1, 1, 1) == bounded(due(1, 10, 1, release_day=2))


def test_the_longest_is_left_out_where_a_day_overflows() -> None:
    assert 1 == bounded(due(1, 60, 1), due(2, 30, 1), due(3, 40, 1)).n_late
    assert 0 == bounded(due(1, 60, 1), due(2, 30, 1)).n_late


def test_each_kind_wants_one_set_up() -> None:
    jobs = [due(1, 10, 1, "pack"), due(2, 10, 1, "glass"), due(3, 10, 1, "pack")]
    assert Figures(0, 0, 2) == bounded(*jobs)


def test_a_kind_that_no_one_person_can_do_wants_two_set_ups() -> None:
    benches = (
        Bench("lead", 100, skills=frozenset({"solder"})),
        Bench("helper", 100, skills=frozenset({"glass"})),
    )
    jobs = [
        Job(1, "pack", 10, 1, 1, skills=frozenset({"solder"})),
        Job(2, "pack", 10, 1, 1, skills=frozenset({"glass"})),
    ]
    assert 2 == bounded(*jobs, benches=benches).n_set_ups


def test_of_very_many_jobs_only_the_first_release_is_looked_at(monkeypatch) -> None:
    # On day 2 there is time for one of the two; on both days together for all.
    later = [due(n, 60, 2, release_day=2) for n in range(2)]
    assert 1 == bounded(*later, due(9, 20, 2)).n_late
    monkeypatch.setattr(bounds, "_MANY_JOBS", 2)
    assert 0 == bounded(*later, due(9, 20, 2)).n_late


# --- receiving ------------------------------------------------------------------------


def test_receiving_is_shared_alike_and_what_is_over_goes_to_the_first() -> None:
    three = [Bench(who, 100) for who in ("lead", "helper", "third")]
    taken = receiving(three, 50)
    assert 50 * TICKS == sum(taken.values())
    assert {("lead", 1), ("helper", 1), ("third", 1)} == set(taken)
    assert max(taken.values()) - min(taken.values()) <= 1
    assert taken["lead", 1] == max(taken.values())


def test_receiving_goes_on_the_next_day_where_a_day_is_too_short() -> None:
    assert {
        ("lead", 1): 100 * TICKS, ("lead", 3): 100 * TICKS, ("lead", 4): 10 * TICKS
    } == receiving([Bench("lead", 100, away=frozenset({2}))], 210)  # fmt: skip


def test_who_is_away_on_the_first_day_receives_nothing() -> None:
    away = Bench("helper", 100, away=frozenset({1}))
    assert {("lead", 1): 60 * TICKS} == receiving([Bench("lead", 100), away], 60)


def test_a_day_is_filled_with_whole_jobs_alone() -> None:
    # Days of 100 hold one job of 60 each, so the third ends on day 3 at the earliest.
    assert Figures(2, 1 + 2, 1) == bounded(*(due(n, 60, 1) for n in range(3)))
    # Two of 50 fill a day to its last minute, and one of 51 more does not.
    assert Figures(0, 0, 1) == bounded(due(1, 50, 1), due(2, 50, 1))
    assert Figures(1, 1, 1) == bounded(due(1, 50, 1), due(2, 51, 1))
