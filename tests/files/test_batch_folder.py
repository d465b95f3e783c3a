"""Is a folder of a batch read whole or refused whole, whatever is wrong with it?"""

import random
from pathlib import Path

import openpyxl
import pytest

from turnscrew.errors import BadFileError
from turnscrew.files.batch_file import read_batch
from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.files.customer_list_file import read_customer_list
from turnscrew.files.parts_file import read_parts

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "sallowmere"
NAMES = (
    "batch.csv", "parts.csv", "customer-list.csv", "history.csv", "terms.yaml",
    "people.yaml", "columns.yaml",
)  # fmt: skip
WHOLE = {name: (FOLDER / name).read_bytes() for name in NAMES}

HEAD = "line,asset,serial,model,rev,site,due_day,reported,found,acc,data\n"
PARTS = "part,description,fits,cost,lead_days,stock,pack,breaks\n"


def batch_problems(*rows: str) -> list[str]:
    with pytest.raises(BadFileError) as caught:
        read_batch((HEAD + "\n".join(rows)).encode(), "batch.csv")
    return [f"{p.line}:{p.column} {p.where}" for p in caught.value.problems]


def part_problems(*rows: str) -> list[str]:
    with pytest.raises(BadFileError) as caught:
        read_parts((PARTS + "\n".join(rows)).encode(), "parts.csv")
    return [f"{p.line}:{p.column} {p.where}" for p in caught.value.problems]


def test_it_reads_the_example() -> None:
    batch = read_batch_folder(WHOLE)

    assert (60, 60, 22, 2) == (
        len(batch.lines),
        len(batch.listed),
        len(batch.parts),
        len(batch.people),
    )
    assert ("adapter", "sleeve") == batch.lines[0].accessories
    assert () == batch.lines[2].accessories


@pytest.mark.parametrize("year", ["1999", "2100", "2127", "2199"])
def test_it_refuses_a_year_that_no_number_of_a_device_can_tell(year) -> None:
    """Both years would give the device 1 of a day the same label."""
    terms = WHOLE["terms.yaml"].replace(b"2027-02-01", f"{year}-02-01".encode())
    with pytest.raises(BadFileError) as caught:
        read_batch_folder(WHOLE | {"terms.yaml": terms})

    assert (
        f"terms.yaml:10:11: received: found {year}-02-01, wanted a day of the years "
        "2000 to 2099"
    ) in [str(one) for one in caught.value.problems]


def test_the_tables_may_be_spreadsheets(tmp_path) -> None:
    contents = dict(WHOLE)
    text = contents.pop("batch.csv").decode()
    book = openpyxl.Workbook()
    for line in text.splitlines():
        book.active.append(line.replace('"', "").split(",")[:11])
    book.save(tmp_path / "batch.xlsx")
    contents["batch.xlsx"] = (tmp_path / "batch.xlsx").read_bytes()

    assert 60 == len(read_batch_folder(contents).lines)


def test_two_files_for_one_table_are_refused() -> None:
    with pytest.raises(BadFileError, match="batch.csv and batch.ods"):
        read_batch_folder(WHOLE | {"batch.ods": b""})


def test_it_tells_every_cell_that_does_not_fit() -> None:
    assert ["2:7 due_day", "3:11 data", "4:7 due_day", "5:1 line", "6:1 line"] == (
        batch_problems(
            "1,A,S,L240,A,x,soon,r,NFF,none,P",
            "2,A,S,L240,A,x,7,r,NFF,none,Q",
            "3,A,S,L240,A,x,0,r,NFF,none,P",
            "3,A,S,L240,A,x,7,r,NFF,none,P",
            "-4,A,S,L240,A,x,7,r,NFF,none,P",
        )
    )


def test_blank_numbers_and_an_unknown_fault_are_lawful() -> None:
    text = HEAD + "1,,,L240,,,,,,,\n"
    (line,) = read_batch(text.encode(), "batch.csv")

    assert ("", "", (), None) == (line.asset, line.serial, line.found, line.due_day)


def test_devices_without_a_column_of_numbers_are_numbered_in_order() -> None:
    lines = read_batch(b"serial,model\nS1,L240\n\nS2,L240\n", "batch.csv")

    assert [(1, 2), (2, 4)] == [(line.line, line.row) for line in lines]


def test_it_tells_every_part_that_does_not_fit() -> None:
    assert [
        "2:4 cost", "3:6 stock", "4:1 part", "5:3 fits", "6:8 breaks", "7:1 part",
    ] == part_problems(
        'A,a,L240 A,"31,50",3,1,,',
        "B,b,L240 A,3.00,3,-1,,",
        ",c,L240 A,3.00,3,1,,",
        "D,d,L240 A B,3.00,3,1,,",
        "E,e,L240,3.00,3,1,,10: 2.00; 5: 1.00",
        "D,d,L240,3.00,3,1,,",
    )  # fmt: skip


def test_a_blank_cost_or_lead_is_unknown_and_not_zero() -> None:
    text = PARTS + "A,a,L240 A+B,,,1,10,10: 2.10; 50: 1.90\n"
    (part,) = read_parts(text.encode(), "parts.csv")

    assert (None, None, ("A", "B"), 10) == (
        part.cost_minor,
        part.lead_days,
        part.revisions,
        part.pack,
    )
    assert [(10, 210), (50, 190)] == [(b.n, b.cost_minor) for b in part.breaks]


def test_a_list_needs_one_of_the_two_numbers() -> None:
    rows = read_customer_list(b"Serial number,Ward\nS1,North\n", "customer-list.csv")
    assert ("S1", "", "North") == (rows[0].serial, rows[0].asset, rows[0].site)

    with pytest.raises(BadFileError, match="only Ward, Nurse"):
        read_customer_list(b"Ward,Nurse\nNorth,x\n", "customer-list.csv")


def mutated(content: bytes, chance: random.Random) -> bytes:
    """Change a file as hands, programs and disks do."""
    kind = chance.randrange(8)
    lines = content.splitlines(keepends=True)
    at = chance.randrange(len(lines))
    if kind == 0:
        place = chance.randrange(len(content))
        return content[:place] + bytes([chance.randrange(256)]) + content[place + 1 :]
    if kind == 1:
        return content[: chance.randrange(len(content))]
    if kind == 2:
        return content.decode().encode(chance.choice(["utf-16", "cp037", "utf-8-sig"]))
    if kind == 3:
        lines[at] = lines[at].replace(b",", b";", 1).replace(b":", b"", 1)
    elif kind == 4:
        lines.insert(at, chance.choice([b"\n", b",,,\n", lines[at], b'"\n', b"x: [\n"]))
    elif kind == 5:
        del lines[at]
    elif kind == 6:
        word = chance.choice([b"-1", b"", b"1e9", b"\xff", b"999999999999", b"None"])
        lines[at] = lines[at].replace(chance.choice([b"1", b"4", b"A", b"L"]), word, 2)
    else:
        lines[at] = lines[at].strip() * chance.choice([2, 300]) + b"\n"
    return b"".join(lines)


@pytest.mark.parametrize("name", NAMES)
def test_a_spoilt_file_is_answered_or_refused_with_its_place(name) -> None:
    chance = random.Random(name)
    n_refused = 0
    for _ in range(120):
        spoilt = WHOLE | {name: mutated(WHOLE[name], chance)}
        try:
            batch = read_batch_folder(spoilt)
        except BadFileError as error:
            n_refused += 1
            assert all(p.file and p.found and p.wanted for p in error.problems)
            assert all(p.line >= 0 for p in error.problems)
        else:
            assert batch.lines or name == "batch.csv"

    assert n_refused > 20
