"""Do ``turnscrew fleet`` and ``turnscrew selfcheck`` say what was counted?"""

import json
from pathlib import Path

import pypdfium2
import pytest

from files_tables import ods_bytes, xlsx_bytes
from shell import turnscrew
from turnscrew.cli.fleet import cases
from turnscrew.cli.fleet_history import document
from turnscrew.core.reliability.table import fleet_table
from turnscrew.flows.fleet.report import fleet_report

ROOT = Path(__file__).parents[2]
DATA = ROOT / "data" / "open_repairs.csv"
HISTORY = ROOT / "examples" / "fleet-history.csv"


def test_it_counts_an_open_record_and_refuses_rates() -> None:
    done = turnscrew("fleet", str(DATA))

    assert 0 == done.returncode
    assert "9,528 repairs, read as tagged extract; 0 odd fields" in done.stdout
    assert "Laptop: Fixed 2,654 (0.559, 0.547 to 0.571)" in done.stdout
    assert "prior of 30 cases" in done.stdout
    assert done.stdout.rstrip().endswith("are all there is.")


def test_it_gives_the_same_in_one_document() -> None:
    done = turnscrew("fleet", str(DATA), "--json")

    found = json.loads(done.stdout)
    assert (9528, []) == (found["n"], found["odd"])
    assert 2654 == found["outcomes"][0]["counts"]["Fixed"]


def test_it_names_every_problem_of_what_is_no_such_record(tmp_path) -> None:
    file = tmp_path / "record.csv"
    file.write_text("id,problem\n", encoding="utf-8")
    done = turnscrew("fleet", str(file))

    assert 2 == done.returncode
    assert "record.csv:1:1: heading: found nothing, wanted country" in done.stderr
    assert "Traceback" not in done.stderr
    assert 2 == turnscrew("fleet", str(tmp_path / "none.csv")).returncode


def test_it_lays_published_figures_beside_ours_with_their_sources() -> None:
    done = turnscrew("selfcheck")

    assert 0 == done.returncode, done.stdout
    assert f"{len(cases())} of {len(cases())} as printed" in done.stdout
    told = json.loads(turnscrew("selfcheck", "--json").stdout)
    assert all(one["source"].strip() for one in told)
    assert len({one["name"] for one in told}) == len(told)


@pytest.mark.parametrize("confidence", ["0", "1", "two"])
def test_it_refuses_a_confidence_that_is_none(confidence) -> None:
    assert 2 == turnscrew("fleet", str(DATA), "--confidence", confidence).returncode


def test_it_reports_on_the_history_of_a_fleet(tmp_path) -> None:
    paper = tmp_path / "fleet.pdf"
    done = turnscrew(
        "fleet", str(HISTORY), "--replace", "V80=389.00/5", "--pdf", str(paper)
    )

    assert 0 == done.returncode, done.stderr
    assert "510 devices, 1,344 device-years under watch, 429 failures" in done.stdout
    assert "fleet-history.csv:5: cause not known" in done.stdout
    assert "T-GLS on V80: 67 of 131 at Night team" in done.stdout
    assert "V80 T-BAT: one in ten by 2.6 years" in done.stdout
    assert "V80 at 0 years: " in done.stdout
    assert paper.read_bytes().startswith(b"%PDF")


def test_it_prints_its_report_in_german(tmp_path) -> None:
    paper = tmp_path / "fleet.pdf"
    done = turnscrew("fleet", str(HISTORY), "--pdf", str(paper), "--language", "de")
    first = pypdfium2.PdfDocument(paper)[0].get_textpage().get_text_bounded()

    assert 0 == done.returncode, done.stderr
    assert "510 Geräte, 1.344 Gerätejahre beobachtet, 429 Ausfälle" in done.stdout
    assert "510 Geräte, 1.344 Gerätejahre beobachtet, 429 Ausfälle" in first
    assert "„" not in first


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ((), "No failure of any device with a known cause in 0.8 device-years;"),
        (
            ("--language", "de"),
            "Kein Ausfall eines Geräts mit bekannter Ursache in 0,8 Gerätejahren;",
        ),
    ],
)
def test_it_tells_no_limit_where_no_failure_has_a_known_cause(
    tmp_path, options, says
) -> None:
    file = tmp_path / "none.csv"
    file.write_text("unit,site,end_age_d,failure_age_d,cause\nb,x,300,100,\n")
    done = turnscrew("fleet", str(file), *options)

    assert 0 == done.returncode, done.stderr
    assert says in done.stdout
    assert "364" not in done.stdout


