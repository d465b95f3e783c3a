"""
Does a paper print odd names as they are, within its field, on both sizes?

Words go into a paper as data. Marks of the typesetter, controls, right-to-left text and
words without end must neither run, nor break the paper, nor leave its field.
"""

import random
from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pypdfium2
import pytest

from paper_field import beyond_field_mm
from small_batch import PEOPLE, TERMS, batch, line
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.bench.handover import OpenDevice, TrayCount
from turnscrew.core.model.terms import Customer
from turnscrew.flows.batch.whole import Effort, batch_reckoned
from turnscrew.papers.batch.every import every_paper
from turnscrew.papers.bench.handover import handover_sheet
from turnscrew.papers.bench.helper_card import SignedSkill, helper_card
from turnscrew.papers.page import Page

ODD = {
    "marks": "#eval(\"1\") $x$ *a* _b_ `c` <d> @e //f /*g*/ [h] {i} = j - k",
    "escapes": "\\u{41} \\ ~ -- ... 'q' \"r\" #panic(\"s\")",
    "controls": "a\x00b\x01c\x1bd\x7fe\x85f\u2028g\ufeffh",
    "right to left": "\u202eabc\u202c שלום \u200f12\u2066x\u2069",
    "wide": "日本 😀 ﬁ Ωμ ²",
    "many that no font holds": " ".join(map(chr, range(0x4E00, 0x4E50))),
    "a page": "<script>alert(1)</script>&amp;%s{0}",
    "as long as a form lets": "word " * 60,
    "long": "word " * 400,
    "long without a gap": "W" * 10_000,
}  # fmt: skip

SHOWN = {
    "wide": "Each box is a letter", "many that no font holds": "more words",
    "marks": "#eval", "escapes": "#panic", "a page": "<script>", "long": "word",
    "long without a gap": "WWWW",
}  # fmt: skip


def papers_with(odd: str) -> dict[str, Callable[[Page], bytes | str | None]]:
    """Give papers in which every name that is free is an odd one."""
    devices = (
        line(1, "KBD", reported=odd, remarks=odd, site=odd, accessories=(odd,)),
        line(2, "FAN+LIQ", reported=odd, site=odd, remarks=odd),
        line(3, "BAT", reported=odd),
    )
    terms = replace(TERMS, batch=odd, customer=Customer(odd, contact=odd))
    people = {key: replace(one, name=odd) for key, one in PEOPLE.items()}
    draw = random.Random(1)
    answer = batch_reckoned(
        batch(*devices, terms=terms, people=people), WhatIf(), lambda _line: None,
        Effort(0, 20, lambda: draw.gauss(0, 1)),
    )  # fmt: skip
    openings = [(odd, odd, odd)]
    made: dict[str, Callable[[Page], bytes | str | None]] = {
        name: lambda page, name=name: every_paper(answer, page, openings)[name]()
        for name in every_paper(answer, "a4", [])
    }
    skills = (SignedSkill(odd, date(2027, 2, 1), None, odd, 4, 0),)
    device = OpenDevice(
        number=odd, place=odd, state=odd, first_action=odd, power=odd,
        is_at_safe_stop=True, last_done=odd, tray=(TrayCount(odd, 2, "A"),),
        in_doubt=(odd,), hazards=(odd,), off=(odd,),
    )  # fmt: skip
    made["helper card"] = lambda page: helper_card(odd, odd, skills, page)
    made["handover"] = lambda page: handover_sheet((device,), page, "Thu 4 Feb 2027")
    return made


@pytest.mark.parametrize(
    ("kind", "size"),
    [*((kind, "a4") for kind in ODD), ("marks", "letter"),
     ("as long as a form lets", "letter"), ("many that no font holds", "letter")],
)  # fmt: skip
def test_it_prints_odd_words_as_they_are_and_within_the_field(kind, size) -> None:
    words, outside = "", {}
    for name, make in papers_with(ODD[kind]).items():
        made = make(size)
        if not isinstance(made, bytes):
            continue
        for sheet in pypdfium2.PdfDocument(made):
            words += sheet.get_textpage().get_text_bounded()
            if (by_mm := beyond_field_mm(sheet)) > 0.5:
                outside[name] = by_mm

    # Only what no form lets in may grow out of the paper; it is still printed.
    assert kind.startswith("long") or {} == outside
    assert len(words) > 100
    assert SHOWN.get(kind, "") in words
