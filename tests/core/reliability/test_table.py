import numpy as np
import pytest

from random_lives import generator
from turnscrew.core.reliability.lives import (
    Recurrences,
    counted_lives,
    lives_of,
    recurrences_of,
    rows_told,
)
from turnscrew.core.reliability.table import FleetTable, fleet_table
from turnscrew.errors import BadArgumentError

CAUSES = ("hinge", "pack")


def small() -> FleetTable:
    return fleet_table(
        ["a", "b", "c"],
        [0, 10, 0],
        [50, 60, 70],
        events=[
            (0, 20, "pack", 500), (0, 5, "hinge", 300), (1, 60, "pack", 700),
            (0, 30, "pack", 100),
        ],
        causes=CAUSES,
        model_year=[2019, 2020, 2020],
        site=["north", "south", "south"],
    )  # fmt: skip


def test_it_gives_first_failures_of_any_cause():
    lives = small().first_failures()
    assert [5, 60, 70] == lives.exit.tolist()
    assert [True, True, False] == lives.is_event.tolist()
    assert [0, 10, 0] == lives.entry.tolist()


def test_it_gives_first_failures_of_one_cause():
    lives = small().first_failures("pack")
    assert [20, 60, 70] == lives.exit.tolist()
    assert 2 == lives.n_events


def test_it_names_the_cause_of_the_first_failure():
    lives, cause = small().first_failure_causes()
    assert [0, 1, -1] == cause.tolist()
    assert [5, 60, 70] == lives.exit.tolist()


def test_it_gives_recurrences_with_costs():
    found = small().recurrences("pack", is_by_cost=True)
    assert [0, 1, 0] == found.event_unit.tolist()
    assert [500, 700, 100] == found.event_cost.tolist()
    assert 4 == len(small().recurrences().event_age)


def test_it_gives_a_part_with_its_failures():
    table = small()
    south = table.part(table.site == "south")
    assert ["b", "c"] == south.unit.tolist()
    assert [0] == south.event_unit.tolist()
    assert 1 == south.n_events


def test_it_gives_the_same_lives_however_units_are_ordered():
    rng = generator(4)
    n = 200
    end = rng.uniform(50, 90, n)
    events = [
        (int(u), float(rng.uniform(1, 49)), CAUSES[int(rng.integers(2))], 1)
        for u in rng.integers(0, n, 400)
    ]
    one = fleet_table([str(i) for i in range(n)], [0] * n, end, events=events,
                      causes=CAUSES)  # fmt: skip
    lives = one.first_failures("pack")
    for unit in range(n):
        ages = [age for u, age, cause, _ in events if u == unit and cause == "pack"]
        assert min(ages, default=end[unit]) == lives.exit[unit]
        assert bool(ages) == lives.is_event[unit]


def test_it_refuses_every_bad_row_at_once():
    with pytest.raises(BadArgumentError) as told:
        fleet_table(
            ["a", "b", "c"], [5, -1, 0], [5, 10, 30],
            events=[(2, 40, "pack", 1), (2, 7, "pack", 1), (2, 7, "pack", 1),
                    (9, 1, "pack", 1)],
            causes=CAUSES, weight=[1, 1, 0],
        )  # fmt: skip
    text = str(told.value)
    for words in (
        "row 0: found entry 5 and exit 5, wanted entry below exit",
        "row 1: found entry -1, wanted 0 or more",
        "row 2: found weight 0, wanted above 0",
        "event 0: found age 40, wanted above 0 up to 30",
        "event 2: found unit 2 at age 7, cause 1 again, wanted once",
        "event 3: found unit 9, wanted 0 to 2",
    ):
        assert words in text


def test_it_keeps_repeats_that_are_meant():
    table = fleet_table(["a"], [0], [9], events=[(0, 7, "pack", 1)] * 2, causes=CAUSES,
                        are_repeats_meant=True)  # fmt: skip
    assert 2 == len(table.recurrences().event_age)


@pytest.mark.parametrize(
    ("event", "words"),
    [
        ((0, 7, "lid", 1), "event 0: found cause lid, wanted one of hinge, pack"),
        ((0, 7, "pack", 1.5), "event 0: found cost 1.5, wanted whole minor units"),
        ((0, 9.5, "pack", 1), "event 0: found age 9.5, wanted above 2 up to 9"),
        ((0, 2, "pack", 1), "event 0: found age 2, wanted above 2 up to 9"),
        ((0, float("nan"), "pack", 1), "event 0: found age nan"),
    ],
)
def test_it_refuses_a_bad_event(event, words):
    with pytest.raises(BadArgumentError, match=words):
        fleet_table(["a"], [2], [9], events=[event], causes=CAUSES)


def test_it_refuses_a_cause_it_does_not_know():
    with pytest.raises(BadArgumentError, match="found lid"):
        small().first_failures("lid")


def test_it_refuses_flags_of_another_length():
    with pytest.raises(BadArgumentError, match="wanted \\(3,\\)"):
        small().part(np.array([True]))


def test_it_refuses_columns_of_other_lengths():
    with pytest.raises(BadArgumentError, match="entry_age"):
        fleet_table(["a", "b"], [0], [9, 9], causes=CAUSES)
    with pytest.raises(BadArgumentError, match="wanted \\(2,\\)"):
        lives_of([1, 2], [1])
    with pytest.raises(BadArgumentError, match="wanted \\(1,\\)"):
        recurrences_of([[1.0]], [3], cost=[[1.0, 2.0]])


def test_it_refuses_causes_that_have_no_place():
    table = small()
    with pytest.raises(BadArgumentError, match="event 1: found cause 7, wanted 0 to 1"):
        FleetTable(**{
            **{name: getattr(table, name) for name in table.__dataclass_fields__},
            "event_cause": np.array([1, 7, 1, 1]),
        })  # fmt: skip


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: lives_of([1, -2]), "row 1: found exit -2, wanted above 0"),
        (lambda: lives_of([1, 2], [1, 3]), "row 1: found event 3, wanted 0 or 1"),
        (lambda: lives_of([1, float("inf")]), "row 1: found exit inf"),
        (lambda: lives_of([5.0], entry=[float("nan")]), "row 0: found entry nan"),
        (lambda: counted_lives([[1, 1]]), "row 0: found other than 3 numbers"),
        (lambda: counted_lives([[1, 1, -2]]), "row 0: found weight -2"),
        (
            lambda: recurrences_of([[1.0]], [2], cost=[[float("nan")]]),
            "event 0: found cost nan",
        ),
        (
            lambda: Recurrences(np.empty(0), np.array([0]), np.array([1.0])),
            "event 0: found unit 0",
        ),
    ],
)
def test_it_refuses_bad_columns(make, words):
    with pytest.raises(BadArgumentError, match=words):
        make()


def test_it_tells_no_end_of_bad_rows():
    told = rows_told(np.ones(130, bool), "row {row}", [])
    assert 101 == len(told)
    assert "and 30 more such rows" == told[-1]


def test_it_counts_units_with_their_weights():
    lives = counted_lives([[1, 1, 2], [2, 0, 5]])
    assert (7, 2, 2) == (lives.n_units, lives.n_events, lives.n_rows)
    assert 4 == recurrences_of([[], []], [1, 2], weight=[1, 3]).n_units
    assert 2 == recurrences_of([[], []], [1, 2]).n_units
