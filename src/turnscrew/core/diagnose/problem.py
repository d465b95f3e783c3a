"""
What is the bare numeric problem of finding and mending a fault?

The model: one hidden fault (or set of faults), nodes of access that cost something to
open and to close, tests used once, repairs tried once, a verification, a write-off.
Costs are in one unit of the problem's own, such as minutes with money turned into
minutes at the workshop's rate.
"""

from dataclasses import dataclass, field
from typing import Literal

Mode = Literal["each", "block", "free"]
"""
When a power test is due: after each repair; after a block of repairs without a test
in between; or whenever it pays.
"""

MODES: tuple[Mode, ...] = ("each", "block", "free")

VERIFY = "VERIFY"
WRITE_OFF = "WRITE-OFF"


@dataclass(frozen=True)
class Node:
    """
    One step of access.

    Parameters
    ----------
    name
        Name, unique among the nodes.
    open_cost
        Cost of opening it. [cost]
    close_cost
        Cost of closing it. [cost]
    needs
        Nodes that must be open first.
    """

    name: str
    open_cost: float
    close_cost: float
    needs: tuple[str, ...] = ()


@dataclass(frozen=True)
class Test:
    """
    One test.

    Parameters
    ----------
    name
        Name, unique among tests and repairs.
    cost
        Cost of making it. [cost]
    outcomes
        What may come of it.
    p
        For each fault the probability of each outcome. [1]
    p_ok
        The same for a device that works. [1]
    open
        Nodes that must be open, with all they need.
    closed
        Nodes that must be closed, with all that stands on them.
    looks_at
        With several faults at once: the faults it can see; none said means all.
    powers
        True if it switches the device on or charges it, as the power test does.
    """

    name: str
    cost: float
    outcomes: tuple[str, ...]
    p: dict[str, tuple[float, ...]]
    p_ok: tuple[float, ...]
    open: tuple[str, ...] = ()
    closed: tuple[str, ...] = ()
    looks_at: tuple[str, ...] | None = None
    powers: bool = False


@dataclass(frozen=True)
class Repair:
    """
    One repair or exchange.

    Parameters
    ----------
    name
        Name, unique among tests and repairs.
    cost
        Cost of trying it. [cost]
    mends
        For each fault it touches the probability that it mends it. [1]
    keep_cost
        Price that falls due only if it mends, as of a part tried from stock. [cost]
    open
        Nodes that must be open, with all they need.
    closed
        Nodes that must be closed, with all that stands on them.
    """

    name: str
    cost: float
    mends: dict[str, float]
    keep_cost: float = 0.0
    open: tuple[str, ...] = ()
    closed: tuple[str, ...] = ()


@dataclass(frozen=True)
class Verification:
    """
    The power test that tells whether the device works.

    Parameters
    ----------
    cost
        Cost of making it. [cost]
    closed
        Nodes that must be closed for it.
    """

    cost: float
    closed: tuple[str, ...] = ()


@dataclass(frozen=True)
class WriteOff:
    """
    Giving up: the least of scrapping, handing on and calling somebody.

    Parameters
    ----------
    cost
        What it costs. [cost]
    is_closed_first
        True if the device is closed before it goes.
    """

    cost: float
    is_closed_first: bool = False


@dataclass(frozen=True)
class DiagnosisProblem:
    """
    The whole problem.

    Parameters
    ----------
    faults
        Weight of each fault among the broken devices. [1]
    nodes
        Steps of access.
    tests
        Tests not yet made.
    repairs
        Repairs not yet tried.
    verification
        The power test.
    write_off
        Giving up.
    p_ok
        Probability that nothing is wrong. [1]
    independent
        Faults that may be present together, each with its own probability; then
        ``faults`` is empty. [1]
    most_faults
        Largest number of faults at once. [1]
    open_now
        Nodes open already.
    no_power
        Faults with which the device must not be powered until a repair that may mend
        them was tried.
    power_limit
        Probability of such a fault from which on neither the power test is made nor
        a test that powers. [1]
    """

    faults: dict[str, float]
    nodes: tuple[Node, ...]
    tests: tuple[Test, ...]
    repairs: tuple[Repair, ...]
    verification: Verification
    write_off: WriteOff
    p_ok: float = 0.0
    independent: dict[str, float] = field(default_factory=dict)
    most_faults: int = 1
    open_now: tuple[str, ...] = ()
    no_power: tuple[str, ...] = ()
    power_limit: float = 1.0
