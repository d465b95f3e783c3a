"""Are the units that stand in two parts of a fleet found, and no others?"""

import random

import numpy as np
import pytest

from turnscrew.core.reliability.table import FleetTable, fleet_table
from turnscrew.flows.fleet import twice
from turnscrew.flows.fleet.twice import units_in_two


def of(*units: str) -> FleetTable:
    return fleet_table(list(units), [0] * len(units), [100.0] * len(units), causes=[])


def test_it_finds_a_unit_of_one_model_in_two_parts() -> None:
    parts = [{"V80": of("A", "B")}, {"V80": of("C")}, {"T5": of("A"), "V80": of("B")}]

    assert (("B", 0, 2),) == units_in_two(parts)


def test_a_model_in_another_case_is_no_other_model() -> None:
    parts = [{"V80": of("A")}, {"v80": of("A"), "T5": of("A")}]

    assert (("A", 0, 1),) == units_in_two(parts)


def test_the_same_part_twice_has_all_its_units_in_two() -> None:
    part = {"V80": of("A", "B")}

    assert (("A", 0, 1), ("B", 0, 1)) == units_in_two([part, part])


def test_there_is_none_in_one_part_and_none_without_parts() -> None:
    assert () == units_in_two([{"V80": of("A", "B"), "T5": of("A", "B")}])
    assert () == units_in_two([])


@pytest.mark.parametrize("is_blind", [False, True])
def test_it_finds_what_plain_loops_find(monkeypatch, is_blind) -> None:
    """Also where all marks are the same, as two may be by chance."""
    if is_blind:
        monkeypatch.setattr(
            twice,
            "_marks",
            lambda part: np.zeros(sum(len(t.unit) for t in part.values()), np.uint64),
        )
    rng = random.Random(1)
    for _ in range(100):
        names = [[f"{rng.randint(0, 30)}" for _ in range(8)] for _ in range(3)]
        parts = [{"V80": of(*dict.fromkeys(some))} for some in names]
        expected = [
            (unit, min(k for k in range(at) if unit in names[k]), at)
            for at in range(3)
            for unit in dict.fromkeys(names[at])
            if any(unit in names[k] for k in range(at))
        ]

        assert tuple(expected) == units_in_two(parts)
