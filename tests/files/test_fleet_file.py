"""Is the history of a fleet read as written, and refused with every wrong line?"""

from pathlib import Path

import pytest

from turnscrew.errors import BadFileError
from turnscrew.files.fleet_file import read_fleet

EXAMPLE = Path(__file__).parents[2] / "examples" / "fleet-history.csv"

HEAD = "unit,model,model_year,site,entry_age_d,end_age_d,weight,running,"
HEAD += "failure_age_d,cause,cost\n"


def read(*rows: str, head: str = HEAD):
    return read_fleet((head + "\n".join(rows) + "\n").encode())


def refused(*rows: str, head: str = HEAD) -> list[str]:
    with pytest.raises(BadFileError) as told:
        read(*rows, head=head)
    return [str(problem) for problem in told.value.problems]


def test_it_reads_units_and_their_failures() -> None:
    history = read(
        "A,V80,2024,North,10,500,1,yes,100,glass,31.50",
        "A,V80,2024,North,10,500,1,yes,200,pack,",
        "B,V80,2023,South,0,700,12,no,,,",
        "C,L240,2024,North,0,20,1,yes,5,unknown,3.00",
    )

    assert (4, (5,)) == (history.n_rows, history.without_cause)
    tablets = history.tables["V80"]
    assert ["A", "B"] == list(tablets.unit)
    assert ("glass", "pack") == tablets.causes
    assert [0, 0] == tablets.event_unit.tolist()
    assert [100, 200] == tablets.event_age.tolist()
    assert [3150, 0] == tablets.event_cost_minor.tolist()
    assert [True, False] == tablets.is_cost_known.tolist()
    assert [True, False] == tablets.is_running.tolist()
    assert [1, 12] == tablets.weight.tolist()
    assert [2024, 2023] == tablets.model_year.tolist()
    assert 0 == history.tables["L240"].n_events


def test_it_reads_days_as_ages() -> None:
    head = "unit;in_service;watched_from;watched_until;failed_on;cause\n"
    history = read(
        "A;2024-01-01;2024-01-11;2025-01-01;2024-02-01;glass",
        "B;2024-01-01;;2025-01-01;;", head=head,
    )  # fmt: skip

    (table,) = history.tables.values()
    # 2024 has 366 days.
    assert [10, 0] == table.entry_age.tolist()
    assert [366, 366] == table.end_age.tolist()
    assert [31] == table.event_age.tolist()


@pytest.mark.parametrize("slip", ["1899-12-31", "2200-01-01"])
@pytest.mark.parametrize("other", ["2027-02-01", "soon"])
def test_it_takes_no_day_that_nobody_can_mean(slip, other) -> None:
    """Read as a whole column, or one by one beside a cell that is no day at all."""
    told = refused(
        f"A,2000-01-01,{slip}", f"B,2000-01-01,{other}",
        head="unit,in_service,watched_until\n",
    )  # fmt: skip

    wanted = "wanted a day from 1900-01-01 to 2199-12-31"
    assert f"text:2:1: watched_until: found {slip}, {wanted}" in told


@pytest.mark.parametrize("word", ["NaT", "nat"])
def test_it_takes_no_word_for_a_day(word) -> None:
    head = "unit;in_service;watched_until;failed_on;cause\n"

    (told,) = refused(f"A;2024-01-01;{word};;", head=head)
    assert f"text:2:1: watched_until: found {word}, wanted a day as 2026-03-31" == told


