"""Is it told before opening that a device cannot be closed properly?"""

from turnscrew.web.records.models import Part
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.services import stock
from web.bench.case import taken
from web.browser.bench_case import kitted

GLASS = 4
"""Line of the example batch: a tablet with a cracked front, opened to mend it."""

GONE = (
    "Cannot be closed properly: T-AD Adhesive frame set single use is sold no more, "
    "and none is left: decide before opening."
)


def first_lines(batch, lead, now) -> list[str]:
    return heeded(kitted(batch, GLASS, lead, now), lead, now)


def heeded(job, lead, now) -> list[str]:
    run = bench_runs.run_in(taken(job, lead, now))
    return [line.says for line in run.lines if line.does == "heed"]


def test_the_first_line_says_what_closing_will_lack(batch, lead, now) -> None:
    frame = Part.objects.get(number="T-AD")
    stock.count(frame, 0, by=lead, now=now, words="all used")
    stock.keep_sold(frame, is_sold=False, now=now)

    assert GONE == first_lines(batch, lead, now)[0]


def test_it_says_nothing_while_a_piece_is_there(batch, lead, now) -> None:
    stock.keep_sold(Part.objects.get(number="T-AD"), is_sold=False, now=now)

    assert GONE not in first_lines(batch, lead, now)


def test_it_says_nothing_of_a_device_that_has_its_piece(batch, lead, now) -> None:
    frame = Part.objects.get(number="T-AD")
    job = kitted(batch, GLASS, lead, now)
    stock.promise(frame, job, by=lead, now=now)
    # Its piece lies in its kit; the shelf is empty.
    stock.count(frame, 0, by=lead, now=now, words="all others used")
    stock.keep_sold(frame, is_sold=False, now=now)

    assert GONE not in heeded(job, lead, now)
