"""A real browser at the counter."""

import os
import shutil
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Page

# The browser keeps a loop running in this process from its first test to the end.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "1")

_LOUD = {"error", "warning"}


@pytest.fixture(scope="session")
def browser_type_launch_args(
    browser_type_launch_args: dict[str, Any],
) -> dict[str, Any]:
    return {
        **browser_type_launch_args,
        "executable_path": shutil.which("chromium"),
        "args": [
            "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
            "--disable-background-networking", "--disable-component-update",
            "--disable-sync",
        ],
    }  # fmt: skip


@pytest.fixture
def desktop(live_server, clock, lead, helper, context, settings) -> Iterator[Page]:
    """Give the lead's browser, signed in; it must not complain of anything."""
    lead.user.set_password("a long word of the lead")
    lead.user.save()
    said: list[str] = []
    page = context.new_page()
    page.on(
        "console", lambda told: said.append(told.text) if told.type in _LOUD else None
    )
    page.goto(live_server.url + "/sign-in/")
    page.get_by_label("Short name").fill("lead")
    page.get_by_label("Password").fill("a long word of the lead")
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("heading", level=1, name="Today").wait_for()
    yield page
    # A refusal is told with its own status, which the browser notes; so is a network
    # that was taken away.
    expected = ("422", "403", "404", "409", "ERR_INTERNET_DISCONNECTED")
    assert [] == [one for one in said if not any(word in one for word in expected)]
