"""What goes otherwise at the bench: differences, reasons, photos, sounds, two hands."""

import re
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from django.db import connections
from django.test import Client
from playwright.sync_api import BrowserContext, Page, expect

from turnscrew.web.records.models import Bench, BenchStroke, Entry, Finding, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import photos
from turnscrew.web.records.services.bench import Change, plan_anew
from web.bench.case import in_turn, standings, taken
from web.browser.bench_case import at_bench, describe, kitted, leave, scan
from web.browser.test_bench import (
    begin,
    by_keys,
    line_now,
    read_first,
    settled,
    wait_past,
)
from web.counter_case import signed_in
from web.photos.conftest import board, written

ENOUGH = 140
"""More presses than any of these runs has lines. [1]"""

WAIT = 30_000
"""A new quote and a new path on a busy machine. [ms]"""

KEYS = """() => [...document.querySelectorAll(".keys button")]
  .map((one) => one.innerText).join("|")"""

TONES = """
window.tones = [];
window.AudioContext = class {
  constructor() { this.currentTime = 0; this.destination = {}; }
  createOscillator() {
    return { frequency: { set value(hz) { window.tones.push(hz); } },
             connect: (to) => to, start() {}, stop() {} };
  }
  createGain() {
    return { gain: { setValueAtTime() {}, exponentialRampToValueAtTime() {} },
             connect: (to) => to };
  }
};
window.spoken = [];
window.SpeechSynthesisUtterance = class { constructor(words) { this.words = words; } };
Object.defineProperty(window, "speechSynthesis", { value: {
  cancel() {}, speak(one) { window.spoken.push(one.words); } } });
"""


@pytest.fixture
def browser_context_args(browser_context_args) -> dict[str, Any]:
    return {**browser_context_args, "viewport": {"width": 1280, "height": 800}}


@pytest.fixture
def bench(desktop: Page, live_server, sallowmere, lead, now) -> Iterator[Page]:
    describe(sallowmere, lead, now)
    desktop.add_init_script(TONES)
    yield at_bench(desktop, live_server.url)
    leave(desktop)


def work_to(page: Page, is_there: Any) -> dict[str, Any]:
    """Answer every line as right up to one."""
    for _ in range(ENOUGH):
        line = line_now(page)
        assert line is not None
        if is_there(line):
            return line
        by_keys(page, line)
        wait_past(page, line["number"])
    raise AssertionError(f"no such line after {ENOUGH} presses")


def pressed(page: Page, key: str) -> None:
    """Press a key and wait until other answers stand on the page."""
    # A lone key is told from a scan after a moment only.
    page.wait_for_timeout(130)
    before = page.evaluate(KEYS)
    page.keyboard.press(key)
    page.wait_for_function(f"(before) => ({KEYS})() !== before", arg=before)


def option(page: Page, title: str) -> None:
    """Choose among the answers, turning pages until it is there."""
    either = re.compile(f"{re.escape(title)}|4  more")
    for _ in range(4):
        page.locator(".keys button", has_text=either).first.wait_for()
        one = page.locator(".keys button", has_text=title)
        if one.count():
            pressed(page, one.first.inner_text()[0])
            return
        pressed(page, "4")
    raise AssertionError(f"no answer {title}")


def miss_one(bench: Page) -> None:
    """Say that a piece was missing on arrival, and at which hole."""
    line = work_to(bench, lambda one: one["moves"] == "taken" and one["n"] > 1)
    pressed(bench, "n")
    option(bench, "missing on arrival")
    bench.locator(".number", has_text="1").wait_for()
    bench.keyboard.press("Enter")
    place = f"{line['letter']}2"
    option(bench, place)
    noted = bench.get_by_text(f"1 missing on arrival at {place}: noted.")
    expect(noted).to_be_visible()
    bench.keyboard.press("Space")
    wait_past(bench, line["number"])
    settled(bench)
    differs = BenchStroke.objects.get(act="differs")
    assert {"what": "missing on arrival", "n": 1, "place": place} == differs.facts
    out = Entry.objects.filter(journal="bench", verb="taken").order_by("-sequence")[0]
    assert f'"n":{line["n"] - 1}' in out.facts.replace(" ", "")


