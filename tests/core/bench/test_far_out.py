"""Are times far from the usual listed, and none that are not?"""

from datetime import UTC, datetime, timedelta

from turnscrew.core.bench.far_out import far_out
from turnscrew.core.bench.own_time import Tap, own_times

AT = datetime(2027, 2, 1, 9, tzinfo=UTC)


def taps(*seconds: float) -> list[Tap]:
    """Give presses of one person, each so long after the one before."""
    at, made = AT, [tap(0, AT)]
    for number, gap in enumerate(seconds, 1):
        at += timedelta(seconds=gap)
        made.append(tap(number, at))
    return made


def tap(number: int, at: datetime) -> Tap:
    return Tap(
        number=number, at=at, person="p", job="j", model="V80", action="undo screw"
    )


def listed(*seconds: float) -> list[tuple[int, str]]:
    found = far_out(own_times(taps(*seconds)))
    return [(one.tap.number, one.kind) for one in found]


def test_a_time_beyond_the_outer_fence_is_listed() -> None:
    # Quartiles of 19, 20, 20, 21, 22 and 40 by hand: 20 and 21.75; the fence of Tukey
    # lies at 21.75 + 3 * 1.75 = 27, but nothing below twice the usual is far.
    assert [] == listed(19, 20, 20, 21, 22, 40)
    assert [(6, "far longer")] == listed(19, 20, 20, 21, 22, 48)


def test_what_was_cut_as_a_break_is_listed_with_its_whole_gap() -> None:
    found = far_out(own_times(taps(20, 20, 20, 20, 20, 1800)))

    assert [("cut as a break", 1800.0)] == [(one.kind, one.seconds) for one in found]
    # A meal or a night wants no word.
    assert [] == listed(20, 20, 20, 20, 20, 5 * 3600)


def test_few_times_have_no_usual() -> None:
    assert [] == listed(20, 90, 20)


def test_a_time_far_too_short_is_listed() -> None:
    assert [(9, "far shorter")] == listed(50, 50, 51, 51, 52, 52, 53, 53, 20)
