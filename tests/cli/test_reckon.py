"""Does ``turnscrew reckon`` give figures with their equation and source?"""

import json
import re
import subprocess
import sys
from collections.abc import Sequence
from contextlib import suppress
from inspect import signature
from pathlib import Path
from typing import get_args, get_type_hints

import pytest

from turnscrew.cli.reckon import EQUATIONS, reckonings, show
from turnscrew.errors import TurnscrewError

ROOT = Path(__file__).parents[2]


def reckon(*args: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "turnscrew", "reckon", *args],
        capture_output=True, encoding="utf-8", check=False, cwd=ROOT,
    )  # fmt: skip


def test_it_reckons_a_lead_with_its_equation() -> None:
    """Gauge 18, 1.8 m, 4.74 A: 0.357 V in both conductors (DC-09)."""
    done = reckon("lead_drop_v", "gauge=18", "length_m=1.8", "current_a=4.74", "--json")

    found = json.loads(done.stdout)
    assert 0.357 == pytest.approx(found["answer"], abs=0.003)
    assert "both conductors" in found["equation"]["text"]
    assert found["equation"]["source"]


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("fuse_choice", "load_a=1.5", "family=UL", "rerating=0.9"), "2.5"),
        (("vbus_row", "voltage_v=5.1"), "no contract"),
        (("charge_time", "charge_ah=4.2", "current_a=2"), "! Lithium pack"),
        (("spread_of", "times_s=4,5,6"), "mean_s: 5"),
        (("cleaned", "times_s=4,5,5,6,60"), "4; 5; 5; 6\n"),
        (
            ("torque_nm", "force_n=100", "d_mm=2"),
            "! Never a set-point for M3 and smaller",
        ),
        (
            ("air_rule", "battery_wh=57", "packing=contained in", "is_damaged=yes"),
            "forbidden by air",
        ),
    ],
)
def test_it_says_the_answer_and_its_cautions(args, said) -> None:
    done = reckon(*args)

    assert 0 == done.returncode, done.stderr
    assert said in done.stdout
    assert "reckoned as" in done.stdout


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("lead_drp",), "lead_drop_v"),
        (("drop_v", "current=3", "resistance_ohm=1"), "current_a"),
        (("drop_v", "current_a=x", "resistance_ohm=1"), "wanted a number"),
        (("drop_v", "current_a=3"), "resistance_ohm: found nothing"),
        (("fuse_choice", "load_a=-1", "family=UL"), "wanted a number from"),
        (("spread_of", "times_s=4,x"), "wanted numbers such as"),
        (("spread_of", "times_s="), "wanted numbers such as"),
    ],
)
def test_it_refuses_what_it_does_not_know(args, said) -> None:
    done = reckon(*args)

    assert (2, "") == (done.returncode, done.stdout)
    assert said in done.stderr


def test_it_lists_what_plain_figures_suffice_for() -> None:
    lines = [line for line in reckon().stdout.splitlines() if not line.startswith(" ")]

    assert len(reckonings()) == len(lines)
    assert set(reckonings()) < set(EQUATIONS)


def _first(hint: object) -> object:
    """Give the first word of a choice, any word for words."""
    return next(iter(get_args(hint)), "word")


@pytest.mark.parametrize("said", ["nan", "inf", "-inf", "1e308", "1e-320", "0", "-1"])
@pytest.mark.parametrize("name", reckonings())
def test_it_answers_or_refuses_whatever_number_is_said(name, said, capsys) -> None:
    """Neither our bug nor what JSON has no word for."""
    parameters = signature(reckonings()[name]).parameters.values()
    hints = get_type_hints(reckonings()[name])
    usual = {float: said, Sequence[float]: said, int: 1, bool: "yes"}
    given = tuple(
        f"{one.name}={usual.get(hints[one.name]) or _first(hints[one.name])}"
        for one in parameters
        if one.default is one.empty
    )

    with suppress(TurnscrewError):
        show(name, given, as_json=True)

    assert not {"NaN", "Infinity"} & set(re.findall(r"\w+", capsys.readouterr().out))
