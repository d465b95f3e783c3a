"""Are the terms of a batch read as written, and refused with the place where not?"""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from turnscrew.errors import BadFileError
from turnscrew.files.columns_file import read_columns
from turnscrew.files.device_file import read_device
from turnscrew.files.faults_file import read_faults
from turnscrew.files.terms_file import (
    read_people,
    read_terms,
    without_customer,
    without_names,
)

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "sallowmere" / "terms.yaml"
TEXT = EXAMPLE.read_text("utf-8")
WORTH = "    worth: {A: 190.00, B: 290.00}\n"


def changed(more: str = "", *, model: str = "") -> str:
    assert WORTH in TEXT
    return TEXT.replace(WORTH, WORTH + model) + more


def problems(text: str) -> list[str]:
    with pytest.raises(BadFileError) as caught:
        read_terms(text)
    return [f"{p.where}: {p.found}, {p.wanted}" for p in caught.value.problems]


def test_what_nobody_said_stays_unsaid() -> None:
    terms = read_terms(TEXT)

    assert ("", None) == (terms.limit_currency, terms.limits_with_tax)
    assert () == terms.models["L240"].worth_estimated
    assert terms.models["L240"].failures_to_come is None


def test_it_reads_what_limits_count_and_what_is_an_estimate() -> None:
    more = "limit_currency: kr\nlimits_with_tax: no\n"
    model = "    worth_estimated: B\n    failures_a_year: 0.12\n    years_left: 2.5\n"
    terms = read_terms(changed(more, model=model))

    assert ("kr", False) == (terms.limit_currency, terms.limits_with_tax)
    assert ("B",) == terms.models["L240"].worth_estimated
    assert 0.3 == pytest.approx(terms.models["L240"].failures_to_come)


def test_half_of_a_forecast_is_none() -> None:
    terms = read_terms(changed(model="    failures_a_year: 0.12\n"))

    assert terms.models["L240"].failures_to_come is None


def test_an_estimate_of_no_value_is_refused_with_its_place() -> None:
    (told,) = problems(changed(model="    worth_estimated: [A, C]\n"))

    assert "models.L240.worth_estimated" in told
    assert "C, without a value, a revision with a worth" in told


@pytest.mark.parametrize("slip", ["0001-01-01", "1899-12-31", "2200-01-01"])
def test_it_takes_no_day_that_nobody_can_mean(slip) -> None:
    week = "  week: [Mon, Tue, Wed, Thu, Fri]\n"
    closed = f"{week}  closed: [2027-02-02, {slip}]\n"
    (told,) = problems(TEXT.replace(week, closed))

    wanted = "a day from 1900-01-01 to 2199-12-31"
    assert f"calendar.closed[1]: {slip}, {wanted}" == told


@pytest.mark.parametrize(
    ("text", "where"),
    [
        (changed("limits_with_tax: perhaps\n"), "limits_with_tax"),
        (changed(model="    years_left: -1\n"), "models.L240.years_left"),
        (changed(model="    failures_a_year: often\n"), "models.L240.failures_a_year"),
    ],
)
def test_what_does_not_fit_is_refused_with_its_place(text, where) -> None:
    (told,) = problems(text)

    assert where in told


@pytest.mark.parametrize("text", ["", "# nobody yet\n", "- lead\n"])
@pytest.mark.parametrize(
    ("read", "wanted"),
    [
        (read_people, "people: and their short names under it"),
        (read_terms, "keys such as batch: and customer:"),
        (read_columns, "the name of a table such as batch.csv:"),
        (read_faults, "keys such as faults_of: and faults:"),
        (read_device, "keys such as device: and joints:"),
    ],
)
def test_a_text_without_keys_is_told_those_of_its_own_file(read, wanted, text) -> None:
    with pytest.raises(BadFileError) as caught:
        read(text)

    assert [wanted] == [problem.wanted for problem in caught.value.problems]


HIDDEN = "Nowhere Lane 7"


@pytest.mark.parametrize(
    "customer",
    [
        f"customer:\n  name: {HIDDEN}\n",
        f"customer:\n# at column 0: {HIDDEN}\n  name: Trust\n  address: [{HIDDEN}]\n",
        f'"customer":\n  name: {HIDDEN}\n',
        f"'customer' :\n  name: {HIDDEN}\n",
        f"customer : {{name: {HIDDEN}}}\n",
        f"customer: {{name: Trust,\naddress: [{HIDDEN}]}}\n",
        f"? customer\n: name: {HIDDEN}\n",
        f"# for {HIDDEN}\ncustomer:\n  name: Trust  # {HIDDEN}\n",
    ],
)
def test_what_names_the_customer_leaves_the_terms_however_it_is_written(
    customer: str,
) -> None:
    text = customer + re.sub(r"^customer:\n(?:  .*\n)+", "", TEXT, flags=re.MULTILINE)
    told, kept = read_terms(text), without_customer(text)

    assert HIDDEN in text
    assert HIDDEN not in kept
    assert replace(told, customer=read_terms(kept).customer) == read_terms(kept)
    assert "on record" == read_terms(kept).customer.name


def test_the_name_of_the_batch_leaves_the_terms_too() -> None:
    kept = without_names(TEXT, "erased")

    assert "Sallowmere" not in kept
    assert "erased" == read_terms(kept).batch
    assert kept == without_names(kept, "erased")
