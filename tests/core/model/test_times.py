"""How many seconds, by default, by own median, and as stated?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.model.connection import Plug, Socket
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.holding import Bond, Clip, ClipRow, Thermal
from turnscrew.core.model.joint import HOW_KINDS, Joint
from turnscrew.core.model.need import PowerNeed
from turnscrew.core.model.part import Part
from turnscrew.core.model.quantities import Seconds
from turnscrew.core.model.refit import Refit, Soften, ToolUse
from turnscrew.core.model.times import (
    AWKWARD,
    ELEMENTS,
    REFIT_PER_STRIP,
    ElementTime,
    band_s,
    element_of,
    joint_refit_s,
    joint_strip_s,
    lift_refit_s,
    lift_strip_s,
)


def test_it_gives_the_published_worksheet() -> None:
    """
    The service worksheet read for the defaults: 104.3 s in nine rows.

    Tools are picked up for three rows of screws and two turns are made; the row of
    three screws is the awkward one.
    """
    screws_s = joint_strip_s(Joint(how=Screw(), n=2), {})
    awkward_s = joint_strip_s(Joint(how=Screw(), n=3, awkward=True), {})
    set_screw_s = joint_strip_s(Joint(how=Screw(captive=True)), {})
    plug_s = joint_strip_s(Joint(how=Plug()), {})
    lifts_s = 3 * lift_strip_s(Part(), {})
    tools_s = 3 * ELEMENTS["tool"].strip_s
    turns_s = 2 * ELEMENTS["turn"].strip_s

    assert pytest.approx(104.3) == (
        screws_s + awkward_s + set_screw_s + plug_s + lifts_s + tools_s + turns_s
    )


def test_it_gives_the_worked_opening() -> None:
    """
    Ten base screws, eight clips, cover, battery plug, four battery screws, battery.

    Worked by hand from the same elements with three pick-ups of a tool: 187.0 s out;
    by the published ratio of totals 234.7 s in.
    """
    joints = [
        Joint(how=Screw(), n=10),
        Joint(how=Clip((ClipRow("all", 8),))),
        Joint(how=Plug()),
        Joint(how=Screw(), n=4),
    ]
    out_s = sum(joint_strip_s(joint, {}) for joint in joints)
    out_s += 2 * lift_strip_s(Part(), {}) + 3 * ELEMENTS["tool"].strip_s

    assert pytest.approx(187.0) == out_s
    assert pytest.approx(234.7, abs=0.05) == REFIT_PER_STRIP * out_s


@pytest.mark.parametrize(
    ("joint", "element"),
    [
        (Joint(), "unknown"),
        (Joint(how=Screw()), "screw"),
        (Joint(how=Screw(), awkward=True), "awkward screw"),
        (Joint(how=Screw(loosen_turns=2)), "captive screw"),
        (Joint(how=Nut(captive=True)), "captive screw"),
        (Joint(how=Plug("micro coaxial")), "micro coaxial plug"),
        (Joint(how=Bond("tape")), "tape"),
        (Joint(how=Thermal("paste")), "paste"),
        (Joint(how=Socket()), "socket"),
    ],
)
def test_it_names_the_element(joint: Joint, element: str) -> None:
    assert element == element_of(joint)


def test_it_has_a_time_for_every_kind_of_joint() -> None:
    assert {kind for kind, _ in HOW_KINDS} <= set(ELEMENTS)


@given(st.integers(0, 50), st.booleans())
def test_it_never_takes_longer_for_fewer_pieces(n: int, awkward: bool) -> None:
    fewer, more = (Joint(how=Clip(), n=k, awkward=awkward) for k in (n, n + 1))

    assert joint_strip_s(fewer, {}) < joint_strip_s(more, {})
    assert joint_refit_s(fewer, {}) < joint_refit_s(more, {})


def test_it_takes_longer_where_access_is_awkward() -> None:
    assert pytest.approx(3.6 * AWKWARD) == joint_strip_s(
        Joint(how=Clip(), awkward=True), {}
    )
    assert pytest.approx(3.8 * AWKWARD) == lift_strip_s(Part(awkward=True), {})
    assert pytest.approx(5.2 * AWKWARD) == lift_refit_s(Part(awkward=True), {})


@pytest.mark.parametrize(
    ("n_jobs", "strip_s"), [(4, 9.4), (5, 7.0), (None, 7.0), (40, 7.0)]
)
def test_it_waits_for_five_jobs_before_it_takes_an_own_median(n_jobs, strip_s) -> None:
    own = {"screw": ElementTime(7.0, 8.0, n_jobs=n_jobs)}

    assert strip_s == joint_strip_s(Joint(how=Screw()), own)


def test_it_takes_the_joints_own_time_for_all_pieces() -> None:
    joint = Joint(how=Clip(), n=8, seconds=Seconds(60, 150, 35))

    assert (60, 150, 35) == tuple(
        joint_strip_s(joint, {}, who=who) for who in ("typical", "first", "practised")
    )
    assert pytest.approx(60 * 1.255) == joint_refit_s(joint, {})


def test_it_falls_back_to_the_typical_time() -> None:
    joint = Joint(how=Clip(), seconds=Seconds(60))

    assert (60, 60) == tuple(
        joint_strip_s(joint, {}, who=who) for who in ("first", "practised")
    )


def test_it_takes_the_tools_own_time_first() -> None:
    joint = Joint(how=Bond(), seconds=Seconds(60), refit=Refit(seconds=Seconds(70)))
    tool = ToolUse("card", strip_s=150, refit_s=20)

    assert 150 == joint_strip_s(joint, {}, tool)
    assert 20 == joint_refit_s(joint, {}, tool)
    assert 70 == joint_refit_s(joint, {})


def test_it_adds_heat_wait_and_cure() -> None:
    joint = Joint(
        how=Bond(),
        soften=Soften(70, 180, 60),
        seconds=Seconds(10),
        cure_s=600,
        power=PowerNeed("off", wait_s=5),
        refit=Refit(seconds=Seconds(30)),
    )

    assert 10 + 180 + 60 + 5 == joint_strip_s(joint, {})
    assert 30 + 600 == joint_refit_s(joint, {})


def test_it_takes_a_parts_own_times() -> None:
    part = Part(seconds=Seconds(10), refit=Refit(seconds=Seconds(30)))

    assert (10, 30) == (lift_strip_s(part, {}), lift_refit_s(part, {}))
    assert pytest.approx(12.55) == lift_refit_s(Part(seconds=Seconds(10)), {})


def test_it_shows_every_estimate_as_a_band() -> None:
    assert pytest.approx((49, 176)) == band_s(100)
