"""Does a customer's page tell what failed, how sure that is, and what to advise?"""

import re
from datetime import timedelta

import pypdfium2
import pytest

from turnscrew.core.model.batch import BatchLine
from turnscrew.web.records.models import Batch, Customer, Job, Quote
from turnscrew.web.records.queries.charges import agreed_quotes
from turnscrew.web.records.queries.fleet_page import customer_fleet
from turnscrew.web.records.queries.found_faults import found_by_job
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import customers, people, quoting
from turnscrew.web.records.services.receiving_next import receive_next
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in

TABLETS = {"Night team": 60, "North round": 120, "South round": 130}


@pytest.fixture
def customer(sallowmere, now) -> Customer:
    """Give the customer of the example batch with its fleet counted."""
    one = Customer.objects.get(pk=sallowmere.customer_id)
    for site, n in TABLETS.items():
        customers.count_fleet(one, "V80", site, n, now=now)
    return one


@pytest.fixture
def quoted(customer, sallowmere, lead, now) -> Customer:
    """Give the same customer with its devices quoted."""
    quoting.keep_quotes(sallowmere, reckoned(sallowmere, now), by=lead, now=now)
    return customer


def shown(answer) -> str:
    return re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", answer.content.decode()))


def test_it_advises_on_the_glass_alone(customer, now) -> None:
    # The example batch: 9 fronts in a term, 6 of them at a place with 19 % of tablets.
    fleet = customer_fleet(customer, now)

    (advice,) = fleet.report.advice
    assert ("V80", "T-GLS", "Night team") == (advice.model, advice.cause, advice.site)
    assert 0.0026 == pytest.approx(advice.chance, abs=5e-5)
    glass, packs, *_ = fleet.report.answer.causes
    assert (9, 5) == (glass.rate.failures, packs.rate.failures)
    assert 0.116 == pytest.approx(glass.rate.rate, abs=1e-3)
    assert 0.065 == pytest.approx(packs.rate.rate, abs=1e-3)


def test_it_shows_every_rate_with_its_limits(customer, lead, clock) -> None:
    page = shown(signed_in(lead).get(f"/customers/{customer.ref}/"))

    assert "T-GLS front glass cracked on V80: 6 of 9 at Night team" in page
    assert "Usual cause: drops, knocks and grit. To prevent it:" in page
    assert "0.061 to 0.203" in page
    assert "failures, no rate: devices there are not counted" in page
    assert "without a fault found count apart" in page
    assert "T-BAT swollen or worn pack on V80" not in page


def test_it_gives_counts_and_no_rate_where_nobody_counted(
    sallowmere, lead, clock, now
) -> None:
    one = Customer.objects.get(pk=sallowmere.customer_id)
    fleet = customer_fleet(one, now)

    assert fleet.report is None
    assert 0 < sum(n for _, n in fleet.not_counted)
    page = shown(signed_in(lead).get(f"/customers/{one.ref}/"))
    assert "No rate can be told" in page


def test_it_takes_the_newest_count_and_the_whole_where_no_place_is_counted(
    customer, now
) -> None:
    customers.count_fleet(customer, "V80", "Night team", 90, now=now)
    customers.count_fleet(customer, "V80", "", 999, now=now)
    customers.count_fleet(customer, "L240", "", 140, now=now)
    fleet = customer_fleet(customer, now)

    glass = fleet.report.answer.causes[0]
    years = 91 / 365.25
    assert 340 * years == pytest.approx(glass.rate.total_time)
    laptops = [one for one in fleet.report.answer.causes if one.model == "L240"]
    assert laptops
    assert {("all places",)} == {tuple(s for s, _ in one.by_site) for one in laptops}


def test_it_counts_what_was_received_in_the_time_alone(customer, now) -> None:
    later = customer_fleet(customer, now + timedelta(days=120))

    assert () == later.report.answer.causes
    assert (0, ()) == (later.n_without_fault, later.not_counted)


def test_it_tells_ages_where_it_is_known_since_when_devices_are_in_service(
    sallowmere, now
) -> None:
    one = Customer.objects.get(pk=sallowmere.customer_id)
    for k, (site, n) in enumerate(TABLETS.items()):
        since = now.date() - timedelta(days=400 + 100 * k)
        customers.count_fleet(one, "V80", site, n, now=now, in_service_on=since)
    fleet = customer_fleet(one, now)

    assert fleet.report is not None
    glass = fleet.report.answer.causes[0]
    # The same devices and time as without ages.
    assert 310 * 91 / 365.25 == pytest.approx(glass.rate.total_time)
    assert 9 == glass.rate.failures
    assert {"V80"} == {life.model for life in fleet.report.lives}
    assert 310 == sum(model.n_units or 0 for model in fleet.report.models)


