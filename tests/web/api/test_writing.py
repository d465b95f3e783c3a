"""What programs write."""

import pytest
from django.db import OperationalError, connection

from turnscrew.web.records.models import (
    DataPart,
    Donor,
    Entry,
    Finding,
    Job,
    Part,
    PartFit,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.tray import tray_of
from turnscrew.web.records.services import custody

DONE = {"verb": "action", "facts": {"step": 3, "is_done": True, "note": "ü"}}


def test_it_writes_what_hands_did(program, job, lead) -> None:
    answer = program.write(f"jobs/{job.ref}/actions", DONE | {"words": "stuck"})

    entry = Entry.objects.filter(journal="bench").last()
    assert 200 == answer.status_code
    assert {
        "journal": "bench", "sequence": entry.sequence, "digest": entry.digest,
    } == answer.json()  # fmt: skip
    assert (job.ref, lead.ref, "action", "stuck") == (
        entry.subject, entry.author, entry.verb, entry.words.text,
    )  # fmt: skip
    assert '{"is_done":true,"note":"ü","step":3}' == entry.facts


def test_it_writes_an_action_in_few_reads(
    program, job, django_assert_max_num_queries
) -> None:
    # Token, job, savepoint in and out, head, entry, head.
    with django_assert_max_num_queries(8):
        answer = program.write(f"jobs/{job.ref}/actions", DONE)

    assert 200 == answer.status_code


@pytest.mark.parametrize(
    ("body", "where"),
    [
        ({"verb": "photo"}, "body.done.verb"),
        ({"verb": "signed off"}, "body.done.verb"),
        ({"verb": "undone", "facts": {"verb": "taken"}}, "body.done.verb"),
        ({"verb": "time explained"}, "body.done.verb"),
        ({"verb": "agreed in writing"}, "body.done.verb"),
        ({"verb": "found fault"}, "body.done.verb"),
        ({"verb": "action", "facts": {"does": "handover"}}, "body.facts.does"),
        ({"verb": "taken"}, "body.facts.n"),
        ({"verb": "taken", "facts": {"n": 0, "kind": "a"}}, "body.facts.n"),
        ({"verb": "taken", "facts": {"n": True, "kind": "a"}}, "body.facts.n"),
        ({"verb": "taken", "facts": {"n": 10_001, "kind": "a"}}, "body.facts.n"),
        ({"verb": "taken", "facts": {"n": 2}}, "body.facts.kind"),
        ({"verb": "taken", "facts": {"n": 2, "kind": " "}}, "body.facts.kind"),
        ({"verb": "action", "facts": {"n": 2**31}}, "body.done.facts.n"),
        ({"verb": "action", "facts": {"n": 1.5}}, "body.done.facts.n"),
        ({"verb": "action", "facts": {"n": "0" * 201}}, "body.done.facts.n"),
        ({"verb": "action", "facts": {"n": [1]}}, "body.done.facts.n"),
        ({"verb": "action", "facts": {"N": 1}}, "body.done.facts.N"),
        ({"verb": "action", "facts": {"n": "\0"}}, "body.done.facts.n"),
        ({"verb": "action", "words": "\ud800"}, "body.done.words"),
        ({"verb": "action", "words": "w" * 2001}, "body.done.words"),
        ({"verb": "action", "facts": {f"a{'b' * n}": n for n in range(21)}}, "body"),
    ],
)
def test_it_refuses_an_action_that_cannot_be_kept(program, job, body, where) -> None:
    before = Entry.objects.count()

    answer = program.write(f"jobs/{job.ref}/actions", body)
    assert 422 == answer.status_code
    assert answer.json()["problems"][0]["where"].startswith(where)
    assert before == Entry.objects.count()


@pytest.mark.parametrize(
    "text",
    [
        b"", b"{", b"\xff", b"null", b"[" * 50_000, b'"' + b"x" * 66_000 + b'"',
        b'{"verb": "action", "facts": {"n": ' + b"9" * 5000 + b"}}",
        b'{"verb": "action", "facts": {"n": NaN}}',
        b" " * 4_000_001,
    ],
    ids=["nothing", "half", "bytes", "null", "deep", "long", "huge", "nan", "too much"],
)  # fmt: skip
def test_it_refuses_a_body_that_is_not_what_was_asked_for(program, job, text) -> None:
    answer = program.write(f"jobs/{job.ref}/actions", text)

    assert 422 == answer.status_code
    assert answer.json()["problems"]


@pytest.mark.parametrize("named", ["a\0b", "\x1b", "x" * 61])
def test_it_refuses_odd_characters_in_an_address(program, sallowmere, named) -> None:
    assert 422 == program.read("items", serial=named).status_code


def test_it_moves_a_device(helper, program, job) -> None:
    answer = program.write(
        f"jobs/{job.ref}/move",
        {"state": "identified", "place": "bench 1", "holder": helper.ref},
    )

    job.refresh_from_db()
    assert 200 == answer.status_code
    assert ("identified", "bench 1", helper.ref) == (job.state, job.place, job.holder)


@pytest.mark.parametrize(
    ("body", "status", "where"),
    [
        ({"state": "packed", "place": "a"}, 409, "state"),
        ({"state": "identified", "place": " "}, 409, "place"),
        ({"state": "soaking", "place": "a"}, 409, "day"),
        ({"state": "handed back", "place": "a"}, 409, "state"),
        ({"state": "donor", "place": "a"}, 409, "state"),
        ({"state": "flying", "place": "a"}, 422, "body.to.state"),
        ({"state": "identified", "place": ""}, 422, "body.to.place"),
        (
            {"state": "identified", "place": "a", "holder": "0" * 16},
            422,
            "body.holder",
        ),
        (
            {"state": "soaking", "place": "a", "until": "2020-01-01", "reason": "r"},
            409,
            "day",
        ),
        (
            {"state": "soaking", "place": "a", "until": "2200-01-01", "reason": "r"},
            422,
            "body.to.until",
        ),
    ],
)
def test_it_says_why_a_device_may_not_be_moved(
    program, job, body, status, where
) -> None:
    answer = program.write(f"jobs/{job.ref}/move", body)

    job.refresh_from_db()
    assert status == answer.status_code
    assert answer.json()["problems"][0]["where"].startswith(where)
    assert "received" == job.state


def test_it_notes_a_finding(program, job) -> None:
    told = {"stage": "confirmed", "code": "L-FAN", "words": "rattles"}
    answer = program.write(f"jobs/{job.ref}/findings", told)

    assert 200 == answer.status_code
    assert ["L-FAN"] == answer.json()["line"]["found"]
    assert (
        422 == program.write(f"jobs/{job.ref}/findings", {"stage": "seen"}).status_code
    )


def test_a_busy_database_is_no_refusal_of_what_was_asked(
    program, job, monkeypatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise OperationalError("database is locked")

    monkeypatch.setattr(Finding, "save", fail)
    said = {"stage": "seen", "words": "hinge stiff"}
    told = program.write(f"jobs/{job.ref}/findings", said)
    assert 503 == told.status_code, told.content
    (problem,) = told.json()["problems"]
    assert ("records", "busy for 20 s") == (problem["where"], problem["found"])


def test_it_takes_promises_and_counts_pieces(program, job) -> None:
    parts = program.read("parts").json()["parts"]
    number = next(one["part"]["part"] for one in parts if one["free"])
    told = {"job": job.ref}

    def written(what: str, body) -> dict:
        return program.write(f"parts/{number}/{what}", body).json()

    before = written("count", {"n": 1, "words": "all fell down"})
    promised = written("promise", told)
    short = written("promise", told)
    taken = written("take", told)
    again = written("take", told)
    last = written("count", {"n": 0})
    assert 1 == before["part"]["free"]
    assert ("promised", 0) == (promised["state"], promised["part"]["free"])
    assert ("short", 0) == (short["state"], short["part"]["free"])
    assert ("used", 0) == (taken["state"], taken["part"]["on_hand"])
    assert ("used", -1) == (again["state"], again["part"]["on_hand"])
    assert (1, 0) == (last["more"], last["part"]["on_hand"])
    assert () == audited().breaks


@pytest.mark.parametrize("what", ["promise", "take"])
def test_a_donor_gets_no_pieces(program, job, what) -> None:
    Donor.objects.create(job=job, use="same customer")

    refused = program.write(f"parts/C-FN/{what}", {"job": job.ref})

    assert 409 == refused.status_code
    assert "a donor" == refused.json()["problems"][0]["found"]
    assert not job.allotments.exists()


def test_nothing_comes_out_of_a_tray_that_does_not_lie_in_it(program, job) -> None:
    def told(verb: str, n: int):
        facts = {"kind": "base screw", "n": n}
        return program.write(f"jobs/{job.ref}/actions", {"verb": verb, "facts": facts})

    assert 409 == told("refitted", 1).status_code
    assert 200 == told("taken", 5).status_code
    assert 200 == told("left out", 2).status_code
    refused = told("refitted", 4)
    assert 409 == refused.status_code
    problem = refused.json()["problems"][0]
    assert "tray" == problem["where"]
    assert "3 of kind base screw" == problem["found"]
    assert 200 == told("refitted", 3).status_code
    assert {} == tray_of(job)
    assert () == audited().breaks


def test_a_storage_that_is_taken_lists_the_one_that_comes_out(program, job) -> None:
    answer = program.write("parts/C-SD/take", {"job": job.ref})

    assert 200 == answer.status_code
    listed = DataPart.objects.get(job=job)
    assert ("storage exchanged for C-SD", "") == (listed.what, listed.end)
    assert PartFit.objects.filter(part__number="C-SD", job=job).exists()


def test_it_takes_no_claim_for_a_count(program, sallowmere) -> None:
    part = Part.objects.first()

    answer = program.write(f"parts/{part.number}/count", {"n": False})
    assert 422 == answer.status_code
    assert part.on_hand == Part.objects.first().on_hand


def test_it_writes_nothing_about_a_device_that_is_gone(program, sallowmere) -> None:
    gone = Job.objects.filter(holder=custody.CUSTOMER).first()
    part = program.read("parts").json()["parts"][0]["part"]["part"]

    for path, body in (
        (f"jobs/{gone.ref}/actions", DONE),
        (f"jobs/{gone.ref}/findings", {"stage": "seen", "code": "L-FAN"}),
        (f"parts/{part}/take", {"job": gone.ref}),
    ):
        answer = program.write(path, body)
        assert 409 == answer.status_code
        assert "device" == answer.json()["problems"][0]["where"]


def test_it_holds_no_transaction_open_while_it_audits(
    program, sallowmere, monkeypatch
) -> None:
    seen = []
    depth = len(connection.savepoint_ids)

    def looked():
        seen.append(len(connection.savepoint_ids) == depth)
        return audited()

    monkeypatch.setattr("turnscrew.web.records.queries.audit.audited", looked)
    assert 200 == program.read("audit").status_code
    assert [True] == seen
