"""How do the adapters of a device stand, piece by piece?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from turnscrew.core.electrics.adapter_check import (
    AdapterSeen,
    Standing,
    reasons_against,
    standing_of,
)
from turnscrew.web.records.models import Accessory, AdapterCheck
from turnscrew.web.records.queries.bench_tests import is_adapter_passed

_WORDS = ("adapter", "charger", "power supply")
"""Kinds of accessory that are adapters, by their words."""

_PASSED = "passed at the bench; no reading is on record"

NO_STANDARD = (
    "a look and one reading, no test to a standard: EN 50678 excludes equipment of "
    "information technology and its power supplies by its own scope"
)


@dataclass(frozen=True)
class AdapterStand:
    """One piece, its newest check and what follows from it."""

    accessory: Accessory
    piece: int
    check: AdapterCheck | None
    standing: Standing
    why: tuple[str, ...] = ()
    is_passed: bool = False
    """It passed at the bench, where no reading is written."""

    @property
    def is_cut(self) -> bool:
        """Say whether it was cut and thrown away."""
        return self.check is not None and self.check.cut_on is not None

    @property
    def says(self) -> str:
        """Give it in words, for the page and the note."""
        named = self.accessory.kind
        if self.accessory.n_in > 1:
            named += f", piece {self.piece}"
        if self.is_cut:
            return f"{named}: cut, does not go back"
        if self.standing == "fit":
            return f"{named}: fit by {_read(self.check)}{_again(self.check)}"
        if self.is_passed:
            return f"{named}: NOT HANDED BACK AS FIT ({_PASSED})"
        why = "; ".join(self.why) or "nobody looked at it"
        return f"{named}: NOT HANDED BACK AS FIT ({self.standing}: {why})"


def _read(check: AdapterCheck | None) -> str:
    if check is None or check.output_mv is None or check.load_ma is None:
        return "a look"
    return f"a look and {check.output_mv / 1000:g} V read at {check.load_ma / 1000:g} A"


def _again(check: AdapterCheck | None) -> str:
    day: date | None = check.next_on if check else None
    return f", look again by {day}" if day else ""


def is_adapter(kind: str) -> bool:
    """Say whether a kind of accessory is an adapter."""
    return any(word in kind.casefold() for word in _WORDS)


def seen_in(check: AdapterCheck) -> AdapterSeen:
    """Give a check as the values it is judged by."""
    return AdapterSeen(
        belongs=check.belongs,
        is_label_read=check.is_label_read,
        is_cable_whole=check.is_cable_whole,
        rated_v=_whole_units(check.rated_mv),
        rated_a=_whole_units(check.rated_ma),
        rated_w=_whole_units(check.rated_mw),
        device_v=_whole_units(check.device_mv),
        device_a=_whole_units(check.device_ma),
        output_v=_whole_units(check.output_mv),
        load_a=_whole_units(check.load_ma),
        low_v=_whole_units(check.low_mv),
        high_v=_whole_units(check.high_mv),
    )


def _whole_units(thousandths: int | None) -> float | None:
    return None if thousandths is None else thousandths / 1000


def adapters_of(
    accessories: Iterable[Accessory], at: datetime | None = None
) -> list[AdapterStand]:
    """Give every adapter among some accessories, as it stood at a time."""
    stands = []
    for one in accessories:
        if not is_adapter(one.kind):
            continue
        known = {
            check.piece: check
            for check in one.checks.all()
            if at is None or check.at <= at
        }
        pieces = range(1, one.n_in + 1)
        is_passed = (
            one.job is not None
            and any(n not in known for n in pieces)
            and is_adapter_passed(one.job, at)
        )
        stands += [_stand(one, n, known.get(n), is_passed=is_passed) for n in pieces]
    return stands


def _stand(
    one: Accessory, piece: int, check: AdapterCheck | None, *, is_passed: bool
) -> AdapterStand:
    if check is None:
        return AdapterStand(one, piece, None, standing_of(None), is_passed=is_passed)
    seen = seen_in(check)
    return AdapterStand(one, piece, check, standing_of(seen), reasons_against(seen))
