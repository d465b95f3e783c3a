"""What can the search for a fault answer?"""

from dataclasses import dataclass, field
from typing import Literal

from turnscrew.core.diagnose.problem import Mode

Status = Literal["optimal", "bounded"]

WORKS = "works"
FAILS = "still at fault"
"""The two outcomes of a power test."""


@dataclass(frozen=True)
class Leaf:
    """
    The end of a path: the device is handed over or written off.

    Parameters
    ----------
    kind
        How it ends.
    cost
        Cost of the end itself, with the closing that belongs to it. [cost]
    """

    kind: Literal["works", "written off"]
    cost: float


@dataclass(frozen=True)
class Step:
    """
    One action of a policy and what follows each of its outcomes.

    Parameters
    ----------
    action
        Test, repair or power test.
    kind
        Which of the three.
    cost
        Cost of the action with the opening and closing before it. [cost]
    opens
        Nodes opened before it, in order.
    closes
        Nodes closed before it, in order.
    branches
        For each outcome its name, its probability and what follows. [1]
    """

    action: str
    kind: Literal["test", "repair", "verify"]
    cost: float
    opens: tuple[str, ...]
    closes: tuple[str, ...]
    branches: tuple[tuple[str, float, "Step | Leaf"], ...]


Policy = Step | Leaf


@dataclass(frozen=True)
class DiagnosisAnswer:
    """
    The best policy found, and how far it is proven.

    Parameters
    ----------
    status
        ``optimal``, or ``bounded`` with a gap.
    mode
        When a power test is due.
    cost
        Expected cost of the policy. [cost]
    bound
        No policy costs less. [cost]
    first
        First actions that are equally good.
    values
        Expected cost by first action, if all goes on as well as is known. [cost]
    proven
        First actions whose value is proven exact.
    policy
        The policy itself, if it was asked for.
    looked
        Expected cost by first action as far as all were looked at alike; for comparing
        them with one another. [cost]
    """

    status: Status
    mode: Mode
    cost: float
    bound: float
    first: tuple[str, ...]
    values: dict[str, float]
    proven: frozenset[str] = frozenset()
    policy: Policy | None = field(default=None, repr=False)
    looked: dict[str, float] = field(default_factory=dict)

    @property
    def gap(self) -> float:
        """Share of the cost that is not proven necessary [1]."""
        return 0.0 if self.cost <= 0 else max(0.0, 1 - self.bound / self.cost)
