"""Are the tables of an open record those of a plain count of the same file?"""

import csv
import statistics
from collections import Counter
from pathlib import Path

import pytest

from turnscrew.files.open_repairs_file import read_open_repairs
from turnscrew.flows.open_repairs import NO_RATES, sign_counts, told_by_open_record

DATA = Path(__file__).parents[2] / "data"
NAMES = ("Laptop", "Mobile", "Tablet")


@pytest.fixture(scope="module")
def rows() -> list[dict[str, str]]:
    # Source of the file: data/LICENCES.md.
    with (DATA / "open_repairs.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def records():
    return read_open_repairs((DATA / "open_repairs.csv").read_bytes()).records


@pytest.fixture(scope="module")
def answer(records):
    return told_by_open_record(records)


def test_it_counts_outcomes_as_a_plain_count_does(rows, answer) -> None:
    assert NAMES == tuple(one.what for one in answer.outcomes)
    for one in answer.outcomes:
        mine = [r["repair_status"] for r in rows if r["product_category"] == one.what]
        assert Counter(mine) == Counter(one.counts)
        known = [status for status in mine if status != "Unknown"]
        for status, share in one.shares.items():
            assert known.count(status) / len(known) == pytest.approx(share.share)
            assert share.low < share.share < share.high


def test_it_counts_ages_as_a_plain_count_does(rows, answer) -> None:
    for one in answer.ages:
        mine = [
            float(r["age_years"])
            for r in rows
            if r["product_category"] == one.what and r["age_years"]
        ]
        assert len(mine) == one.n
        assert statistics.mean(mine) == pytest.approx(one.mean_years)
        assert statistics.median(mine) == one.quantiles_years[2]
        assert one.n + one.n_without == sum(
            r["product_category"] == one.what for r in rows
        )


def test_it_puts_every_age_into_one_band_with_its_end(rows, answer) -> None:
    bands = {one.what: one for one in answer.outcomes_by_age}
    for name in NAMES:
        ages = [
            float(r["age_years"])
            for r in rows
            if r["product_category"] == name and r["age_years"]
        ]
        assert sum(age <= 2 for age in ages) == bands[f"{name}, 0 to 2 years"].n
        assert sum(2 < a <= 4 for a in ages) == bands[f"{name}, over 2 to 4 years"].n
        assert sum(age > 8 for age in ages) == bands[f"{name}, over 8 years"].n
        assert len(ages) == sum(
            one.n for one in answer.outcomes_by_age if one.what.startswith(name)
        )


def test_it_counts_sorts_of_fault_and_keeps_apart_what_nobody_could_tell(
    rows, answer
) -> None:
    for one in answer.faults:
        mine = Counter(
            r["fault_type"] for r in rows if r["product_category"] == one.what
        )
        unknown = mine.pop("Unknown", 0) + mine.pop("Poor data", 0)
        unread = mine.pop("", 0)
        assert (unknown, unread) == (one.n_unknown, one.n_unread)
        assert mine == Counter(
            {name: share.count for name, share in one.shares.items()}
        )
        assert 30 == pytest.approx(sum(one.prior.values()))
        assert list(one.prior) == list(one.shares)


def test_it_counts_why_devices_came_to_their_end(rows, answer) -> None:
    for name in NAMES:
        mine = [
            r["barrier"] for r in rows if r["product_category"] == name and r["barrier"]
        ]
        assert len(mine) == sum(answer.barriers[name].values())


def test_it_says_that_there_are_no_rates(answer) -> None:
    assert (NO_RATES,) == answer.limits


def test_it_gives_signs_the_chances_of_a_count_made_apart(records) -> None:
    # Source: data/LICENCES.md, symptom_by_fault_counts.csv: texts of a longer record.
    counts = sign_counts(records)
    names = {one.lower(): one for one in NAMES}
    with (DATA / "symptom_by_fault_counts.csv").open(encoding="utf-8") as file:
        published = list(csv.DictReader(file))
    whole = {
        (row["device"], row["fault_type"]): int(row["count"])
        for row in published
        if row["symptom_tag"] == "(any text)"
    }
    compared = 0
    for row in published:
        n = whole[row["device"], row["fault_type"]]
        of = counts.get((names[row["device"]], row["fault_type"]), {})
        if n < 100 or not of or row["symptom_tag"] == "(any text)":
            continue
        theirs = int(row["count"]) / n
        assert theirs == pytest.approx(of.get(row["symptom_tag"], 0) / of[""], abs=0.08)
        compared += 1
    assert compared > 100