def test_two_cohorts_at_one_place_give_counts_alone(customer, now) -> None:
    for days, n in ((300, 40), (900, 20)):
        since = now.date() - timedelta(days=days)
        customers.count_fleet(
            customer, "V80", "Night team", n, now=now, in_service_on=since
        )
    fleet = customer_fleet(customer, now)

    assert fleet.report is not None
    assert () == fleet.report.lives
    night = dict(fleet.report.answer.causes[0].by_site)["Night team"]
    assert 60 * 91 / 365.25 == pytest.approx(night.total_time)


def glass_alone(customer, now) -> list[Job]:
    """Give the tablets of which the glass alone is broken."""
    jobs = list(Job.objects.filter(batch__customer=customer, model="V80"))
    found = found_by_job(jobs, now)
    return [job for job in jobs if found[job.pk] == ("T-GLS",)]


def cost_of_glass(customer, now) -> tuple[int, int]:
    fleet = customer_fleet(customer, now)
    assert fleet.report is not None
    glass = fleet.report.answer.causes[0]
    assert "T-GLS" == glass.cause
    return glass.n_costed, glass.cost_minor


def test_the_cost_of_a_failure_is_what_was_agreed_for_its_device(quoted, now) -> None:
    quotes = agreed_quotes(glass_alone(quoted, now))
    net = {
        quote.job_id: sum(row["net_minor"] for row in quote.charges) for quote in quotes
    }
    before = cost_of_glass(quoted, now)
    last = quotes[0]
    dearer = [row | {"net_minor": 9 * row["net_minor"]} for row in last.charges]
    Quote.objects.create(
        job=last.job, at=now, code="ask", quote_minor=9 * last.quote_minor,
        charges=dearer,
    )  # fmt: skip

    assert (len(net), sum(net.values())) == before
    assert before == cost_of_glass(quoted, now)


def test_a_failure_without_an_agreed_price_has_no_known_cost(
    quoted, lead, now, clock
) -> None:
    jobs = glass_alone(quoted, now)
    n, cost = cost_of_glass(quoted, now)
    agreed = {quote.job_id: quote for quote in agreed_quotes(jobs)}
    job = next(job for job in jobs if job.pk in agreed)
    Quote.objects.filter(job=job).update(code="ask")
    net = sum(row["net_minor"] for row in agreed[job.pk].charges)

    assert (n - 1, cost - net) == cost_of_glass(quoted, now)
    Quote.objects.update(code="ask")
    assert (0, 0) == cost_of_glass(quoted, now)
    page = shown(signed_in(lead).get(f"/customers/{quoted.ref}/fleet/"))
    assert "without an agreed price what it cost is not known" in page
    assert re.search(r"T-GLS front glass cracked 9 [\d. to]+ not known", page)


def test_the_fleet_page_shows_pictures_with_words_and_prints_the_same(
    customer, lead, clock
) -> None:
    client = signed_in(lead)
    answer = client.get(f"/customers/{customer.ref}/fleet/?days=365")
    html = answer.content.decode()

    assert 200 == answer.status_code
    pictures = re.findall(r'<img src="data:image/svg[^"]+" alt="([^"]+)"', html)
    assert len(pictures) >= 4
    assert all(re.search(r"\d", words) for words in pictures)
    assert "No lives can be told" in html
    for paper in ("a4", "letter"):
        made = client.get(f"/customers/{customer.ref}/fleet/report/?paper={paper}")
        assert made.content.startswith(b"%PDF")


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", "Hospice Trust – From 02 Nov 2026 to 01 Feb 2027."),
        ("de", "Hospice Trust – Vom 2. Nov. 2026 bis 1. Feb. 2027."),
    ],
)
def test_its_report_says_of_which_time_it_is(
    customer, lead, clock, paper, language, words
) -> None:
    people.speak_to(lead, language, now=clock.at)
    address = f"/customers/{customer.ref}/fleet/report/?paper={paper}"
    made = signed_in(lead).get(address)

    with pypdfium2.PdfDocument(made.content) as sheet:
        text = sheet[0].get_textpage().get_text_range()
    assert words in " ".join(text.split())


