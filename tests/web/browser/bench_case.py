"""A device that lies kitted before a bench, and a browser that stands on its arm."""

from datetime import datetime

from playwright.sync_api import Page

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Batch, Job, Person
from turnscrew.web.records.queries.asked_first import asked_first
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.services import custody, descriptions
from turnscrew.web.records.services.written_yes import Agreed, write_yes
from web.conftest import SALLOWMERE


def describe(batch: Batch, by: Person, now: datetime) -> None:
    contents = {path.name: path.read_bytes() for path in SALLOWMERE.iterdir()}
    descriptions.keep_of_folder(contents, terms_of(batch), by=by, now=now)


def kitted(
    batch: Batch, line: int, by: Person, now: datetime, *, is_agreed: bool = True
) -> Job:
    """Kit a device; whatever is crossed in it only with a yes has one, as it must."""
    for one in asked_first(batch) if is_agreed else ():
        if line in one.lacking:
            agreed = Agreed(one.cover, "Wren Tolliver", now.date())
            write_yes(batch, [line], agreed, by=by, now=now)
    for state in ("diagnosed", "quoted", "kitted"):
        job = Job.objects.get(batch=batch, line=line)
        custody.move(job, Standing(state, "shelf", by.ref), by=by, now=now)
    return Job.objects.get(batch=batch, line=line)


def scan(page: Page, text: str) -> None:
    """Type as a scanner does: at once, however busy this machine is, and Enter."""
    page.evaluate(
        """(keys) => {
          const at = document.activeElement || document.body;
          for (const key of keys)
            at.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true }));
        }""",
        [*text, "Enter"],
    )


def at_bench(page: Page, address: str, name: str = "bench 1") -> Page:
    page.add_init_script(
        "localStorage.getItem('turnscrew-bench-settings') || "
        "localStorage.setItem('turnscrew-bench-settings', "
        f"JSON.stringify({{bench: '{name}', isQuiet: true}}))"
    )
    page.goto(address + "/bench/")
    page.locator(".band").wait_for()
    return page


def leave(page: Page) -> None:
    """Ask nothing any more while the tables are emptied."""
    page.unroute_all(behavior="ignoreErrors")
    page.goto("about:blank")
    page.wait_for_timeout(200)
