"""Is an open record of repairs read whole, in both variants of the standard?"""

import csv
import io
from collections import Counter
from collections.abc import Iterable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.model.repair_record import BARRIERS, STATUSES, RepairRecord
from turnscrew.errors import BadFileError
from turnscrew.files.open_repairs_file import (
    BARRIERS_IN_FILES,
    STANDARD,
    read_open_repairs,
)

DATA = Path(__file__).parents[2] / "data" / "open_repairs.csv"

HEAD = ",".join(STANDARD)
ROW = (
    "some-12,P,GBR,Computer ~ Laptop,Laptop,16,Unknown,2015,6,End of life,"
    '"Spare parts too expensive",G,2021-05-08,"Will not charge, cracked",2021-06-01'
)


FIELDS = {
    "id": "ref", "data_provider": "provider", "country": "country",
    "partner_product_category": "partner_category", "product_category": "category",
    "product_category_id": "category_id", "brand": "brand",
    "year_of_manufacture": "year_made", "product_age": "age_years",
    "repair_status": "status", "repair_barrier_if_end_of_life": "barrier",
    "group_identifier": "group", "event_date": "event", "problem": "problem",
    "record_date": "changed",
}  # fmt: skip
"""Where each column of the standard is read to."""


def written(records: Iterable[RepairRecord], variant: str) -> bytes:
    """Write repairs as the text of the standard has them, or as its files do."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(STANDARD)
    for record in records:
        told = {name: getattr(record, field) for name, field in FIELDS.items()}
        if variant == "files" and record.barrier is not None:
            told["repair_barrier_if_end_of_life"] = BARRIERS_IN_FILES.get(
                record.barrier, record.barrier
            )
        writer.writerow("" if told[name] is None else told[name] for name in STANDARD)
    return out.getvalue().encode()


def text_of(*rows: str) -> bytes:
    return "\n".join([HEAD, *rows, ""]).encode()


def test_it_reads_every_field_of_the_standard() -> None:
    (record,) = read_open_repairs(text_of(ROW)).records

    assert record == RepairRecord(
        ref="some-12", category="Laptop", status="End of life",
        barrier="Spare parts too expensive", event=date(2021, 5, 8), country="GBR",
        age_years=6.0, age_source="reported", year_made=2015,
        problem="Will not charge, cracked", brand="Unknown",
        partner_category="Computer ~ Laptop", category_id=16, provider="P", group="G",
        changed=date(2021, 6, 1),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("No way to open product", "No way to open the product"),
        ("No way to open the product", "No way to open the product"),
        ("Item too worn out", "Product too worn out"),
        ("Product too worn out", "Product too worn out"),
    ],
)
@pytest.mark.parametrize("ref", ["some-12", "some_12"])
def test_it_reads_both_variants_of_the_standard(said, meant, ref) -> None:
    row = ROW.replace("Spare parts too expensive", said).replace("some-12", ref)
    read = read_open_repairs(text_of(row))

    assert (meant, ref, ()) == (read.records[0].barrier, read.records[0].ref, read.odd)


def test_it_loses_no_row_with_odd_fields_and_names_each_with_its_line() -> None:
    odd = ROW.replace("some-12", "??").replace(",6,", ",six,").replace("2021-05", "21")
    read = read_open_repairs(text_of(ROW, odd.replace("End of life", "Mended")))

    assert 2 == len(read.records)
    assert {"id", "product_age", "event_date", "repair_status"} == {
        one.where for one in read.odd
    }
    assert {3} == {one.line for one in read.odd}
    last = read.records[1]
    assert ("Unknown", None, None) == (last.status, last.age_years, last.event)


@pytest.mark.parametrize("slip", ["1899-12-31", "2200-01-01"])
def test_it_takes_no_day_that_nobody_can_mean(slip) -> None:
    read = read_open_repairs(text_of(ROW.replace("2021-05-08", slip)))

    assert [("event_date", slip)] == [(one.where, one.found) for one in read.odd]
    assert "a day from 1900-01-01 to 2199-12-31" in read.odd[0].wanted
    assert read.records[0].event is None


@pytest.mark.parametrize("year", ["????", ""])
def test_it_takes_a_year_nobody_told_as_not_told(year) -> None:
    read = read_open_repairs(text_of(ROW.replace("2015", year)))

    assert (None, ()) == (read.records[0].year_made, read.odd)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "wanted id"),
        (HEAD.replace("problem", "trouble").encode(), "found trouble"),
        (HEAD.replace("problem", "id").encode(), "id twice"),
        (text_of(ROW, ROW), "some-12 of line 2 once more"),
        (text_of(ROW + ",more"), "found 16 fields, wanted 15"),
        (text_of(ROW)[:-20], "found "),
        (b"\xff\xfe", "UTF-8"),
    ],
)
def test_it_refuses_what_is_no_record_of_repairs(content, words) -> None:
    with pytest.raises(BadFileError) as told:
        read_open_repairs(content)

    assert words in "; ".join(map(str, told.value.problems))


def test_it_brings_in_an_open_record_without_losing_a_row() -> None:
    # Source: data/LICENCES.md; counted here by the plain text of the same file.
    content = DATA.read_bytes()
    rows = list(csv.DictReader(io.StringIO(content.decode())))
    read = read_open_repairs(content)

    assert ("tagged extract", ()) == (read.mapped, read.odd)
    assert [row["rec"] for row in rows] == [one.ref for one in read.records]
    assert 9528 == len(rows)
    for column, name in (
        ("product_category", "category"), ("repair_status", "status"),
        ("fault_type", "fault"), ("country", "country"), ("age_source", "age_source"),
    ):  # fmt: skip
        wanted = Counter(row[column] for row in rows)
        assert wanted == Counter(getattr(one, name) for one in read.records)
    assert sum(bool(row["barrier"]) for row in rows) == sum(
        one.barrier is not None for one in read.records
    )
    ages = [float(row["age_years"]) for row in rows if row["age_years"]]
    assert ages == [one.age_years for one in read.records if one.age_years is not None]


words = st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\r\n\x00"), max_size=40
).map(str.strip)


@given(
    st.lists(
        st.builds(
            RepairRecord,
            ref=st.from_regex(r"[a-z]{1,6}-[0-9]{1,6}", fullmatch=True),
            category=words,
            status=st.sampled_from(STATUSES),
            barrier=st.none() | st.sampled_from(BARRIERS),
            event=st.none() | st.dates(date(1900, 1, 1), date(2100, 1, 1)),
            country=st.from_regex(r"[A-Z]{3}", fullmatch=True),
            year_made=st.none() | st.integers(1000, 9999),
            problem=words,
            brand=words,
            provider=words,
        ),
        unique_by=lambda one: one.ref,
        max_size=6,
    ),
    st.sampled_from(["text", "files"]),
)
def test_it_reads_whatever_the_standard_can_hold(records, variant) -> None:
    read = read_open_repairs(written(records, variant))

    assert tuple(records) == read.records


@given(st.integers(0, len(ROW) - 1), st.characters(exclude_categories=["Cs"]))
def test_it_never_fails_but_with_the_problems_of_the_text(at, letter) -> None:
    spoiled = text_of(ROW, ROW[:at] + letter + ROW[at + 1 :])
    try:
        read = read_open_repairs(spoiled)
    except BadFileError as error:
        assert error.problems
    else:
        assert 2 == len(read.records)
