"""Which strategy costs least? The front door of the solver."""

from collections.abc import Callable
from math import inf

from turnscrew.core.diagnose.answer import DiagnosisAnswer
from turnscrew.core.diagnose.compile import Compact, compact
from turnscrew.core.diagnose.problem import DiagnosisProblem, Mode
from turnscrew.core.diagnose.solve.from_table import State, TableReader
from turnscrew.core.diagnose.solve.lattice import Lattice, lattice_of
from turnscrew.core.diagnose.solve.table import fill

Asked = Callable[[], bool]

_TIE = 1e-8


def solve(
    problem: DiagnosisProblem,
    mode: Mode,
    is_time_up: Asked,
) -> DiagnosisAnswer:
    whole = compact(problem)
    faults = tuple(range(len(whole.hypotheses)))
    lattice = lattice_of(whole, faults)
    table = fill(lattice, mode, is_time_up, verify_cost=whole.verify_cost, verify_shut=whole.verify_shut)
    assert table is not None
    reader = TableReader(table)
    state = State(0, 0, whole.p_ok > 0, whole.open_now)
    values = {o.name: o.value for o in reader.options(state)}
    cost = min(values.values())
    first = tuple(n for n, v in values.items() if v <= cost + _TIE * (1 + abs(cost)))
    return DiagnosisAnswer("optimal", mode, cost, cost, first, values, frozenset(values))
