"""Can a table be read on a narrow screen without pushing it sideways?"""

import pytest
from playwright.sync_api import Page

from web.browser.test_access import addresses as addresses

PHONE = {"width": 390, "height": 844}
SIDEWAYS = """() => [...document.querySelectorAll("table")]
  .filter((one) => one.scrollWidth > one.clientWidth + 1 && !one.matches(".wide"))
  .map((one) => one.innerText.slice(0, 80))"""
BARE = """() => [...document.querySelectorAll("table.stack tbody tr")]
  .filter((row) => row.cells.length > 1
    && [...row.cells].slice(1).some((cell) => !cell.dataset.label && cell.innerText))
  .map((row) => row.innerText.slice(0, 80))"""


def test_no_table_but_the_whole_batch_is_pushed_sideways(
    desktop: Page, addresses, live_server
) -> None:
    desktop.set_viewport_size(PHONE)
    n_stacked, pushed, bare = 0, {}, {}
    for address in addresses:
        desktop.goto(live_server.url + address)
        n_stacked += desktop.locator("table.stack").count()
        if told := desktop.evaluate(SIDEWAYS):
            pushed[address] = told
        if told := desktop.evaluate(BARE):
            bare[address] = told

    assert n_stacked > 20
    assert {} == pushed
    assert {} == bare


@pytest.mark.parametrize(("width", "shown"), [(390, "Mean: "), (1280, "")])
def test_each_figure_bears_the_head_of_its_column_there(
    desktop: Page, addresses, live_server, width, shown
) -> None:
    desktop.set_viewport_size({"width": width, "height": 844})
    ahead = next(one for one in addresses if one.endswith("/ahead/"))
    desktop.goto(live_server.url + ahead)
    mean = desktop.locator("table.narrow tbody tr").first.locator("td").nth(1)
    before = mean.evaluate("(one) => getComputedStyle(one, '::before').content")

    assert shown == (before.strip('"') if before != "none" else "")