def halves(folder: Path) -> list[str]:
    """Part the example between two units."""
    head, *rows = HISTORY.read_text(encoding="utf-8").splitlines()
    cut = next(k for k, row in enumerate(rows) if row.startswith("SHN-0350"))
    for name, some in (("one.csv", rows[:cut]), ("two.csv", rows[cut:])):
        (folder / name).write_text("\n".join([head, *some]), encoding="utf-8")
    return [str(folder / "one.csv"), str(folder / "two.csv")]


def agree(one, other) -> bool:
    """Say whether two documents are the same but for the last bits."""
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(agree(one[k], other[k]) for k in one)
    if isinstance(one, list):
        return len(one) == len(other) and all(map(agree, one, other))
    if isinstance(one, float):
        return one == pytest.approx(other, rel=1e-9, abs=1e-12)
    return one == other


def test_several_files_and_processes_tell_the_same(tmp_path) -> None:
    whole = json.loads(turnscrew("fleet", str(HISTORY), "--json").stdout)
    for engine in ("here", "dask"):
        told = json.loads(
            turnscrew("fleet", *halves(tmp_path), "--json", "--engine", engine).stdout
        )
        assert {"one.csv", "two.csv"} == {one["file"] for one in told["without_cause"]}
        told["without_cause"] = whole["without_cause"]
        assert agree(whole, told), engine


def test_it_refuses_a_unit_in_two_files_and_strange_options(tmp_path) -> None:
    one, two = halves(tmp_path)
    Path(two).write_text(Path(one).read_text(encoding="utf-8"), encoding="utf-8")
    for args, says in (
        ((one, two), "wanted each in one file"),
        ((str(DATA), "--pdf", f"{tmp_path}/x.pdf"), "wanted the history of a fleet"),
        ((one, "--engine", "magic"), "engine: found magic, wanted here or dask"),
        ((one, "--replace", "V80=dear"), "wanted model=price/years"),
        ((one, "--replace", "V80=389.00/0.5"), "years 1 or more"),
        (
            (one, "--replace", "V90=389.00/5"),
            'replace: found V90, wanted perhaps "V80"',
        ),
        (
            (one, "--replace", "V80=389.00/5", "--replace", "V80=1.00/5"),
            "replace: found V80 twice, wanted it once",
        ),
        (
            (one, "--pdf", str(tmp_path / "x.pdf"), "--paper", "a9"),
            "wanted a4 or letter",
        ),
    ):
        done = turnscrew("fleet", *args)
        assert 0 != done.returncode, args
        assert says in done.stderr
        assert "Traceback" not in done.stderr


def test_it_says_that_a_link_leads_nowhere(tmp_path) -> None:
    loop = tmp_path / "history.csv"
    loop.symlink_to(loop)

    for command in ("fleet", "fleets"):
        done = turnscrew(command, loop)
        assert "symbolic links" in done.stderr + done.stdout, command
        assert "Traceback" not in done.stderr


@pytest.mark.parametrize("engine", ["here", "dask"])
def test_it_refuses_what_is_named_twice_wherever_the_work_is_done(
    tmp_path, engine
) -> None:
    one, _ = halves(tmp_path)
    copy = tmp_path / "copy.csv"
    copy.write_bytes(Path(one).read_bytes())
    for other, says in (
        (one, f"found {one} and {one}, the same file"),
        (str(tmp_path / ".." / tmp_path.name / "one.csv"), "wanted each file once"),
        (str(copy), f"SHN-0101 in {one} and {copy}"),
    ):
        done = turnscrew("fleet", one, other, "--engine", engine)
        assert 2 == done.returncode, done.stdout
        assert says in done.stderr
        assert "Traceback" not in done.stderr
    assert "; and " in done.stderr
    assert done.stderr.rstrip().endswith(" more, wanted each in one file")


def test_it_names_every_wrong_line_of_a_history(tmp_path) -> None:
    file = tmp_path / "history.csv"
    file.write_text("unit,end_age_d\nA,-4\nB,two years\n", encoding="utf-8")
    done = turnscrew("fleet", str(file))

    assert 2 == done.returncode
    assert "history.csv:2:1: end_age_d: found -4" in done.stderr
    assert "history.csv:3:1: end_age_d: found two years, wanted days" in done.stderr


