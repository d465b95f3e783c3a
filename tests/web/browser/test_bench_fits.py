"""Is what is to be done seen whole where a window is turned, narrow or low?"""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from turnscrew.web.records.models import BenchStroke
from web.browser.bench_case import at_bench, describe, kitted, leave, scan
from web.browser.test_bench import begin, line_now, settled, wait_past
from web.browser.test_bench_more import work_to

KEY_MM = 20.0
"""Side of a key, as `docs/bench.md` has it. [mm]"""

SET_UP = (1280, 800)
"""The screen that a card was held up to. [px]"""

PIXELS_PER_MM = 5.88
"""What the card gave on it; it holds however small a window is made. [px/mm]"""

SMALLER = [(800, 1280), (800, 600), (640, 800), (390, 844), (360, 640), (844, 640)]
"""A tablet on its side, small windows, a phone upright: widths and heights. [px]"""

# Every line of a run as the page shows it, page of cautions by page; what is seen is
# read from the drawn page alone: a word counts if its place is within the window, in
# no box that cuts it, and nothing lies over it.
SHOWN = """() => {
  const app = window.bench, job = app.job(), run = app.run(job);
  const answers = {look: {answer: "yes", signed: true}, count: {left: 0},
                   test: {answer: "passed"}, number: {value: "80"}};
  const strokes = run.lines.map((line) => ({
    key: "k" + line.number, line: line.number, facts: answers[line.asks] || {},
    act: answers[line.asks] ? "answer" : "done", at: new Date(0).toISOString()}));
  const wrong = [];
  const isSeen = (word) => {
    const area = document.createRange();
    area.selectNodeContents(word);
    return [...area.getClientRects()].every((box) => {
      const low = box.bottom - box.height / 4, high = box.top + box.height / 4;
      const corners = [[box.left + 1, high], [box.right - 1, low]];
      return corners.every(([x, y]) => {
        const top = document.elementFromPoint(x, y);
        return top && (word.contains(top) || top.contains(word));
      });
    });
  };
  const must = ".band span, .text p:not(.detail), .text button, .power, .keys button";
  for (const line of run.lines) {
    job.run.strokes = strokes.slice(0, line.number);
    app.cautionsFirst = app.cautionsRead = app.details = null;
    app.screen = "work";
    app.draw();
    let words = "";
    do {
      for (const one of document.querySelectorAll(must)) {
        if (getComputedStyle(one).display === "none" || !one.textContent) continue;
        if (!isSeen(one)) wrong.push(`${line.number} not seen: ${one.textContent}`);
      }
      words += document.querySelector(".text").textContent;
      if (app.cautionsFirst !== app.mark(line)) break;
      app.readOn(line);
    } while (true);
    for (const one of [...line.cautions, ...line.points])
      if (!words.includes(one)) wrong.push(`${line.number} not said: ${one}`);
  }
  job.run.strokes = [];
  app.cautionsFirst = app.cautionsRead = null;
  app.draw();
  return wrong;
}"""


@pytest.fixture
def browser_context_args(browser_context_args) -> dict[str, Any]:
    size = {"width": SET_UP[0], "height": SET_UP[1]}
    return {**browser_context_args, "viewport": size, "screen": size}


@pytest.fixture
def bench(desktop: Page, live_server, sallowmere, lead, helper, now) -> Iterator[Page]:
    describe(sallowmere, lead, now)
    page = at_bench(desktop, live_server.url)
    page.evaluate(
        """async (pixelsPerMm) => {
          const {set} = await import("/static/bench/keep.js");
          set({pixelsPerMm}); }""",
        PIXELS_PER_MM,
    )
    yield page
    leave(desktop)


def sized(page: Page, width: int, height: int) -> None:
    """Make the window another size and wait until the page has heard of it."""
    page.set_viewport_size({"width": width, "height": height})
    page.evaluate("() => new Promise((then) => requestAnimationFrame(() => then()))")


def test_every_line_is_seen_whole_after_the_window_was_made_small(
    bench, sallowmere, lead, now
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    wrong = {}
    for size in (SET_UP, *SMALLER):
        sized(bench, *size)
        wrong[size] = bench.evaluate(SHOWN)

    assert {size: [] for size in wrong} == wrong


def test_a_caution_in_sight_stays_in_sight_when_the_window_is_turned(
    bench, sallowmere, lead, now
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    caution = work_to(bench, lambda one: one["cautions"])["cautions"][0]
    for width, height in (*SMALLER, SET_UP):
        sized(bench, width, height)
        box = bench.locator(".caution", has_text=caution)
        expect(box).to_be_in_viewport(ratio=1)
        band = bench.locator(".band").evaluate(
            "(one) => [one.scrollWidth, one.clientWidth]"
        )
        assert band[0] <= band[1]


def test_it_refuses_done_while_the_window_shows_too_little(
    bench, sallowmere, lead, now
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    before = line_now(bench)
    sized(bench, 300, 150)
    for key in ("Space", "y", "ArrowRight", "Enter"):
        bench.keyboard.press(key)
        bench.wait_for_timeout(150)
        assert "found it too small" in line_now(bench)["told"]
    assert before["number"] == line_now(bench)["number"]
    assert 0 == BenchStroke.objects.count()
    sized(bench, *SET_UP)
    bench.keyboard.press("Space")
    wait_past(bench, before["number"])


def test_cautions_and_details_are_called_back_by_touch(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    line = work_to(bench, lambda one: len(one["cautions"]) > 0)
    sized(bench, 800, 600)
    n = len(line["cautions"])
    for _ in range(n):
        if bench.evaluate("() => window.bench.cautionsFirst === null"):
            break
        bench.get_by_role("button", name="Read").click()
    again = bench.get_by_role("button", name=f"Cautions again ({n})")
    expect(again).to_be_in_viewport(ratio=1)
    box = again.bounding_box()
    assert box is not None
    assert min(box["width"], box["height"]) >= KEY_MM * PIXELS_PER_MM - 1
    again.click()
    expect(bench.locator(".caution", has_text=line["cautions"][0])).to_be_in_viewport(
        ratio=1
    )

    # Read once more, and back at the line, with nothing told.
    for _ in range(2 * n + 2):
        if not bench.evaluate("() => window.bench.details !== null"):
            break
        bench.get_by_role("button", name="Read").click()
    expect(again).to_be_visible()
    assert line["number"] == line_now(bench)["number"]
    bench.get_by_role("button", name="Done").click()
    wait_past(bench, line["number"])


@pytest.mark.parametrize("text", ["70", "100", "8,5"])
def test_a_typed_number_with_enter_is_taken_at_once(
    bench, sallowmere, lead, now, text
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    line = work_to(bench, lambda one: one["asks"] == "number")
    # A device that is here is still known by its label.
    scan(bench, job.number)
    expect(bench.get_by_text("Last done:")).to_be_visible()
    bench.keyboard.press("Space")
    scan(bench, text)
    wait_past(bench, line["number"])
    settled(bench)

    last = BenchStroke.objects.get(run__job=job, line=line["number"])
    assert {"value": text.replace(",", ".")} == last.facts
