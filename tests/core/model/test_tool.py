"""Which tool, if nobody has said so?"""

import pytest

from turnscrew.core.model.connection import Lead, Plug, Socket
from turnscrew.core.model.fastener import Drive, Nut, Screw
from turnscrew.core.model.holding import Clip, Fusion, Pin, Seal, Slide
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.refit import Refit, ToolUse
from turnscrew.core.model.tool import refit_tools_for, tools_for, usual_tool


@pytest.mark.parametrize(
    ("how", "tool"),
    [
        (Screw(Drive("type H", 0)), "driver H0"),
        (Screw(), "driver"),
        (Nut(across_flats_mm=5), "spanner 5"),
        (Nut(), "spanner"),
        (Clip(), "plastic card"),
        (Socket(), "plastic pick"),
        (Plug(), "hand"),
        (Plug("micro coaxial"), "plastic pick"),
        (Seal(), "tweezers"),
        (Pin(), "pin punch"),
        (Fusion("rivet"), "drill"),
        (Fusion("solder"), "iron"),
        (Lead(), "iron"),
        (Slide(), "hand"),
        (None, "hand"),
    ],
)
def test_it_names_the_usual_tool(how, tool: str) -> None:
    assert tool == usual_tool(how)


@pytest.mark.parametrize(
    ("joint", "out", "back"),
    [
        (Joint(how=Clip()), ["plastic card"], ["hand"]),
        (Joint(how=Clip(), tools=(ToolUse("pick"),)), ["pick"], ["pick"]),
        (Joint(how=Slide()), ["hand"], ["hand"]),
        (
            Joint(how=Clip(), refit=Refit(tools=(ToolUse("roller"),))),
            ["plastic card"],
            ["roller"],
        ),
    ],
)
def test_it_gives_tools_for_both_ways(joint: Joint, out, back) -> None:
    assert out == [tool.name for tool in tools_for(joint)]
    assert back == [tool.name for tool in refit_tools_for(joint)]
