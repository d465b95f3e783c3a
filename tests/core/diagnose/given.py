"""The given cases and small drawn models, as the problems they describe."""

import json
import random
from functools import cache
from pathlib import Path
from typing import Any

from random_models import Model, portable_model, random_model
from turnscrew.core.diagnose.problem import DiagnosisProblem
from turnscrew.files.case_file import read_case

CASES = Path(__file__).resolve().parents[2] / "cases" / "diagnosis-cases.json"
PORTABLE = "D17-portable-9-faults"


@cache
def all_cases() -> dict[str, Any]:
    return {case["id"]: case for case in json.loads(CASES.read_text("utf-8"))["cases"]}


@cache
def problem_of(name: str) -> DiagnosisProblem:
    return read_case(json.dumps(all_cases()[name]))


def problem_from(model: Model) -> DiagnosisProblem:
    return read_case(json.dumps(model))


def drawn_model(seed: int, **changes: Any) -> Model:
    """Draw a model small enough to try everything; every third has several faults."""
    rng = random.Random(seed)
    sizes = {"faults": 3, "repairs": 3, "tests": 2, "nodes": 3} | changes
    return random_model(rng, **{"n_at_once": rng.choice((1, 1, 2)), **sizes})


def drawn(seed: int, **changes: Any) -> DiagnosisProblem:
    return problem_from(drawn_model(seed, **changes))


def portable(seed: int, n: int) -> DiagnosisProblem:
    """Draw a portable computer with n faults and n repairs, every test noisy."""
    rng = random.Random(seed)
    return problem_from(
        portable_model(rng, faults=n, repairs=n, tests=4, nodes=4, noisy=1.0)
    )


def never() -> bool:
    return False


class Allowance:
    """Runs out after so many questions."""

    def __init__(self, n_questions: int) -> None:
        self.left = n_questions

    def __call__(self) -> bool:
        self.left -= 1
        return self.left < 0