def test_headings_may_be_written_with_blanks_and_capitals() -> None:
    history = read("A,20", head="Unit,End age d\n")

    assert [20] == history.tables[""].end_age.tolist()


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("A,V80,2024,N,500,500,1,yes,,,", "end_age_d: found 500, wanted an end after"),
        ("A,V80,2024,N,600,500,1,yes,,,", "wanted an end after the entry"),
        ("A,V80,2024,N,-3,500,1,yes,,,", "entry_age_d: found -3, wanted 0 days of age"),
        ("A,V80,2024,N,0,500,1,yes,501,glass,", "wanted a failure within the watch"),
        ("A,V80,2024,N,9,500,1,yes,9,glass,", "wanted a failure within the watch"),
        (
            "A,V80,2024,N,0,30 months,1,yes,,,",
            "end_age_d: found 30 months, wanted days",
        ),
        ("A,V80,2024,N,0,inf,1,yes,,,", "end_age_d: found inf, wanted days"),
        ("A,V80,2024,N,0,nan,1,yes,,,", "end_age_d: found nan, wanted days"),
        ("A,V80,2024,N,NaN,9,1,yes,,,", "entry_age_d: found NaN, wanted days"),
        ("A,V80,2024,N,0,9,nan,yes,,,", "weight: found nan, wanted a number"),
        ("A,V80,2024,N,0,,1,yes,,,", "without the time there is no rate"),
        ("A,V80,2024,N,0,9,0,yes,,,", "weight: found 0, wanted more than 0"),
        ("A,V80,2024,N,0,9,1.5,yes,,,", "weight: found 1.5, wanted a whole number"),
        ("A,V80,2024,N,0,9,1e-300,yes,,,", "weight: found 1e-300, wanted a whole"),
        ("A,V80,2024,N,0,9,1e15,yes,,,", "weight: found 1e15, wanted 1000000 or less"),
        (
            "A,V80,2024,N,0,1e308,1,yes,,,",
            "end_age_d: found 1e308, wanted 36525 days of age or less",
        ),
        (
            "A,V80,1e300,N,0,9,1,yes,,,",
            "model_year: found 1e300, wanted a year from 1900 to 2199, 0 or nothing",
        ),
        ("A,V80,2024,N,0,1e-300,1,yes,,,", "found 1e-300, wanted an end 0.001 days or"),
        ("A,V80,-5,N,0,9,1,yes,,,", "model_year: found -5, wanted a year from 1900"),
        ("A,V80,2024,N,0,9,1,maybe,,,", "running: found maybe, wanted yes or no"),
        ("A,V80,late,N,0,9,1,yes,,,", "model_year: found late, wanted a number"),
        ("A,V80,2024.5,N,0,9,1,yes,,,", "model_year: found 2024.5, wanted a whole"),
        ("A,V80,2024,N,0,9,1,yes,,glass,", "cause: found glass, wanted also the day"),
        ("A,V80,2024,N,0,9,1,yes,5,glass,dear", "cost: found dear"),
        (",V80,2024,N,0,9,1,yes,,,", "unit: found nothing, wanted its name"),
        ("A,V80,2024,N,0,9", "row: found 6 cells, wanted 11"),
    ],
)
def test_it_names_what_cannot_be_with_its_line(row: str, says: str) -> None:
    (told,) = refused("Z,V80,2024,N,0,9,1,yes,,,", row)

    assert told.startswith("text:3:")
    assert says in told


def test_it_names_every_problem_at_once() -> None:
    told = refused(
        "A,V80,2024,N,-3,500,1,yes,,,",
        "B,V80,2024,N,0,x,1,yes,,,",
        "C,V80,2024,N,0,9,1,yes,99,glass,1.00",
    )

    assert [2, 3, 4] == sorted({int(one.split(":")[1]) for one in told})


def test_it_refuses_a_failure_entered_twice_and_rows_that_differ() -> None:
    told = refused(
        "A,V80,2024,N,0,500,1,yes,100,glass,1.00",
        "A,V80,2024,N,0,500,1,yes,100,glass,1.00",
        "A,V80,2023,N,0,500,1,yes,200,glass,1.00",
    )

    assert 2 == len(told)
    assert "failure: found glass again, wanted once: it stands in line 2" in told[0]
    assert "wanted the same as in the first row of this unit" in told[1]


