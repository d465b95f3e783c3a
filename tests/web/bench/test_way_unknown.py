"""Is a part that a recorded description has no way to ever told as fitted or mended?"""

import pytest

from turnscrew.web.records.models import BenchRun, Description, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.bench_goal import goal_of
from turnscrew.web.records.queries.descriptions import device_in, newest
from turnscrew.web.records.queries.packs import packs_to_isolate
from turnscrew.web.records.queries.power_bars import why_no_power
from turnscrew.web.records.services import booking, descriptions
from web.bench.case import anew, became, one, post, reasons, taken, work
from web.browser.bench_case import kitted

PACK, LOUDSPEAKER, ANTENNA, GLASS = 24, 3, 5, 2
"""Lines of the example batch: handhelds with another fault each."""

BENCH = {"bench": "bench 1"}
COVER = {"removal": "part", "kind": "cover", "name": "cover 1"}
BATTERY = {"removal": "part", "kind": "battery", "name": "battery 1"}


@pytest.fixture(autouse=True)
def undescribed(batch) -> None:
    Description.objects.filter(model="V80").update(state=Description.WITHDRAWN)


def recorded(client, job: Job, *facts) -> BenchRun:
    """Record an opening, and give the way back."""
    told = post(client, f"jobs/{job.ref}/record/", BENCH)
    run = BenchRun.objects.get(ref=told["ref"])
    for at, one_of in enumerate(facts):
        [came] = became(client, one(run, at, "record", facts=one_of))
        assert "held" == came["standing"], came
    back = post(client, f"jobs/{job.ref}/turn-round/", {})
    return BenchRun.objects.get(ref=back["ref"])


@pytest.mark.parametrize("line", [ANTENNA, GLASS, PACK])
def test_it_is_not_begun_while_no_way_is_known_to_the_part(
    batch, at_lead, lead, now, line
) -> None:
    recorded(at_lead, kitted(batch, LOUDSPEAKER, lead, now), COVER)
    job = kitted(batch, line, lead, now)

    told = reasons(at_lead, f"jobs/{job.ref}/begin/", BENCH)

    assert "description: found no way in to this: Fit T-" in told
    assert (
        "wanted it recorded, or the number of the part said on the page of V80" in told
    )
    job.refresh_from_db()
    assert ("kitted", False) == (job.state, job.runs.exists())
    post(at_lead, f"jobs/{job.ref}/record/", BENCH)


def test_it_opens_the_next_one_to_a_part_whose_number_was_named(
    batch, at_lead, lead, now
) -> None:
    recorded(at_lead, kitted(batch, LOUDSPEAKER, lead, now), COVER, BATTERY)
    text = newest("V80").text.replace("is: cover", "is: cover, spare: T-AN")
    assert "T-AN" in text
    descriptions.keep_description("V80", text, by=lead, now=now)
    job = kitted(batch, ANTENNA, lead, now)

    does = [
        (one.does, one.name) for one in bench_runs.run_in(taken(job, lead, now)).lines
    ]

    assert does.index(("lift", "cover 1")) < does.index(("fit", "cover 1"))


def test_the_number_of_a_recorded_part_is_said_on_the_page_of_its_model(
    batch, at_lead, lead, now
) -> None:
    recorded(at_lead, kitted(batch, LOUDSPEAKER, lead, now), COVER, BATTERY)
    address, said = "/descriptions/V80/", {"act": "number", "part": "cover 1"}
    page = at_lead.get(address).content.decode()
    assert "Which spare part is it?" in page
    assert '<option value="cover 1">cover 1</option>' in page

    wrong = at_lead.post(address, {**said, "number": "T-XX"})
    assert 422 == wrong.status_code
    assert "part: found no T-XX, wanted a number on record" in wrong.content.decode()
    assert 302 == at_lead.post(address, {**said, "number": "t-an"}).status_code
    assert "T-AN" == device_in(newest("V80"), "").parts["cover 1"].spare
    # What has its number is not asked about any more.
    form = at_lead.get(address).content.decode().split('id="number-form"')[1]
    assert '"cover 1"' not in form.split("</form>")[0]

    job = kitted(batch, ANTENNA, lead, now)
    lines = bench_runs.run_in(taken(job, lead, now)).lines
    does = [(one.does, one.name) for one in lines]
    assert does.index(("lift", "cover 1")) < does.index(("fit", "cover 1"))


def test_the_pack_that_was_recorded_is_the_one_a_swollen_pack_means(
    batch, at_lead, lead, helper, now
) -> None:
    recorded(at_lead, kitted(batch, LOUDSPEAKER, lead, now), COVER, BATTERY)
    job = kitted(batch, PACK, lead, now)
    assert why_no_power(job, now)

    run = taken(job, lead, now)
    lines = bench_runs.run_in(run).lines
    does = [one.does for one in lines]
    fit = lines[does.index("fit")]

    assert does.index("lift") < does.index("box") < fit.number
    assert ("battery 1", "battery", "pack") == (fit.name, fit.sign_off, fit.frees)
    lifted = next(one for one in lines if ("lift", "battery 1") == (one.does, one.name))
    assert "swollen or unknown pack is inside" in lifted.cautions[0]
    booking.sign_off(lead, "battery", by=lead, now=now, on=now.date())
    work(run, lead, now, helper)
    assert not why_no_power(Job.objects.get(pk=job.pk), now)


def test_a_pack_left_inside_by_whoever_recorded_is_led_to(
    batch, at_lead, lead, now
) -> None:
    recorded(at_lead, kitted(batch, LOUDSPEAKER, lead, now), COVER, BATTERY)

    run = bench_runs.run_in(recorded(at_lead, kitted(batch, PACK, lead, now), COVER))

    does = [(one.does, one.name) for one in run.lines]
    assert does.index(("lift", "battery 1")) < does.index(("fit", "battery 1"))


def test_a_bad_pack_that_a_bench_closed_in_stays_known(
    batch, at_lead, lead, helper, now
) -> None:
    job = kitted(batch, PACK, lead, now)
    run = recorded(at_lead, job, COVER)

    work(run, lead, now, helper)

    job.refresh_from_db()
    assert "charged and clean" == job.state
    assert why_no_power(job, now)
    assert job in packs_to_isolate([batch], now)


def test_a_second_fault_without_a_way_is_no_line_on_a_closed_case(
    batch, at_lead, lead, now
) -> None:
    recorded(at_lead, kitted(batch, LOUDSPEAKER, lead, now), COVER, BATTERY)
    job = kitted(batch, PACK, lead, now)
    taken(job, lead, now)

    run = bench_runs.run_in(anew(at_lead, job, why="second fault", code="T-ANT"))

    assert ("impossible", ()) == (run.status, run.lines)
    assert "the way in is not known: Fit T-AN" in run.reason
    shut = bench_runs.run_in(anew(at_lead, job, why="as it is", is_closing=True))
    assert "impossible" != shut.status


def test_of_a_full_description_every_part_has_its_place(batch, lead, now) -> None:
    Description.objects.filter(model="V80").update(state=Description.RELEASED)
    for job in batch.jobs.exclude(model="").order_by("line"):
        description = newest(job.model)
        if description is not None:
            device = device_in(description, job.revision)
            assert "" == goal_of(job, device, now).unreached
