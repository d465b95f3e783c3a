"""Does docs/coverage.md name only what is there, and leave nothing out?"""

import ast
import re
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
SOURCE = ROOT / "src" / "turnscrew"
COVERAGE = ROOT / "docs" / "coverage.md"
KEYS = ROOT / "docs" / "device-keys.md"

# The capabilities, the facts and the papers that a workshop of this kind was found to
# need; the facts are those of docs/formats.md.
N_CAPABILITIES = 83
N_FACTS = 104
N_PAPERS = 12
N_ROWS = {
    "Capabilities": N_CAPABILITIES,
    "Facts of a description": N_FACTS,
    "Papers": N_PAPERS,
}

LACKING = re.compile(r"(partly|not met): .{10,}")
COMMAND_FILES = [
    SOURCE / "cli" / f"{name}.py" for name in ("main", "records", "cards", "fleets")
]
URL_FILES = {
    SOURCE / "web" / "counter" / "urls.py": "/",
    SOURCE / "web" / "counter" / "photo_urls.py": "/",
    SOURCE / "web" / "bench" / "urls.py": "/bench/",
}

Row = dict[str, str]


def tables_in(text: str) -> dict[str, list[Row]]:
    """Give the table under each heading, row by row, by the words of its head."""
    found: dict[str, list[Row]] = {}
    for section in text.split("\n## ")[1:]:
        title, _, body = section.partition("\n")
        lines = [
            [cell.strip() for cell in line.strip().strip("|").split("|")]
            for line in body.splitlines()
            if line.startswith("|")
        ]
        head, _, *rows = lines
        found[title] = [dict(zip(head, row, strict=True)) for row in rows]
    return found


TABLES = tables_in(COVERAGE.read_text("utf-8"))
ROWS = [(title, row) for title, rows in TABLES.items() for row in rows]


def ticked(cell: str) -> list[str]:
    """Give what stands between back ticks."""
    return re.findall(r"`([^`]+)`", cell)


@cache
def functions_in(path: Path) -> frozenset[str]:
    tree = ast.parse(path.read_text("utf-8"))
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef)
    return frozenset(node.name for node in tree.body if isinstance(node, kinds))


def is_test_there(name: str) -> bool:
    file, _, function = name.partition("::")
    path = ROOT / file
    return path.is_file() and function in functions_in(path)


def commands_in(text: str) -> set[str]:
    """Name the commands: by the word given to the decorator, else by the function."""
    found = set()
    for node in ast.parse(text).body:
        if not isinstance(node, ast.FunctionDef):
            continue
        for made in node.decorator_list:
            if isinstance(made, ast.Call) and ast.unparse(made.func) == "app.command":
                words = [ast.literal_eval(word) for word in made.args]
                found.add(words[0] if words else node.name)
    return found


def addresses_in(text: str, prefix: str) -> set[str]:
    """Give the addresses of pages, without the kinds of their variable pieces."""
    made = (
        node.args[0].value
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Call)
        and ast.unparse(node.func) == "path"
        and isinstance(node.args[0], ast.Constant)
    )
    return {prefix + re.sub(r"<\w+:(\w+)>", r"<\1>", str(one)) for one in made}


COMMANDS = {
    f"turnscrew {name}"
    for path in COMMAND_FILES
    for name in commands_in(path.read_text("utf-8"))
}
ADDRESSES = {
    address
    for path, prefix in URL_FILES.items()
    for address in addresses_in(path.read_text("utf-8"), prefix)
}


def keys_by_section(text: str) -> dict[str, set[str]]:
    """Give the keys under each heading of the list of keys, by its anchor."""
    found = {}
    for section in text.split("\n## ")[1:]:
        title, _, body = section.partition("\n")
        keys = re.findall(r"^\| (?:\*\*)?`([^`]+)`", body, flags=re.MULTILINE)
        found[title.replace(" ", "-")] = set(keys)
    return found


