"""No entry can be changed, left out, put in or cut off unseen."""

from dataclasses import replace
from hashlib import sha256

from hypothesis import given
from hypothesis import strategies as st

from oracles import ledger as oracle
from turnscrew.core.ledger.chain import first_break
from turnscrew.core.ledger.entry import START, Entry, facts_text, words_digest
from turnscrew.core.ledger.gaps import gaps_text, numbers_in

facts = st.dictionaries(
    st.sampled_from(["n", "job", "state", "minor"]),
    st.one_of(st.integers(-(10**9), 10**9), st.text(max_size=6), st.booleans()),
    max_size=3,
)
events = st.lists(
    st.tuples(st.sampled_from(["received", "used", "lost"]), facts), max_size=6
)


def chained(told: list[tuple[str, dict]]) -> list[tuple[Entry, str]]:
    sealed: list[tuple[Entry, str]] = []
    before = START
    for n, (verb, said) in enumerate(told, 1):
        entry = Entry(
            journal="stock", sequence=n, at=f"2027-02-01T09:00:{n:02d}.000000+00:00",
            author="a1", verb=verb, subject="p1", facts=said, words_digest="",
            corrects=0, previous=before,
        )  # fmt: skip
        before = entry.digest
        sealed.append((entry, before))
    return sealed


def end_of(sealed: list[tuple[Entry, str]]) -> tuple[int, str]:
    return (len(sealed), sealed[-1][1]) if sealed else (0, START)


def rows_of(sealed: list[tuple[Entry, str]]) -> list[dict]:
    return [{**vars(entry), "digest": digest} for entry, digest in sealed]


@given(events)
def test_it_finds_nothing_in_a_whole_journal(told) -> None:
    sealed = chained(told)

    assert first_break("stock", sealed, *end_of(sealed)) is None
    assert oracle.is_whole(rows_of(sealed))


@given(events.filter(bool), st.data())
def test_it_agrees_with_the_slow_count_on_any_change(told, data) -> None:
    sealed = chained(told)
    at = data.draw(st.integers(0, len(sealed) - 1))
    entry, digest = sealed[at]
    changes = {
        "verb": {"verb": entry.verb + "!"},
        "sequence": {"sequence": entry.sequence + 1},
        "author": {"author": "somebody else"},
        "facts": {"facts": {**entry.facts, "n": 4711}},
        "corrects": {"corrects": 1},
        "previous": {"previous": "f" * 64},
        "nothing": {},
    }
    changed = replace(entry, **changes[data.draw(st.sampled_from(sorted(changes)))])
    broken = [*sealed[:at], (changed, digest), *sealed[at + 1 :]]

    found = first_break("stock", broken, *end_of(sealed))

    assert oracle.is_whole(rows_of(broken)) == (found is None)


@given(events.filter(bool), st.data())
def test_it_finds_an_entry_left_out_or_cut_off(told, data) -> None:
    sealed = chained(told)
    at = data.draw(st.integers(0, len(sealed) - 1))
    short = sealed[:at] + sealed[at + 1 :]

    assert first_break("stock", short, *end_of(sealed)) is not None


def test_it_finds_a_change_that_was_sealed_anew() -> None:
    sealed = chained([("received", {"n": 5}), ("used", {"n": 1}), ("used", {"n": 1})])
    entry, _ = sealed[1]
    forged = replace(entry, facts={"n": 2})

    found = first_break(
        "stock", [sealed[0], (forged, forged.digest), sealed[2]], *end_of(sealed)
    )

    assert found is not None
    assert "stock entry 3" == found.where


def test_it_seals_the_same_facts_the_same_way_in_any_order() -> None:
    assert facts_text({"b": 1, "a": "ü"}) == facts_text({"a": "ü", "b": 1})
    assert '{"a":"ü","b":1}' == facts_text({"b": 1, "a": "ü"})


def test_it_digests_as_the_standard_says() -> None:
    # SHA-256 of "abc" as in the examples to FIPS 180-4; the value is from memory.
    known = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert known == sha256(b"abc").hexdigest()
    assert sha256(b"ab\nc").hexdigest() == words_digest("ab", "c")


@given(events.filter(bool), st.data())
def test_what_is_known_to_be_lost_breaks_nothing_and_hides_nothing(told, data) -> None:
    sealed = chained(told)
    numbers = st.sets(st.integers(1, len(sealed)))
    lost = data.draw(numbers)
    left = [one for one in sealed if one[0].sequence not in lost]
    end = end_of(sealed)

    assert first_break("stock", left, *end, lost=lost) is None
    assert not lost or first_break("stock", left, *end) is not None
    if left:
        at = data.draw(st.integers(0, len(left) - 1))
        entry, digest = left[at]
        left[at] = replace(entry, verb=entry.verb + "!"), digest
        assert first_break("stock", left, *end, lost=lost) is not None


@given(st.sets(st.integers(1, 60)))
def test_gaps_read_back_as_they_were_written(numbers) -> None:
    assert numbers == numbers_in(gaps_text(numbers))


def test_gaps_are_written_as_spans() -> None:
    assert "3-5, 9" == gaps_text([9, 4, 3, 5])
    assert "" == gaps_text([])
