"""
The first morning, as docs/first-morning.md tells it, from the link to a closed device.

With TURNSCREW_PICTURES=1 the walk writes the pictures of the page.
"""

import os
import re
from collections.abc import Callable
from datetime import datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import BrowserContext, Page, expect

from turnscrew.web.keeping.owner import first_owner, make_sign_in_link
from turnscrew.web.records.models import (
    Allotment,
    Approval,
    BenchStroke,
    Job,
    Person,
    WrittenYes,
)
from turnscrew.web.records.queries.audit import audited
from web.browser.bench_case import scan
from web.browser.test_bench import by_keys, settled, work_through
from web.conftest import SALLOWMERE

DOCS = Path(__file__).resolve().parents[3] / "docs"
PAGE = DOCS / "first-morning.md"
PICTURES = DOCS / "pictures"
IS_WANTED = os.environ.get("TURNSCREW_PICTURES") == "1"
MOST_BYTES = 120_000
SIZE = (1280, 800)
N_COLOURS = 64
PASSWORD = "a long word of the lead"

Shoot = Callable[[str], None]


@pytest.fixture
def browser_context_args(browser_context_args) -> dict[str, Any]:
    width, height = SIZE
    return {**browser_context_args, "viewport": {"width": width, "height": height}}


def told(text: str) -> str:
    """Give the words of the page on one line, without its marks."""
    return " ".join(re.sub(r"[*`>]", "", text).split())


def kept(content: bytes) -> bytes:
    """Make a picture small: few colours, each as it is."""
    picture = Image.open(BytesIO(content)).convert("RGB")
    flat = picture.quantize(N_COLOURS, dither=Image.Dither.NONE)
    file = BytesIO()
    flat.save(file, "PNG", optimize=True)
    return file.getvalue()


def test_it_goes_as_the_page_says(context: BrowserContext, live_server, clock) -> None:
    page = context.new_page()
    made: list[str] = []

    def shoot(name: str) -> None:
        made.append(name)
        content = kept(page.screenshot())
        if IS_WANTED:
            PICTURES.mkdir(exist_ok=True)
            (PICTURES / f"{name}.png").write_bytes(content)

    come_in(page, live_server.url, clock(), shoot)
    receive(page, shoot)
    decide(page, shoot)
    prepare(page, shoot)
    open_and_close(page, live_server.url, shoot)

    text = PAGE.read_text("utf-8")
    assert re.findall(r"\]\(pictures/([\w-]+)\.png\)", text) == made
    # What is pressed in the walk is what the page says.
    for word in PRESSED:
        assert word in told(text), word
    assert () == audited().breaks


PRESSED = (
    "Come in", "Set password", "Batches", "Receive these files", "Receive",
    "Keep these quotes", "Approvals", "Write them down as asked", "Yes to",
    "Write these answers", "Plan", "Papers", "kitted", "Move it", "Open it here",
    "Agreed for devices", "Write the yes", "Manual", "Allot the parts",
    "TS-WHO-helper", "Write its kit as fitted",
)  # fmt: skip


def come_in(page: Page, address: str, now: datetime, shoot: Shoot) -> None:
    token = make_sign_in_link(first_owner(now), now)
    page.goto(f"{address}/first/{token}/")
    page.get_by_role("button", name="Come in").click()
    page.get_by_label("Password").first.fill(PASSWORD)
    page.get_by_label("again").fill(PASSWORD)
    page.get_by_role("button", name="Set password").click()
    expect(page.get_by_text("password set")).to_be_visible()
    page.get_by_role("link", name="Today").click()
    expect(page.get_by_role("link", name="Manual")).to_be_visible()
    shoot("first-morning-today")


def go(page: Page, link: str) -> None:
    page.get_by_label("This batch").get_by_role("link", name=link, exact=True).click()


def show(page: Page, heading: str) -> None:
    """Bring what stands under a heading to the top of the screen."""
    found = page.get_by_role("heading", name=heading, exact=True)
    found.evaluate("it => it.scrollIntoView()")


def receive(page: Page, shoot: Shoot) -> None:
    page.get_by_role("link", name="Batches").click()
    files = [path for path in SALLOWMERE.iterdir() if path.name != "columns.yaml"]
    page.get_by_label("Files of the batch").set_input_files(sorted(files))
    page.get_by_role("button", name="Receive these files").click()
    expect(page.get_by_text("60 devices received")).to_be_visible()
    shoot("first-morning-received")
    go(page, "Receive")
    expect(page.get_by_text("60 here, 60 on the list")).to_be_visible()
    for found in ("SHN-0688", "1 missing", "1 not on the list", "revision 2"):
        expect(page.locator("#compared")).to_contain_text(found)
    show(page, "List against bodies")
    shoot("first-morning-differs")


