"""The stories of the counter, in a real browser, by keyboard, scanner and eye."""

import re

from playwright.sync_api import Page, expect

from turnscrew.web.records.models import Approval, Batch, Invoice, Job
from turnscrew.web.records.queries.audit import audited
from web.conftest import SALLOWMERE


def receive_files(page: Page) -> None:
    page.get_by_role("link", name="Batches").click()
    names = ("terms.yaml", "people.yaml", "batch.csv", "parts.csv",
             "customer-list.csv", "history.csv")  # fmt: skip
    page.get_by_label("Files of the batch").set_input_files(
        [SALLOWMERE / name for name in names]
    )
    page.get_by_role("button", name="Receive these files").click()
    expect(page.get_by_text("60 devices received")).to_be_visible()


def go(page: Page, link: str) -> None:
    page.get_by_label("This batch").get_by_role("link", name=link, exact=True).click()


def test_it_shows_one_missing_and_one_extra(desktop: Page) -> None:
    receive_files(desktop)
    go(desktop, "Receive")

    expect(desktop.get_by_text("60 here, 60 on the list")).to_be_visible()
    found = desktop.locator("#compared").inner_text()
    for planted in (
        "58 matched", "1 differing", "1 missing", "1 not on the list",
        "SHN-0688",
        "duplicate serial: the same as 49", "duplicate serial: the same as 18",
        "no owner's number on the body",
        "revision 2, on the list",
        "receiving them all takes 666 min",
    ):  # fmt: skip
        assert planted in found, planted


def test_it_receives_by_scanner_alone(desktop: Page) -> None:
    receive_files(desktop)
    # Only what a scanner sends: characters and Enter, into whatever has the focus.
    go(desktop, "Receive")
    expect(desktop.get_by_label("Scan its serial")).to_be_focused()
    desktop.keyboard.type("SHN-0688")
    desktop.keyboard.press("Enter")
    expect(desktop.get_by_text("of the customer's list")).to_be_visible()
    expect(desktop.get_by_label("Model")).to_have_value("V80")
    desktop.get_by_role("button", name="Receive", exact=True).click()

    expect(desktop.get_by_text("device 61 received as 270201061")).to_be_visible()
    expect(desktop.get_by_text("0 missing")).to_be_visible()


def test_it_opens_the_record_a_scan_means(desktop: Page) -> None:
    receive_files(desktop)
    job = Job.objects.get(batch__name__startswith="Sallowmere", line=56)
    desktop.keyboard.press("Alt+t")
    desktop.goto(re.sub(r"/batches/.*", "/", desktop.url))
    expect(desktop.get_by_label("Scan or type a number")).to_be_focused()
    desktop.keyboard.type(job.number.lower())
    desktop.keyboard.press("Enter")
    expect(desktop.get_by_text(f"Device 56, {job.number}")).to_be_visible()

    wrong = job.number[:-1] + ("A" if job.number[-1] != "A" else "B")
    desktop.get_by_label("Scan or type a number").fill(wrong)
    desktop.keyboard.press("Enter")
    expect(desktop.get_by_text("the check character is wrong")).to_be_visible()


def test_it_takes_yes_for_the_lines_named_alone(desktop: Page) -> None:
    receive_files(desktop)
    go(desktop, "Approvals")
    message = desktop.get_by_label("Copy and send").input_value()
    amounts = ("116.12", "120.40", "153.87", "102.91")
    assert all(amount in message for amount in amounts)
    assert 8 == desktop.locator("main table").first.locator("tbody tr").count()
    desktop.get_by_role("button", name="Write them down as asked").click()
    desktop.get_by_label("Who answered").fill("the equipment desk")
    desktop.get_by_label("Yes to").fill("40 59")
    desktop.get_by_role("button", name="Write these answers").click()
    expect(desktop.get_by_text("2 answers written")).to_be_visible()

    given = Approval.objects.exclude(answer="").values_list("job__line", "answer")
    assert {(40, "yes"), (59, "yes")} == set(given)
    waiting = Job.objects.filter(state="awaiting answer")
    assert {4, 11, 12, 26, 44, 60} == set(waiting.values_list("line", flat=True))

    # A slip is refused, and what was entered stays.
    desktop.get_by_label("Who answered").fill("the equipment desk")
    desktop.get_by_label("Yes to").fill("40")
    desktop.get_by_role("button", name="Write these answers").click()
    expect(desktop.get_by_role("alert")).to_contain_text(
        "device 40: found it answered yes already"
    )
    expect(desktop.get_by_label("Who answered")).to_have_value("the equipment desk")


def test_it_shows_what_an_answer_a_day_later_does(desktop: Page) -> None:
    receive_files(desktop)
    go(desktop, "Plan")
    expect(desktop.get_by_text("None late; last job day 7")).to_be_visible()
    desktop.get_by_label("Answers in hand on day").fill("2")
    desktop.get_by_role("button", name="Reckon").click()

    # Golden figures of the invented demo batch.
    expect(desktop.get_by_text("2 late")).to_be_visible()
    late = desktop.locator("main ul").first.inner_text()
    assert ["device 40: 1 day late", "device 59: 1 day late"] == late.splitlines()

    desktop.get_by_label("Answers in hand on day").fill("")
    desktop.get_by_label("Away: PERSON=FROM-TO").fill("lead=2-4")
    desktop.get_by_role("button", name="Reckon").click()
    expect(
        desktop.get_by_text("due day first: device 24 1 day late, device 25 1 day late")
    ).to_be_visible()


