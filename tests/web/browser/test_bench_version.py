"""Does a bench that was left open over an upgrade become the newer page?"""

from collections.abc import Iterator

import pytest
from django.test import Client
from playwright.sync_api import Page, expect

from turnscrew.web.bench import shell
from web.browser.bench_case import at_bench, describe, kitted, leave, scan
from web.counter_case import signed_in

SAYS = "A newer page is there: it is loaded at Home, once all is sent."
LONG_MS = 20_000


@pytest.fixture
def bench(desktop: Page, live_server, sallowmere, lead, now) -> Iterator[Page]:
    describe(sallowmere, lead, now)
    page = at_bench(desktop, live_server.url)
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    yield page
    leave(desktop)


def is_newer(page: Page) -> None:
    shown = page.locator("#bench")
    expect(shown).to_have_attribute("data-version", "newer", timeout=LONG_MS)
    page.locator(".band").wait_for()


def test_it_becomes_the_newer_page_where_nothing_is_in_hand(bench, monkeypatch) -> None:
    monkeypatch.setattr(shell, "version", lambda: "newer")

    is_newer(bench)
    expect(bench.get_by_text(SAYS)).to_have_count(0)


def test_amid_a_path_it_says_so_and_waits(
    bench, sallowmere, lead, now, monkeypatch
) -> None:
    job = kitted(sallowmere, 38, lead, now)
    scan(bench, job.number)
    bench.get_by_role("button", name="Open it here").wait_for()
    bench.keyboard.press("1")
    bench.wait_for_function("() => window.bench.screen === 'work'")
    monkeypatch.setattr(shell, "version", lambda: "newer")

    bench.evaluate("() => window.bench.sender.turn()")
    expect(bench.get_by_text(SAYS)).to_be_visible()
    assert "newer" != bench.locator("#bench").get_attribute("data-version")
    bench.evaluate("() => window.bench.goHome()")
    is_newer(bench)


def test_a_page_that_stays_old_is_fetched_once(bench, monkeypatch) -> None:
    """Whatever lies between gives the older page for ever."""
    bench.route("**/bench/state/*", lambda route: route.fulfill(
        json={**route.fetch().json(), "version": "never there"}
    ))  # fmt: skip
    with bench.expect_navigation():
        bench.evaluate("() => window.bench.sender.turn()")
    bench.locator(".band").wait_for()

    expect(bench.get_by_text(SAYS)).to_be_visible()
    loaded = bench.evaluate("() => performance.timeOrigin")
    bench.evaluate("() => window.bench.sender.turn().then(() => window.bench.draw())")
    assert loaded == bench.evaluate("() => performance.timeOrigin")


def test_two_versions_in_turn_are_fetched_once_each(bench) -> None:
    """Two servers behind one address are not of one version while one is renewed."""
    told, loaded = iter("ab" * 200), []
    bench.on("load", lambda page: loaded.append(page))
    bench.route("**/bench/state/*", lambda route: route.fulfill(
        json={**route.fetch().json(), "version": next(told)}
    ))  # fmt: skip
    bench.evaluate("() => window.bench.sender.turn()")
    bench.wait_for_timeout(10_000)

    assert 1 <= len(loaded) <= 2


def test_page_and_records_tell_one_version(lead, clock) -> None:
    client: Client = signed_in(lead)

    told = client.get("/bench/state/").json()
    assert shell.version() == told["version"]
    assert f'data-version="{shell.version()}"' in client.get("/bench/").content.decode()


@pytest.mark.django_db
@pytest.mark.parametrize("name", ["bench/app.js", "photo.js", "sheet.css"])
def test_a_file_of_a_page_is_asked_about_each_time(name) -> None:
    answer = Client().get(f"/static/{name}")
    answer.close()

    assert "max-age=0, public" == answer["Cache-Control"]
