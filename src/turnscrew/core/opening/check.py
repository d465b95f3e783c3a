"""
Does a plan keep every rule of its problem, and does it cost what it says?

Method: replay, line by line, from the problem alone.
Nothing is shared with the solver but the two value types.
"""

from dataclasses import dataclass, field

from turnscrew.core.opening.answer import Move, NumericAnswer
from turnscrew.core.opening.problem import Act, Check, Cnf, Mode, OpeningProblem


def faults_in(
    problem: OpeningProblem,
    answer: NumericAnswer | tuple[Move, ...],
    *,
    one_way: bool,
) -> tuple[str, ...]:
    """
    List what is wrong with an answer or a bare plan.

    Parameters
    ----------
    problem
        The problem the plan claims to solve.
    answer
        An answer with its claims, or the moves alone.
    one_way
        Whether the plan is the way in alone: no turn-round, checks and end posture.

    Returns
    -------
    tuple[str, ...]
        One sentence per fault, in the order of the plan; empty if all is well.
    """
    if not isinstance(answer, NumericAnswer):
        return tuple(_replay(problem, answer, one_way=one_way))
    if answer.status == "impossible":
        return tuple(_faults_of_refusal(problem, answer))
    replayed = _replay(problem, answer.plan, one_way=one_way)
    return (*replayed, *_faults_of_claims(answer))


def _faults_of_refusal(problem: OpeningProblem, answer: NumericAnswer) -> list[str]:
    faults = []
    if answer.cost is not None or answer.bound is not None or answer.plan:
        faults.append("impossible, but with a cost, a bound or a plan")
    known = {act.name for act in problem.actions}
    faults += [f"stuck action {name} is unknown" for name in _unknown(answer, known)]
    return faults


def _unknown(answer: NumericAnswer, known: set[str]) -> list[str]:
    return [name for name in answer.stuck if name not in known]


def _faults_of_claims(answer: NumericAnswer) -> list[str]:
    total = sum(move.cost for move in answer.plan)
    faults = []
    if answer.cost != total:
        faults.append(f"claimed cost {answer.cost}, but the lines add up to {total}")
    if answer.bound is None or answer.bound > total:
        faults.append(f"bound {answer.bound} is not at most the cost {total}")
    if answer.status == "optimal" and answer.bound != answer.cost:
        faults.append(f"optimal, but bound {answer.bound} is not cost {answer.cost}")
    return faults


@dataclass
class _Bench:
    """What the replay knows after the lines so far."""

    problem: OpeningProblem
    posture: str
    tool: str
    off: set[str]
    acts: dict[str, Act]
    checks: dict[str, Check]
    tool_cost: dict[tuple[str, str], int]
    is_back: bool = False
    removed: frozenset[str] = frozenset()
    passed: set[str] = field(default_factory=set)

    def is_awaited(self, check: Check) -> bool:
        """Tell whether a check is due and not yet passed."""
        triggers = check.applies_if_removed
        is_due = not triggers or any(name in self.removed for name in triggers)
        return is_due and check.name not in self.passed


@dataclass(frozen=True)
class _Ruling:
    """What one line should have cost, and the rules it breaks."""

    costs: tuple[int, ...]
    faults: tuple[str, ...] = ()


def _replay(
    problem: OpeningProblem, plan: tuple[Move, ...], *, one_way: bool
) -> list[str]:
    bench = _Bench(
        problem,
        problem.start_posture,
        problem.start_tool,
        set(problem.already_off),
        {act.name: act for act in problem.actions},
        {check.name: check for check in problem.checks},
        _closed_tool_costs(problem),
    )
    faults = []
    for number, move in enumerate(plan, start=1):
        found = _faults_of_line(bench, move, one_way=one_way)
        faults += [f"line {number} ({move}): {fault}" for fault in found]
    return faults + _faults_at_end(bench, one_way=one_way)


def _faults_of_line(bench: _Bench, move: Move, *, one_way: bool) -> list[str]:
    if one_way and move.kind in ("turn-round", "refit", "check"):
        return ["does not belong in a one-way plan"]
    ruling = _RULES[move.kind](bench, move)
    faults = list(ruling.faults)
    if ruling.costs and move.cost not in ruling.costs:
        faults.append(f"costs {ruling.costs[0]}, claimed {move.cost}")
    if move.posture != bench.posture:
        faults.append(f"leaves posture {bench.posture}, claimed {move.posture!r}")
    if move.tool != bench.tool:
        faults.append(f"leaves {bench.tool} in hand, claimed {move.tool!r}")
    return faults


def _faults_at_end(bench: _Bench, *, one_way: bool) -> list[str]:
    if one_way:
        return _targets_on(bench)
    if not bench.is_back:
        return ["the plan never turns round"]
    faults = [f"at the end {name} is still off" for name in sorted(bench.off)]
    faults += [
        f"check {check.name} is due and was not made"
        for check in bench.checks.values()
        if bench.is_awaited(check)
    ]
    wanted = bench.problem.end_posture
    if bench.posture != wanted:
        faults.append(f"ends in posture {bench.posture}, wanted {wanted}")
    return faults


def _targets_on(bench: _Bench) -> list[str]:
    return [
        f"target {name} was not removed"
        for name in bench.problem.targets
        if name not in bench.off
    ]


def _turn(bench: _Bench, move: Move) -> _Ruling:
    postures = bench.problem.postures
    if move.name not in postures:
        return _Ruling((), (f"posture {move.name} is unknown",))
    start, bench.posture = bench.posture, move.name
    if start == move.name:
        return _Ruling((0,), ("turns to where the device already lies",))
    row = bench.problem.posture_cost[postures.index(start)]
    cost = row[postures.index(move.name)]
    if cost is None:
        return _Ruling((), (f"no direct turn from {start}",))
    barred = tuple(
        f"the turn from {start} waits for {_in_words(guard.needs, bench.off)}"
        for guard in bench.problem.guards
        if (guard.start, guard.end) == (start, move.name)
        and not _holds(guard.needs, bench.off)
    )
    return _Ruling((cost,), barred)


