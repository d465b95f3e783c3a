"""Is the report on a fleet short, whole, and the same in pictures and in words?"""

import io
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

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
from turnscrew.papers.fleet_report import fleet_report_pdf, pictures
from turnscrew.papers.fleet_words import (
    age_words,
    few_words,
    silence,
    star,
    summary,
    tenth_words,
)
from turnscrew.papers.page import Paper
from turnscrew.papers.panes import svg_of


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


@pytest.mark.parametrize(
    ("language", "says"),
    [
        ("en", "No failure of V80 with a known cause in 10 device-years; while causes"),
        ("de", "Kein Ausfall von V80 mit bekannter Ursache in 10 Gerätejahren; sol"),
    ],
)
def test_no_limit_is_told_where_failures_have_no_known_cause(language, says) -> None:
    quiet = fleet_report([{"V80": fleet_table(["A"], [0], [3652.5], causes=[])}])
    page = Paper("a4", language=language)
    pdf = fleet_report_pdf(quiet, title="X", n_without_cause=50, page=page)
    text = " ".join(pages_of(pdf))

    assert says in text
    assert "in 100 device-years, and no more" not in text
    assert "und mehr ist nicht bekannt" not in text


@pytest.mark.parametrize(
    ("language", "says"),
    [
        ("en", "fan on V80: the 12 failures are of 2 devices; were all devices alike"),
        (
            "de",
            "fan an V80: die 12 Ausfälle sind von 2 Geräten; wären alle Geräte glei",
        ),
    ],
)
def test_devices_that_fail_again_and_again_are_told(language, says) -> None:
    events = [(unit, 30.0 * k, "fan", None) for unit in (0, 30) for k in range(1, 7)]
    table = fleet_table(
        [str(k) for k in range(60)], [0] * 60, [365] * 60, events=events,
        causes=["fan"], site=["A"] * 30 + ["B"] * 30,
    )  # fmt: skip
    page = Paper("a4", language=language)
    report = fleet_report([{"V80": table}])
    text = " ".join(pages_of(fleet_report_pdf(report, title="X", page=page)))
    assert says in text
    assert "nothing to advise" not in text and "nichts raten" not in text


def test_few_data_are_called_so() -> None:
    report = fleet_report([{"V80": random_fleet(8, 12)}])

    assert "; limits are wide" in few_words(report)


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


def test_no_figure_at_an_axis_is_rounded_with_the_coordinates() -> None:
    frame = {"x": [0.0, 0.02, 0.04], "y": [1.0, 2.0, 3.0]}
    rows = [{"x": x, "y": y} for x, y in zip(*frame.values(), strict=True)]
    axis = {"field": "x", "type": "quantitative", "title": "rev 2.45"}
    svg = svg_of({
        "data": {"values": rows}, "mark": "line",
        "encoding": {"x": axis, "y": {"field": "y", "type": "quantitative"}},
    })  # fmt: skip

    assert ">0.02</text>" in svg
    assert ">rev 2.45</text>" in svg


def test_it_says_how_much_it_does_not_show() -> None:
    report = full()
    for page in ("a4", Paper("a4", language="de")):
        text = " ".join(pages_of(fleet_report_pdf(report, title="T", page=page)))
        assert ("Not shown: " if page == "a4" else "Nicht gezeigt: ") in text
        assert "„" not in text
        assert "\ue000" not in text
    # The places that stand out come before those that come first by name.
    advised = [one for one in report.advice if one.of == "place"]
    for one in advised[:1]:
        assert one.site in " ".join(pages_of(fleet_report_pdf(report, title="T")))


def test_a_long_title_is_cut_in_either_language() -> None:
    report = fleet_report([{"V80": random_fleet(1, 40)}])
    page = Paper("a4", language="de")
    (first, *_) = pages_of(fleet_report_pdf(report, title="a b " * 40, page=page))

    assert "…" in first
    assert "„" not in first
    assert "\ue000" not in first


def test_a_fleet_in_which_nothing_failed_has_no_empty_heading() -> None:
    table = fleet_table(["a", "b"], [0, 0], [300, 400], causes=["C"])
    report = fleet_report([{"M": table}])
    text = " ".join(pages_of(fleet_report_pdf(report, title="T")))

    for heading in ("What fails how often", "The next year", "what to hold for it"):
        assert heading not in text
    assert "2 devices, 1.9 device-years under watch, 0 failures." in text
    assert "in 100 device-years, and no more is known" in text