def let_another_look(bench: Page) -> None:
    line = work_to(bench, lambda one: one["second_look"])
    scan(bench, "TS-WHO-LEAD")
    expect(bench.get_by_text("second look: found the same one")).to_be_visible()
    assert line["number"] == line_now(bench)["number"]
    scan(bench, "TS-WHO-NOBODY")
    expect(bench.get_by_text("second look: found nobody called")).to_be_visible()
    scan(bench, "TS-WHO-HELPER")
    wait_past(bench, line["number"])


def test_it_goes_on_with_all_that_is_not_as_said(
    bench, sallowmere, lead, helper, now
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    miss_one(bench)
    let_another_look(bench)
    line = work_to(bench, lambda one: one["asks"] == "test")
    pressed(bench, "u")
    option(bench, "Not possible")
    option(bench, "locked by the customer")
    wait_past(bench, line["number"])
    settled(bench)
    last = BenchStroke.objects.order_by("id").last()
    assert last is not None
    why = {"answer": "not possible", "reason": "locked by the customer"}
    assert why == last.facts

    line = work_to(bench, lambda one: one["name"] == "clean")
    pressed(bench, "u")
    option(bench, "Skip this")
    option(bench, "customer's wish")
    wait_past(bench, line["number"])
    settled(bench)
    assert 1 == BenchStroke.objects.filter(act="skip").count()
    assert () == audited().breaks


def test_it_looks_for_a_second_fault_after_a_failed_test(
    bench, sallowmere, lead, helper, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    work_to(bench, lambda one: one["asks"] == "test")
    bench.keyboard.press("n")
    expect(bench.get_by_text("Failed: put it right and test again")).to_be_visible()
    pressed(bench, "u")
    option(bench, "Second fault found")
    option(bench, "H-WIN")
    expect(bench.get_by_text("A new path from how it lies")).to_be_visible(timeout=WAIT)

    assert Finding.objects.filter(job=job, stage="confirmed", code="H-WIN").exists()
    spares = bench.evaluate(
        "() => window.bench.run(window.bench.job()).lines.map((one) => one.spare)"
    )
    assert "H-WN" in spares
    assert () == audited().breaks


def test_it_stops_and_asks_where_a_second_fault_costs_more_than_agreed(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    work_to(bench, lambda one: one["phase"] == "work")
    pressed(bench, "u")
    option(bench, "Second fault found")
    option(bench, "H-DSP")
    asked = bench.get_by_text("135.03 cu, ask the customer")
    expect(asked).to_be_visible(timeout=WAIT)
    option(bench, "Stop, cover it, and ask")
    expect(bench.get_by_text("A photo of what was found helps")).to_be_visible()
    assert "parked open" == Job.objects.get(pk=job.pk).state
    assert 135_03 == job.approvals.get().quote_minor
    bench.keyboard.press("Escape")
    bench.keyboard.press("Escape")
    scan(bench, job.number)
    expect(bench.get_by_text("The customer has not answered yet.")).to_be_visible()
    option(bench, "Close it up as it is")
    expect(bench.get_by_text("The customer has not answered yet.")).to_be_hidden()
    settled(bench)

    assert "parked open" != Job.objects.get(pk=job.pk).state
    assert () == audited().breaks


def test_it_sounds_and_asks_again_where_another_device_is_scanned(
    bench, sallowmere, lead, now
) -> None:
    first, second = (kitted(sallowmere, row, lead, now) for row in (18, 22))
    begin(bench, second)
    bench.keyboard.press("Space")
    wait_past(bench, 0)
    bench.keyboard.press("Escape")
    begin(bench, first)
    bench.evaluate(
        """() => localStorage.setItem('turnscrew-bench-settings',
                 JSON.stringify({bench: 'bench 1', isQuiet: false}))"""
    )
    bench.evaluate("() => { window.tones.length = 0; }")
    bench.wait_for_timeout(300)
    scan(bench, second.number)
    expect(bench.get_by_text("Last done:")).to_be_visible()

    assert [660, 440] == bench.evaluate("() => window.tones")
    expect(bench.locator(".band .line")).to_have_text(str(second.line))
    bench.keyboard.press("Escape")
    bench.evaluate("() => { window.tones.length = 0; }")
    bench.keyboard.press("Space")
    assert [523, 330, 523, 330] == bench.evaluate("() => window.tones")


@pytest.mark.parametrize("before", ["", "n"])
def test_it_reads_a_scanner_that_falters(bench, sallowmere, lead, now, before) -> None:
    job = kitted(sallowmere, 18, lead, now)
    bench.wait_for_function("() => window.bench.sender.state.ready.length === 1")
    if before:
        bench.keyboard.press(before)
        bench.wait_for_timeout(300)
    # Wireless ones send a few letters at a time.
    for part in (job.number[:4], job.number[4:7], job.number[7:]):
        bench.keyboard.type(part)
        bench.wait_for_timeout(0 if before else 250)
    bench.keyboard.press("Enter")

    bench.get_by_role("button", name="Open it here").wait_for()


def test_keys_that_were_answers_are_no_scan_as_well(
    bench, sallowmere, lead, now
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    work_to(bench, lambda one: one["moves"] == "taken" and one["n"] > 2)
    for key in "n22":
        bench.wait_for_timeout(300)  # as slow as a hand
        bench.keyboard.press(key)
    bench.locator(".number", has_text="2").wait_for()
    bench.keyboard.press("Enter")

    expect(bench.get_by_text("At which hole?")).to_be_visible()
    assert "" == bench.evaluate("() => window.bench.told")


def test_it_shows_the_photo_of_the_phone_for_a_moment(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    bench.wait_for_timeout(300)
    picture = written(board(), "JPEG", quality=80)
    photos.add_photo(job, picture, by=lead, now=now, caption="the latch")
    bench.evaluate("() => window.bench.sender.turn()")
    expect(bench.locator(".flash img")).to_be_visible()
    expect(bench.locator(".flash")).to_have_count(0, timeout=3000)

    bench.evaluate("() => window.bench.sender.turn()")
    bench.wait_for_timeout(300)
    assert 0 == bench.locator(".flash").count()


def in_hand(
    bench: Page, is_right: Callable[[tuple[int | None, str]], bool]
) -> tuple[int | None, str]:
    """Wait until the records hold what a photo that comes now is of."""
    for _ in range(60):
        row = Bench.objects.select_related("in_hand").get(name="bench 1")
        told = row.in_hand.line if row.in_hand else None, row.layer
        if is_right(told):
            break
        bench.wait_for_timeout(100)
    assert is_right(told), told
    return told


def test_a_photo_goes_to_what_is_shown_and_to_nothing_where_nothing_is(
    bench, context: BrowserContext, sallowmere, lead, now
) -> None:
    first, other = (kitted(sallowmere, line, lead, now) for line in (18, 22))
    begin(bench, first)
    work_to(bench, lambda one: one["wants_photo"] and not one["second_look"])
    pressed(bench, "Space")
    pressed(bench, "2")
    line = line_now(bench)
    told = in_hand(bench, lambda told: told[1].startswith(line["says"]))
    assert 18 == told[0]

    pressed(bench, "Escape")
    in_hand(bench, lambda told: told == (None, ""))
    # What was chosen without a network is told once it is there again.
    context.set_offline(True)
    bench.evaluate("(ref) => window.bench.choose(ref)", first.ref)
    bench.wait_for_timeout(300)
    assert Bench.objects.get(name="bench 1").in_hand is None
    context.set_offline(False)
    in_hand(bench, lambda told: told[0] == 18)
    pressed(bench, "Escape")
    scan(bench, other.number)
    bench.get_by_role("button", name="Find the fault").click()
    in_hand(bench, lambda told: told == (22, ""))


def test_it_wants_a_photo_of_what_is_covered_or_a_name_for_it(
    bench, sallowmere, lead, helper, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    line = work_to(bench, lambda one: one["wants_photo"] and not one["second_look"])
    expect(bench.get_by_role("button", name="Yes, photo")).to_be_visible()
    wanted = f"{line['says']} {line['points'][0]}"[:200].strip()
    layer = in_hand(bench, lambda told: told[1].startswith(wanted))[1]

    pressed(bench, "Space")
    expect(bench.get_by_text("A photo before it is covered?")).to_be_visible()
    expect(bench.get_by_text(f"Not possible: signed {lead.key}")).to_be_visible()
    pressed(bench, "Backspace")
    picture = written(board(), "JPEG", quality=80)
    photo = photos.add_photo(job, picture, by=lead, now=now, caption=layer)
    bench.evaluate("() => window.bench.sender.turn()")
    expect(bench.locator(".flash img")).to_be_visible()
    bench.evaluate("() => window.bench.draw()")
    expect(bench.get_by_role("button", name="Yes, so")).to_be_visible()
    # A page that is loaded anew asks for no second photo of the same layer.
    bench.reload()
    bench.wait_for_function("() => window.bench?.sender.state.jobs.length")
    bench.evaluate("(ref) => window.bench.choose(ref)", job.ref)
    pressed(bench, "Space")
    expect(bench.get_by_role("button", name="Yes, so")).to_be_visible()
    bench.keyboard.press("Space")
    wait_past(bench, line["number"])
    bench.wait_for_function("() => !window.bench.sender.queue.length")
    kept = BenchStroke.objects.get(run__job=job, line=line["number"])
    assert {"answer": "yes", "photo": photo.ref} == kept.facts


def test_a_photo_shows_nothing_of_what_was_opened_again_since(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    line = work_to(bench, lambda one: one["wants_photo"] and not one["second_look"])
    layer = " ".join([line["says"], *line["points"]])[:200].strip()
    picture = written(board(), "JPEG", quality=80)
    photo = photos.add_photo(job, picture, by=lead, now=now, caption=layer)
    bench.evaluate("() => window.bench.sender.turn()")
    expect(bench.locator(".flash img")).to_be_visible()
    shown = "(line) => window.bench.photoOf(window.bench.job(), line) ?? null"
    assert photo.ref == bench.evaluate(shown, line)

    settled(bench)
    row = bench_runs.latest(job)
    assert row is not None
    change = Change("opened again", also_reach=("keypad membrane",))
    fresh = plan_anew(row, change, by=lead, now=now, is_time_up=lambda: True)
    bench.evaluate("() => window.bench.sender.turn()")
    on_it = "(ref) => window.bench.job()?.run.ref === ref"
    bench.wait_for_function(on_it, arg=fresh.ref)

    assert bench.evaluate(shown, line) is None


def test_it_finds_a_fault_by_readings_below_zero_and_without_some_answers(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 20, lead, now)
    scan(bench, job.number.upper())
    bench.get_by_role("button", name="Find the fault").click()
    next_name = "() => window.bench.diagnosis?.next.name"
    bench.wait_for_function(next_name)
    first = bench.evaluate(next_name)
    bench.get_by_role("button", name="No answer").click()
    bench.get_by_role("button", name="not applicable").click()
    bench.wait_for_function(f"(first) => ({next_name})() !== first", arg=first)
    assert first != bench.evaluate(next_name)

    bench.evaluate(
        """() => Object.assign(window.bench.diagnosis.next,
             {name: "adapter volts", unit: "V", is_signed: true, answers: []})"""
    )
    for key in "-19.5":
        bench.keyboard.press(key)
        bench.wait_for_timeout(150)  # as slow as a hand
    expect(bench.get_by_text("-19.5 V")).to_be_visible()
    bench.get_by_role("button", name="−").click()
    expect(bench.get_by_text("19.5 V", exact=True)).to_be_visible()
    bench.keyboard.press("Backspace")
    scan(bench, "-19.5")  # as fast as no hand
    expect(bench.get_by_text("reversed or far too high")).to_be_visible()


def test_it_notes_that_somebody_had_to_be_asked(bench, sallowmere, lead, now) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    line = work_to(bench, lambda one: one["does"] == "undo")
    read_first(bench)
    pressed(bench, "u")
    option(bench, "I had to ask")
    expect(bench.get_by_text("Asked somebody: noted")).to_be_visible()

    assert line["number"] == line_now(bench)["number"]
    bench.wait_for_function("() => !window.bench.sender.queue.length")
    kept = BenchStroke.objects.get(run__job=job, act="differs")
    assert {"what": "asked"} == kept.facts


def test_it_keeps_sounds_pedal_and_distance_over_a_reload(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    pressed(bench, "u")
    option(bench, "Letters, name, sounds")
    bench.get_by_role("button", name="Quiet: yes").click()
    bench.get_by_role("button", name="Spoken: no").click()
    bench.get_by_role("button", name="Read from: across").click()
    bench.get_by_role("button", name="Pedal for done").click()
    bench.keyboard.press("F9")
    expect(bench.get_by_text("F9 is done from now on.")).to_be_visible()
    kept = bench.evaluate("() => window.bench.settings")
    bench.reload()
    bench.locator(".band").wait_for()
    assert kept == bench.evaluate("() => window.bench.settings")
    assert (False, True) == (kept["isQuiet"], kept["isSpoken"])
    assert {"F9": "done"} == kept["pedals"]

    begin(bench, job)
    bench.keyboard.press("F9")
    wait_past(bench, 0)
    assert [880] == bench.evaluate("() => window.tones")
    assert bench.evaluate("() => window.spoken").pop()


def test_it_tells_places_apart_without_colour(bench, sallowmere, lead, now) -> None:
    for row in (18, 22, 16):
        begin(bench, kitted(sallowmere, row, lead, now))
        bench.keyboard.press("Escape")
    bench.locator(".tile").nth(2).wait_for()
    bench.evaluate("() => { document.documentElement.style.filter = 'grayscale(1)'; }")
    looks = bench.locator(".tile").evaluate_all(
        """(tiles) => tiles.map((tile) => {
             const hatch = getComputedStyle(tile.querySelector(".hatch"));
             return [hatch.backgroundImage, tile.firstChild.textContent]; })"""
    )

    assert 3 == len({image for image, _ in looks})
    assert 3 == len({words for _, words in looks})
    colours = bench.evaluate(
        """() => [...document.querySelectorAll("*")].flatMap((one) => {
             const style = getComputedStyle(one);
             return [style.color, style.backgroundColor]; })"""
    )
    for colour in colours:
        red, green, blue = colour.strip("rgba()").split(",")[:3]
        assert red.strip() == green.strip() == blue.strip(), colour


def test_it_writes_the_same_key_once_from_two_threads(
    transactional_db, sallowmere, lead, clock, now
) -> None:
    describe(sallowmere, lead, now)
    run = taken(kitted(sallowmere, 18, lead, now), lead, now)
    strokes = in_turn(run, range(6), "")

    def send(client: Client) -> list[str]:
        try:
            return [standings(client, stroke)[0] for stroke in strokes]
        finally:
            connections.close_all()

    with ThreadPoolExecutor(2) as pool:
        told = list(pool.map(send, (signed_in(lead), signed_in(lead))))

    assert [["held"] * 6] * 2 == told
    assert list(range(6)) == list(
        BenchStroke.objects.order_by("id").values_list("line", flat=True)
    )
    assert () == audited().breaks


def test_the_last_answer_can_be_taken_back(
    bench, sallowmere, lead, helper, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    work_to(bench, lambda one: one["asks"] == "number")
    by_keys(bench, line_now(bench))
    bench.get_by_text("All done for this device.").wait_for()
    settled(bench)
    bench.evaluate("() => window.bench.sender.turn()")
    expect(bench.get_by_text("Take it to where finished devices stand")).to_be_visible()
    bench.keyboard.press("Escape")
    bench.get_by_text("No device is open here").wait_for()
    bench.evaluate("() => window.bench.sender.turn()")
    scan(bench, job.number)
    bench.get_by_text("All done for this device.").wait_for()
    for _ in range(2):
        bench.evaluate("() => window.bench.sender.turn()")
    bench.keyboard.press("Backspace")
    bench.locator(".working", has_text="Charge at hand-back").wait_for()
    settled(bench)

    assert "closed" == Job.objects.get(pk=job.pk).state


def test_what_is_not_to_be_opened_is_not_offered(bench, sallowmere, lead, now) -> None:
    job = Job.objects.get(batch=sallowmere, line=1)
    scan(bench, job.number)
    bench.get_by_text("wanted it kitted or further").wait_for()

    assert not bench.get_by_role("button", name="Open it here").count()