def _take(bench: _Bench, move: Move) -> _Ruling:
    tools = bench.problem.tools
    if move.name not in tools:
        return _Ruling((), (f"tool {move.name} is unknown",))
    start, bench.tool = bench.tool, move.name
    if start == move.name:
        return _Ruling((0,), ("takes what is already in hand",))
    direct = bench.problem.tool_cost[tools.index(start)][tools.index(move.name)]
    return _Ruling((bench.tool_cost[start, move.name], direct))


def _remove(bench: _Bench, move: Move) -> _Ruling:
    act = bench.acts.get(move.name)
    if act is None:
        return _Ruling((), ("unknown action",))
    faults = []
    if bench.is_back:
        faults.append("removes after the turn-round")
    if act.name in bench.off:
        faults.append("is already off")
    if not _holds(act.needs, bench.off):
        faults.append(f"waits for {_in_words(act.needs, bench.off)}")
    ruling = _mode_ruling(bench, act.modes, move.mode)
    bench.off.add(act.name)
    return _Ruling(ruling.costs, (*faults, *ruling.faults))


def _turn_round(bench: _Bench, _move: Move) -> _Ruling:
    faults = _targets_on(bench)
    if bench.is_back:
        faults.append("turns round a second time")
    bench.is_back = True
    bench.removed = frozenset(bench.off)
    return _Ruling((0,), tuple(faults))


def _refit(bench: _Bench, move: Move) -> _Ruling:
    act = bench.acts.get(move.name)
    if act is None:
        return _Ruling((), ("unknown action",))
    faults = _faults_of_refit(bench, act)
    ruling = _mode_ruling(bench, act.refit_modes, move.mode)
    bench.off.discard(act.name)
    rework = _rework(bench, act.name)
    costs = tuple(cost + rework for cost in ruling.costs)
    return _Ruling(costs, (*faults, *ruling.faults))


def _faults_of_refit(bench: _Bench, act: Act) -> list[str]:
    faults = []
    if not bench.is_back:
        faults.append("refits before the turn-round")
    if act.name not in bench.off:
        faults.append("is already on")
    rest = bench.off - {act.name}
    if not _holds(act.needs, rest):
        faults.append(f"is shut out: needs {_in_words(act.needs, rest)} off")
    faults += [
        f"shuts in {name}, which is still off"
        for name in sorted(rest)
        if not _holds(bench.acts[name].needs, rest)
    ]
    faults += [f"must follow {name}" for name in act.refit_after if name in rest]
    faults += [
        f"must follow check {name}"
        for name in act.refit_checks
        if bench.is_awaited(bench.checks[name])
    ]
    return faults


def _check(bench: _Bench, move: Move) -> _Ruling:
    check = bench.checks.get(move.name)
    if check is None:
        return _Ruling((), ("unknown check",))
    faults = []
    if not bench.is_back:
        faults.append("checks before the turn-round")
    elif not bench.is_awaited(check):
        faults.append("is not due, or passed already")
    faults += [f"is made while {name} is off" for name in _missing(bench, check)]
    mode = Mode(check.postures, check.tool, check.cost)
    ruling = _mode_ruling(bench, (mode,), 0)
    bench.passed.add(check.name)
    return _Ruling(ruling.costs, (*faults, *ruling.faults))


def _missing(bench: _Bench, check: Check) -> list[str]:
    return [name for name in check.fitted if name in bench.off]


_RULES = {
    "turn": _turn,
    "take": _take,
    "remove": _remove,
    "turn-round": _turn_round,
    "refit": _refit,
    "check": _check,
}


def _mode_ruling(bench: _Bench, modes: tuple[Mode, ...], index: int) -> _Ruling:
    if not 0 <= index < len(modes):
        return _Ruling((), (f"mode {index} is unknown",))
    mode = modes[index]
    faults = []
    if bench.posture not in mode.postures:
        faults.append(f"cannot be done in posture {bench.posture}")
    if mode.tool not in (None, bench.tool):
        faults.append(f"wants {mode.tool} in hand, not {bench.tool}")
    if not _holds(mode.when, bench.off):
        faults.append(f"this mode waits for {_in_words(mode.when, bench.off)}")
    return _Ruling((mode.cost,), tuple(faults))


def _rework(bench: _Bench, name: str) -> int:
    return sum(
        cost
        for check in bench.checks.values()
        if bench.is_awaited(check)
        for refitted, cost in check.rework
        if refitted == name
    )


def _holds(needs: Cnf, off: set[str]) -> bool:
    return all(any(name in off for name in group) for group in needs)


def _in_words(needs: Cnf, off: set[str]) -> str:
    open_groups = [group for group in needs if not any(name in off for name in group)]
    return " and ".join(
        " or ".join(group) or "nothing there is" for group in open_groups
    )


def _closed_tool_costs(problem: OpeningProblem) -> dict[tuple[str, str], int]:
    # Laying one tool down by way of another may be cheaper than going straight.
    tools = problem.tools
    cost = {
        (start, end): problem.tool_cost[row][column]
        for row, start in enumerate(tools)
        for column, end in enumerate(tools)
    }
    for via in tools:
        for start in tools:
            for end in tools:
                through = cost[start, via] + cost[via, end]
                cost[start, end] = min(cost[start, end], through)
    return cost
