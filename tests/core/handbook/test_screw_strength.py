"""What does a small steel screw bear?"""

import pytest

from turnscrew.core.handbook.screw_strength import (
    CLASSES,
    TENSILE_MIN_MPA,
    breaking_torque_nm,
    strength_of,
    stress_area_mm2,
    tensile_load_n,
)
from turnscrew.core.model.fastener import Thread
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(("name", "area_mm2"), [("M1.2", 0.732), ("M1.4", 0.983)])
def test_it_gives_the_areas_below_the_published_table(name, area_mm2) -> None:
    """Worked by hand; the table begins at M1.6."""
    assert pytest.approx(area_mm2, abs=5e-4) == stress_area_mm2(Thread.from_text(name))


@pytest.mark.parametrize("name", CLASSES)
def test_it_never_takes_less_than_the_nominal_strength(name) -> None:
    """The smallest strength of a class is at least its nominal one."""
    strength = strength_of(name)

    assert strength.yield_mpa < strength.tensile_mpa <= tensile_load_n(1, name)
    assert tensile_load_n(1, name) <= 1.05 * strength.tensile_mpa
    assert name in TENSILE_MIN_MPA or tensile_load_n(1, name) == strength.tensile_mpa


# Minimum values of ISO 898-7 for class 8.8, from memory.
@pytest.mark.parametrize(
    ("name", "memory_nm"), [("M1.6", 0.16), ("M2", 0.37), ("M2.5", 0.82), ("M3", 1.5)]
)
def test_it_breaks_near_the_remembered_values(name, memory_nm) -> None:
    """The formula gives 3 to 7 % more than the rounded table."""
    found_nm = breaking_torque_nm(Thread.from_text(name))

    assert memory_nm < found_nm < 1.08 * memory_nm


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: strength_of("9.9"), "property_class: found 9.9, wanted one of 4.6"),
        (lambda: tensile_load_n(0, "8.8"), "area_mm2: found 0"),
        (lambda: tensile_load_n(5, "x"), "property_class: found x"),
        (lambda: breaking_torque_nm(Thread(1.4, 0.3)), "thread: found M1.4x0.3"),
        (lambda: breaking_torque_nm(Thread(2, 0.4), "9.8"), "property_class: found 9"),
        (
            lambda: breaking_torque_nm(Thread(2, 0.9, is_forming=True)),
            "thread: found forming 2x0.9",
        ),
    ],
)
def test_it_refuses_what_the_tables_lack(reckon, words) -> None:
    """No figure is guessed."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()


# Minimum values of ISO 898-7 for classes 10.9 and 12.9, from memory.
@pytest.mark.parametrize(
    ("name", "hardness", "memory_nm"),
    [("M2", "10.9", 0.45), ("M2", "12.9", 0.50), ("M3", "10.9", 1.9),
     ("M3", "12.9", 2.1), ("M1.6", "10.9", 0.20), ("M1.6", "12.9", 0.22)],
)  # fmt: skip
def test_harder_screws_break_near_the_remembered_values(
    name, hardness, memory_nm
) -> None:
    found_nm = breaking_torque_nm(Thread.from_text(name), hardness)

    assert memory_nm < found_nm < 1.08 * memory_nm


def test_it_knows_the_coarse_pitch_alone() -> None:
    with pytest.raises(BadArgumentError, match=r"wanted a pitch of 0.5 mm"):
        breaking_torque_nm(Thread(3.0, 0.35))
