"""Which torque makes which pull, and is this screw too long?"""

import pytest

from turnscrew.core.handbook.screw_strength import breaking_torque_nm, stress_area_mm2
from turnscrew.core.handbook.screw_torque import (
    PROOF_8_8_MPA,
    engagement_mm,
    length_verdict,
    preload_n,
    torque_nm,
    turns_engaged,
)
from turnscrew.core.model.fastener import Thread
from turnscrew.errors import BadArgumentError

# Published tightening figures of class 8.8, read in a pocket guide.
POCKET_GUIDE_NM = {"M1.6": 0.17, "M2": 0.35, "M2.5": 0.70, "M3": 1.20}


@pytest.mark.parametrize(("name", "guide_nm"), POCKET_GUIDE_NM.items())
def test_it_shows_why_the_published_figures_are_no_set_point(name, guide_nm) -> None:
    """They follow the formula within a tenth, and lie close to breaking."""
    thread = Thread.from_text(name)
    formula_nm = torque_nm(
        preload_n(stress_area_mm2(thread), PROOF_8_8_MPA), thread.d_mm
    )

    assert pytest.approx(guide_nm, rel=0.1) == formula_nm
    assert 0.7 * breaking_torque_nm(thread) < guide_nm


@pytest.mark.parametrize(
    ("name", "engaged_mm"), [("M2", 1.52), ("M2.5", 1.96), ("M3", 2.39)]
)
def test_it_wants_about_three_quarters_of_the_diameter(name, engaged_mm) -> None:
    """Worked by hand for equal metal; a hole half as strong wants twice as much."""
    thread = Thread.from_text(name)
    area_mm2 = stress_area_mm2(thread)

    assert pytest.approx(engaged_mm, abs=0.005) == engagement_mm(area_mm2, thread)
    assert pytest.approx(2 * engaged_mm, abs=0.01) == engagement_mm(area_mm2, thread, 2)


@pytest.mark.parametrize(
    ("found_mm", "may_go_in", "words"),
    [(3.5, True, "as recorded"), (3.0, True, "shorter"), (3.6, False, "longer")],
)
def test_it_refuses_a_screw_longer_than_the_record(found_mm, may_go_in, words) -> None:
    """A longer screw can reach board, display or cell; common practice."""
    verdict = length_verdict(3.5, found_mm)

    assert may_go_in is verdict.may_go_in
    assert words in verdict.why


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: preload_n(0, 580), "area_mm2: found 0"),
        (lambda: preload_n(5, 0), "proof_mpa: found 0"),
        (lambda: preload_n(5, 580, 1.1), "proof_share: found 1.1"),
        (lambda: torque_nm(-1, 3), "force_n: found -1"),
        (lambda: torque_nm(1, 0), "d_mm: found 0"),
        (lambda: torque_nm(1, 3, 0.6), "friction_k: found 0.6"),
        (lambda: engagement_mm(0, Thread(2, 0.4)), "area_mm2: found 0"),
        (lambda: engagement_mm(2, Thread(2, 0.4), 0.5), "weakness: found 0.5"),
        (lambda: turns_engaged(0, Thread(2, 0.4)), "engaged_mm: found 0"),
        (lambda: length_verdict(0, 3), "recorded_mm: found 0"),
        (lambda: length_verdict(3, 0), "found_mm: found 0"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """Each message names its argument."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