def test_a_curve_that_ended_before_others_came_tells_no_share() -> None:
    # One device failed alone at 10 days; fifty came at 20, and most never failed.
    table = fleet_table(
        [str(k) for k in range(51)], [0] + [20] * 50, [700] * 51,
        events=[(0, 10.0, "C", None)]
        + [(k, 100.0 + 30 * k, "C", None) for k in range(1, 16)],
        causes=["C"],
    )  # fmt: skip
    report = fleet_report([{"M": table}])

    assert report.lives[0].curve.is_cut_off
    assert "0 % still without it" not in pictures(report, {}).life.says


@pytest.mark.parametrize(
    ("term_days", "words"), [(91, "The next year"), (30, "The next 120 days")]
)
def test_the_far_look_is_called_what_it_is(term_days, words) -> None:
    wishes = Wishes(term_days=term_days)
    report = fleet_report([{"V80": random_fleet(1, 200)}], wishes=wishes)

    assert words in " ".join(pages_of(fleet_report_pdf(report, title="T")))


def test_a_young_fleet_says_that_age_is_left_out_beside_what_is_to_come() -> None:
    # Nine of 300 devices failed, on one day bought all: wear cannot be told yet.
    young = fleet_table(
        [str(k) for k in range(300)], [0] * 300, [250] * 300,
        events=[(k, 160.0 + 10 * k, "pack", 500) for k in range(9)], causes=["pack"],
        site=["A"] * 6 + ["B"] * 2 + ["A"] * 40 + ["B"] * 252,
    )  # fmt: skip
    old = random_fleet(3, 400, shape=2.0)
    report = fleet_report([{"young": young, "old": old}])
    (pack,) = [one for one in report.answer.causes if one.model == "young"]
    (glass,) = [
        one
        for one in report.answer.causes
        if (one.model, one.cause) == ("old", "glass")
    ]

    assert " *" == star(report, pack)
    assert "" == star(report, glass)
    assert "too few failures tell whether it matters" in age_words(report)
    few = few_words(report)
    assert "limits are wide, and still too narrow where age matters." in few
    # What is advised is concluded from few data; nothing may deny that beside it.
    assert "young" in {one.model for one in report.advice}
    assert "concluded" not in few
    told = " ".join(pages_of(fleet_report_pdf(report, title="X")))
    assert f"{pack.ahead.lower} to {pack.ahead.upper} *" in told
    assert age_words(report) in told
    german = " ".join(
        pages_of(fleet_report_pdf(report, title="X", page=Paper("a4", language="de")))
    )
    assert f"{pack.ahead.lower} bis {pack.ahead.upper} *" in german
    assert "„" not in german


def test_no_star_is_explained_where_there_is_none() -> None:
    report = fleet_report([{"V80": random_fleet(3, 400, shape=2.0)}])

    assert "" == age_words(report)


def test_an_age_that_nobody_was_watched_at_is_not_told() -> None:
    # Fourteen of 3,000 devices failed in one year: one in ten would take a life.
    table = fleet_table(
        [str(k) for k in range(3000)], [0] * 3000, [365] * 3000,
        events=[(k, 20.0 + 25 * k, "fan", 500) for k in range(14)], causes=["fan"],
    )  # fmt: skip
    (life,) = fleet_report([{"V80": table}]).lives

    assert life.tenth.estimate is not None and life.tenth.estimate > 5 * 365
    assert "an age nobody was watched at" == tenth_words(life)
    assert "years" in tenth_words(replace(life, oldest_d=100_000.0))


def test_no_chance_is_printed_as_certain() -> None:
    table = fleet_table(
        [str(k) for k in range(40)], [0] * 40, [400] * 40,
        events=[(0, 100, "fan", 500)], causes=["fan"],
    )  # fmt: skip
    report = fleet_report([{"V80": table}], wishes=Wishes(target=0.9999))
    told = " ".join(pages_of(fleet_report_pdf(report, title="X")))
    german = " ".join(
        pages_of(fleet_report_pdf(report, title="X", page=Paper("a4", language="de")))
    )

    assert "over 99 % *" in told
    assert "100 %" not in told
    assert "über 99 % *" in german
    assert "over 99 % sure that nobody waits" in pictures(report, {}).shelf.says
