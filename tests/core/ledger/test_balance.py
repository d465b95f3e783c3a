"""Everything that came in is here, used, given back, or written as lost."""

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from oracles import ledger as oracle
from turnscrew.core.ledger.balance import Balance, Standing
from turnscrew.core.ledger.entry import Entry
from turnscrew.core.ledger.verbs import STOCK_SIGNS


def entry(journal: Any, verb: str, subject: str, **facts: Any) -> Entry:
    return Entry(journal, 1, "", "", verb, subject, facts, "", 0, "")


def told(now: Standing, *entries: Entry) -> list[str]:
    balance = Balance()
    for one in entries:
        balance.take(one)
    return [str(one) for one in balance.breaks(now)]


moves = st.lists(st.tuples(st.sampled_from(sorted(STOCK_SIGNS)), st.integers(1, 9)))


@given(moves, st.integers(-2, 2))
def test_it_counts_pieces_as_one_by_one(made, more) -> None:
    left = oracle.pieces_left(made)
    entries = [entry("stock", verb, "p1", n=n) for verb, n in made]

    breaks = told(Standing(on_hand={"p1": left + more}), *entries)

    assert bool(more) == bool(breaks)


def test_it_names_the_part_that_does_not_add_up() -> None:
    breaks = told(
        Standing(on_hand={"p1": 4}, promised={"p1": 1}),
        entry("stock", "received", "p1", n=5),
        entry("stock", "used", "p1", n=2),
        entry("stock", "promised", "p1", n=1),
    )

    assert [
        "pieces on hand of part p1: found 4 on record, wanted 3 by journal"
    ] == breaks


def test_it_wants_an_empty_tray_when_a_device_is_closed() -> None:
    taken = entry("bench", "taken", "j1", kind="A", n=5)
    back = entry("bench", "refitted", "j1", kind="A", n=3)
    new = entry("bench", "replaced", "j1", kind="A", n=1)
    out = entry("bench", "left out", "j1", kind="A", n=1)
    closed = Standing(closed=frozenset({"j1"}))

    assert [] == told(Standing(), taken, back)
    assert [] == told(closed, taken, back, new, out)
    assert "tray of job j1, kind A: found 1" in told(closed, taken, back, new)[0]
    assert "no more back than taken" in told(Standing(), back)[0]


def test_it_wants_every_accessory_explained() -> None:
    came = entry("custody", "accessory in", "j1", kind="adapter", n=2)
    went = entry("custody", "accessory out", "j1", kind="adapter", n=1)
    told_of = entry("custody", "accessory explained", "j1", kind="adapter", n=1)
    gone = Standing(gone=frozenset({"j1"}))

    assert [] == told(Standing(), came, went)
    assert [] == told(gone, came, went, told_of)
    assert "accessory adapter of job j1: found 1" in told(gone, came, went)[0]


def test_it_wants_money_to_the_last_minor_unit() -> None:
    billed = entry("money", "invoiced", "i1", minor=371218)
    paid = entry("money", "paid", "i1", minor=300000)

    def standing(owed: int, lines: int, devices: int) -> Standing:
        return Standing(
            owed_minor={"i1": owed},
            line_sums_minor={"i1": lines},
            item_sums_minor={"i1": devices},
        )

    assert [] == told(standing(71218, 371218, 371218), billed, paid)
    assert "money owed" in told(standing(71217, 371218, 371218), billed, paid)[0]
    assert "lines of invoice" in told(standing(71218, 371217, 371218), billed, paid)[0]
    assert "device records" in told(standing(71218, 371218, 1), billed, paid)[0]


def test_it_knows_each_job_in_the_state_it_was_moved_to_last() -> None:
    first = entry("custody", "moved", "j1", state="received")
    last = entry("custody", "moved", "j1", state="packed")

    assert [] == told(Standing(states={"j1": "packed"}), first, last)
    assert 1 == len(told(Standing(states={"j1": "received"}), first, last))
