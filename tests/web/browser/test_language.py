"""Does the bench speak German, whole, and as large as it speaks English?"""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from example_files import example_text
from flows.bench.test_german_lines import texts_in
from turnscrew.core.model.german import GERMAN
from turnscrew.core.model.language import own_words
from turnscrew.core.model.notation import Notation
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.files.device_file import read_device
from turnscrew.papers.drawing import face_svg
from turnscrew.web.records.models import BenchRun, BenchStroke, Job
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.descriptions import device_in
from turnscrew.web.records.services.notation import choose_notation
from web.browser.bench_case import at_bench, describe, kitted, leave, scan
from web.browser.test_bench import by_keys, line_now, settled, wait_past
from web.browser.test_bench_sizes import CAP_PER_SIZE, CAPITAL_MM, KEY_MM, MEASURE

ENOUGH = 140
"""More presses than any of these runs has lines. [1]"""

WITH_BAD_PACK = 24

SHOWN = """() => ["p", "span", "button", "text"]
  .flatMap((kind) => [...document.querySelectorAll(`#bench ${kind}`)])
  .flatMap((one) => [...one.childNodes])
  .filter((one) => one.nodeType === Node.TEXT_NODE)
  .map((one) => one.textContent)"""

ENGLISH = frozenset(
    "the and with not yet done undo more look tray off apart before take out refit "
    "wanted found keep press lever most deep lift free open close may run differs "
    "safe stop".split()
)
"""Words of the page that no German sentence has."""


@pytest.fixture(params=[(1280, 800), (390, 844)], ids=["1280x800", "390x844"])
def size(request) -> tuple[int, int]:
    return request.param


@pytest.fixture
def browser_context_args(browser_context_args, size) -> dict[str, Any]:
    width, height = size
    screen = {"width": width, "height": height}
    return {**browser_context_args, "viewport": screen, "screen": screen}


@pytest.fixture
def bench(desktop: Page, live_server, sallowmere, lead, now) -> Iterator[Page]:
    describe(sallowmere, lead, now)
    page = at_bench(desktop, live_server.url)
    page.keyboard.press("u")
    page.get_by_role("button", name="Letters, name, sounds").click()
    page.get_by_role("button", name="Language: English").click()
    page.get_by_role("button", name="Sprache: Deutsch").wait_for()
    page.keyboard.press("Space")
    yield page
    leave(page)


def begin(page: Page, job: Job) -> None:
    scan(page, job.number)
    page.get_by_role("button", name="Hier öffnen").wait_for()
    page.keyboard.press("1")
    page.get_by_role("button", name="Fertig").wait_for()


def english_in(texts: list[str]) -> set[str]:
    """Give what is said in English outside quotation marks."""
    found = set()
    for text in texts:
        outside = "".join(part.partition("“")[2] or part for part in text.split("„"))
        if ENGLISH & {word.strip(".,:;?!()").lower() for word in outside.split()}:
            found.add(text)
    return found


def test_it_opens_and_rebuilds_in_german_with_the_keyboard(
    bench, sallowmere, lead, helper, now
) -> None:
    job = kitted(sallowmere, 18, lead, now)
    begin(bench, job)
    english: set[str] = set()
    for _ in range(ENOUGH):
        line = line_now(bench)
        english |= english_in(bench.evaluate(SHOWN))
        if line is None:
            break
        by_keys(bench, line)
        wait_past(bench, line["number"])
    expect(bench.get_by_text("Alles fertig für dieses Gerät.")).to_be_visible()
    settled(bench)

    assert set() == english
    assert "charged and clean" == Job.objects.get(pk=job.pk).state
    assert {"held"} == set(BenchStroke.objects.values_list("standing", flat=True))
    assert () == audited().breaks


