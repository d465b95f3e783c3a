"""The given cases of the opening engine, and plans written as lines of text."""

import gzip
import json
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

from turnscrew.core.opening.answer import Move
from turnscrew.core.opening.problem import Act, Check, Cnf, Mode, OpeningProblem
from turnscrew.files.problem_file import read_problem

ROOT = Path(__file__).resolve().parents[1]
TURN_ROUND = "-- turn-round --"


@cache
def all_cases() -> dict[str, dict[str, Any]]:
    text = (ROOT / "tests" / "cases" / "planning-cases.json").read_text("utf-8")
    return {case["id"]: case for case in json.loads(text)["cases"]}


def device_cases(n_actions: int = 1000) -> list[str]:
    """Name the cases with a device of at most so many actions."""
    return [
        name
        for name, case in all_cases().items()
        if len(case.get("device", {}).get("actions", range(2000))) <= n_actions
    ]


@cache
def problem_of(name: str) -> OpeningProblem:
    return read_problem(json.dumps(all_cases()[name]))


@cache
def bench_rows() -> list[dict[str, Any]]:
    packed = (ROOT / "benchmarks" / "planning-bench.json.gz").read_bytes()
    rows: list[dict[str, Any]] = json.loads(gzip.decompress(packed))
    return rows


def bench_problem(row: dict[str, Any]) -> OpeningProblem:
    """
    Read a row of the benchmark so that every entry counts, as its figures do.

    Entries alike in every field would be read as one;
    a mode written twice sets them apart and changes nothing else.
    """
    device = deepcopy(row["device"])
    seen: list[dict[str, Any]] = []
    for entry in device["actions"]:
        while entry in seen:
            entry["modes"].append(entry["modes"][0])
        seen.append(entry)
    return read_problem(json.dumps(device))


def plan_of(problem: OpeningProblem, lines: list[str]) -> tuple[Move, ...]:
    """
    Fill in what the lines leave out: mode, cost, posture and tool.

    A line that cannot be done is filled in as well as possible,
    so that bad plans can be written too.
    """
    bench = Bench(problem)
    return tuple(bench.move(line) for line in lines)


class Bench:
    def __init__(self, problem: OpeningProblem) -> None:
        self.problem = problem
        self.posture = problem.start_posture
        self.tool = problem.start_tool
        self.off = set(problem.already_off)
        self.awaited: set[str] = set()
        self.acts = {act.name: act for act in problem.actions}
        self.checks = {check.name: check for check in problem.checks}

    def move(self, line: str) -> Move:
        if line == TURN_ROUND:
            due = [c.name for c in self.problem.checks if self.is_due(c)]
            self.awaited = set(due)
            return Move("turn-round", "", 0, 0, self.posture, self.tool)
        kind, name = line.split(" ", 1)
        if kind == "turn":
            return self.turn(name.removeprefix("to "))
        if kind == "take":
            return self.take(name)
        if kind == "check":
            return self.check(name)
        return self.handle(kind, name)

    def is_due(self, check: Check) -> bool:
        triggers = set(check.applies_if_removed)
        return not triggers or bool(triggers & self.off)

    def turn(self, name: str) -> Move:
        cost: int | None = 0
        postures = self.problem.postures
        if name in postures and self.posture in postures:
            row = self.problem.posture_cost[postures.index(self.posture)]
            cost = row[postures.index(name)]
        self.posture = name
        return Move("turn", name, cost or 0, 0, name, self.tool)

    def take(self, name: str) -> Move:
        cost, tools = 0, self.problem.tools
        if name in tools and self.tool in tools:
            cost = self.problem.tool_cost[tools.index(self.tool)][tools.index(name)]
        self.tool = name
        return Move("take", name, cost, 0, self.posture, name)

    def check(self, name: str) -> Move:
        self.awaited.discard(name)
        cost = self.checks[name].cost if name in self.checks else 0
        return Move("check", name, cost, 0, self.posture, self.tool)

    def handle(self, kind: str, name: str) -> Move:
        act = self.acts.get(name, Act(name, (), (), ()))
        modes = act.modes if kind == "remove" else act.refit_modes
        index = self.best(modes)
        cost = modes[index].cost if modes else 0
        if kind == "refit":
            cost += sum(
                extra
                for check in self.awaited
                for other, extra in self.checks[check].rework
                if other == name
            )
            self.off.discard(name)
        else:
            self.off.add(name)
        return Move(kind, name, cost, index, self.posture, self.tool)

    def best(self, modes: tuple[Mode, ...]) -> int:
        usable = [
            (mode.cost, index)
            for index, mode in enumerate(modes)
            if self.posture in mode.postures
            and mode.tool in (None, self.tool)
            and self.holds(mode.when)
        ]
        return min(usable, default=(0, 0))[1]

    def holds(self, needs: Cnf) -> bool:
        return all(self.off & set(group) for group in needs)