def test_it_buys_nothing_that_is_owned(desktop: Page) -> None:
    receive_files(desktop)
    go(desktop, "Order")
    expect(desktop.get_by_text("322.00 cu; without donors 433.00")).to_be_visible()
    desktop.get_by_role("button", name="Write as ordered").click()
    # What is for a device without a yes in hand is left to whoever orders.
    expect(desktop.get_by_text("device 60: no yes in hand")).to_be_visible()
    for box in desktop.locator("#place-form [type=checkbox]").all():
        box.check()
    desktop.get_by_role("button", name="Write as ordered").click()
    expect(desktop.get_by_text("All of it is ordered.")).to_be_visible()

    go(desktop, "Donors")
    desktop.get_by_label("Devices to strip").fill("2 6 14 17 21 34 35 45")
    desktop.get_by_role("button", name="Take as donors").click()
    expect(desktop.get_by_text("8 donors")).to_be_visible()
    # Packs and storage are never listed as harvestable, storage needs an end.
    section = desktop.locator("section.sheet").filter(has_text="14 L240 A")
    assert "C-FN" in section.inner_text()
    assert "C-BT" not in section.inner_text()
    ends = desktop.locator("table").filter(has_text="Verified how")
    assert 8 == ends.locator("tbody tr").count()


def test_it_isolates_a_swollen_pack_in_two_actions(desktop: Page, helper) -> None:
    receive_files(desktop)
    job = Job.objects.get(batch__name__startswith="Sallowmere", line=25)
    desktop.get_by_label("Scan or type a number").fill(job.number)
    desktop.keyboard.press("Enter")
    expect(desktop.get_by_text("never press, bend, pierce").first).to_be_visible()
    desktop.get_by_role("button", name="Isolate it now").click()
    expect(desktop.get_by_text("isolated, isolation place")).to_be_visible()

    # Nobody below the sign-off gets it.
    desktop.get_by_label("State").select_option("quoted")
    desktop.get_by_role("button", name="Move it").click()
    desktop.get_by_label("State").select_option("kitted")
    desktop.get_by_label("Holder").select_option(label="Joss Harrowell")
    desktop.get_by_role("button", name="Move it").click()
    expect(desktop.get_by_role("alert")).to_contain_text("signed off for battery")
    desktop.get_by_label("Holder").select_option(label="Imke Vasterling")
    desktop.get_by_role("button", name="Move it").click()
    expect(desktop.get_by_text("kitted, isolation place", exact=True)).to_be_visible()


def test_it_answers_a_comeback_argument(desktop: Page) -> None:
    receive_files(desktop)
    go(desktop, "How it stands")
    desktop.get_by_role("button", name="Keep these quotes").click()
    desktop.get_by_role("link", name="Comebacks").click()
    row = desktop.locator("tbody tr").filter(has_text="PL3-87183")
    expect(row).to_contain_text("26 Dec 2026")
    row.get_by_role("link").click()
    past = desktop.locator("main").inner_text()
    for words in ("function check-out=passed", "C-KBA", "class part"):
        assert words in past

    invoice = Invoice.objects.count()
    quote = Job.objects.get(line=56, batch__name__startswith="Sall").quotes.last()
    assert 0 == invoice
    assert quote is not None
    assert ("comeback", []) == (quote.code, quote.charges)


def test_it_lets_a_contact_answer_their_own_and_nothing_else(
    desktop: Page, browser, live_server
) -> None:
    receive_files(desktop)
    go(desktop, "Approvals")
    desktop.get_by_role("button", name="Write them down as asked").click()
    desktop.get_by_label("Contact's name").fill("Wren Tolliver")
    desktop.get_by_role("button", name="Make a link for a contact").click()
    address = desktop.locator("input[id^=link-]").input_value()

    context = browser.new_context()
    contact = context.new_page()
    contact.goto(address)
    expect(contact.get_by_text("Quotes for your devices").first).to_be_visible()
    contact.get_by_role("group", name="Device 4", exact=True).get_by_label(
        "yes"
    ).check()
    contact.get_by_role("group", name="Device 60").get_by_label("no").check()
    contact.get_by_role("button", name="Send these answers").click()
    expect(contact.get_by_text("yes by Wren Tolliver")).to_be_visible()
    answers = Approval.objects.exclude(answer="").values_list("job__line", "answer")
    assert {(4, "yes"), (60, "no")} == set(answers)

    batch = Batch.objects.get(name__startswith="Sallowmere")
    assert 404 == contact.goto(f"{live_server.url}/batches/{batch.ref}/").status
    assert 404 == contact.goto(address[:-3] + "xx/").status
    context.close()


def test_it_works_without_scripts(desktop: Page, browser, live_server) -> None:
    receive_files(desktop)
    cookies = desktop.context.cookies()
    context = browser.new_context(java_script_enabled=False)
    context.add_cookies(cookies)
    plain = context.new_page()
    plain.goto(live_server.url)
    plain.get_by_role("link", name="Sallowmere").click()
    plain.get_by_role("button", name="Keep these quotes").click()
    plain.get_by_label("This batch").get_by_role("link", name="Order").click()
    for box in plain.locator("#place-form [type=checkbox]").all():
        box.check()
    plain.get_by_role("button", name="Write as ordered").click()
    expect(plain.get_by_text("All of it is ordered.")).to_be_visible()
    assert () == audited().breaks
    context.close()
