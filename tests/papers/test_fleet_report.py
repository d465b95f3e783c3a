"""Is the report on a fleet short, whole, and the same in pictures and in words?"""

import io
import re
import xml.etree.ElementTree as ET

import numpy as np
import pypdfium2
import pytest

from random_fleets import random_fleet
from random_lives import generator
from turnscrew.core.fleet.answer import FleetReport
from turnscrew.core.fleet.question import Counted, FleetFailures, FleetGroup, Wishes
from turnscrew.core.price.replace import Replacement
from turnscrew.core.reliability.table import fleet_table
from turnscrew.flows.fleet.report import fleet_report
from turnscrew.papers.fleet_report import (
    few_words,
    fleet_report_pdf,
    pictures,
    silence,
    summary,
)


def pages_of(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(io.BytesIO(pdf))
    texts = [page.get_textpage().get_text_range() for page in document]
    return [re.sub(r"\s+", " ", text) for text in texts]


def full() -> FleetReport:
    """Give a report with everything in it, and more of it than fits the tables."""
    rng = generator(4)
    tables = {}
    for model in ("Model one", "Model two", "Model three", "Model four", "Model five"):
        n, causes = 600, [f"fault {k} with a long name" for k in range(9)]
        site = rng.integers(0, 30, n)
        end = rng.integers(200, 1800, n)
        events = []
        for unit in range(n):
            for k, cause in enumerate(causes):
                many = rng.poisson(0.08 * (6 if site[unit] == 3 and k < 5 else 1))
                for _ in range(many):
                    age = end[unit] * rng.random() ** (0.3 if k % 2 else 1)
                    events.append((unit, max(1.0, np.ceil(age)), cause, 5000))
        tables[model] = fleet_table(
            [f"{model} {k}" for k in range(n)], [0] * n, end, events=events,
            causes=causes, site=[f"a place with a long name {k}" for k in site],
            model_year=(2020 + rng.integers(0, 6, n)).tolist(), are_repeats_meant=True,
        )  # fmt: skip
    wishes = Wishes(replacements={name: Replacement(50_000, 5) for name in tables})
    return fleet_report([tables], wishes=wishes)


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_it_never_has_more_than_four_pages(page) -> None:
    report = full()
    assert len(report.answer.causes) == 45
    assert len(report.advice) > 4
    assert len(pages_of(fleet_report_pdf(report, title="X", page=page))) <= 4


def test_it_says_what_was_found() -> None:
    table = random_fleet(3, 300, site_factors=(5.0, 1.0, 1.0), shape=3.0, scale_d=900.0)
    report = fleet_report([{"V80": table}])
    text = " ".join(
        pages_of(
            fleet_report_pdf(
                report, title="All of it", names={"glass": "front cracked"},
                n_without_cause=7,
            )
        )
    )  # fmt: skip

    assert "All of it" in text
    assert summary(report, 7) in text
    assert "7 more of unknown cause" in text
    first = report.advice[0]
    assert f"{first.n} of {first.n_all} at site 0" in text
    assert "Usual cause: drops, knocks and grit." in text
    glass = report.answer.causes[0]
    assert f"{100 * glass.rate.rate:.1f}" in text
    assert "front cracked" in text
    assert "by wear: renewing in time may help" in text
    assert "safe" not in text.lower().split()


def test_silence_is_said() -> None:
    report = fleet_report([{"V80": random_fleet(8, 60)}])

    assert () == report.advice
    assert silence(report) in " ".join(pages_of(fleet_report_pdf(report, title="X")))


def test_counts_alone_and_a_fleet_without_failures_can_be_printed() -> None:
    counted = Counted(
        (FleetGroup("N", "V80", 15, 15),), (FleetFailures("N", "V80", "glass", 6),)
    )
    pages_of(fleet_report_pdf(fleet_report([], counted=counted), title="X"))
    table = fleet_table(["A"], [0], [3652.5], causes=[])
    quiet = fleet_report([{"V80": table}])
    text = " ".join(pages_of(fleet_report_pdf(quiet, title="X")))
    # None in 10 device-years: at most 30 in 100 (exact Poisson, both sides of 90 %).
    assert "No failure of V80 in 10 device-years: at most 30.0 in 100" in text


def test_few_data_are_called_so() -> None:
    report = fleet_report([{"V80": random_fleet(8, 12)}])

    assert "their limits are wide" in few_words(report)


def test_every_picture_is_a_drawing_with_the_same_in_words() -> None:
    drawn = pictures(full(), {})
    for name, chart in vars(drawn).items():
        root = ET.fromstring(chart.svg)
        assert root.tag.endswith("svg"), name
        words = "".join(root.itertext())
        assert re.search(r"\d", words), name
        assert len(chart.says) > 40, name
        assert chart.says.endswith("."), name
        # Told apart by form: no colour but shades of grey.
        for colour in re.findall(r'(?:fill|stroke)="#([0-9a-fA-F]{6})"', chart.svg):
            assert colour[:2] == colour[2:4] == colour[4:], (name, colour)


def test_the_pictures_show_the_figures_of_the_report() -> None:
    report = full()
    drawn = pictures(report, {})
    first = report.answer.causes[0]
    assert f"{100 * first.rate.rate:.1f}" in drawn.rates.says
    assert f"hold {report.shelf[0].level.stock} for 91 days" in drawn.shelf.says
    assert "more than the others: a place with a long name 3" in drawn.funnel.says
    words = "".join(ET.fromstring(drawn.shelf.svg).itertext())
    assert f"held: {report.shelf[0].level.stock}" in words


def test_equal_reports_give_equal_papers() -> None:
    one, other = (
        fleet_report_pdf(fleet_report([{"V80": random_fleet(2, 90)}]), title="X")
        for _ in range(2)
    )
    assert one == other


def test_the_paper_names_the_level_that_was_asked_for() -> None:
    fleet = [{"V80": random_fleet(2, 90)}]
    wide = fleet_report(fleet, wishes=Wishes(confidence=0.95))
    text = " ".join(pages_of(fleet_report_pdf(wide, title="X")))

    assert "exact Poisson limits of 95 %" in text
    assert "limits of 90 %" not in text
    usual = " ".join(pages_of(fleet_report_pdf(fleet_report(fleet), title="X")))
    assert "exact Poisson limits of 90 %" in usual