def test_a_place_too_young_for_a_fault_expects_nothing_and_is_not_compared() -> None:
    # 40 old devices fail at 800 days and later; 10 young ones were watched for 100.
    events = [(k, 800.0 + 5 * k, "pack", 100) for k in range(30)]
    table = fleet_table(
        [str(k) for k in range(50)], [0] * 50, [1000] * 40 + [100] * 10,
        events=events, causes=["pack"], site=["old"] * 40 + ["young"] * 10,
    )  # fmt: skip
    (pack,) = document(fleet_report([{"": table}]))["causes"]

    assert pack["next_term"]["is_by_age"]
    told = {one["place"]: one["verdict"] for one in pack["places"]}
    assert {"old": "as others", "young": "nothing expected"} == told
    assert json.dumps(pack)


def test_two_prices_imply_the_level_to_hold(tmp_path) -> None:
    # Critical ratio (Snyder and Shen, section 4.3): 12 / (12 + 3) = 0.8.
    asked = ("fleet", str(HISTORY), "--lacking", "12.00", "--over", "3.00")
    done = turnscrew(*asked)
    assert "The two prices imply a level of 80.0 % for the shelf." in done.stdout

    told = json.loads(turnscrew(*asked, "--json").stdout)
    by_level = ("fleet", str(HISTORY), "--service", "0.8", "--json")
    same = json.loads(turnscrew(*by_level).stdout)
    assert 0.8 == told.pop("implied_level")
    assert same == told


@pytest.mark.parametrize(
    ("prices", "says"),
    [
        (("--lacking", "12.00"), "over: found none, wanted a price"),
        (("--lacking", "0", "--over", "3"), "lacking: found 0, wanted a price"),
        (("--lacking", "12", "--over", "x"), "over: found x, wanted a price"),
    ],
)
def test_it_refuses_one_price_alone_and_what_is_none(prices, says) -> None:
    done = turnscrew("fleet", str(HISTORY), *prices)

    assert 2 == done.returncode
    assert says in done.stderr


def test_it_says_which_names_differ_in_case_alone(tmp_path) -> None:
    path = tmp_path / "h.csv"
    rows = (
        "unit,model,site,end_age_d,failure_age_d,cause",
        "A,V80,N,500,100,T-GLS", "B,V80,n,500,100,t-gls", "C,v80,N,500,200,pack",
    )  # fmt: skip
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")

    told = turnscrew("fleet", str(path)).stdout
    for names in ("V80 and v80", "T-GLS and t-gls", "N and n"):
        assert f"{names}: the same but for case, counted apart" in told
    told = turnscrew("fleet", str(path), "--language", "de").stdout
    assert "N and n: gleich bis auf Groß und Klein, getrennt gezählt" in told


def test_a_history_in_quotes_under_a_title_is_seen_as_one(tmp_path) -> None:
    path = tmp_path / "h.csv"
    rows = (
        "Fleet of 2025", '"unit","model","end_age_d","failure_age_d","cause"',
        '"A","V80","500","100","glass"',
    )  # fmt: skip
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")

    done = turnscrew("fleet", str(path))

    assert (0, "") == (done.returncode, done.stderr)
    assert "glass" in done.stdout


@pytest.mark.parametrize("kind", [xlsx_bytes, ods_bytes])
def test_a_history_in_a_spreadsheet_says_the_same_as_in_a_text(tmp_path, kind) -> None:
    rows = [line.split(",") for line in HISTORY.read_text("utf-8").splitlines()]
    sheet = tmp_path / f"history.{kind.__name__.split('_')[0]}"
    sheet.write_bytes(kind(rows[:400]))
    text = tmp_path / "history.csv"
    text.write_text("\n".join(map(",".join, rows[:400])), "utf-8")

    told = [turnscrew("fleet", str(file)) for file in (sheet, text)]
    assert 0 == told[0].returncode
    assert told[0].stdout.replace(sheet.name, text.name) == told[1].stdout


def test_a_problem_in_a_spreadsheet_bears_the_row_of_the_sheet(tmp_path) -> None:
    sheet = tmp_path / "history.xlsx"
    rows = [["unit", "end_age_d"], ["A", "100"], ["", ""], ["B", "soon"]]
    sheet.write_bytes(xlsx_bytes(rows))

    done = turnscrew("fleet", str(sheet))
    assert 2 == done.returncode
    assert "history.xlsx:4:1: end_age_d: found soon, wanted days" in done.stderr
