"""Is every sentence of a run said in German, but for the description's own?"""

import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from example_files import example_file
from flows.bench.bench_cases import FAMILIES, all_cases
from turnscrew.core.bench.run import Line
from turnscrew.core.model.german import GERMAN
from turnscrew.core.model.language import own_words
from turnscrew.core.model.phrasebook import Phrasebook

HOLD_WORDS = {
    "line: found line 7, wanted 7",
    "second look: found 7, wanted another person than who refitted it",
}
"""Their places hold words, so that a number in them makes another sentence."""

SOURCES = Path(__file__).parents[3] / "src" / "turnscrew"


def texts_in(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield str(key)
            yield from texts_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from texts_in(inner)
    elif value is not None:
        yield str(value)


def shown(line: Line) -> Iterator[str]:
    """Give what the page shows of a line, as it shows it."""
    yield from (line.says, line.power, *line.points, *line.cautions, *line.details)
    yield f"Before {line.name}:" if line.cautions else ""
    yield f"With {line.tool}." if line.tool else ""
    yield f"Why: {line.why}." if line.why else ""
    yield f"Renew {line.renew}." if line.renew else ""
    yield from (line.fastener, line.stop)


def left_over(book: Phrasebook, own: str, texts: Iterable[str]) -> set[str]:
    return {
        f"{words} <- {text}"
        for text in texts
        for words in book.unsaid(text)
        if not all(word.rstrip(".").lower() in own for word in words.split(", "))
    }


def said_by_the_examples() -> str:
    """Give all that the example descriptions say, in small letters."""
    reader = YAML(typ="safe")
    files = [example_file(f"{name}.device.yaml") for name in FAMILIES]
    texts = (text for file in files for text in texts_in(reader.load(file)))
    return "\n".join(texts).lower()


def test_it_says_every_line_of_the_examples_but_for_their_own_words() -> None:
    own = said_by_the_examples()
    books: dict[tuple[str, str], Phrasebook] = {}
    left: set[str] = set()
    for device, run in all_cases():
        key = (device.name, device.revision)
        if key not in books:
            books[key] = Phrasebook(GERMAN, own_words(device, "de"))
        # The work that these cases want is made up for them alone.
        lines = (line for line in run.lines if line.phase != "work")
        texts = {text for line in lines for text in shown(line)}
        left |= left_over(books[key], own, texts)

    assert set() == left


def literals(text: str) -> Iterator[str]:
    """Give the texts between quotation marks, with a number in each place."""
    bare = re.sub(r"^\s*//.*$|^import .*$", "", text, flags=re.MULTILINE)
    for found in re.finditer(r"`([^`\\]*)`|\"([^\"\\\n]*)\"", bare):
        words = found[1] if found[1] is not None else found[2]
        before = bare[max(0, found.start() - 30) : found.start()]
        is_shown = re.search(r"(says|label): ?$|refuse\($|told = $", before)
        is_sentence = " " in words and words[:1].isupper()
        if is_shown or is_sentence or ": found" in words:
            plain = re.sub(r"\$?\{[^}]*\}", "7", words)
            # What holds a text within a text is cut by its inner marks.
            if "{" not in plain:
                yield plain


@pytest.mark.parametrize(
    "name",
    [
        "app", "ask", "draw", "fit", "fold", "input", "more", "recorder", "recording",
        "screens", "send", "setup", "sound",
    ],
)  # fmt: skip
def test_it_says_every_sentence_of_the_page(name: str) -> None:
    text = (SOURCES / "web" / "static" / "bench" / f"{name}.js").read_text("utf-8")
    book = Phrasebook(GERMAN)
    left = {words for words in literals(text) if book.unsaid(words)}

    assert left <= HOLD_WORDS


REFUSED = (
    "core/bench/refusals.py",
    "web/records/queries/bench_holding.py",
    "web/records/services/bench.py",
    "web/records/services/bench_accounts.py",
    "web/records/services/bench_places.py",
    "web/records/services/bench_recording.py",
    "web/bench/camera.py",
)


@pytest.mark.parametrize("name", REFUSED)
def test_it_says_every_refusal_of_the_bench(name: str) -> None:
    text = re.sub(r"\"\n\s*f?\"", "", (SOURCES / name).read_text("utf-8"))
    refusals = {words for words in literals(text) if ": found" in words}
    book = Phrasebook(GERMAN)
    left = {words for words in refusals if book.unsaid(words)}

    assert left <= HOLD_WORDS


@pytest.mark.parametrize(
    ("english", "german"),
    [
        # From memory: how German writes numbers and dates.
        ("3.5 mm", "3,5 mm"),
        ("2027-02-04", "4. Feb. 2027"),
        ("Take out lid screws × 2 (H0, M2x0.4, 3 mm).",
         "Herausnehmen: „lid screws“ × 2 (H0, M2x0,4, 3 mm)."),
        ("Nobody wrote this.", "„Nobody wrote this.“"),
        ("Look: Nobody wrote this.", "Hinsehen: „Nobody wrote this“."),
        ("Closed", "Zu"),
        ("closed", "geschlossen"),
        ("No", "Nein"),
    ],
)  # fmt: skip
def test_it_says_what_it_knows_and_marks_the_rest(english: str, german: str) -> None:
    assert german == Phrasebook(GERMAN).says(english)


def test_it_says_what_the_description_says_in_german() -> None:
    book = Phrasebook(GERMAN, {"bar flat": "Bügel flach", "lid up": "„lid up“"})

    assert "Sitz: Bügel flach." == book.says("Seat: bar flat.")
    assert "Schieben: „lid up“." == book.says("Push lid up.")


NAMES = ("key tail", "push rod", "under cover", "contacts board", "hold bar")


@pytest.mark.parametrize("name", NAMES)
def test_a_name_that_begins_like_a_sentence_is_a_name(name: str) -> None:
    book = Phrasebook(GERMAN, {name: f"„{name}“"})

    assert f"Entriegeln: „{name}“ („latched“)." == book.says(
        f"Unlatch {name} (latched)."
    )
    assert f"Herausnehmen: „{name}“ × 2 (H0)." == book.says(
        f"Take out {name} × 2 (H0)."
    )
    assert "Kodierung: „tail of red“" == Phrasebook(GERMAN).says("Key tail of red")


@pytest.mark.parametrize(
    ("words", "german"),
    [
        ("Read: test card at 0.1, 0.5 and 2 m", "Lesen: "),
        ("Read it", "Gelesen"),
        ("pull up", "Ziehen: nach oben"),
        ("these wait for one another: lid, base", "diese warten aufeinander: "),
        (
            "it can come off, but cannot all go back; on the way back these wait for "
            "one another: lid, base",
            "es kann abgenommen werden, aber nicht alles wieder zurück; auf dem "
            "Rückweg warten diese aufeinander: ",
        ),
        (
            "there is no posture and tool in which these can come off: lid",
            "es gibt keine Lage und kein Werkzeug, womit diese abgehen: ",
        ),
        (
            "no order of turns and tools gets there",
            "keine Reihenfolge von Wenden und Werkzeugen führt dahin",
        ),
    ],
)
def test_it_says_what_was_left_in_english_or_meant_a_key(words, german) -> None:
    assert Phrasebook(GERMAN).says(words).startswith(german)
