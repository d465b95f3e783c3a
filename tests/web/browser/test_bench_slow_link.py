"""Does a link that answers late, or never, leave the bench where its work stands?"""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from web.browser.bench_case import at_bench, describe, kitted, scan
from web.browser.test_bench import begin, line_now, settled, wait_past

HELD = "() => window.bench.sender.state.jobs.find((one) => one.run).run.strokes.length"


@pytest.fixture
def bench(desktop: Page, live_server, sallowmere, lead, now) -> Iterator[Page]:
    describe(sallowmere, lead, now)
    yield at_bench(desktop, live_server.url)
    # Nothing is asked any more while the tables are emptied.
    desktop.unroute_all(behavior="ignoreErrors")
    desktop.goto("about:blank")
    desktop.wait_for_timeout(200)


def test_an_older_answer_takes_no_stroke_back(bench, sallowmere, lead, now) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    settled(bench)
    bench.evaluate("() => window.bench.sender.turn()")
    before = line_now(bench)["number"]
    late: list[Any] = []

    def first_late(route: Any) -> None:
        told = route.fetch()
        if late:
            route.fulfill(response=told)
        else:
            late.append((route, told))

    bench.route("**/bench/state/**", first_late)
    bench.evaluate(
        "(code) => { window.asked = window.bench.sender.ask(`find/?code=${code}`); }",
        job.number,
    )
    bench.wait_for_timeout(300)
    while not late:
        bench.wait_for_timeout(50)
    bench.keyboard.press("Space")
    wait_past(bench, before)
    bench.wait_for_timeout(700)
    route, told = late[0]
    route.fulfill(response=told)
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
