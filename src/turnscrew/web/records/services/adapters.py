"""How is it written how an adapter was found, and that a failed one was cut?"""

from dataclasses import dataclass, replace
from datetime import date, datetime

from turnscrew.core.electrics.adapter_check import (
    BELONGS,
    WIDEST,
    output_limits_v,
    standing_of,
)
from turnscrew.web.records.models import Accessory, AdapterCheck, Person
from turnscrew.web.records.queries.adapters import (
    AdapterStand,
    adapters_of,
    is_adapter,
    seen_in,
)
from turnscrew.web.records.services import waste
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.on_record import require_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

_MOST_MV, _MOST_MA, _MOST_MW = 60_000, 20_000, 500_000
"""What an adapter of a portable device cannot exceed; common practice."""


@dataclass(frozen=True, kw_only=True)
class AdapterFound:
    """What was seen and read of one adapter; thousandths of volts, amps and watts."""

    belongs: str
    is_label_read: bool
    is_cable_whole: bool
    piece: int = 1
    owner: str = ""
    rated_mv: int | None = None
    rated_ma: int | None = None
    rated_mw: int | None = None
    device_mv: int | None = None
    device_ma: int | None = None
    output_mv: int | None = None
    load_ma: int | None = None
    low_mv: int | None = None
    high_mv: int | None = None
    next_on: date | None = None


@writing
def check_adapter(
    accessory: Accessory, found: AdapterFound, *, by: Person, now: datetime
) -> AdapterCheck:
    """Write a look at an adapter and its reading; earlier ones stay readable."""
    require_on_record(accessory.batch.customer_id)
    accessory = Accessory.objects.select_for_update(of=("self",)).get(pk=accessory.pk)
    reasons = [*_wrong_piece(accessory, found.piece), *_wrong(found)]
    if found.next_on is not None and found.next_on <= now.date():
        reasons.append(f"next look: found {found.next_on}, wanted a day to come")
    if reasons:
        raise RefusedError(*reasons)
    told = _with_limits(found)
    row = AdapterCheck.objects.create(accessory=accessory, by=by, at=now, **vars(told))
    append(
        "bench", "adapter", _subject(accessory), by=by, now=now,
        facts={
            "kind": accessory.kind, "piece": row.piece,
            "standing": standing_of(seen_in(row)), "mv": row.output_mv,
            "ma": row.load_ma,
        },
    )  # fmt: skip
    return row


@writing
def cut_adapter(
    accessory: Accessory,
    piece: int,
    *,
    by: Person,
    now: datetime,
    mass_g: int | None = None,
) -> None:
    """Write that a failed adapter was cut: it goes to the waste, not to its owner."""
    accessory = Accessory.objects.select_for_update(of=("self",)).get(pk=accessory.pk)
    stand = _stand_of(accessory, piece)
    if stand.is_cut:
        raise RefusedError("adapter: found it cut already, wanted one that is whole")
    if stand.standing != "not fit" or stand.check is None:
        raise RefusedError(f"adapter: found {stand.standing}, wanted one not fit")
    if accessory.n_here < 1:
        raise RefusedError("adapter: found none here, wanted one that is here")
    stand.check.cut_on = now.date()
    stand.check.save()
    why = f"cut, not fit: {'; '.join(stand.why)}"
    accessory.n_explained += 1
    accessory.explanation = why[:200]
    accessory.save()
    append(
        "custody", "accessory explained", _subject(accessory), by=by, now=now,
        facts={"kind": accessory.kind, "n": 1}, words=why,
    )  # fmt: skip
    scrap = waste.Scrap("other", mass_g, f"{accessory.kind}, cable cut")
    waste.throw_away(scrap, by=by, now=now, job=accessory.job)


def _stand_of(accessory: Accessory, piece: int) -> AdapterStand:
    for one in adapters_of([accessory]):
        if one.piece == piece:
            return one
    raise RefusedError(*_wrong_piece(accessory, piece))


def _subject(accessory: Accessory) -> str:
    return accessory.job.ref if accessory.job else accessory.batch.ref


def _wrong_piece(accessory: Accessory, piece: int) -> list[str]:
    if not is_adapter(accessory.kind):
        return [f"accessory: found {accessory.kind}, wanted an adapter"]
    if 1 <= piece <= accessory.n_in:
        return []
    return [f"piece: found {piece}, wanted 1 to {accessory.n_in}"]


def _wrong(found: AdapterFound) -> list[str]:
    reasons = []
    if found.belongs not in BELONGS:
        wanted = ", ".join(BELONGS)
        reasons.append(f"belongs: found {found.belongs or 'none'}, wanted {wanted}")
    if found.is_label_read and not found.rated_mv:
        reasons.append(
            "rating: found no volts, wanted them, or that the label cannot be read"
        )
    if found.is_label_read and not (found.rated_ma or found.rated_mw):
        reasons.append(
            "rating: found neither amps nor watts, wanted one, or that the label "
            "cannot be read"
        )
    if not found.is_label_read and (found.rated_mv or found.rated_ma or found.rated_mw):
        reasons.append("rating: found figures of a label that cannot be read")
    return reasons + _out_of_range(found)


def _out_of_range(found: AdapterFound) -> list[str]:
    most = {"mv": _MOST_MV, "ma": _MOST_MA, "mw": _MOST_MW}
    reasons = []
    for name, value in vars(found).items():
        limit = most.get(name.rpartition("_")[2])
        if limit is None or value is None:
            continue
        if not 0 <= value <= limit:
            reasons.append(f"{name}: found {value}, wanted 0 to {limit}")
    if None not in (found.low_mv, found.high_mv) and found.low_mv > found.high_mv:  # type: ignore[operator]
        reasons.append(
            f"limits: found {found.low_mv} above {found.high_mv}, wanted low, then high"
        )
    return reasons + _too_wide(found)


def _too_wide(found: AdapterFound) -> list[str]:
    """Refuse limits that would take any voltage for the right one."""
    rated = found.rated_mv
    if not rated or found.low_mv is None or found.high_mv is None:
        return []
    low, high = (1 - WIDEST) * rated, (1 + WIDEST) * rated
    if low <= found.low_mv and found.high_mv <= high:
        return []
    return [
        f"limits: found {found.low_mv / 1000:g} to {found.high_mv / 1000:g} V, wanted "
        f"them within {low / 1000:g} to {high / 1000:g} V"
    ]


def _with_limits(found: AdapterFound) -> AdapterFound:
    """Put the usual limits where nobody said others."""
    if not found.rated_mv or found.low_mv is not None or found.high_mv is not None:
        return found
    low_v, high_v = output_limits_v(found.rated_mv / 1000)
    return replace(found, low_mv=round(1000 * low_v), high_mv=round(1000 * high_v))
