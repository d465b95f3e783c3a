"""Which strategy costs least? The front door of the solver."""

from collections.abc import Callable

from turnscrew.core.diagnose.answer import DiagnosisAnswer
from turnscrew.core.diagnose.compile import Compact, compact
from turnscrew.core.diagnose.problem import VERIFY, WRITE_OFF, DiagnosisProblem, Mode
from turnscrew.core.diagnose.solve.bounds import Bounds, CureBounds, GroupBounds, State
from turnscrew.core.diagnose.solve.patterns import groups_of, patterns_of
from turnscrew.core.diagnose.solve.search import Option, OutOfTimeError, Search

Asked = Callable[[], bool]
MOST_CELLS = 4_000_000
_TIE = 1e-8


def bounds_for(whole: Compact, mode: Mode, is_time_up: Asked, most_cells: int) -> Bounds:
    if not whole.is_single:
        return CureBounds(whole, mode)
    relaxed: Mode = mode
    cost, shut, works = whole.verify_cost, whole.verify_shut, 0.0
    has_odd = any(r.shut for r in whole.repairs) or any(r.keep_cost for r in whole.repairs)
    if mode == "free" or (mode == "block" and has_odd):
        relaxed, cost, shut, works = "each", 0.0, 0, whole.verify_cost
    patterns = patterns_of(whole, relaxed, groups_of(whole, shut, most_cells), is_time_up, verify_cost=cost, verify_shut=shut, works_cost=works)
    if patterns is None:
        return CureBounds(whole, mode)
    return GroupBounds(whole, patterns)


def solve(problem: DiagnosisProblem, mode: Mode, is_time_up: Asked, *, most_cells: int = MOST_CELLS) -> DiagnosisAnswer:
    whole = compact(problem)
    search = Search(whole, mode, bounds_for(whole, mode, is_time_up, most_cells), is_time_up)
    state = search.start()
    cost = search.value(state, 1e300)
    values = {}
    for option in search.options(state, with_useless=True):
        name = VERIFY if option.kind == "verify" else (whole.tests if option.kind == "test" else whole.repairs)[option.index].name
        values[name] = search.option_value(state, option, 1e300)
    values[WRITE_OFF] = whole.giving_up(state.open_set)
    first = tuple(n for n, v in values.items() if v <= cost + _TIE * (1 + abs(cost)))
    return DiagnosisAnswer("optimal", mode, cost, cost, first, values, frozenset(values))