def test_a_device_that_comes_again_failed_when_it_came(customer, lead, clock) -> None:
    clock.move_on(days=60)
    glass = BatchLine(
        61, "TV80-90001", "V80", "X-9001", "2", site="Night team", found=("T-GLS",)
    )
    batch = customer.batches.exclude(terms_text="").get()
    receive_next(batch, glass, by=lead, now=clock.at)

    fleet = customer_fleet(customer, clock.at, days=30)

    (cause,) = fleet.report.answer.causes
    assert ("T-GLS", 1) == (cause.cause, cause.rate.failures)
    assert (
        10 == customer_fleet(customer, clock.at).report.answer.causes[0].rate.failures
    )


def test_there_is_no_report_of_a_fleet_that_was_never_counted(
    sallowmere, lead, clock
) -> None:
    one = Customer.objects.get(pk=sallowmere.customer_id)
    client = signed_in(lead)

    assert 404 == client.get(f"/customers/{one.ref}/fleet/report/").status_code
    assert 200 == client.get(f"/customers/{one.ref}/fleet/").status_code


def test_it_refuses_devices_that_are_not_in_service_yet(customer, now) -> None:
    with pytest.raises(RefusedError, match="wanted a day before today"):
        customers.count_fleet(
            customer, "V80", "Night team", 5, now=now, in_service_on=now.date()
        )


def test_what_it_cost_is_shown_to_those_it_is_for(quoted, lead, helper, clock) -> None:
    customer = quoted
    for who, sees in ((lead, True), (helper, False)):
        for address in (
            f"/customers/{customer.ref}/",
            f"/customers/{customer.ref}/fleet/",
        ):
            page = shown(signed_in(who).get(address))
            assert "6 of 9 at Night team" in page
            assert sees == ("They cost about" in page)
            assert sees == ("Each cost" in page)
    report = f"/customers/{customer.ref}/fleet/report/"
    assert 404 == signed_in(helper).get(report).status_code


def earlier(batch, now) -> None:
    """Give the customer a batch of long ago, in which nothing was found."""
    Batch.objects.create(
        customer=batch.customer, name="long ago", terms_text=batch.terms_text,
        received=now.date() - timedelta(days=900),
    )  # fmt: skip


def test_time_before_the_records_is_not_time_without_failures(customer, now) -> None:
    short, long = customer_fleet(customer, now), customer_fleet(customer, now, 1096)

    assert short.report is not None and long.report is not None
    assert long.begins == long.since == now.date() - timedelta(days=91)
    assert short.report.device_years == pytest.approx(long.report.device_years)
    earlier(customer.batches.exclude(terms_text="").get(), now)
    more = customer_fleet(customer, now, 365)
    assert more.report is not None
    assert more.begins is None
    assert 310 * 365 / 365.25 == pytest.approx(more.report.device_years)


def test_it_reckons_up_to_which_price_a_repair_pays(
    sallowmere, lead, clock, now
) -> None:
    quoting.keep_quotes(sallowmere, reckoned(sallowmere, now), by=lead, now=now)
    one = Customer.objects.get(pk=sallowmere.customer_id)
    since = now.date() - timedelta(days=95)
    customers.count_fleet(one, "V80", "Night team", 60, now=now, in_service_on=since)
    client, address = signed_in(lead), f"/customers/{one.ref}/fleet/?days=91"

    # Nobody was watched for a year: that is said, and nothing is made up.
    page = shown(client.get(f"{address}&replace=V80=389.00/5"))
    assert "no device of such a model was watched long enough" in page
    page = shown(client.get(f"{address}&replace=V80=dear"))
    assert "wanted model=price/years such as V80=389.00/5" in page
    since = now.date() - timedelta(days=400)
    customers.count_fleet(one, "V80", "Night team", 0, now=now)
    earlier(sallowmere, now)
    customers.count_fleet(one, "V80", "Night team", 60, now=now, in_service_on=since)
    page = shown(
        client.get(f"/customers/{one.ref}/fleet/?days=1096&replace=V80=389.00/5")
    )
    paying = re.search(r"V80 0 ([\d.]+) ([\d.−]+) to ([\d.]+)", page)
    assert paying is not None
    # A fifth of the price; what both need in their first year is the same.
    assert "77.80" == paying[1]
