"""Is what was given back with nothing done out of every sum, order and paper?"""

from dataclasses import replace

import pypdfium2
import pytest

from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.price.decide import within_caps
from turnscrew.core.price.limits import running_sums
from turnscrew.papers.page import Paper
from turnscrew.web.records.queries.papers import paper_bytes
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import handing_back
from turnscrew.web.records.services.quoting import keep_quotes

GONE = (1, 3)


def text_of(answer, name: str) -> str:
    pages = pypdfium2.PdfDocument(paper_bytes(name, answer, Paper("a4")))
    text = "".join(page.get_textpage().get_text_range() for page in pages)
    return " ".join(text.split())


@pytest.fixture
def both(sallowmere, lead, now):
    """Give the batch as it is reckoned before and after two left as they came."""
    before = reckoned(sallowmere, now)
    keep_quotes(sallowmere, before, by=lead, now=now)
    for line in GONE:
        job = sallowmere.jobs.get(line=line)
        handing_back.return_unrepaired(
            job, by=lead, now=now, reason="not wanted", taken_by="Q. Rook"
        )
    return before, reckoned(sallowmere, now)


def net_minor(device: DecidedDevice) -> int:
    return device.decision.quote_minor or 0


def test_it_is_billed_nothing_and_no_part_is_bought_for_it(both) -> None:
    before, after = both
    # By hand of the example's terms: 94.75 and 57.10.
    quoted = [net_minor(before.by_name[line]) for line in GONE]
    assert [9475, 5710] == quoted

    billed = [sum(c.net_minor for i in one.items for c in i.charges) for one in both]
    assert sum(quoted) == billed[0] - billed[1]
    assert not {item.device.name for item in after.items} & {*GONE}
    assert not {use.demand.device for use in after.supply.uses} & {*GONE}
    assert before.supply.cost_minor > after.supply.cost_minor
    for kind in ("receiving", "strips"):
        assert before.minutes[kind] == after.minutes[kind]
    assert before.minutes["exchange"] > after.minutes["exchange"]


def test_its_papers_say_that_it_left(both) -> None:
    before, after = both
    sheet = text_of(after, "batch-sheet.pdf")

    assert 2 == sheet.count("given back as it came")
    assert "given back as it came" not in text_of(before, "batch-sheet.pdf")
    serials = [before.by_name[line].line.serial for line in GONE]
    evidence = [text_of(one, "evidence.pdf") for one in both]
    assert all(one in evidence[0] and one not in evidence[1] for one in serials)


def test_it_takes_nothing_of_what_may_be_spent_without_asking(both) -> None:
    before, after = both
    terms = before.batch.terms
    taken = [running_sums(one.not_left, terms)[0].taken_minor for one in both]

    assert sum(net_minor(before.by_name[line]) for line in GONE) == taken[0] - taken[1]
    # A cap that nearly holds all asks about one device more than without those two.
    capped = replace(terms, batch_limit_minor=taken[0] - 1)
    asked = [
        sum(one.decision.code == "ask" for one in within_caps(known, capped, gone))
        for known, gone in ((before.devices, set()), (before.devices, {*GONE}))
    ]
    assert asked[0] > asked[1]
