"""Does this adapter fit this label?"""

import pytest

from turnscrew.core.electrics.adapter import (
    OUTSIDE,
    Rating,
    coaxial_plug,
    fit_of,
    rating_w,
)
from turnscrew.core.electrics.cautions import MAINS_WORDS
from turnscrew.errors import BadArgumentError

LABEL = Rating(19.5, 3.34, "tip positive")


@pytest.mark.parametrize(
    ("adapter", "verdict", "words"),
    [
        (Rating(19.5, 3.34, "tip positive"), "fits", "tip positive on both"),
        (Rating(20.0, 4.5, "tip positive"), "fits", "2.6 % apart, 5 % allowed"),
        (Rating(12.0, 6.0, "tip positive"), "does not fit", "38.5 % apart"),
        (
            Rating(19.5, 2.31, "tip positive"),
            "does not fit",
            "for 3.34 A: too little",
        ),
        (
            Rating(18.6, 3.4, "tip positive"),
            "does not fit",
            "for 65.13 W: too little",
        ),
        (Rating(19.5, 4.62, "tip negative"), "does not fit", "do not plug in"),
        (Rating(19.5, 4.62), "not proven", "measure tip against sleeve"),
        (Rating(12.0, 4.62), "does not fit", "measure tip against sleeve"),
    ],
)
def test_it_says_whether_it_fits_and_why(adapter, verdict, words) -> None:
    """Volts, amps, watts and polarity each have their sentence."""
    fit = fit_of(adapter, LABEL)

    assert verdict == fit.verdict
    assert 4 == len(fit.why)
    assert any(words in sentence for sentence in fit.why)
    assert MAINS_WORDS == fit.caution


def test_it_allows_just_the_tolerance_that_is_asked_for() -> None:
    """Both ends of the tolerance fit, a little more does not."""
    label = Rating(20, 1, "tip positive", printed_w=15)

    for volts in (19.0, 21.0):
        assert "fits" == fit_of(Rating(volts, 1, "tip positive"), label).verdict
    for volts in (18.98, 21.02):
        adapter = Rating(volts, 1, "tip positive")
        assert "does not fit" == fit_of(adapter, label).verdict
        assert "fits" == fit_of(adapter, label, 0.06).verdict


def test_it_takes_the_watts_as_printed() -> None:
    """A label may ask for less than volts by amps."""
    assert 45 == Rating(20, 3.25, printed_w=45).power_w
    assert 65 == Rating(20, 3.25).power_w == rating_w(20, 3.25)


@pytest.mark.parametrize(
    ("voltage_v", "name"),
    [(0, "type 1"), (3.15, "type 1"), (3.16, "type 2"), (6.3, "type 2"),
     (10.5, "type 3"), (13.5, "type 4"), (18.0, "type 5"), (18.1, OUTSIDE.name)],
)  # fmt: skip
def test_it_gives_a_band_its_upper_end(voltage_v, name) -> None:
    """RC-5320A, read on an encyclopaedia page; the tie at an end is ours."""
    assert name == coaxial_plug(voltage_v).name


def test_it_says_that_a_machine_plug_proves_nothing() -> None:
    """Above 18 V the size proves neither volts nor polarity."""
    assert "neither volts nor polarity" in coaxial_plug(19.5).why


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: Rating(0, 1), "voltage_v: found 0"),
        (lambda: Rating(19, 0), "current_a: found 0"),
        (lambda: Rating(19, 1, printed_w=-1), "printed_w: found -1"),
        (lambda: rating_w(19, -1), "current_a: found -1"),
        (lambda: rating_w(2000, 1), "voltage_v: found 2000"),
        (lambda: fit_of(LABEL, LABEL, 0.6), "volts_tolerance: found 0.6"),
        (lambda: coaxial_plug(-1), "voltage_v: found -1"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """A rating is checked when it is made."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()


@pytest.mark.parametrize("watts", [45, 60, 65, 90, 120, 135, 150, 180, 230])
@pytest.mark.parametrize("volts", [15.0, 18.5, 19.0, 19.5, 20.0])
def test_an_adapter_fits_its_own_label_however_that_is_rounded(volts, watts) -> None:
    amps = round(watts / volts, 2)
    printed = Rating(volts, amps, "tip positive", printed_w=watts)
    bare = Rating(volts, amps, "tip positive")

    for one in (printed, bare):
        for other in (printed, bare):
            assert "fits" == fit_of(one, other).verdict
    weak = Rating(volts, amps, "tip positive", printed_w=watts - 2)
    assert "does not fit" == fit_of(weak, bare).verdict