def test_every_german_line_can_be_read_and_pressed(
    bench, sallowmere, lead, now, size
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    wrong = bench.evaluate(MEASURE, [CAPITAL_MM, KEY_MM, CAP_PER_SIZE])

    assert [] == wrong


def test_the_page_and_the_papers_say_the_same(
    bench, sallowmere, lead, now, size
) -> None:
    job = kitted(sallowmere, 7, lead, now)
    begin(bench, job)
    run = BenchRun.objects.get(job=job)
    told = [words for words in texts_in(run.run["lines"]) if words]
    shown = bench.evaluate(
        """async (told) => {
          const {says} = await import("/static/bench/words.js");
          return told.map(says);
        }""",
        told,
    )

    own = own_words(device_in(run.description, job.revision), "de")
    book = Phrasebook(GERMAN, own)
    assert [book.says(words) for words in told] == shown


def test_a_caution_before_the_first_line_is_said_once(
    bench, sallowmere, lead, now, size
) -> None:
    scan(bench, kitted(sallowmere, WITH_BAD_PACK, lead, now).number)
    bench.get_by_role("button", name="Hier öffnen").wait_for()
    asked = bench.locator("p.working").inner_text()

    assert asked.startswith("Aufgeblähter oder unbekannter Akku: niemals drücken")
    assert asked.endswith(f"Gerät {WITH_BAD_PACK}, V80 2, Teile bereit: was nun?")
    assert "„" not in asked


def test_a_device_at_another_bench_is_named_with_its_place(
    bench, sallowmere, lead, now, size
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    bench.evaluate("""() => {
      window.bench.job().place = "der Tisch, place 2";
      window.bench.draw();
    }""")

    expect(bench.locator(".band")).to_contain_text("der Tisch, Platz 2")


def test_names_that_begin_like_sentences_are_said_alike(bench, size) -> None:
    own = {name: f"„{name}“" for name in ("key tail", "push rod", "under cover")}
    told = [f"Unlatch {name} (latched)." for name in own] + ["Key tail of red."]
    shown = bench.evaluate(
        """async ([phrases, own, told]) => {
          const {Phrasebook} = await import("/static/bench/words.js");
          const book = new Phrasebook(phrases);
          book.learn(own);
          return told.map((one) => book.says(one));
        }""",
        [dict(GERMAN), own, told],
    )

    book = Phrasebook(GERMAN, own)
    assert [book.says(words) for words in told] == shown


def test_the_words_inside_a_drawing_are_said_too(bench, sallowmere, lead, now) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    device = read_device(example_text("pellorin-l240.device.yaml"))
    svg = face_svg(device, "deck", {})
    shown = bench.evaluate(
        """async (svg) => {
          const {drawing} = await import("/static/bench/draw.js");
          const made = drawing({drawings: {one: svg}}, {drawing: "one", view: "deck"});
          return [...made.querySelectorAll("text")].map((one) => one.textContent);
        }""",
        svg,
    )

    assert "no lever" in svg
    assert "nicht hebeln" in shown
    assert set() == english_in(shown)


FIGURES = (
    "3.5 mm under the head", "gap 4.5 to 5.1 mm", "312 × 214 mm", "M2 x 0.4 - 3.5",
    "M2 x 3 mm", "0.05 mm", "2.5 mm², 3 mm/s, 1.2.3 mm", "19.4 V at 2.05 A", "12.5 %",
    "between 4.5 and 5.1 mm", "serial 12.34, part C.10", "1,234 g", "25.4 mm", "7 mm",
)  # fmt: skip


@pytest.mark.parametrize("sign", ["", "point", "comma"])
@pytest.mark.parametrize("lengths", ["mm", "inch"])
def test_the_page_and_the_papers_read_figures_alike(
    desktop, live_server, sallowmere, lead, now, lengths, sign, size
) -> None:
    choose_notation(lengths, sign, "monday")
    describe(sallowmere, lead, now)
    page = at_bench(desktop, live_server.url)
    page.wait_for_function("() => window.bench.sender.state.notation")
    shown = page.evaluate(
        """async (told) => {
          const {asRead} = await import("/static/bench/words.js");
          window.bench.draw();
          return told.map(asRead);
        }""",
        FIGURES,
    )
    leave(page)

    notation = Notation(lengths, sign)
    assert [notation.says(words) for words in FIGURES] == shown


@pytest.mark.parametrize(
    ("english", "german"),
    [("number: found none, wanted one", "Zahl: keine gefunden, gesucht eine")],
)
def test_it_changes_its_language_without_losing_its_place(
    bench, sallowmere, lead, now, english, german
) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    before = line_now(bench)
    for language, words in (("en", english), ("de", german)):
        bench.evaluate(
            """async ([language, words]) => {
              const {set} = await import("/static/bench/keep.js");
              set({language});
              window.bench.refuse(words);
            }""",
            [language, english],
        )
        expect(bench.get_by_text(words)).to_be_visible()
    after = line_now(bench)
    assert before["number"] == after["number"]


def test_it_takes_a_decimal_comma_and_a_point(bench, sallowmere, lead, now) -> None:
    begin(bench, kitted(sallowmere, 18, lead, now))
    bench.evaluate("() => window.bench.number('Charge:', '%', () => undefined)")
    for keys in ("8,5", "8.5"):
        for key in keys:
            bench.keyboard.press(key)
            bench.wait_for_timeout(150)
        expect(bench.locator(".number")).to_have_text("8,5 %")
        bench.keyboard.press("Backspace")
