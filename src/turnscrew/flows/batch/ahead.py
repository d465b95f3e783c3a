"""Which minutes and parts will a batch take, before its devices are there?"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from statistics import fmean

from turnscrew.core.batch.ahead import BatchAhead, ModelAhead, PastDevice
from turnscrew.core.model.amounts import counted, percent
from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.device import Device
from turnscrew.core.model.faults import Fault, FaultTable
from turnscrew.core.model.model_terms import FaultTerms
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.model.terms import Terms
from turnscrew.core.price.quote import parts_needed, work_of
from turnscrew.core.reliability.batch_mix import (
    Case,
    Total,
    minutes_of,
    parts_in,
    pieces_of,
    summed,
)
from turnscrew.flows.batch.decisions import OpeningMinutes, decided_devices

LEAST_OWN = 5
"""Own whole jobs from which on their minutes count; common practice, no source. [1]"""


@dataclass(frozen=True)
class Known:
    """
    What the workshop knows of one model.

    Parameters
    ----------
    past
        Devices of it met before.
    table
        Its fault table; ``None`` if there is none.
    devices
        Its description in every revision.
    own_min
        Minutes of own whole jobs from opening to closing. [min]
    whose
        Whose devices the past is of, in words.
    """

    past: tuple[PastDevice, ...] = ()
    table: FaultTable | None = None
    devices: tuple[Device, ...] = ()
    own_min: tuple[float, ...] = ()
    whose: str = ""


@dataclass(frozen=True)
class _Bench:
    """The figures one model is reckoned with."""

    model: str
    terms: Terms
    parts: Mapping[str, SparePart]
    opening_minutes: OpeningMinutes
    known: Known = field(default_factory=Known)


def batch_ahead(
    to_come: Mapping[str, int],
    terms: Terms,
    parts: Mapping[str, SparePart],
    known: Mapping[str, Known],
    opening_minutes: OpeningMinutes,
) -> BatchAhead:
    """
    Foretell a batch by what is known of its models.

    Parameters
    ----------
    to_come
        Devices to come, by model. [1]
    terms
        The terms it will be mended under.
    parts
        Spare parts by number.
    known
        What is known, by model.
    opening_minutes
        Asked where the terms have no standard minutes for opening.

    Returns
    -------
    BatchAhead
        Minutes with their spread, pieces, and in words how each was reckoned.
    """
    found = tuple(
        _of_model(
            _Bench(model, terms, parts, opening_minutes, known.get(model, Known())), n
        )
        for model, n in to_come.items()
    )
    totals = [one.total for one in found if one.total is not None]
    return BatchAhead(found, summed(totals))


def _of_model(bench: _Bench, n: int) -> ModelAhead:
    if bench.model not in bench.terms.models:
        return ModelAhead(bench.model, n, None, "unknown: the terms do not name it")
    own, n_unread = _met(bench)
    foretold, unmatched = _foretold(bench)
    cases = [*own, *foretold]
    if not cases:
        why = "unknown: none of it was here before, and no fault table tells its faults"
        return ModelAhead(bench.model, n, None, why)
    return ModelAhead(
        model=bench.model,
        n=n,
        total=minutes_of(cases, n),
        why="; ".join(_words(bench, len(own), n_unread, foretold, unmatched)),
        n_met=len(own),
        parts=tuple((part, pieces_of(cases, n, part)) for part in parts_in(cases)),
    )


def _words(
    bench: _Bench, n_own: int, n_unread: int, foretold: Sequence[Case], unmatched: float
) -> list[str]:
    """Say how it was reckoned."""
    met = f"from {counted(n_own, 'device')} of it met before"
    told = [f"{met}, {bench.known.whose}" if bench.known.whose else met]
    if foretold:
        cases = sum(one.weight for one in foretold)
        told.append(f"the fault table counts as {cases:.0f} more")
    if n_unread:
        told.append(f"{n_unread} left out, with faults the terms do not name")
    if unmatched >= 0.005:
        told.append(
            f"faults that the terms do not name left out, {percent(unmatched)} of the "
            "table"
        )
    n_own_min = len(bench.known.own_min)
    if n_own_min >= LEAST_OWN:
        told.append(f"bench minutes of {n_own_min} whole jobs here")
    else:
        told.append("minutes as the terms set them")
    return told


def _met(bench: _Bench) -> tuple[list[Case], int]:
    """Give the devices met before as cases, and how many cannot be read."""
    faults = bench.terms.faults
    read = [one for one in bench.known.past if all(c in faults for c in one.found)]
    cases = [_case(bench, one, 1.0) for one in read if one.found]
    return cases, len(bench.known.past) - len(cases)


def _case(bench: _Bench, one: PastDevice, weight: float) -> Case:
    line = BatchLine(
        line=1, serial="", model=bench.model, revision=one.revision, found=one.found
    )
    work = work_of(line, bench.terms, bench.opening_minutes(line))
    is_stripped = one.is_stripped
    if is_stripped is None:
        is_stripped = _would_be_stripped(bench, line)
    if is_stripped:
        return Case(weight, work.receive + work.strip)
    opened = any(fault.is_opened for fault in bench.terms.faults_of(line))
    at_bench: float = work.open_close + work.exchange
    if opened and len(bench.known.own_min) >= LEAST_OWN:
        at_bench = fmean(bench.known.own_min)
    return Case(
        weight, work.handling + at_bench, parts_needed(line, bench.terms, bench.parts)
    )


def _would_be_stripped(bench: _Bench, line: BatchLine) -> bool:
    """Decide a device as it would be under these terms."""
    alone = BatchInput((line,), (), bench.parts, bench.terms, {})
    [device] = decided_devices(alone, {}, bench.opening_minutes)
    return not device.is_mended


def _foretold(bench: _Bench) -> tuple[list[Case], float]:
    """Give the fault table as cases, and the share of it the terms have no code for."""
    table = bench.known.table
    if table is None:
        return [], 0.0
    shares: Counter[str] = Counter()
    weights = table.weights
    for name, fault in table.faults.items():
        code = _code_for(fault, bench)
        share = (1 - table.nothing_wrong) * weights[name] / sum(weights.values())
        shares[code] += share  # type: ignore[assignment]
    trial = next((c for c, f in bench.terms.faults.items() if f.is_trial), "")
    shares[trial] += table.nothing_wrong  # type: ignore[assignment]
    unmatched = float(shares.pop("", 0.0))
    matched = sum(shares.values())
    if not matched:
        return [], 1.0
    revisions = _revisions(bench)
    return [
        _case(
            bench,
            PastDevice(revision, (code,)),
            table.prior.cases * share / matched * part,
        )
        for code, share in shares.items()
        for revision, part in revisions.items()
    ], unmatched


def _code_for(fault: Fault, bench: _Bench) -> str:
    """Give the code of the terms that stands for a fault of the table."""
    part = fault.part
    spares = {
        device.parts[part].spare
        for device in bench.known.devices
        if part in device.parts
    } - {""}
    return next(
        (
            code
            for code, agreed in bench.terms.faults.items()
            if _is_of(agreed, fault, spares, bench)
        ),
        "",
    )


def _is_of(agreed: FaultTerms, fault: Fault, spares: set[str], bench: _Bench) -> bool:
    if spares & set(agreed.parts):
        return True
    # Liquid on a part that is reached and not exchanged.
    is_liquid = agreed.hazard == "liquid" and fault.no_power and not agreed.parts
    return is_liquid and fault.part in agreed.reach and _is_for(agreed, bench)


def _is_for(fault: FaultTerms, bench: _Bench) -> bool:
    """Say whether the parts a fault reaches are parts of this model."""
    return any(
        all(name in device.parts for name in fault.reach)
        for device in bench.known.devices
    )


def _revisions(bench: _Bench) -> dict[str, float]:
    """Share a table's cases out over the revisions, as they were met before."""
    names = list(bench.terms.models[bench.model].worth) or [""]
    met = Counter(one.revision for one in bench.known.past)
    whole = sum(met[name] + 1 for name in names)
    return {name: (met[name] + 1) / whole for name in names}


def spread_words(total: Total) -> str:
    """
    Write minutes with their limits.

    Parameters
    ----------
    total
        The minutes.

    Returns
    -------
    str
        Such as ``3,127 min, in eight cases of ten 2,900 to 3,350``.
    """
    low, high = total.limits
    return f"{total.mean:,.0f} min, in eight cases of ten {low:,.0f} to {high:,.0f}"
