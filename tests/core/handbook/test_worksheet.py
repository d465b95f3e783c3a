"""How long does a row of work take, and what does it cost?"""

from fractions import Fraction

import pytest

from turnscrew.core.handbook.worksheet import (
    WorkRow,
    assembly_index,
    labour_minor,
    refit_ratio,
    row_s,
    service_efficiency,
    service_s,
    strip_s,
    tmu_s,
)
from turnscrew.core.model.times import ELEMENTS, REFIT_PER_STRIP
from turnscrew.errors import BadArgumentError


def test_it_agrees_with_the_default_element_times() -> None:
    """A row of plain screws is the tool and so many screws."""
    row = WorkRow("screws", 3, 4.2, 8.0, 1.4)
    wanted_s = ELEMENTS["tool"].strip_s + 3 * ELEMENTS["screw"].strip_s

    assert pytest.approx(wanted_s) == row_s(row)


def test_it_takes_the_published_ratio_if_only_the_way_out_was_timed() -> None:
    """One pair of totals stands behind it."""
    assert pytest.approx(100 * (1 + REFIT_PER_STRIP)) == service_s(100)
    assert 150 == service_s(100, 50)
    assert pytest.approx(REFIT_PER_STRIP, abs=5e-4) == refit_ratio(104.3, 130.9)


def test_it_counts_money_exactly() -> None:
    """A third of a minor unit stays a third."""
    assert Fraction(1, 3) == labour_minor(1.0, 1200)
    assert Fraction(3000) == labour_minor(3600, 3000)
    assert 0 == labour_minor(0, 3000)


def test_it_reads_a_second_worksheet() -> None:
    """The other assembly table: 204.14 s and an index of 0.0882 for six parts."""
    assert pytest.approx(0.0882, abs=5e-5) == assembly_index(204.14, 6)


def test_it_adds_nothing_up_to_nothing() -> None:
    """No rows take no time, no units no time."""
    assert 0 == strip_s([])
    assert 0 == tmu_s(0)


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: WorkRow("none", 0, 0, 1), "n: found 0"),
        (lambda: WorkRow("back", 1, 0, -1), "operation_s: found -1"),
        (lambda: service_s(-1), "strip_s: found -1"),
        (lambda: service_s(1, -1), "refit_s: found -1"),
        (lambda: refit_ratio(0, 1), "strip_s: found 0"),
        (lambda: refit_ratio(1, -1), "refit_s: found -1"),
        (lambda: labour_minor(-1, 1), "time_s: found -1"),
        (lambda: labour_minor(1, -1), "rate_minor_per_h: found -1"),
        (lambda: service_efficiency(-1, 1, 1), "ideal_s: found -1"),
        (lambda: service_efficiency(9, 0, 1), "n_parts: found 0"),
        (lambda: service_efficiency(9, 1, 0), "service_s: found 0"),
        (lambda: assembly_index(0, 1), "total_s: found 0"),
        (lambda: assembly_index(1, 0), "n_parts: found 0"),
        (lambda: tmu_s(-1), "n_tmu: found -1"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """Nothing is divided by zero."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
