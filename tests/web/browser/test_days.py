"""Is a day said in words beside its field, whatever way round the browser has it?"""

import re

import pytest
from playwright.sync_api import Page, expect


@pytest.mark.parametrize(
    ("language", "said"),
    [("en", "Wednesday,? 3 February 2027"), ("de", "Mittwoch, 3. Februar 2027")],
)
def test_it_says_the_day_that_was_chosen(
    desktop: Page, live_server, lead, language, said
) -> None:
    lead.language = language
    lead.save()
    desktop.goto(f"{live_server.url}/safety/")
    field = desktop.locator('input[type="date"]').first
    beside = desktop.locator(f'output[for="{field.get_attribute("id")}"]')
    assert 0 == beside.count()

    field.fill("2027-02-03")
    expect(beside).to_have_text(re.compile(said))
    field.fill("")
    expect(beside).to_have_text("")


def test_it_says_the_days_that_the_page_came_with(desktop: Page, live_server) -> None:
    desktop.goto(f"{live_server.url}/batches/")
    fields = desktop.locator('input[type="date"]')
    filled = [field for field in fields.all() if field.input_value()]

    assert filled
    for field in filled:
        beside = desktop.locator(f'output[for="{field.get_attribute("id")}"]')
        expect(beside).to_contain_text(field.input_value()[:4])
