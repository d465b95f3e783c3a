"""Is what goes out undone named, and only as long as it is so?"""

from typing import Any

from turnscrew.core.bench.passed_over import PassedOver, passed_over
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import Stroke


def line(number: int, asks: Any, does: str, name: str, **more: Any) -> Line:
    return Line(
        number=number, phase="refit", asks=asks, does=does, name=name, kind="screw",
        says=f"{does} {name}", **more,
    )  # fmt: skip


SCREWS = {"letter": "C", "n": 4, "fastener": "long screws"}

RUN = Run(
    device="T", revision="", reach=(), status="optimal",
    lines=(
        line(0, "done", "undo", "joint", moves="taken", **SCREWS),
        line(1, "done", "make", "joint", moves="refitted", **SCREWS),
        line(2, "count", "count", "tray", compartments=("C",)),
        line(3, "done", "clean", "it"),
        line(4, "test", "test", "sound"),
    ),
    letters={"joint": "C"}, fasteners={"C": "PH00, 5 mm"},
)  # fmt: skip

TAKEN, REFITTED = Stroke("done", 0), Stroke("done", 1)


def left_out(n: int, at: int = 1, **facts: Any) -> Stroke:
    why = {"what": "left out", "n": n, "reason": "part still to come"}
    return Stroke("differs", at, {**why, **facts})


def empty(n: int, what: str = "missing on arrival") -> Stroke:
    return Stroke("differs", 0, {"what": what, "n": n})


def test_it_names_pieces_and_lines_with_their_reason() -> None:
    skip = Stroke("skip", 3, {"reason": "no time"})
    told = passed_over([(RUN, (TAKEN, left_out(1), REFITTED, skip))])

    assert (
        PassedOver("PH00, 5 mm", "part still to come", 1),
        PassedOver("clean it", "no time"),
    ) == told
    assert ["left out: 1 × PH00, 5 mm", "clean it"] == [str(one) for one in told]
    counted = passed_over([(RUN, (TAKEN, left_out(2, 2, letter="C")))])
    assert (PassedOver("PH00, 5 mm", "part still to come", 2),) == counted


def test_it_leaves_to_the_sheet_what_was_not_tested() -> None:
    assert () == passed_over([(RUN, (Stroke("skip", 4, {"reason": "locked"}),))])


def test_what_was_put_right_later_stands_no_longer() -> None:
    first = (RUN, (TAKEN, left_out(2), Stroke("skip", 3, {"reason": "no time"})))
    stands = passed_over([first])

    assert stands[:1] == passed_over([first, (RUN, (Stroke("done", 3),))])
    assert stands[1:] == passed_over([first, (RUN, (TAKEN,))])
    assert stands == passed_over([first, (RUN, (empty(2), TAKEN))])
    assert 1 == passed_over([first, (RUN, (empty(1, "never had one"), TAKEN))])[0].n
    # One that cannot come out is there all the same.
    assert stands[1:] == passed_over([first, (RUN, (empty(2, "stays in"), TAKEN))])


def test_a_look_that_was_passed_over_says_what_was_not_looked_at() -> None:
    looks = Run(
        device="T", revision="", reach=(), status="optimal",
        lines=(
            line(0, "look", "look", "a", points=("the plug is home.",)),
            line(1, "look", "look", "b", points=("a lead lies flat.", "a clip holds.")),
        ),
    )  # fmt: skip
    told = (
        Stroke("skip", 0, {"reason": "no light"}),
        Stroke("skip", 1, {"reason": "x"}),
    )

    said = [str(one) for one in passed_over([(looks, told)])]
    assert ["Look: the plug is home.", "Look: a lead lies flat; a clip holds."] == said
    seen = Stroke("answer", 0, {"answer": "yes"})
    (left,) = passed_over([(looks, (*told, seen))])
    assert "x" == left.reason
