"""How does a whole strategy look on one page?"""

import pypdfium2
import pytest

from core.diagnose.small_bench import LAYERING, TABLE
from example_files import example_text
from paper_field import EDGE_MM, FIELD_MM, MM_PT, SHEET_MM
from turnscrew.core.diagnose.answer import Leaf, Step
from turnscrew.core.diagnose.evidence import Evidence
from turnscrew.core.diagnose.pose import reaches_of
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.faults_file import read_faults
from turnscrew.flows.diagnosis import layering, next_step
from turnscrew.papers.policy_sheet import fitting_rows, policy_sheet, rows_of

ADVICE = next_step(TABLE, LAYERING, Evidence(("dead",)), "block", lambda: False)


def deep(n: int) -> Step | Leaf:
    """A strategy with n tests, each with three outcomes of falling chance."""
    if n == 0:
        return Leaf("works", 0.0)
    rest = deep(n - 1)
    return Step(
        f"t{n}",
        "test",
        1.0,
        (),
        (),
        (("a", 0.6, rest), ("b", 0.3, rest), ("c", 0.1, rest)),
    )


def words(pdf: bytes) -> tuple[int, str]:
    document = pypdfium2.PdfDocument(pdf)
    pages = [page.get_textpage().get_text_bounded() for page in document]
    return len(pages), " ".join(" ".join(pages).split())


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_it_fits_on_one_page(page) -> None:
    n, text = words(policy_sheet(TABLE, ADVICE, Evidence(("dead",)), page))

    assert 1 == n
    assert "Known: dead" in text
    assert "page 1 of 1" in text


def test_it_shows_the_next_action_first() -> None:
    _, text = words(policy_sheet(TABLE, ADVICE, Evidence(("dead",)), "a4"))

    assert f"Next: {ADVICE.action}" in text


def test_it_gives_equal_bytes_for_equal_arguments() -> None:
    one, two = (policy_sheet(TABLE, ADVICE, Evidence(), "a4") for _ in range(2))

    assert one == two


def test_it_lays_out_every_way_once() -> None:
    """Chances of the ends sum to 1."""
    rows = rows_of(deep(3))

    ends = [row for row in rows if row.action == "hand back"]
    assert 27 == len(ends)
    assert sum(row.p for row in ends) == pytest.approx(1.0)


def test_it_cuts_the_rarest_branches_short() -> None:
    rows = fitting_rows(deep(5), 30)

    cut = [row.p for row in rows if row.action == "ask again here"]
    kept = [row.p for row in rows if row.steps]
    assert len(rows) <= 30
    assert max(cut) <= min(kept) * 1.000001


def test_it_draws_a_line_down_to_the_last_branch() -> None:
    rails = [row.rails for row in rows_of(deep(1))]

    assert [(), ("tee",), ("tee",), ("end",)] == rails


@pytest.mark.parametrize(
    ("name", "sign"),
    [
        ("pellorin-l240", "lid loose"),
        ("tavistle-v80", "no light"),
        ("grondle-r50", "cannot hear it"),
    ],
)
def test_it_fits_for_the_families(name, sign) -> None:
    """Those with the most to say above and below the tree."""
    text = example_text(f"{name}.device.yaml")
    first, *_ = revisions_in(text)
    devices = {first: (read_device(text, revision=first), 1.0)}
    table = read_faults(example_text(f"{name}.faults.yaml"))
    layers = layering(devices, reaches_of(table), lambda: False)
    evidence = Evidence((sign,))

    advice = next_step(table, layers, evidence, "block", lambda: True)

    for page in ("a4", "letter"):
        assert 1 == words(policy_sheet(table, advice, evidence, page))[0]


def test_no_caution_is_cut_off_behind_long_words() -> None:
    long = "still as it was before and nothing has changed in any way since then"
    text = example_text("pellorin-l240.faults.yaml").replace("as before", long)
    device = example_text("pellorin-l240.device.yaml")
    devices = {"A": (read_device(device, revision="A"), 1.0)}
    table = read_faults(text)
    layers = layering(devices, reaches_of(table), lambda: False)
    evidence = Evidence(("will not charge",))
    advice = next_step(table, layers, evidence, "block", lambda: True)

    sheets = pypdfium2.PdfDocument(policy_sheet(table, advice, evidence, "a4"))
    letters = sheets[0].get_textpage()
    told = " ".join(letters.get_text_bounded().split())
    assert long in told
    rights_mm = [
        letters.get_charbox(n)[2] / MM_PT for n in range(letters.count_chars())
    ]
    assert max(rights_mm) <= (SHEET_MM["a4"][0] + FIELD_MM[0]) / 2 + EDGE_MM
