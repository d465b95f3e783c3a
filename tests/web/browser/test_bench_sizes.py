"""Can every line be read from one metre and pressed with gloves, grey or not?"""

from typing import Any

import pytest
from playwright.sync_api import Page

from turnscrew.web.records.models import Job
from web.browser.bench_case import at_bench, describe, kitted, leave, scan

CAPITAL_MM = 5.8
"""Least capitals at one metre: 20 minutes of arc, as NUREG-0700 prefers. [mm]"""

KEY_MM = 20.0
"""Side of a key; kiosk study, keys of 20 mm did as well as larger ones. [mm]"""

DIAGONAL_MM = 10.1 * 25.4

CAP_PER_SIZE = 0.66
"""Height of capitals of Source Sans per size of type, from its tables. [1]"""

MEASURE = """async ([capital, least_key, ratio]) => {
  const app = window.bench, job = app.job(), run = app.run(job);
  const {pixelsPerMm} = await import("/static/bench/fit.js");
  const mm = pixelsPerMm(app.settings);
  const answers = {look: {answer: "yes", signed: true}, count: {left: 0},
                   test: {answer: "passed"}, number: {value: "80"}};
  const strokes = run.lines.map((line) => ({
    key: "k" + line.number, line: line.number, facts: answers[line.asks] || {},
    act: answers[line.asks] ? "answer" : "done", at: new Date(0).toISOString()}));
  const wrong = [];
  const isShown = (one) => {
    const box = one.getBoundingClientRect();
    return box.width > 0 && box.height > 0 && getComputedStyle(one).display !== "none";
  };
  for (const line of run.lines) {
    job.run.strokes = strokes.slice(0, line.number);
    app.cautionsFirst = app.cautionsRead = null;
    app.screen = "work";
    app.draw();
    do {
    const tell = (what) => wrong.push(`${line.number} ${line.says}: ${what}`);
    const all = document.querySelectorAll("#bench p, #bench span, #bench button");
    for (const one of all) {
      if (!isShown(one) || !one.textContent.trim()) continue;
      const high = parseFloat(getComputedStyle(one).fontSize) * ratio / mm;
      if (high < capital) tell(`letters of ${high.toFixed(2)} mm: ${one.textContent}`);
    }
    for (const one of document.querySelectorAll(".drawing text")) {
      if (!isShown(one)) continue;
      const svg = one.ownerSVGElement, box = svg.viewBox.baseVal;
      const shown = svg.getBoundingClientRect();
      const scale = Math.min(shown.width / box.width, shown.height / box.height);
      const high = Number(one.getAttribute("font-size")) * scale * ratio / mm;
      if (high < capital) tell(`drawn letters of ${high.toFixed(2)} mm`);
    }
    for (const one of document.querySelectorAll(".keys button")) {
      const box = one.getBoundingClientRect();
      if (Math.min(box.width, box.height) / mm < least_key - 0.1) tell("a small key");
      if (one.scrollWidth > one.clientWidth + 1) tell(`cut key ${one.textContent}`);
    }
    const n_keys = document.querySelectorAll(".keys button").length;
    if (n_keys > 4) tell("more than four keys");
    const text = document.querySelector(".body .text");
    if (text.scrollHeight > text.clientHeight + 1) tell("words cut below");
    if (text.scrollWidth > text.clientWidth + 1) tell("words cut at the side");
    const page = document.documentElement;
    if (page.scrollHeight > innerHeight + 1 || page.scrollWidth > innerWidth + 1)
      tell("the page scrolls");
    if (app.cautionsFirst !== app.mark(line)) break;
    app.readOn(line);
    } while (true);
  }
  return wrong;
}"""


@pytest.fixture(params=[(1280, 800), (1920, 1200)], ids=["1280x800", "1920x1200"])
def size(request) -> tuple[int, int]:
    return request.param


@pytest.fixture
def browser_context_args(browser_context_args, size) -> dict[str, Any]:
    width, height = size
    screen = {"width": width, "height": height}
    return {**browser_context_args, "viewport": screen, "screen": screen}


@pytest.fixture
def bench(desktop: Page, live_server, sallowmere, lead, now) -> Any:
    describe(sallowmere, lead, now)
    yield at_bench(desktop, live_server.url)
    leave(desktop)


def opened(page: Page, job: Job) -> None:
    scan(page, job.number)
    page.get_by_role("button", name="Open it here").wait_for()
    page.keyboard.press("1")
    page.get_by_role("button", name="Done").wait_for()


@pytest.mark.parametrize("row", [1, 3, 7, 13, 24, 18, 20, 22, 44, 46])
def test_every_line_can_be_read_from_one_metre(
    bench, sallowmere, lead, now, row, size
) -> None:
    opened(bench, kitted(sallowmere, row, lead, now))
    wrong = bench.evaluate(MEASURE, [CAPITAL_MM, KEY_MM, CAP_PER_SIZE])

    assert [] == wrong
    across = bench.evaluate(
        "() => innerWidth / parseFloat(getComputedStyle("
        "document.documentElement).getPropertyValue('--mm'))"
    )
    width, height = size
    assert abs(across - DIAGONAL_MM * width / (width**2 + height**2) ** 0.5) < 0.5


def test_it_is_drawn_in_black_and_white(bench, sallowmere, lead, now) -> None:
    opened(bench, kitted(sallowmere, 18, lead, now))
    colours = bench.evaluate(
        """() => [...new Set([...document.querySelectorAll("#bench *")].flatMap(one => {
          const style = getComputedStyle(one);
          return [style.color, style.backgroundColor, style.borderTopColor];
        }))]"""
    )

    grey = {"rgb(0, 0, 0)", "rgb(255, 255, 255)", "rgba(0, 0, 0, 0)"}
    assert set(colours) <= grey
