"""Does the built manual work in a browser, as the records serve it?"""

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, Request, expect

from built_manual import built_manual

PAGES = [
    "", "first-morning.html", "howto/index.html", "howto/swollen-pack.html",
    "commands.html", "glossary.html", "coverage.html", "formats.html",
    "device-keys.html", "methods.html", "python/price.html", "architecture.html",
    "search.html?q=pack",
]  # fmt: skip
SIZES = [(1280, 800), (390, 844)]


@pytest.fixture(scope="session")
def worker(request: pytest.FixtureRequest) -> str:
    """Give the name of this runner among those that run beside each other."""
    return getattr(request.config, "workerinput", {}).get("workerid", "master")


@pytest.fixture
def manual(settings, tmp_path_factory, worker) -> Path:
    folder = built_manual(tmp_path_factory, worker)
    settings.DOCS = str(folder)
    return folder


@pytest.mark.parametrize("size", SIZES)
def test_every_kind_of_page_fits_and_asks_nobody_else(
    desktop: Page, manual, live_server, size
) -> None:
    width, height = size
    desktop.set_viewport_size({"width": width, "height": height})
    elsewhere: list[str] = []

    def note(asked: Request) -> None:
        if not asked.url.startswith((live_server.url, "data:")):
            elsewhere.append(asked.url)

    desktop.on("request", note)
    for name in PAGES:
        # What the policy of the records refuses would be a complaint of the browser.
        desktop.goto(f"{live_server.url}/docs/{name}")
        wide = desktop.evaluate("document.documentElement.scrollWidth")
        assert wide <= width, name
    assert [] == elsewhere


@pytest.mark.parametrize("size", [*SIZES, (360, 640)])
def test_where_it_is_not_built_the_page_that_says_so_fits(
    desktop: Page, settings, live_server, size
) -> None:
    width, height = size
    settings.DOCS = ""
    desktop.set_viewport_size({"width": width, "height": height})
    desktop.goto(f"{live_server.url}/docs/")
    expect(desktop.get_by_text("not built yet")).to_be_visible()

    assert desktop.evaluate("document.documentElement.scrollWidth") <= width


def test_it_can_be_searched_and_darkened(desktop: Page, manual, live_server) -> None:
    desktop.goto(live_server.url)
    desktop.get_by_role("link", name="Manual").click()
    expect(desktop.get_by_role("heading", level=1)).to_contain_text("Turnscrew")
    desktop.get_by_placeholder("Search").fill("swollen")
    desktop.keyboard.press("Enter")
    desktop.get_by_role("link", name="Isolate a swollen pack").first.click()
    expect(desktop.get_by_role("heading", level=1)).to_contain_text("swollen pack")
    for _ in range(3):
        desktop.get_by_role("button", name="Toggle Light").last.click()
    shade = desktop.evaluate("document.body.dataset.theme")
    desktop.reload()
    assert shade == desktop.evaluate("document.body.dataset.theme")


@pytest.mark.parametrize("name", ["first-morning.html", "howto/index.html"])
def test_it_can_be_read_with_a_screen_reader(
    desktop: Page, manual, live_server, name
) -> None:
    desktop.goto(f"{live_server.url}/docs/{name}")
    found = Axe().run(desktop).response["violations"]
    serious = [one for one in found if one["impact"] in {"serious", "critical"}]

    assert [] == [(one["id"], one["nodes"][0]["html"]) for one in serious]
