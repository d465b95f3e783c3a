"""Whole openings and rebuilds at the bench, by one hand, without a network between."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from turnscrew.web.records.models import BenchRun, BenchStroke, Entry, Job
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services.findings import note_finding
from web.bench.case import head, one, standings
from web.browser.bench_case import at_bench, describe, kitted, leave, scan
from web.counter_case import signed_in as session_of

ENOUGH = 140
"""More presses than any of these runs has lines. [1]"""


@pytest.fixture
def browser_context_args(browser_context_args) -> dict[str, Any]:
    return {**browser_context_args, "viewport": {"width": 1280, "height": 800}}


@pytest.fixture
def bench(desktop: Page, live_server, sallowmere, lead, now) -> Iterator[Page]:
    describe(sallowmere, lead, now)
    yield at_bench(desktop, live_server.url)
    leave(desktop)


def line_now(page: Page) -> dict[str, Any] | None:
    """Give the line a page shows, after whatever was pressed has been told."""
    drawn(page)
    return page.evaluate(
        """() => {
          const app = window.bench, job = app.job(), run = app.run(job);
          const line = run && app.line(job);
          return line ? {...line, screen: app.screen, told: app.told} : null;
        }"""
    )


def settled(page: Page) -> None:
    """Wait until everything told lies in the records."""
    page.wait_for_function("() => window.bench.sender.queue.length === 0")


def begin(page: Page, job: Job) -> None:
    scan(page, job.number)
    page.get_by_role("button", name="Open it here").wait_for()
    page.keyboard.press("1")
    page.get_by_role("button", name=re.compile("^(Done|Read it)")).wait_for()


def drawn(page: Page) -> None:
    """Wait until the line that is next stands on the page; it is told before that."""
    page.wait_for_function(
        """() => { const app = window.bench, job = app.job();
                  const l = app.run(job) && app.line(job);
                  return !l || app.ask || app.screen !== "work"
                    || app.shown.mark === app.mark(l) }"""
    )


def read_first(page: Page) -> None:
    """Read the cautions that stand before a line, page after page."""
    drawn(page)
    while page.evaluate("() => window.bench.cautionsFirst !== null"):
        page.get_by_role("button", name="Read it").click()


def wait_past(page: Page, number: int) -> None:
    page.wait_for_function(
        """(n) => { const app = window.bench, l = app.line(app.job());
                    if (!l || l.number !== n) return true;
                    const mark = app.mark(l);
                    return app.cautionsRead === mark
                      || (app.cautionsFirst === mark && app.readPage > 0) }""",
        arg=number,
    )


def by_keys(page: Page, line: dict[str, Any]) -> None:
    if line["second_look"]:
        scan(page, "TS-WHO-HELPER")
    elif line["asks"] == "number":
        page.keyboard.press("8")
        page.locator(".number", has_text="8").wait_for()
        page.keyboard.press("0")
        page.locator(".number", has_text="80").wait_for()
        page.keyboard.press("Enter")
    else:
        page.keyboard.press("Space")
    if line["wants_photo"]:
        page.wait_for_function("() => window.bench.ask")
        page.keyboard.press("2")


def by_card(page: Page, line: dict[str, Any]) -> None:
    if line["second_look"]:
        scan(page, "TS-WHO-HELPER")
    elif line["asks"] == "number":
        for code in ("TS-DONE", "TS-8", "TS-0", "TS-ENTER"):
            scan(page, code)
            page.wait_for_timeout(60)
    else:
        scan(page, "TS-DONE")
    if line["wants_photo"]:
        page.wait_for_function("() => window.bench.ask")
        scan(page, "TS-2")


def work_through(page: Page, press: Any, *, upto: str = "") -> int:
    """Answer every line as right until the run, or a phase of it, is over."""
    done: set[int] = set()
    for _ in range(ENOUGH):
        line = line_now(page)
        if line is None or line["phase"] == upto:
            return len(done)
        press(page, line)
        wait_past(page, line["number"])
        done.add(line["number"])
    raise AssertionError(f"no end after {ENOUGH} presses")


@pytest.mark.parametrize(("row", "press"), [(18, by_keys), (7, by_card), (9, by_card)])
def test_it_opens_and_rebuilds_with_the_network_gone_between(
    bench, context: BrowserContext, sallowmere, lead, helper, now, row, press
) -> None:
    job = kitted(sallowmere, row, lead, now)
    begin(bench, job)
    work_through(bench, press, upto="opening")
    settled(bench)
    context.set_offline(True)
    n_apart = work_through(bench, press, upto="close")
    expect(bench.get_by_text("No network")).to_be_visible()
    assert n_apart > 10
    told = bench.evaluate("() => window.bench.sender.queue.map((one) => one.line)")
    assert list(range(told[0], told[0] + n_apart)) == told
    context.set_offline(False)
    work_through(bench, press)
    settled(bench)

    job = Job.objects.get(pk=job.pk)
    assert "charged and clean" == job.state
    strokes = BenchStroke.objects.filter(run__job=job)
    assert {"held"} == set(strokes.values_list("standing", flat=True))
    assert sorted(strokes.values_list("line", flat=True)) == list(
        range(strokes.count())
    )
    assert () == audited().breaks


def test_it_survives_being_closed_without_a_network(
    bench, context: BrowserContext, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    bench.wait_for_function("() => navigator.serviceWorker.controller !== null")
    context.set_offline(True)
    for _ in range(8):
        line = line_now(bench)
        by_keys(bench, line)
        wait_past(bench, line["number"])
    before = line_now(bench)
    # Heard and drawn it is once it lies on the disk; the line moves on before.
    bench.wait_for_function("() => window.bench.sender.kept().length === 8")
    bench.reload()
    bench.locator(".tile").wait_for()
    assert 8 == bench.evaluate("() => window.bench.sender.queue.length")

    bench.keyboard.press("1")
    expect(bench.get_by_text("Last done:")).to_be_visible()
    bench.keyboard.press("Space")
    assert before["number"] == line_now(bench)["number"]
    context.set_offline(False)
    settled(bench)
    assert 8 == BenchStroke.objects.filter(run__job=job, standing="held").count()


def test_what_one_person_told_waits_while_another_is_signed_in(
    bench, context: BrowserContext, live_server, sallowmere, lead, helper, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    settled(bench)
    context.set_offline(True)
    for _ in range(3):
        line = line_now(bench)
        by_keys(bench, line)
        wait_past(bench, line["number"])
    bench.goto("about:blank")
    context.set_offline(False)

    signs_in(context, live_server, helper)
    bench.goto(live_server.url + "/bench/")
    waits = bench.get_by_text(f"Kept here until {lead.name} signs in: 3")
    expect(waits).to_be_visible()
    assert 0 == BenchStroke.objects.filter(run__job=job).count()

    signs_in(context, live_server, lead)
    bench.goto(live_server.url + "/bench/")
    bench.wait_for_function(
        "(who) => window.bench.sender.state.person?.ref === who", arg=lead.ref
    )
    settled(bench)
    strokes = BenchStroke.objects.filter(run__job=job, standing="held")
    assert [lead.pk] * 3 == list(strokes.values_list("by", flat=True))
    expect(waits).to_have_count(0)


def signs_in(context: BrowserContext, live_server, person) -> None:
    """Give the browser the session of somebody."""
    key = session_of(person).cookies["sessionid"].value
    context.clear_cookies()
    context.add_cookies([{"name": "sessionid", "value": key, "url": live_server.url}])


def test_it_asks_for_the_device_and_never_takes_the_last_one(
    bench, sallowmere, lead, now
) -> None:
    first, second = (kitted(sallowmere, row, lead, now) for row in (18, 22))
    begin(bench, first)
    bench.keyboard.press("Escape")
    begin(bench, second)
    bench.keyboard.press("Escape")
    bench.keyboard.press("Space")

    expect(bench.get_by_text("device: found none chosen")).to_be_visible()
    assert 0 == BenchStroke.objects.count()
    bench.keyboard.press("3")
    expect(bench.get_by_text("place 3: found no open device")).to_be_visible()
    scan(bench, second.number)
    bench.locator(".band .line", has_text=str(second.line)).wait_for()
    bench.keyboard.press("Space")
    settled(bench)
    assert [second.pk] == list(
        BenchStroke.objects.values_list("run__job_id", flat=True)
    )


def test_it_takes_a_burst_back_as_one(bench, sallowmere, lead, now) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    work_through(bench, by_keys, upto="opening")
    read_first(bench)
    bench.wait_for_timeout(1300)
    start = line_now(bench)["number"]
    for _ in range(4):
        # A line that warns takes no press before it was shown.
        drawn(bench)
        bench.keyboard.press("Space")
    bench.wait_for_function(
        f"() => window.bench.line(window.bench.job()).number === {start + 4}"
    )
    bench.keyboard.press("Shift+Backspace")
    bench.wait_for_function(
        f"() => window.bench.line(window.bench.job()).number === {start}"
    )

    expect(bench.get_by_text("4 taken back")).to_be_visible()
    settled(bench)
    assert 4 == Entry.objects.filter(journal="bench", verb="undone").count()


def test_it_writes_no_line_twice_however_fast_it_is_pressed(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    work_through(bench, by_keys, upto="opening")
    read_first(bench)
    start = line_now(bench)["number"]
    # Two presses in one turn of the page: nothing can lie on the disk between them.
    bench.evaluate("() => [1, 2].forEach(() => window.bench.hear({ name: 'done' }))")
    settled(bench)

    lines = BenchStroke.objects.filter(run__job=job, line__gte=start)
    assert [start, start + 1] == list(lines.values_list("line", flat=True))


def test_it_will_not_pass_what_is_left_in_the_tray(
    bench, sallowmere, lead, helper, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    for _ in range(ENOUGH):
        line = line_now(bench)
        if line["asks"] == "count":
            break
        by_keys(bench, line)
        wait_past(bench, line["number"])
    letter = line["compartments"][0]
    bench.keyboard.press("n")
    bench.get_by_role("button", name=re.compile(rf"\b{letter}\b")).click()
    bench.keyboard.press("1")
    bench.locator(".number", has_text="1").wait_for()
    bench.keyboard.press("Enter")
    expect(bench.get_by_text(f"1 left in {letter}")).to_be_visible()
    bench.keyboard.press("Space")
    expect(bench.get_by_text("wanted what became of 1 in")).to_be_visible()
    bench.keyboard.press("n")
    bench.get_by_role("button", name="Refitted now").click()
    bench.keyboard.press("Space")
    wait_past(bench, line["number"])

    assert line["number"] + 1 == line_now(bench)["number"]
    settled(bench)
    assert () == audited().breaks


def test_it_finds_another_way_when_a_joint_will_not_come(
    bench, sallowmere, lead, now
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    while line_now(bench)["name"] != "label screw":
        line = line_now(bench)
        by_keys(bench, line)
        wait_past(bench, line["number"])
    bench.keyboard.press("u")
    bench.get_by_role("button", name="Will not come").click()
    expect(bench.get_by_text("There is no way as it lies")).to_be_visible()
    # Half open, it is not done: its tile says so, and that nobody may walk away.
    bench.keyboard.press("Escape")
    tile = bench.locator(".tile")
    expect(tile).to_contain_text("There is no way as it lies")
    expect(tile).to_contain_text("no safe stop yet")
    tile.click()
    expect(bench.get_by_text("There is no way as it lies")).to_be_visible()
    bench.keyboard.press("u")
    bench.get_by_role("button", name="Close it up").click()
    bench.wait_for_function("() => window.bench.line(window.bench.job()) !== null")
    work_through(bench, by_keys, upto="final")
    settled(bench)

    assert "closed" == Job.objects.get(line=18, batch=sallowmere).state
    assert () == audited().breaks


def test_a_place_number_means_a_place_of_this_bench(
    bench, live_server, new_context, lead, sallowmere, now
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    other = signed_in(new_context(), live_server.url)
    at_bench(other, live_server.url, "bench 2")

    tile = other.locator(".tile")
    expect(tile).to_contain_text("bench 1, place 1")
    other.keyboard.press("1")
    expect(other.get_by_text("place 1: found no open device there")).to_be_visible()
    tile.click()
    expect(other.locator(".band")).to_contain_text("bench 1, place 1")
    expect(bench.locator(".band")).to_contain_text("tray R")


def test_two_benches_that_were_apart_are_shown_side_by_side(
    bench, live_server, new_context, lead, sallowmere, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    other = signed_in(new_context(), live_server.url)
    at_bench(other, live_server.url, "bench 2")
    scan(other, job.number)
    other.get_by_role("button", name="Done").wait_for()
    other.context.set_offline(True)
    for page, n in ((bench, 6), (other, 4)):
        for _ in range(n):
            line = line_now(page)
            by_keys(page, line)
            wait_past(page, line["number"])
    other.keyboard.press("Backspace")
    settled(bench)
    other.context.set_offline(False)
    settled(other)
    expect(other.get_by_text("Written first:")).to_be_visible()

    standings = BenchStroke.objects.values_list("standing", flat=True)
    assert 6 == sum(one == "held" for one in standings)
    assert 4 == sum(one == "agreed" for one in standings)
    assert 1 == sum(one == "disputed" for one in standings)
    other.keyboard.press("y")
    expect(other.get_by_text("Last done:")).to_be_visible()
    assert 6 == BenchStroke.objects.filter(standing="held").count()


@pytest.fixture
def new_context(browser, browser_context_args) -> Iterator[Any]:
    made: list[BrowserContext] = []

    def make() -> BrowserContext:
        made.append(browser.new_context(**browser_context_args))
        return made[-1]

    yield make
    for page in made:
        page.close()


def signed_in(context: BrowserContext, address: str) -> Page:
    page = context.new_page()
    page.goto(address + "/sign-in/")
    page.get_by_label("Short name").fill("lead")
    page.get_by_label("Password").fill("a long word of the lead")
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("heading", level=1, name="Today").wait_for()
    return page


def test_a_press_answers_the_line_that_was_seen_though_another_bench_was_faster(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    for _ in range(3):
        line = line_now(bench)
        by_keys(bench, line)
        wait_past(bench, line["number"])
    settled(bench)
    number = line_now(bench)["number"]
    bench.locator("button.first").hover()
    bench.mouse.down()
    run = BenchRun.objects.get(job=job)
    stroke = one(run, number, "done", after=head(run))
    assert ["held"] == standings(session_of(lead), stroke, name="bench 2")
    bench.evaluate("() => window.bench.sender.turn()")
    bench.wait_for_function(
        "(n) => window.bench.line(window.bench.job()).number > n", arg=number
    )

    bench.mouse.up()

    bench.get_by_text("wanted this one seen first").wait_for()
    settled(bench)
    assert number + 1 == line_now(bench)["number"]
    assert 1 == BenchStroke.objects.filter(run=run, line=number).count()
    assert not BenchStroke.objects.filter(run=run, line__gt=number).exists()


def test_cautions_of_a_new_path_are_not_taken_for_read(
    bench, sallowmere, lead, now
) -> None:
    """Its lines count from the beginning again."""
    begin(bench, kitted(sallowmere, 18, lead, now))
    bench.evaluate(
        """() => { const app = window.bench;
                   app.cautionsRead = app.mark(app.line(app.job())); }"""
    )
    same, other = bench.evaluate(
        """() => { const app = window.bench, job = app.job(), line = app.line(job);
                   const same = app.cautionsRead === app.mark(line);
                   job.run.ref = "another path";
                   return [same, app.cautionsRead === app.mark(line)]; }"""
    )

    assert same
    assert not other


def test_what_the_records_refuse_is_said_until_all_of_it_was_seen(
    bench, sallowmere, lead, now
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    bench.evaluate(
        """async () => { const app = window.bench;
             app.sender.refused = [1, 2, 3, 4, 5].map((n) =>
               ({ act: "done", line: n, against: `refused for ${n}` }));
             app.draw(); }"""
    )
    bench.get_by_text("Refused by the records: 5").wait_for()

    bench.evaluate("() => window.bench.open('refused')")
    assert not bench.get_by_text("refused for 5").count()
    bench.get_by_role("button", name="Seen").click()
    bench.get_by_text("refused for 5").wait_for()
    bench.get_by_role("button", name="Seen").click()

    bench.wait_for_function("() => window.bench.screen === 'home'")
    assert not bench.get_by_text("Refused by the records").count()


def test_what_was_refused_can_be_told_again_and_the_rest_says_why_not(
    bench, sallowmere, lead, now
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    bench.evaluate(
        """async () => { const app = window.bench, job = app.job();
             const told = { run: job.run.ref, facts: {}, bench: "bench 1", row: 1,
               at: new Date().toISOString(), after: "before-all", act: "done" };
             app.sender.refused = [0, 1, 3].map((line) =>
               ({ ...told, key: `once-refused-${line}`, line, against: "a lock" }));
             app.open("refused"); }"""
    )

    bench.get_by_role("button", name="Tell again").click()

    bench.get_by_text("found line 4, wanted line 3").wait_for()
    settled(bench)
    assert ["once-refused-0", "once-refused-1"] == [
        one.client_key for one in BenchStroke.objects.filter(standing="held")
    ]
    assert not bench.get_by_text("a lock").count()
    assert 1 == bench.evaluate("() => window.bench.sender.refused.length")


def test_what_is_found_in_mid_work_stands_above_the_line_at_once(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 32, lead, now)
    begin(bench, job)
    note_finding(job, "confirmed", by=lead, now=now, code="T-BAT")
    bench.evaluate("() => window.bench.sender.turn()")

    bench.get_by_text("Known only since this path was made").wait_for()
    assert "May run: no" in bench.locator(".power").inner_text()


def test_what_is_answered_after_the_records_were_read_anew_is_taken(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    asked = bench.evaluate_handle("() => window.bench.job()")
    for _ in range(3):
        line = line_now(bench)
        by_keys(bench, line)
        wait_past(bench, line["number"])
    while line_now(bench)["asks"] != "done":
        line = line_now(bench)
        by_keys(bench, line)
        wait_past(bench, line["number"])
    settled(bench)
    number = line_now(bench)["number"]

    # As a question does that was put before: it holds the device as it was then.
    told = "(job) => { const b = window.bench, run = b.run(job); %s }"
    bench.evaluate(
        told % f"return b.tell(job, run, {{ act: 'done', line: {number} }})", asked
    )
    assert number + 1 == line_now(bench)["number"]
    settled(bench)
    assert not bench.evaluate("() => window.bench.sender.refused")
    strange = told % "return b.tell(job, { ref: 'another' }, { act: 'done', line: 0 })"
    bench.evaluate(strange, asked)
    expect(bench.get_by_text("path: found another one by now")).to_be_visible()
