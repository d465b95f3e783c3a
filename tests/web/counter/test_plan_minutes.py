"""Does the page Plan give a job the minutes that the day sheet gives it?"""

import re

import pypdfium2
import pytest

from turnscrew.papers.batch.bench import day_sheet
from turnscrew.web.records.queries.reckoning import reckoned
from web.counter_case import signed_in


def words_of(pdf: bytes) -> str:
    sheets = pypdfium2.PdfDocument(pdf)
    return " ".join(sheet.get_textpage().get_text_bounded() for sheet in sheets)


@pytest.mark.parametrize("who", ["lead", "helper"])
def test_the_minutes_are_those_of_the_person(sallowmere, lead, helper, clock, who):
    page = signed_in(lead).get(f"/batches/{sallowmere.ref}/plan/").content.decode()
    answer = reckoned(sallowmere, clock.at, is_planned=True)
    sheet = day_sheet(answer, who, "a4")
    assert sheet is not None

    rows = re.findall(rf"<td[^>]*>{who}</td><td[^>]*>(.*?)</td>", page)
    told = sorted(int(n) for row in rows for n in re.findall(r"\((\d+) min\)", row))

    assert "minutes as that person works" in page
    assert told == sorted(
        int(n) for n in re.findall(r"\((\d+) min\)(?!, isolate)", words_of(sheet))
    )
