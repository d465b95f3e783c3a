"""What programs read."""

from collections import Counter

from turnscrew.core.ledger.chain import first_break
from turnscrew.core.ledger.entry import Entry
from turnscrew.web.records.models import Batch, Job, Part, Viewing
from turnscrew.web.records.models import Entry as Row
from turnscrew.web.records.services.journal import append


def test_it_lists_batches_page_by_page(program, sallowmere) -> None:
    for n in range(55):
        Batch.objects.create(
            customer=sallowmere.customer, name=f"b{n}", received="2026-01-01"
        )

    first = program.read("batches").json()
    last = program.read("batches", page=first["n_pages"]).json()
    told = first["batches"] + last["batches"]
    assert Batch.objects.count() == len({row["ref"] for row in told})
    assert sallowmere.ref == told[0]["ref"]
    assert sallowmere.jobs.count() == told[0]["n_devices"]
    assert [] == program.read("batches", page=2**31 - 1).json()["batches"]


def test_it_gives_a_batch_with_the_states_of_its_devices(program, sallowmere) -> None:
    told = program.read(f"batches/{sallowmere.ref}").json()

    assert sallowmere.name == told["name"]
    assert Counter(received=sallowmere.jobs.count()) == told["n_by_state"]


def test_it_lists_the_jobs_of_a_batch_in_few_reads(
    program, sallowmere, django_assert_max_num_queries
) -> None:
    with django_assert_max_num_queries(10):
        told = program.read(f"batches/{sallowmere.ref}/jobs").json()

    assert list(sallowmere.jobs.values_list("number", flat=True)) == [
        one["number"] for one in told
    ]
    assert any(one["line"]["found"] for one in told)


def test_it_reckons_a_batch(program, sallowmere) -> None:
    told = program.read(f"batches/{sallowmere.ref}/reckoning").json()

    assert sallowmere.jobs.count() == len(told["devices"])
    assert {"handling", "open_close", "exchange", "strips", "receiving"} == set(
        told["minutes"]
    )
    charged = [one for one in told["devices"] if one["charges"]]
    assert charged
    assert all(
        one["decision"]["quote_minor"] == sum(c["net_minor"] for c in one["charges"])
        for one in charged
        if one["decision"]["quote_minor"]
    )


def test_it_reckons_no_batch_without_terms(program, sallowmere) -> None:
    before = Batch.objects.filter(terms_text="").first()

    answer = program.read(f"batches/{before.ref}/reckoning")
    assert 409 == answer.status_code
    assert "terms" == answer.json()["problems"][0]["where"]


def test_it_finds_a_body_by_each_of_its_numbers(program, sallowmere) -> None:
    job = sallowmere.jobs.exclude(serial="").exclude(asset_number="").first()

    for named in (
        {"code": job.number.lower()}, {"serial": job.serial},
        {"asset": job.asset_number},
    ):  # fmt: skip
        assert job.item.ref in {
            one["ref"] for one in program.read("items", **named).json()
        }
    assert [] == program.read("items").json()
    assert [] == program.read("items", code=job.number, serial="other").json()


def test_it_gives_a_body_with_its_past(program, sallowmere) -> None:
    closed = Job.objects.exclude(closed_on=None).first()

    told = program.read(f"items/{closed.item.ref}").json()
    assert closed.ref in {one["ref"] for one in told["jobs"]}
    assert closed.closed_on.isoformat() in {one["day"] for one in told["past"]}


def test_it_gives_a_job_with_the_states_that_may_follow(program, job) -> None:
    told = program.read(f"jobs/{job.ref}").json()

    assert job.number == told["number"]
    assert "goods-in" == told["standing"]["place"]
    assert "identified" in told["next_states"]


def test_it_lists_parts_and_gives_one(program, sallowmere) -> None:
    listed = program.read("parts").json()["parts"]

    one = program.read(f"parts/{listed[0]['part']['part']}").json()
    assert listed[0] == one
    assert one["on_hand"] - one["promised"] == one["free"]


def test_it_gives_a_part_whose_number_holds_a_slash(program, sallowmere) -> None:
    Part.objects.filter(number="C-FN").update(number="C/77")

    assert program.read("parts/~C~2F77").json()["part"]["part"] == "C/77"


def test_it_gives_a_journal_that_another_machine_can_verify(program, job, lead, now):
    append("bench", "action", job.ref, by=lead, now=now, facts={"n": 1}, words="why")
    entries, last = [], 0
    while True:
        page = program.read("journals/bench", after=last, limit=7).json()
        if not page["entries"]:
            break
        entries += page["entries"]
        last = entries[-1]["entry"]["sequence"]

    sealed = [(Entry(**one["entry"]), one["digest"]) for one in entries]
    end = page["last_sequence"], page["last_digest"]
    assert Row.objects.filter(journal="bench").count() == len(sealed) > 7
    assert first_break("bench", sealed, *end) is None
    assert first_break("bench", sealed[:-1], *end) is not None
    assert "why" not in str(entries)


def test_it_audits(program, sallowmere) -> None:
    told = program.read("audit").json()

    assert [] == told["breaks"]
    assert Row.objects.count() == sum(told["n_entries"].values())


def test_it_gives_its_own_description(program) -> None:
    assert "3.1.0" == program.read("openapi.json").json()["openapi"]


def test_it_gives_the_one_shape_where_nothing_is(program, sallowmere) -> None:
    for path in ("nothing", "jobs/" + "0" * 16, "parts/none", "parts/a/b", "batches//"):
        answer = program.read(path)
        assert 404 == answer.status_code
        assert "address" == answer.json()["problems"][0]["where"]


def test_it_keeps_whose_program_looked_at_a_device(program, sallowmere) -> None:
    item = sallowmere.jobs.get(line=1).item
    for _ in range(2):
        program.read(f"items/{item.ref}")

    assert [("device", item.ref)] == list(Viewing.objects.values_list("what", "about"))