def id_of(one: tuple[str, Row]) -> str:
    return f"{one[0]} {one[1]['no.']}"


@pytest.mark.parametrize("title", N_ROWS)
def test_it_has_each_number_once(title: str) -> None:
    numbers = [row["no."] for row in TABLES[title]]

    assert [str(n) for n in range(1, N_ROWS[title] + 1)] == numbers


def test_it_has_no_other_table() -> None:
    assert list(N_ROWS) == list(TABLES)


@pytest.mark.parametrize(("title", "row"), ROWS, ids=map(id_of, ROWS))
def test_it_is_met_or_says_what_lacks(title: str, row: Row) -> None:
    assert row["stands"] == "met" or LACKING.fullmatch(row["stands"])


@pytest.mark.parametrize(("title", "row"), ROWS, ids=map(id_of, ROWS))
def test_it_names_tests_that_are_there(title: str, row: Row) -> None:
    named = ticked(row["test"])

    assert [] == [name for name in named if not is_test_there(name)]
    assert named or row["stands"].startswith("not met")


@pytest.mark.parametrize("title", ["Capabilities", "Papers"])
def test_it_names_commands_and_pages_that_are_there(title: str) -> None:
    named = {row["no."]: ticked(row["command or page"]) for row in TABLES[title]}
    unknown = {
        no: name
        for no, names in named.items()
        for name in names
        if name not in COMMANDS | ADDRESSES
    }

    assert {} == unknown


@pytest.mark.parametrize("title", ["Capabilities", "Papers"])
def test_it_names_where_everything_is_that_is_met(title: str) -> None:
    nowhere = [
        row["no."]
        for row in TABLES[title]
        if not row["stands"].startswith("not met")
        and not ticked(row["command or page"])
    ]

    assert [] == nowhere


def test_it_names_what_makes_each_paper() -> None:
    makers = {row["no."]: ticked(row["made by"]) for row in TABLES["Papers"]}

    assert [] == [
        no
        for no, files in makers.items()
        if not all((SOURCE / file).is_file() for file in files)
    ]
    assert all(makers[row["no."]] for row in TABLES["Papers"] if row["stands"] == "met")


@pytest.mark.parametrize(
    "row", TABLES["Facts of a description"], ids=lambda r: r["no."]
)
def test_it_names_keys_that_are_documented(row: Row) -> None:
    sections = keys_by_section(KEYS.read_text("utf-8"))
    linked = re.findall(r"\(device-keys\.md#([^)]+)\)", row["documented"])
    last = {path.split(".")[-1] for path in ticked(row["key"])}

    assert linked
    assert set(linked) <= set(sections)
    assert last
    assert last <= set().union(*(sections[anchor] for anchor in linked))


def test_it_counts_as_its_first_table_says() -> None:
    first = COVERAGE.read_text("utf-8").partition("\n## ")[0]
    told = re.findall(r"^\| ([a-z ]+) \| (\d+) \| (\d+) \| (\d+) \|$", first, re.M)
    counted = [
        tuple(
            str(sum(row["stands"].startswith(word) for row in TABLES[title]))
            for word in ("met", "partly", "not met")
        )
        for title in N_ROWS
    ]

    assert counted == [tuple(row[1:]) for row in told]


def test_it_finds_what_is_not_there() -> None:
    """The checks above are worth something only if they can fail."""
    assert not is_test_there("tests/test_coverage.py::test_of_nothing")
    assert not is_test_there("tests/test_of_nothing.py::test_it")
    assert not LACKING.fullmatch("partly")
    assert "turnscrew fly" not in COMMANDS
    assert "/moon/" not in ADDRESSES
    assert {"sign-in-link"} == commands_in(
        "@app.command('sign-in-link')\ndef sign_in_link() -> None: ..."
    )
    assert {"/a/<b>/"} == addresses_in("path('a/<slug:b>/', view)", "/")
