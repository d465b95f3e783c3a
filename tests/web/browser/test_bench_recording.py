"""The first opening of a model becomes its description, with nothing typed."""

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from turnscrew.files.device_file import read_device
from turnscrew.web.records.models import Description, Job
from turnscrew.web.records.queries.audit import audited
from web.browser.bench_case import at_bench, kitted, leave, scan
from web.browser.test_bench import by_keys, settled, work_through


@pytest.fixture
def browser_context_args(browser_context_args) -> dict[str, Any]:
    return {**browser_context_args, "viewport": {"width": 1280, "height": 800}}


@pytest.fixture
def bench(desktop: Page, live_server, sallowmere) -> Any:
    yield at_bench(desktop, live_server.url)
    leave(desktop)


def recorded(page: Page, n: int) -> None:
    page.get_by_text(f"{n} recorded.").wait_for()


def record_an_opening(page: Page) -> None:
    scan(page, "TS-J-LATCH")
    recorded(page, 1)
    scan(page, "TS-P-DOOR")
    page.get_by_role("button", name="No", exact=False).first.click()
    recorded(page, 2)
    scan(page, "TS-J-SCREW")
    page.get_by_text("Lay one on the scale").wait_for()
    page.keyboard.press("9")
    page.locator(".number", has_text="9").wait_for()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="H0", exact=False).last.click()
    recorded(page, 3)
    scan(page, "TS-3MORE")
    page.get_by_text("screw joint 1 × 4, 9 mm").wait_for()
    page.keyboard.press("Space")
    recorded(page, 4)
    page.keyboard.press("Backspace")
    recorded(page, 3)
    scan(page, "TS-P-COVER")
    page.get_by_role("button", name="Yes").click()
    recorded(page, 4)
    scan(page, "TS-TURN")
    recorded(page, 5)
    scan(page, "TS-J-SOCKET")
    recorded(page, 6)
    scan(page, "TS-P-BOARD")
    page.get_by_role("button", name="No", exact=False).first.click()
    recorded(page, 7)


def put_back(page: Page) -> None:
    page.keyboard.press("u")
    page.get_by_role("button", name="4  more").click()
    page.get_by_role("button", name="All the way in").click()
    page.get_by_role("button", name="Done", exact=True).wait_for()


def test_it_makes_a_description_of_the_first_opening(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    scan(bench, job.number)
    bench.get_by_role("button", name="Record it").wait_for()
    bench.keyboard.press("1")
    bench.get_by_role("button", name="What was it?").wait_for()
    record_an_opening(bench)
    put_back(bench)

    description = Description.objects.get(model="R50")
    device = read_device(description.text)
    assert {"latch joint 1", "screw joint 1", "socket joint 1"} == set(device.joints)
    assert 4 == device.joints["screw joint 1"].n_pieces
    assert {"door 1", "cover 1", "board 1"} <= set(device.parts)
    assert "draft" == description.state

    work_through(bench, by_keys)
    settled(bench)
    assert "charged and clean" == Job.objects.get(pk=job.pk).state
    assert () == audited().breaks


def confirm_the_screw(page: Page) -> None:
    """Done confirms what was told of it last time."""
    expect(page.get_by_text("9 mm long here again?")).to_be_visible()
    expect(page.locator(".number", has_text="9")).to_be_visible()
    page.keyboard.press("Enter")
    expect(page.get_by_text("4 here again?")).to_be_visible()
    page.keyboard.press("Space")
    expect(page.get_by_text("drive H0 here again?")).to_be_visible()
    expect(page.get_by_role("button", name="Yes")).to_be_visible()
    page.keyboard.press("Space")
    recorded(page, 3)
    settled(page)
    facts = "(one) => Object.values(one.facts).join(' ')"
    told = page.evaluate(
        f"() => window.bench.strokes(window.bench.job()).slice(-3).map({facts})"
    )
    of = "screw joint 1"
    assert [f"{of} 9", f"{of} 4", f"{of} H0"] == told


def test_the_next_device_asks_only_what_is_doubtful(
    bench, sallowmere, lead, now
) -> None:
    first = kitted(sallowmere, 18, lead, now)
    scan(bench, first.number)
    bench.get_by_role("button", name="Record it").wait_for()
    bench.keyboard.press("1")
    bench.get_by_role("button", name="What was it?").wait_for()
    record_an_opening(bench)
    put_back(bench)
    work_through(bench, by_keys)
    settled(bench)
    bench.keyboard.press("Escape")

    second = kitted(sallowmere, 22, lead, now)
    scan(bench, second.number)
    bench.get_by_role("button", name="Record it again").click()
    expect(bench.get_by_text("As last time: latch joint 1")).to_be_visible()
    bench.keyboard.press("Space")
    recorded(bench, 1)
    bench.keyboard.press("Space")
    recorded(bench, 2)
    expect(bench.get_by_text("As last time: screw joint 1 × 4")).to_be_visible()
    bench.keyboard.press("Space")
    confirm_the_screw(bench)


def test_another_one_bears_no_name_that_is_known(bench) -> None:
    """Neither of this recording nor of the one before: their facts would be mixed."""
    made = bench.evaluate(
        """async () => {
          const { nameFor } = await import("/static/bench/recording.js");
          const known = ["latch joint 1", "latch joint 2"].map((name) => ({ name }));
          const second = { name: "latch joint 2", removal: "joint", kind: "latch" };
          return [
            nameFor({ known }, [], "joint", "latch"),
            nameFor({ known }, [second], "joint", "latch"),
            nameFor({ known }, [], "part", "door"),
            nameFor(undefined, [second], "joint", "latch"),
          ];
        }"""
    )

    assert ["latch joint 3", "latch joint 3", "door 1", "latch joint 3"] == made


def test_a_part_has_no_pieces_and_each_undo_is_seen(
    bench, sallowmere, lead, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    scan(bench, job.number)
    bench.get_by_role("button", name="Record it").wait_for()
    bench.keyboard.press("1")
    bench.get_by_role("button", name="What was it?").wait_for()
    scan(bench, "TS-J-SCREW")
    bench.get_by_text("Lay one on the scale").wait_for()
    bench.keyboard.press("9")
    bench.locator(".number", has_text="9").wait_for()
    bench.keyboard.press("Enter")
    bench.get_by_role("button", name="H0", exact=False).last.click()
    expect(bench.get_by_text("Last: screw joint 1, 9 mm, H0")).to_be_visible()
    scan(bench, "TS-P-COVER")
    bench.get_by_role("button", name="No", exact=False).first.click()
    expect(
        bench.get_by_text("Done: one more joint like screw joint 1.")
    ).to_be_visible()
    expect(bench.get_by_role("button", name="Three more")).to_have_count(0)
    scan(bench, "TS-3MORE")
    expect(bench.get_by_text("pieces: found no joint told last")).to_be_visible()
    expect(bench.get_by_text("Last: cover 1 off")).to_be_visible()
    seen = ["Last: screw joint 1, 9 mm", "Last: screw joint 1"]
    for _ in range(2):
        bench.keyboard.press("Backspace")
        settled(bench)
    for words in seen:
        bench.keyboard.press("Backspace")
        expect(bench.get_by_text(words, exact=True)).to_be_visible()
