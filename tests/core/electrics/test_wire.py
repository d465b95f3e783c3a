"""How thick is a gauge, and how much voltage does a lead take?"""

import pytest

from turnscrew.core.electrics.wire import (
    gauge_diameter_mm,
    lead_drop_v,
    ohm_per_m,
    section_mm2,
    thickening,
    warm_ratio,
)
from turnscrew.errors import BadArgumentError

# Gauge chart read on a web page, ohm per metre at 20 degrees.
CHART = {18: 0.0210, 20: 0.0333, 22: 0.0530, 24: 0.0842, 26: 0.134, 28: 0.213}


@pytest.mark.parametrize(("gauge", "chart_ohm"), CHART.items())
def test_it_meets_the_gauge_chart(gauge, chart_ohm) -> None:
    """Within half a per cent; the chart is rounded to three digits."""
    assert pytest.approx(chart_ohm, rel=0.005) == ohm_per_m(
        section_mm2(gauge_diameter_mm(gauge))
    )


def test_it_gives_both_ends_that_define_the_gauges() -> None:
    """Gauge 36 is 0.127 mm and gauge 4/0 is 11.684 mm by definition."""
    assert pytest.approx(0.127) == gauge_diameter_mm(36)
    assert pytest.approx(11.684) == gauge_diameter_mm(-3)


def test_it_thickens_by_steps_as_the_gauges_do() -> None:
    """The ratio of two gauges is that of the steps between them."""
    ratio = gauge_diameter_mm(18) / gauge_diameter_mm(24)

    assert pytest.approx(ratio) == thickening(6)
    assert 1 == pytest.approx(thickening(0))


def test_it_counts_both_conductors() -> None:
    """A lead of 1.8 m has 3.6 m of wire."""
    each_ohm = ohm_per_m(section_mm2(gauge_diameter_mm(18)))

    assert pytest.approx(3.6 * each_ohm * 4.74) == lead_drop_v(18, 1.8, 4.74)


def test_it_is_one_at_twenty_degrees() -> None:
    """The ratio is counted from 20 degrees."""
    assert 1.0 == warm_ratio(20)
    assert warm_ratio(-60) < 1 < warm_ratio(250)


def test_it_takes_nothing_without_current_or_length() -> None:
    """Zero is a length and a current too."""
    assert 0 == lead_drop_v(18, 0, 4.74)
    assert 0 == lead_drop_v(18, 1.8, 0)


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (
            lambda: gauge_diameter_mm(-4),
            "gauge: found -4, wanted a number from -3",
        ),
        (lambda: gauge_diameter_mm(51), "gauge: found 51"),
        (lambda: thickening(54), "n_gauges: found 54"),
        (lambda: section_mm2(0), "diameter_mm: found 0"),
        (lambda: ohm_per_m(0), "section_mm2: found 0"),
        (lambda: ohm_per_m(1, 251), "temperature_c: found 251"),
        (lambda: warm_ratio(float("nan")), "temperature_c: found nan"),
        (lambda: lead_drop_v(18, -1, 1), "length_m: found -1"),
        (lambda: lead_drop_v(18, 1, float("inf")), "current_a: found inf"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """The message says where, what was found and what was wanted."""
    with pytest.raises(BadArgumentError) as caught:
        reckon()

    assert str(caught.value).startswith(words)
    assert "wanted a number from" in str(caught.value)
