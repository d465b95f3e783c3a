"""Does a paper say which words it cannot print, in both languages, and no others?"""

import random
from dataclasses import replace

import pypdfium2
import pytest
import typst

from small_batch import PEOPLE, TERMS, batch, line
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.german import GERMAN_CARDS
from turnscrew.flows.batch.whole import Effort, batch_reckoned
from turnscrew.papers.batch.every import every_paper
from turnscrew.papers.letters import lacking_in
from turnscrew.papers.page import FONT, Paper, font_folder, head
from turnscrew.papers.set_aside import written
from turnscrew.papers.telling import Telling, told_pdf

HELD = "Łódź Ελλάδα Иван Tiếng Tie\u0302\u0301ng שלום أحمد – → − µ ☐ “x” 5 €"
SHEET = "#for words in d.said [ #words #linebreak() ]"


def fonts() -> typst.Fonts:
    return typst.Fonts(include_system_fonts=False, font_paths=[font_folder()])


def foot_of(language: str, *said: str) -> str:
    data = {"head": head("A paper", Paper("a4")), "said": [*map(written, said)]}
    telling = Telling({"de": GERMAN_CARDS}, language)
    sheet = pypdfium2.PdfDocument(told_pdf(SHEET, data, telling))[0]
    return " ".join(sheet.get_textpage().get_text_bounded().split())


def test_what_some_font_holds_is_no_box() -> None:
    found = lacking_in({"said": [HELD]}, FONT, fonts())

    assert ("", (), 0) == (found.letters, found.words, found.n_more)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("山田 at 山田, (山田)", ("5C71 7530",)),
        ("Ward 한a", ("D55C a",)),
        ("a\u200b\ufeff \x01", ()),
        ("日本語日本語日本語", ("65E5 672C 8A9E 65E5 672C 8A9E…",)),
        ("ok 😀", ("1F600",)),
        ('<svg><text font-size="3">日 &lt;</text></svg>', ("65E5",)),
    ],
)
def test_each_word_is_named_once_by_the_numbers_of_its_letters(text, names) -> None:
    assert names == lacking_in({"a": {"b": [text, 3, None]}}, FONT, fonts()).words


def test_what_has_no_room_is_counted() -> None:
    words = [chr(number) for number in range(0x4E00, 0x4E20)]

    found = lacking_in({"said": words}, FONT, fonts())

    assert 0 < len(found.words) < len(words)
    assert len(words) == len(found.words) + found.n_more == len(found.letters)


@pytest.mark.parametrize(
    ("language", "says"),
    [
        ("en", "Each box is a letter that this font lacks: see the screen for: "
         "(5C71 7530)"),
        ("de", "Jedes Kästchen ist ein Zeichen, das dieser Schrift fehlt: am "
         "Bildschirm steht: (5C71 7530)"),
    ],
)  # fmt: skip
def test_the_foot_says_it_in_the_language_of_the_paper(language, says) -> None:
    assert says in foot_of(language, "山田", "Ada")
    assert says.split(":")[0] not in foot_of(language, HELD)


@pytest.mark.parametrize(
    ("language", "says", "mark"),
    [
        ("en", "Each box is a letter", "boxes: see the screen"),
        ("de", "Jedes Kästchen ist ein Zeichen", "Kästchen: s. Bildschirm"),
    ],
)
def test_every_paper_of_a_batch_says_it_and_each_label_bears_a_mark(
    language, says, mark
) -> None:
    devices = (
        line(1, "KBD", site="山田"),
        line(2, "BAT", remarks="swollen 山"),
        line(3),
    )
    terms = replace(TERMS, batch="山田")
    draw = random.Random(1)
    answer = batch_reckoned(
        batch(*devices, terms=terms, people=PEOPLE), WhatIf(), lambda _line: None,
        Effort(0, 20, lambda: draw.gauss(0, 1)),
    )  # fmt: skip
    pages: dict[str, list[str]] = {}
    for name, make in every_paper(answer, Paper("a4", language=language), []).items():
        made = make()
        if isinstance(made, bytes):
            sheets = pypdfium2.PdfDocument(made)
            pages[name] = [one.get_textpage().get_text_bounded() for one in sheets]

    assert {"device-labels.pdf", "isolation-labels.pdf", "receipt.pdf"} <= pages.keys()
    silent = [name for name, told in pages.items() if not all(says in p for p in told)]
    assert [] == silent
    marks = {name: sum(p.count(mark) for p in told) for name, told in pages.items()}
    assert (1, 1) == (marks["device-labels.pdf"], marks["isolation-labels.pdf"])
