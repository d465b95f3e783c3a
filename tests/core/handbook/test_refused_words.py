"""Is what no table holds refused by its own name, with all that would be taken?"""

from collections.abc import Callable
from functools import partial
from typing import Any

import pytest

from turnscrew.core.handbook.matings import MATINGS, rated_matings
from turnscrew.core.handbook.pixels import PER_MILLION, old_class_of, pixel_limits
from turnscrew.core.handbook.restoring import availability
from turnscrew.core.handbook.sanitising import Medium, grade_for
from turnscrew.core.handbook.screw_head import (
    PAN_HEADS_MM,
    PAN_HEXALOBULAR,
    hexalobular,
    pan_head,
)
from turnscrew.core.handbook.screw_strength import (
    CLASSES,
    breaking_torque_nm,
    strength_of,
)
from turnscrew.core.handbook.spread import cleaned, mean_ratio, spread_of
from turnscrew.core.model.fastener import Thread
from turnscrew.errors import BadArgumentError


def sizes(table: Any) -> str:
    return "one of " + ", ".join(f"{d_mm:g}" for d_mm in table) + " mm"


REFUSED: list[tuple[Callable[[], Any], str]] = [
    (partial(rated_matings, "hook"),
     f"kind: found hook, wanted one of {', '.join(MATINGS)}"),
    (partial(pixel_limits, 100, 100, "V"),
     f"old_class: found V, wanted one of {', '.join(PER_MILLION)}"),
    (partial(old_class_of, "I"), "new_class: found I, wanted one of"),
    (partial(availability, 0.0, 0.0), "operating_s: found 0, wanted more than 0 s"),
    (partial(pan_head, 2.25), f"d_mm: found 2.25, wanted {sizes(PAN_HEADS_MM)}"),
    (partial(hexalobular, 1.7), f"d_mm: found 1.7, wanted {sizes(PAN_HEXALOBULAR)}"),
    (partial(strength_of, "9.9"),
     f"property_class: found 9.9, wanted one of {', '.join(CLASSES)}"),
    (partial(breaking_torque_nm, Thread(2.2, 0.45)), "thread: found "),
    (partial(breaking_torque_nm, Thread(2.0, 0.4, is_forming=True)), "thread: found "),
    (partial(mean_ratio, []), "pairs: found none, wanted at least one pair"),
    (partial(mean_ratio, [(0.0, 1.0)]), "pairs: found 0, wanted a number"),
    (partial(spread_of, [1.0]), "times_s: found 1 time, wanted at least two"),
    (partial(cleaned, []), "times_s: found 0 times, wanted at least two"),
    (partial(spread_of, [1.0, -1.0]), "times_s: found -1, wanted a number"),
]  # fmt: skip


@pytest.mark.parametrize(("call", "words"), REFUSED)
def test_it_says_where_found_and_wanted(call, words) -> None:
    with pytest.raises(BadArgumentError) as refused:
        call()

    assert str(refused.value).startswith(words)


def test_it_says_of_which_threads_the_breaking_torque_is_known() -> None:
    with pytest.raises(BadArgumentError, match=r"wanted M1\.6, M2, M2\.5 or M3$"):
        breaking_torque_nm(Thread(2.2, 0.45))


@pytest.mark.parametrize(
    ("facts", "why"),
    [
        ((True, False, True), "it does not work, so nothing else can be verified"),
        ((True, True, False), "nobody will use it again"),
        ((True, True, True), "it stays under control: all user-addressable areas"),
        ((False, True, True), "it leaves: beyond recovery even in a laboratory"),
    ],
)
def test_it_says_why_a_medium_is_treated_so(facts, why) -> None:
    stays, works, is_reused = facts

    assert why == grade_for(Medium(stays=stays, works=works, is_reused=is_reused)).why
