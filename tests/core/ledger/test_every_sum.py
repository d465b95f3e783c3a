"""Every kind of entry counts where it should, by a slow count written in words."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oracles import ledger as oracle
from turnscrew.core.ledger.balance import Balance, Standing
from turnscrew.core.ledger.chain import Break, first_break
from turnscrew.core.ledger.entry import START, Entry

SIGNED = st.integers(-9_999, 9_999)
N, MINOR, MASS = st.integers(1, 9), st.integers(1, 99_999), st.integers(1, 5_000)
PARTS, JOBS, INVOICES = (st.sampled_from(names) for names in ("pq", "jk", "vw"))
KINDS, RETURNS, PIECES = (st.sampled_from(names) for names in ("AB", "rs", "xy"))

stock_rows = st.one_of(
    st.tuples(
        st.just("stock"),
        st.sampled_from(
            ["received", "harvested", "found", "used", "returned", "lost", "promised",
             "released", "ordered", "counted"]
        ),
        PARTS,
        st.fixed_dictionaries({"n": N}),
    ),
    st.tuples(
        st.just("stock"),
        st.sampled_from(["faulty", "credited", "exchanged", "written off"]),
        PARTS,
        st.fixed_dictionaries({"n": N, "return": RETURNS, "minor": MINOR}),
    ),
    st.tuples(
        st.just("stock"),
        st.just("return corrected"),
        PARTS,
        st.fixed_dictionaries({"n": SIGNED, "return": RETURNS, "minor": SIGNED}),
    ),
)  # fmt: skip
bench_rows = st.one_of(
    st.tuples(
        st.just("bench"),
        st.sampled_from(["taken", "refitted", "replaced", "left out", "tested"]),
        JOBS,
        st.fixed_dictionaries({"n": N, "kind": KINDS}),
    ),
    st.tuples(
        st.just("bench"),
        st.just("undone"),
        JOBS,
        st.fixed_dictionaries({
            "n": N, "kind": KINDS,
            "verb": st.sampled_from(["taken", "refitted", "replaced", "tested"]),
        }),
    ),
)  # fmt: skip
custody_rows = st.one_of(
    st.tuples(
        st.just("custody"),
        st.just("accessory corrected"),
        JOBS,
        st.fixed_dictionaries({"n": SIGNED, "kind": KINDS}),
    ),
    st.tuples(
        st.just("custody"),
        st.just("waste corrected"),
        JOBS,
        st.fixed_dictionaries({"g": SIGNED, "waste": PIECES}),
    ),
    st.tuples(
        st.just("custody"),
        st.sampled_from(["accessory in", "accessory out", "accessory explained"]),
        JOBS,
        st.fixed_dictionaries({"n": N, "kind": KINDS}),
    ),
    st.tuples(
        st.just("custody"),
        st.sampled_from(["waste", "waste gone"]),
        JOBS,
        st.fixed_dictionaries({"g": MASS, "waste": PIECES}),
    ),
)
money_rows = st.tuples(
    st.just("money"),
    st.sampled_from(
        [
            "invoiced",
            "paid",
            "credited",
            "written off",
            "payment taken back",
            "write-off taken back",
            "paid back",
            "pay-back taken back",
            "quoted",
        ]
    ),
    INVOICES,
    st.fixed_dictionaries({"minor": MINOR}),
)
journals = st.lists(
    st.one_of(stock_rows, bench_rows, custody_rows, money_rows), max_size=25
)


def entry(journal: Any, verb: str, subject: str, facts: dict[str, Any]) -> Entry:
    return Entry(journal, 1, "", "", verb, subject, facts, "", 0, "")


def balance_of(rows: list[Any]) -> Balance:
    balance = Balance()
    for row in rows:
        balance.take(entry(*row))
    return balance


def of(total: dict[tuple[str, str], int], what: str) -> dict[str, int]:
    return {name: n for (kind, name), n in total.items() if kind == what and n}


def records_of(total: dict[tuple[str, str], int]) -> dict[str, dict[str, int]]:
    """Give what rows would say that agree with the slow count."""
    return {
        "on_hand": of(total, "shelf"),
        "promised": of(total, "promised"),
        "at_supplier": of(total, "supplier"),
        "credited_minor": of(total, "credit"),
        "waste_g": of(total, "waste"),
        "owed_minor": of(total, "owed"),
        "line_sums_minor": of(total, "billed"),
        "item_sums_minor": of(total, "billed"),
    }


SAID = {
    "on_hand": "pieces on hand of part",
    "promised": "pieces promised of part",
    "at_supplier": "pieces owed on return",
    "credited_minor": "credit of return",
    "waste_g": "mass of waste",
    "owed_minor": "money owed on invoice",
    "line_sums_minor": "lines of invoice",
    "item_sums_minor": "device records of invoice",
}


def loose(balance: Balance, **closed: frozenset[str]) -> list[str]:
    """Give what is told of trays and accessories alone."""
    told = map(str, balance.breaks(Standing(**closed)))
    return sorted(one for one in told if one.startswith(("tray", "accessory")))


@given(journals)
def test_what_agrees_with_the_slow_count_breaks_nowhere(rows) -> None:
    total = oracle.sums(rows)
    breaks = map(str, balance_of(rows).breaks(Standing(**records_of(total))))

    assert [] == [one for one in breaks if not one.startswith(("tray", "accessory"))]


@given(journals, st.sampled_from(sorted(SAID)), st.integers(-3, 3).filter(bool))
def test_one_figure_that_is_off_is_named_with_both_values(rows, field, off) -> None:
    total = oracle.sums(rows)
    records = records_of(total)
    names = {"on_hand": "p", "promised": "p", "at_supplier": "r", "credited_minor": "r",
             "waste_g": "x"}  # fmt: skip
    name = names.get(field, "v")
    right = records[field].get(name, 0)
    records[field] = {**records[field], name: right + off}
    breaks = map(str, balance_of(rows).breaks(Standing(**records)))

    assert [
        f"{SAID[field]} {name}: found {right + off} on record, "
        f"wanted {right} by journal"
    ] == [one for one in breaks if not one.startswith(("tray", "accessory"))]


@given(journals)
def test_trays_and_accessories_are_told_as_the_slow_count_has_them(rows) -> None:
    total = oracle.sums(rows)
    balance = balance_of(rows)
    both = frozenset("jk")

    def told(is_closed: bool, is_gone: bool) -> list[str]:
        wanted = []
        for what, is_over, word in (
            ("tray", is_closed, "0, as it is closed"),
            ("accessory", is_gone, "0, as it was handed back"),
        ):
            for name, n in of(total, what).items():
                job, kind = name.split()
                where, less = (
                    (f"tray of job {job}, kind {kind}", "no more back than taken")
                    if what == "tray"
                    else (f"accessory {kind} of job {job}", "no more out than in")
                )
                if n < 0:
                    wanted.append(f"{where}: found {n}, wanted {less}")
                elif is_over:
                    wanted.append(f"{where}: found {n}, wanted {word}")
        return sorted(wanted)

    assert told(False, False) == loose(balance)
    assert told(True, False) == loose(balance, closed=both)
    assert told(False, True) == loose(balance, gone=both)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"sequence": 3}, "stock after entry 0: found entry 3, wanted entry 1"),
        (
            {"previous": "f" * 64},
            "stock entry 1: found another digest before it, "
            "wanted that of the entry before",
        ),
        (
            {"verb": "lost"},
            "stock entry 1: found changed contents, wanted those that were sealed",
        ),
    ],
)
def test_a_break_says_where_what_was_found_and_what_was_wanted(change, said) -> None:
    facts: dict[str, Any] = {"n": 1}
    made = {
        "journal": "stock", "sequence": 1, "at": "", "author": "a", "verb": "found",
        "subject": "p", "facts": facts, "words_digest": "", "corrects": 0,
        "previous": START,
    }  # fmt: skip
    whole: Any = Entry(**made)  # type: ignore[arg-type]
    changed: Any = Entry(**(made | change))  # type: ignore[arg-type]

    assert said == str(first_break("stock", [(changed, whole.digest)], 1, whole.digest))


def test_what_was_cut_off_is_told_by_the_last_number() -> None:
    found = first_break("stock", [], 2, "f" * 64)

    assert Break("stock end", "entry 0", "entry 2 as sealed") == found


@given(st.dictionaries(st.sampled_from("ab"), st.one_of(st.booleans(), st.text())))
def test_a_fact_of_another_kind_counts_as_none(facts) -> None:
    one = entry("stock", "found", "p", facts)
    words = facts.get("a")

    assert 0 == one.n("a")
    assert (words if isinstance(words, str) else "") == one.text("a")