@pytest.mark.parametrize("model", ["v80", ""])
def test_a_model_left_out_or_in_another_case_makes_no_other_unit(model) -> None:
    rows = (
        "A,V80,2024,N,0,500,1,yes,100,glass,1.00",
        f"A,{model},2024,N,0,500,1,yes,200,glass,1.00",
    )
    for some in (rows, rows[::-1]):
        (told,) = refused(*some)

        assert told.startswith("text:3:")
        assert "model: found" in told
        assert "wanted the same as in the first row of this unit" in told


@pytest.mark.parametrize("unit", ['"A "', '" A"', "A\u00a0", "\u2007A", "A\t"])
def test_blanks_around_a_cell_make_no_other_unit(unit) -> None:
    history = read(
        f"{unit},V80,2024,N,0,500,1,yes,100,glass,1.00",
        'A,V80,2024,"N",0,500,1,yes,200,glass,1.00',
    )

    assert ["A"] == list(history.tables["V80"].unit)


@pytest.mark.parametrize(
    ("head", "says"),
    [
        ("unit,end_age_d,failed_on\n", "ages in days or dates, not both"),
        ("unit,site\n", "without the time there is no rate"),
        ("end_age_d\n", "no unit"),
        ("unit,end_age_d,colour\n", "heading: found colour"),
        ("unit,end_age_d,unit\n", "unit twice"),
    ],
)
def test_it_refuses_headings_that_cannot_be_read(head: str, says: str) -> None:
    assert says in " ".join(refused("A,1,1", head=head))


def test_it_refuses_what_is_no_text_or_has_no_row() -> None:
    with pytest.raises(BadFileError, match="UTF-8"):
        read_fleet(b"unit,end_age_d\n\xff\xfe,1\n")
    assert "no row" in refused(head="unit,end_age_d\n")[0]


def test_the_same_name_in_two_models_is_two_units() -> None:
    history = read(
        "1,V80,2024,N,0,500,1,yes,100,glass,1.00", "1,L240,2024,N,0,400,1,yes,,,"
    )

    assert {"V80": 1, "L240": 1} == {m: t.n_units for m, t in history.tables.items()}


def test_the_example_loses_no_row() -> None:
    history = read_fleet(EXAMPLE.read_bytes())
    lines = EXAMPLE.read_text(encoding="utf-8").splitlines()[1:]

    assert len(lines) == history.n_rows
    units = {tuple(line.split(",")[:2]) for line in lines}
    assert len(units) == sum(table.n_units for table in history.tables.values())
    failed = [line for line in lines if line.split(",")[8]]
    known = sum(table.n_events for table in history.tables.values())
    assert len(failed) == known + len(history.without_cause)


def test_blanks_around_cells_are_no_part_of_them() -> None:
    (told,) = read("A , 20", "B, 30 ", head="unit, end_age_d\n").tables.values()

    assert ["A", "B"] == list(told.unit)
    assert [20, 30] == told.end_age.tolist()


@pytest.mark.parametrize(
    "above", ["", "Fleet of 2025\n", "Fleet of 2025,,,,,,,,,,\n,,,,,,,,,,\n"]
)
def test_titles_stand_above_the_heading_and_cells_in_quotes(above) -> None:
    quoted = ",".join(f'"{name}"' for name in HEAD.strip().split(",")) + "\n"

    for head in (HEAD, quoted):
        history = read("A,V80,2024,N,0,500,1,yes,100,glass,1.00", head=above + head)
        assert ["A"] == list(history.tables["V80"].unit)
        (told,) = refused("A,V80,late,N,0,500,1,yes,,,", head=above + head)
        assert told.startswith(f"text:{above.count(chr(10)) + 2}:")


def test_a_cell_of_two_lines_moves_no_line_after_it() -> None:
    (told,) = refused(
        '"A\nb",V80,2024,N,0,500,1,yes,100,glass,1.00',
        "B,V80,late,N,0,500,1,yes,,,",
    )

    assert told.startswith("text:4:")