def decide(page: Page, shoot: Shoot) -> None:
    go(page, "How it stands")
    page.get_by_role("button", name="Keep these quotes").click()
    page.get_by_text("quotes kept").first.wait_for()
    go(page, "Approvals")
    page.get_by_role("button", name="Write them down as asked").click()
    page.get_by_label("Who answered").fill("the equipment desk")
    page.get_by_label("Yes to").fill("40 59")
    shoot("first-morning-approvals")
    page.get_by_role("button", name="Write these answers").click()
    expect(page.get_by_text("2 answers written")).to_be_visible()
    assert {40, 59} == set(
        Approval.objects.filter(answer="yes").values_list("job__line", flat=True)
    )
    page.get_by_label("Agreed for devices").fill("19")
    page.get_by_label("Who agreed in writing").fill("the equipment desk")
    page.get_by_label("Day of the letter or message").fill("2027-02-01")
    page.get_by_role("button", name="Write the yes").click()
    yes = WrittenYes.objects.get()
    assert (19, "tamper label") == (yes.job.line, yes.cover)
    go(page, "How it stands")
    page.get_by_role("button", name="Allot the parts").click()
    expect(page.get_by_text("pieces allotted")).to_be_visible()


def prepare(page: Page, shoot: Shoot) -> None:
    go(page, "Plan")
    expect(page.locator(".working")).to_contain_text("None late; last job day")
    shoot("first-morning-plan")
    go(page, "Papers")
    show(page, "Papers")
    shoot("first-morning-papers")
    for title in ("Device labels", "Batch sheet", "Day sheet, lead"):
        link = page.get_by_role("link", name=f"{title}, A4")
        start = page.url.split("/batches/")[0]
        paper = page.request.get(start + (link.get_attribute("href") or ""))
        assert (200, b"%PDF") == (paper.status, paper.body()[:4]), title


def open_and_close(page: Page, address: str, shoot: Shoot) -> None:
    job = Job.objects.get(batch__name__startswith="Sallowmere", line=19)
    page.get_by_label("Scan or type a number").fill(job.number)
    page.keyboard.press("Enter")
    page.get_by_label("State").select_option("kitted")
    show(page, "Move it")
    shoot("first-morning-device")
    page.get_by_role("button", name="Move it").click()
    expect(page.get_by_text("kitted,").first).to_be_visible()
    work(page, job, address, shoot)
    see_what_is_written(page, job, address)
    page.goto("about:blank")


def work(page: Page, job: Job, address: str, shoot: Shoot) -> None:
    page.goto(f"{address}/bench/")
    page.locator(".band").wait_for()
    page.get_by_role("textbox").fill("bench 1")
    shoot("first-morning-bench-name")
    page.get_by_role("button", name="Done", exact=True).click()
    expect(page.get_by_role("textbox")).to_have_count(0)
    scan(page, job.number)
    page.get_by_role("button", name="Open it here").wait_for()
    page.keyboard.press("1")
    page.get_by_role("button", name="Done").wait_for()
    n_lines = work_through(page, as_it_says, upto="opening")
    shoot("first-morning-bench-line")
    n_lines += work_through(page, as_it_says, upto="close")
    shoot("first-morning-close-gate")
    assert {Allotment.PROMISED} == states_of_kit(job)
    n_lines += work_through(page, as_it_says)
    assert n_lines > 20
    settled(page)


def see_what_is_written(page: Page, job: Job, address: str) -> None:
    assert "charged and clean" == Job.objects.get(pk=job.pk).state
    assert {"held"} == set(BenchStroke.objects.values_list("standing", flat=True))
    assert {Allotment.USED} == states_of_kit(job)
    others = BenchStroke.objects.filter(facts__other__isnull=False)
    helper = Person.objects.get(key="helper")
    assert {helper.ref} == {one.facts["other"] for one in others}
    page.goto(f"{address}/items/{job.item.ref}/")
    expect(page.get_by_role("button", name="Write its kit as fitted")).to_be_visible()


def as_it_says(page: Page, line: dict[str, Any]) -> None:
    """Answer a line as the page tells it: what no scanner reads is typed."""
    assert "No yes in writing" not in " ".join(line["cautions"] + line["details"])
    if line["second_look"]:
        # Done alone is refused, and the refusal tells the way without a scanner.
        page.keyboard.press("Space")
        expect(page.get_by_text("TS-WHO- and their short name typed")).to_be_visible()
        page.keyboard.type("TS-WHO-helper", delay=60)
        page.keyboard.press("Enter")
    else:
        by_keys(page, line)


def states_of_kit(job: Job) -> set[str]:
    return set(Allotment.objects.filter(job=job).values_list("state", flat=True))


def test_its_pictures_lie_there_and_are_small() -> None:
    named = set(re.findall(r"\]\(pictures/([\w-]+\.png)\)", PAGE.read_text("utf-8")))

    assert named == {path.name for path in PICTURES.iterdir()}
    for name in named:
        path = PICTURES / name
        with Image.open(path) as picture:
            assert (SIZE, "P") == (picture.size, picture.mode), name
        assert path.stat().st_size < MOST_BYTES, name
