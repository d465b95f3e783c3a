"""May an adapter go back as fit?"""

from dataclasses import replace

import pytest

from turnscrew.core.electrics.adapter_check import (
    AdapterSeen,
    output_limits_v,
    reasons_against,
    standing_of,
)

GOOD = AdapterSeen(
    belongs="yes", is_label_read=True, is_cable_whole=True, rated_v=19.0,
    rated_a=3.42, device_v=19.0, device_a=3.42, output_v=19.2, load_a=2.0,
    low_v=18.05, high_v=19.95,
)  # fmt: skip


def test_it_is_fit_where_nothing_speaks_against_it() -> None:
    assert () == reasons_against(GOOD)
    assert "fit" == standing_of(GOOD)


def test_nobody_looked_is_a_state_of_its_own() -> None:
    assert "not looked at" == standing_of(None)


@pytest.mark.parametrize(
    "changed",
    [
        {"belongs": "not known"}, {"is_label_read": False}, {"rated_v": None},
        {"rated_a": None}, {"is_cable_whole": False}, {"rated_a": 3.0},
        {"rated_v": 15.0}, {"device_a": None}, {"output_v": 18.04},
        {"output_v": 19.96}, {"output_v": None}, {"load_a": None}, {"load_a": 0.0},
        {"low_v": None},
    ],
)  # fmt: skip
def test_one_thing_wrong_is_enough(changed) -> None:
    seen = replace(GOOD, **changed)

    assert 1 == len(reasons_against(seen))
    assert "not fit" == standing_of(seen)


def test_watts_stand_in_for_amps() -> None:
    # P = V I: 65 W at 19 V are 3.421 A.
    assert () == reasons_against(replace(GOOD, rated_a=None, rated_w=65.0))
    assert reasons_against(replace(GOOD, rated_a=None, rated_w=60.0))


def test_output_on_its_limit_is_right() -> None:
    assert () == reasons_against(replace(GOOD, output_v=18.05))
    assert () == reasons_against(replace(GOOD, output_v=19.95))


def test_the_usual_limits_are_five_per_cent() -> None:
    # Common practice, no source.
    assert (19.0, 21.0) == pytest.approx(output_limits_v(20.0))


@pytest.mark.parametrize("volts", [19.0, 19.5, 20.0])
@pytest.mark.parametrize("watts", [45.0, 65.0, 90.0])
def test_it_is_not_refused_against_its_own_label(volts, watts) -> None:
    amps = round(watts / volts, 2)
    label = {"rated_v": volts, "device_v": volts, "device_a": amps}
    for rated in (
        {"rated_a": amps, "rated_w": watts}, {"rated_a": None, "rated_w": watts},
        {"rated_a": amps, "rated_w": None}, {"rated_a": 0.0, "rated_w": watts},
        {"rated_a": amps, "rated_w": 0.0},
    ):  # fmt: skip
        seen = replace(GOOD, **label, **rated, low_v=18.0, high_v=20.0)
        assert () == reasons_against(seen)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"device_a": 0.0}, "the device's label was not read"),
        ({"device_v": 0.0}, "the device's label was not read"),
        ({"device_v": 1e-12}, "a figure on a label cannot be right: "),
        ({"rated_v": 0.0, "rated_a": None}, "its rating cannot be read"),
        ({"load_a": -1.0}, "its output under load was not measured"),
    ],
)
def test_a_figure_that_cannot_be_is_said_and_raises_nothing(changed, words) -> None:
    (reason,) = reasons_against(replace(GOOD, **changed))

    assert words in reason


def test_a_reading_with_next_to_no_load_is_none_under_load() -> None:
    """A tenth of the rated amps at least: common practice, no source."""
    assert ("its output was read at 0.001 A, wanted 0.34 A or more",) == (
        reasons_against(replace(GOOD, load_a=0.001))
    )
    by_watts = replace(GOOD, rated_a=None, rated_w=65.0, load_a=0.2)
    assert ["its output was read at 0.2 A, wanted 0.34 A or more"] == list(
        reasons_against(by_watts)
    )
    assert () == reasons_against(replace(GOOD, load_a=0.35))
