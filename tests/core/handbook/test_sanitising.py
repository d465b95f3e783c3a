"""Which grade of sanitising does a medium want?"""

from itertools import product

import pytest

from turnscrew.core.handbook.sanitising import Medium, grade_for


@pytest.mark.parametrize(
    ("stays", "works", "is_reused"), list(product((True, False), repeat=3))
)
def test_it_gives_a_grade_to_every_medium(stays, works, is_reused) -> None:
    """Only a good medium that is used again is spared; it is cleared only at home."""
    grade = grade_for(Medium(stays=stays, works=works, is_reused=is_reused))

    assert ("destroy" != grade.name) is (works and is_reused)
    assert ("clear" == grade.name) is (works and is_reused and stays)
    assert grade.why
    assert "Verify" in grade.then
