"""Does what comes late, an answer or a page, leave the bench where its work stands?"""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from turnscrew.web.records.models import BenchStroke
from web.browser.bench_case import at_bench, describe, kitted, leave, scan
from web.browser.test_bench import begin, by_keys, line_now, settled, wait_past
from web.browser.test_bench_more import work_to

HELD = "() => window.bench.sender.state.jobs.find((one) => one.run).run.strokes.length"


class Late:
    """An answer that lies on its way until it is let go; all others come at once."""

    def __init__(self, bench: Page, address: str) -> None:
        self.bench = bench
        self.on_its_way: tuple[Any, Any] | None = None
        bench.route(address, self._answer)

    def _answer(self, route: Any) -> None:
        told = route.fetch()
        if self.on_its_way:
            route.fulfill(response=told)
        else:
            self.on_its_way = (route, told)

    def wait(self) -> None:
        for _ in range(100):
            if self.on_its_way:
                return
            self.bench.wait_for_timeout(50)
        raise AssertionError("nothing was asked")

    def let_go(self) -> None:
        assert self.on_its_way
        route, told = self.on_its_way
        route.fulfill(response=told)
        self.bench.wait_for_timeout(500)


@pytest.fixture
def bench(desktop: Page, live_server, sallowmere, lead, now) -> Iterator[Page]:
    describe(sallowmere, lead, now)
    yield at_bench(desktop, live_server.url)
    leave(desktop)


def test_an_older_answer_takes_no_stroke_back(bench, sallowmere, lead, now) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    settled(bench)
    bench.evaluate("() => window.bench.sender.turn()")
    before = line_now(bench)["number"]
    late = Late(bench, "**/bench/state/**")
    bench.evaluate(
        "(code) => { window.asked = window.bench.sender.ask(`find/?code=${code}`); }",
        job.number,
    )
    late.wait()
    bench.keyboard.press("Space")
    wait_past(bench, before)
    bench.wait_for_timeout(700)
    late.let_go()
    bench.evaluate("() => window.asked")
    settled(bench)

    assert before + 1 == line_now(bench)["number"]
    assert 1 == bench.evaluate(HELD)


def test_a_device_laid_beside_keeps_its_lines(bench, sallowmere, lead, now) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    settled(bench)
    kept = bench.evaluate(
        """async () => {
          const sender = window.bench.sender;
          const job = sender.state.jobs.find((one) => one.run);
          const run = sender.runs.get(job.run.ref);
          sender.state.jobs = sender.state.jobs.filter((one) => one !== job);
          sender.runs = new Map([["gone", run], [job.run.ref, run]]);
          const forgets = sender.forgetRuns();
          await sender.layBeside(job);
          await forgets;
          return sender.runs.has(job.run.ref) && !sender.runs.has("gone");
        }"""
    )

    assert kept


def test_a_link_that_never_answers_is_one_that_is_down(bench, sallowmere) -> None:
    bench.evaluate("() => { window.bench.sender.longestMs = 400; }")
    bench.route("**/bench/find/**", lambda _route: None)
    scan(bench, sallowmere.jobs.get(line=18).number)

    expect(bench.get_by_role("status")).to_contain_text("network: found none")


def test_a_device_opened_late_takes_no_other_out_of_hand(
    bench, sallowmere, lead, now
) -> None:
    first, second = (kitted(sallowmere, line, lead, now) for line in (18, 7))
    begin(bench, first)
    settled(bench)
    scan(bench, second.number)
    bench.get_by_role("button", name="Open it here").wait_for()
    late = Late(bench, "**/begin/")
    bench.keyboard.press("1")
    late.wait()
    expect(bench.get_by_role("status")).to_have_text(
        "The records have not answered yet."
    )
    scan(bench, first.number)
    bench.wait_for_function("() => window.bench.line(window.bench.job())")
    before = line_now(bench)
    late.let_go()

    assert before["says"] == line_now(bench)["says"]
    expect(bench.get_by_role("status")).to_contain_text("what is in hand stays")
    bench.keyboard.press("Space")
    wait_past(bench, before["number"])
    settled(bench)
    scan(bench, second.number)
    expect(bench.locator(".band")).to_contain_text("7")

    assert {first.pk} == set(BenchStroke.objects.values_list("run__job", flat=True))


def test_a_device_found_late_asks_nothing_over_the_line_in_hand(
    bench, sallowmere, lead, now
) -> None:
    first, second = (kitted(sallowmere, line, lead, now) for line in (18, 7))
    begin(bench, first)
    settled(bench)
    late = Late(bench, "**/find/**")
    scan(bench, second.number)
    late.wait()
    before = line_now(bench)["number"]
    bench.keyboard.press("Space")
    wait_past(bench, before)
    late.let_go()

    assert bench.evaluate("() => window.bench.ask === null")
    assert before + 1 == line_now(bench)["number"]


def test_a_device_found_at_once_is_asked_about(bench, sallowmere, lead, now) -> None:
    first, second = (kitted(sallowmere, line, lead, now) for line in (18, 7))
    begin(bench, first)
    settled(bench)
    late = Late(bench, "**/find/**")
    scan(bench, second.number)
    late.wait()
    bench.wait_for_timeout(1700)
    late.let_go()
    bench.get_by_role("button", name="Open it here").wait_for()

    expect(bench.get_by_role("status")).to_have_count(0)


def test_no_line_is_done_before_its_cautions_were_shown(
    bench, sallowmere, lead, now
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    work_to(bench, lambda one: not one["cautions"] and next_warns(bench, one))
    before = line_now(bench)["number"]
    # The second press comes in the same turn of the page: nothing was drawn between.
    bench.evaluate("() => [1, 2].forEach(() => window.bench.hear({ name: 'done' }))")

    expect(bench.get_by_role("status")).to_contain_text(
        "wanted its cautions seen first"
    )
    assert before + 1 == line_now(bench)["number"]
    by_keys(bench, line_now(bench))
    wait_past(bench, before + 1)


def next_warns(bench, line) -> bool:
    """Whether the line behind one that is done by a mere press bears cautions."""
    return line["asks"] == "done" and bench.evaluate(
        "(n) => window.bench.run(window.bench.job()).lines[n]?.cautions.length > 0",
        line["number"] + 1,
    )
