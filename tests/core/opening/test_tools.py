"""Which tool does a line, on the way in and on the way back?"""

from turnscrew.core.model.part import Part
from turnscrew.core.model.refit import Refit, ToolUse
from turnscrew.core.opening.tools import tool_among, uses_for

CUP, JIG = ToolUse("suction cup"), ToolUse("jig")


def test_a_part_goes_back_with_what_is_said_for_that_else_with_what_took_it_off() -> (
    None
):
    own = Part(tools=(CUP,), refit=Refit(tools=(JIG,)))
    assert (CUP,) == uses_for(own, is_refit=False)
    assert (JIG,) == uses_for(own, is_refit=True)
    assert (CUP,) == uses_for(Part(tools=(CUP,)), is_refit=True)
    assert (ToolUse("hand"),) == uses_for(Part(), is_refit=True)


def test_what_is_in_hand_by_the_way_does_nothing() -> None:
    assert "jig" == tool_among((CUP, JIG), "jig")
    assert "hand" == tool_among((CUP, JIG), "driver H0")
