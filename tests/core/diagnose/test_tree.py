"""What is an explicit decision tree worth?"""

import json
from pathlib import Path

import pytest

from turnscrew.core.diagnose.tree import rolled_back
from turnscrew.files.case_file import read_tree

CASES = Path(__file__).resolve().parents[2] / "cases" / "diagnosis-cases.json"


def test_it_rolls_the_published_tree_back() -> None:
    """Heckerman, Breese and Rommelse 1995, Fig. 1: 19.2, 20 and 29.5."""
    cases = json.loads(CASES.read_text("utf-8"))["cases"]
    case = next(case for case in cases if case["id"].startswith("D04"))

    tree = read_tree(json.dumps(case))

    assert tree is not None
    assert case["expected"]["first_action_values"] == pytest.approx(rolled_back(tree))


def test_it_tells_a_tree_from_a_problem() -> None:
    assert read_tree('{"faults": {}}') is None
