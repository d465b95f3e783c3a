"""Does the bench say in plain words why the records did not do what was asked?"""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from turnscrew.web.records.models import BenchRun, BenchStroke
from web.bench.case import in_turn, one, standings
from web.browser.bench_case import at_bench, describe, kitted, leave, scan
from web.browser.test_bench import begin
from web.counter_case import signed_in as session_of

APART = [{
    "key": "k", "act": "done", "line": 0, "facts": {}, "at": "", "by": "Another",
    "bench": "bench 2", "against": "found another", "run": "", "says": "a line",
}]  # fmt: skip


@pytest.fixture
def bench(desktop: Page, live_server, sallowmere, lead, now) -> Iterator[Page]:
    describe(sallowmere, lead, now)
    yield at_bench(desktop, live_server.url)
    leave(desktop)


def test_it_keeps_the_reason_why_two_accounts_are_not_settled(
    bench, sallowmere, lead, now
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))

    def apart(route: Any) -> None:
        told = route.fetch()
        state = told.json()
        for job in state["jobs"]:
            if job["run"]:
                job["run"]["disputed"] = APART
        route.fulfill(response=told, json=state)

    bench.route("**/bench/state/**", apart)
    bench.route(
        "**/settle/",
        lambda route: route.fulfill(status=409, json={"reasons": ["found it so"]}),
    )
    expect(bench.get_by_text("Told elsewhere:")).to_be_visible(timeout=15_000)
    bench.keyboard.press("y")
    expect(bench.get_by_role("status")).to_have_text("found it so")
    bench.wait_for_timeout(500)
    expect(bench.get_by_role("status")).to_have_text("found it so")
    expect(bench.get_by_text("Told elsewhere:")).to_be_visible()


def test_it_says_in_words_that_an_answer_cannot_be_read(bench, sallowmere) -> None:
    broken: list[str] = []
    bench.on("pageerror", lambda error: broken.append(str(error)))
    page = "<!doctype html><title>Not here</title>"
    bench.route(
        "**/bench/find/**",
        lambda route: route.fulfill(status=404, content_type="text/html", body=page),
    )
    scan(bench, sallowmere.jobs.get(line=18).number)
    expect(bench.get_by_role("status")).to_contain_text(
        "records: found no answer that can be read"
    )
    bench.context.clear_cookies()
    scan(bench, sallowmere.jobs.get(line=18).number)
    expect(bench.get_by_role("status")).to_contain_text(
        "Nobody who works at a bench is signed in"
    )

    assert [] == broken


def test_it_says_that_somebody_signed_in_anew_and_goes_on(bench, sallowmere) -> None:
    seal = "() => window.bench.sender.state.token"
    before = bench.evaluate(seal)
    bench.evaluate(
        """async () => {
            window.bench.sender.state.token = "a".repeat(32);
            await window.bench.request("hand/", { bench: "bench 1", job: "" });
        }"""
    )
    expect(bench.get_by_role("status")).to_contain_text("Signed in anew meanwhile")

    assert len(before) == len(bench.evaluate(seal))
    scan(bench, sallowmere.jobs.get(line=18).number)
    expect(bench.get_by_role("main")).to_contain_text("Device 18")


def test_it_offers_no_account_whose_lines_before_were_lost(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    run = BenchRun.objects.get(job=job)
    # Two lines were told and sent, and a restore took them away again.
    lost = in_turn(run, range(2), "")
    came = in_turn(run, range(2, 4), lost[-1]["key"])
    assert ["disputed"] * 2 == standings(session_of(lead), *came)

    main = bench.get_by_role("main")
    expect(main).to_contain_text(
        "Here the next one is line 1, elsewhere line 3. What lies between is lost, as"
        " after a restore. Set this aside and tell it again by hand.",
        timeout=15_000,
    )
    expect(main).to_contain_text("Told elsewhere:")
    expect(bench.get_by_role("button", name="The other holds")).to_have_count(0)
    expect(bench.get_by_text("Written first:")).to_have_count(0)
    bench.get_by_role("button", name="Looked: set aside").click()
    bench.get_by_role("button", name="Done").wait_for()

    assert ["settled"] * 2 == list(
        BenchStroke.objects.filter(run=run).values_list("standing", flat=True)
    )


def test_it_goes_on_offering_an_account_that_follows(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    run = BenchRun.objects.get(job=job)
    assert ["held"] * 2 == standings(session_of(lead), *in_turn(run, range(2), ""))
    apart = one(run, 0, "differs", facts={"what": "left out", "n": 1}, after="")
    assert ["disputed"] == standings(session_of(lead), apart, name="bench 2")

    expect(bench.get_by_text("Written first:")).to_be_visible(timeout=15_000)
    expect(bench.get_by_role("button", name="The other holds")).to_be_visible()
