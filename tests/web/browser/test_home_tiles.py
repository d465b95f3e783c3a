"""Can the whole next action of every open device be read on Home?"""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Page

from turnscrew.web.records.services import people
from web.bench.case import taken
from web.browser.bench_case import at_bench, describe, kitted, leave

LINES = (18, 7, 9)

CUT_OR_OVERLAID = """() => [...document.querySelectorAll(".tile")].flatMap((tile) => {
  const told = [], boxes = [], whole = tile.getBoundingClientRect();
  // Letters have room of their own above and below them.
  const room = parseFloat(getComputedStyle(tile).fontSize) / 3;
  for (const one of tile.children) {
    if (!one.textContent.trim()) continue;
    const range = document.createRange();
    range.selectNodeContents(one);
    const box = range.getBoundingClientRect();
    if (one.scrollWidth > one.clientWidth + 1) told.push(`cut: ${one.textContent}`);
    if (box.top < whole.top - room || box.bottom > whole.bottom + room)
      told.push(`outside: ${one.textContent}`);
    for (const other of boxes)
      if (box.left < other.right - 1 && other.left < box.right - 1 &&
          box.top < other.bottom - room && other.top < box.bottom - room)
        told.push(`overlaid: ${one.textContent}`);
    boxes.push(box);
  }
  return told;
})"""


@pytest.fixture(params=[(1280, 800), (390, 844)], ids=["1280x800", "390x844"])
def browser_context_args(browser_context_args, request) -> dict[str, Any]:
    width, height = request.param
    screen = {"width": width, "height": height}
    return {**browser_context_args, "viewport": screen, "screen": screen}


@pytest.fixture(params=["en", "de"])
def home(request, desktop: Page, live_server, sallowmere, lead, now) -> Iterator[Page]:
    describe(sallowmere, lead, now)
    people.speak_to(lead, request.param, now=now)
    for line in LINES:
        taken(kitted(sallowmere, line, lead, now), lead, now)
    yield at_bench(desktop, live_server.url)
    leave(desktop)


def test_every_tile_can_be_read_whole_beside_a_refusal(home) -> None:
    home.locator(".tile").nth(len(LINES) - 1).wait_for()
    assert [] == home.evaluate(CUT_OR_OVERLAID)
    home.keyboard.press("9")
    home.locator(".told.refused").wait_for()

    assert [] == home.evaluate(CUT_OR_OVERLAID)


def test_a_refusal_stays_framed_when_the_page_is_drawn_anew(home) -> None:
    home.keyboard.press("9")
    framed = home.locator(".told.refused")
    framed.wait_for()

    home.evaluate("bench.draw()")

    assert framed.count() == 1
