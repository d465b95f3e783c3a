"""Which duties has whoever handles an institution's data, and how do they stand?"""

from collections.abc import Mapping
from dataclasses import dataclass

from turnscrew.web.records.models import Customer, Duty

DUTIES: Mapping[str, str] = {
    "contract": "there is a contract in writing (28(3), 28(9))",
    "instructions": "we act on documented instructions alone (28(3)(a))",
    "bound": "everybody with access is bound to silence (28(3)(b))",
    "security": "measures that keep the data secure are agreed (28(3)(c), 32)",
    "others": "others take part only as the customer allowed (28(2), 28(3)(d), 28(4))",
    "rights": "we help to answer persons who ask for their data (28(3)(e))",
    "incident": "an incident is told without delay, with a note (28(3)(f), 33(2))",
    "end": "data are given back or erased at the end (28(3)(g))",
    "audit": "we show what proves all this and allow audits (28(3)(h))",
}
"""Points of Article 28 of Regulation (EU) 2016/679 for customers under that law."""


@dataclass(frozen=True)
class DutyStand:
    """One duty with the answer on record; none is told as none."""

    code: str
    says: str
    row: Duty | None

    @property
    def stands(self) -> str:
        """Say yes or no and since when, or that nobody answered."""
        if self.row is None:
            return "not answered"
        return f"{self.row.answer}, {self.row.on}"

    @property
    def is_met(self) -> bool:
        """Say whether the answer is yes; silence is none."""
        return self.row is not None and self.row.answer == "yes"


def duties_of(customer: Customer) -> list[DutyStand]:
    """Give every duty with its answer."""
    rows = {one.code: one for one in customer.duties.all()}
    return [DutyStand(code, says, rows.get(code)) for code, says in DUTIES.items()]


def duty_gaps(customer: Customer) -> list[str]:
    """Say what of the duties is not yes, for the page of a batch."""
    lacking = [one.code for one in duties_of(customer) if not one.is_met]
    if not lacking:
        return []
    return [f"duties on data without a yes: {', '.join(lacking)}"]
