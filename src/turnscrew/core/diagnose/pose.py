"""
How does a fault table become a problem for the solver?

Costs are minutes at the bench; money is turned into minutes at the table's rate.
Tests made and repairs tried are left out, and the belief stands in place of the prior.
"""

from dataclasses import dataclass, field

from turnscrew.core.diagnose.evidence import (
    NOT_TRIED,
    Belief,
    Evidence,
    told_of,
)
from turnscrew.core.diagnose.figures import Prices
from turnscrew.core.diagnose.hazards import (
    LIKELY,
    faults_without_power,
    power_limit,
)
from turnscrew.core.diagnose.layers import Layer
from turnscrew.core.diagnose.problem import (
    DiagnosisProblem,
    Node,
    Repair,
    Test,
    Verification,
    WriteOff,
)
from turnscrew.core.model.faults import (
    NOTHING_WRONG,
    FaultRepair,
    FaultTable,
)


@dataclass(frozen=True)
class PricedLayer:
    """
    A layer with what it costs to open and to close.

    Parameters
    ----------
    layer
        The layer.
    open_min
        Time to open it once what it needs is open. [min]
    close_min
        Time to close it down to what it needs. [min]
    """

    layer: Layer
    open_min: float
    close_min: float


@dataclass(frozen=True)
class Layering:
    """
    All layers of a device that a fault table asks for.

    Parameters
    ----------
    layers
        The layers, each after what it needs.
    where
        For each wish, by name, its layer; empty if nothing need come off for it.
    out_of_reach
        Wishes that cannot be reached, by name, with the reason.
    """

    layers: tuple[PricedLayer, ...]
    where: dict[str, str]
    out_of_reach: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Posed:
    """
    The problem with what is needed to speak about its answer.

    Parameters
    ----------
    problem
        The problem; costs in minutes.
    prices
        What of the costs is money.
    left_out
        For each test or repair that is left out, or not to be made yet, the reason in
        words.
    """

    problem: DiagnosisProblem
    prices: Prices
    left_out: dict[str, str]


def reaches_of(table: FaultTable) -> tuple[tuple[str, ...], ...]:
    """
    List everything that some test or repair wants off.

    Parameters
    ----------
    table
        The table.

    Returns
    -------
    tuple
        Each wish once, in the order of the table.
    """
    wishes = [test.reach for test in table.tests.values()]
    wishes += [repair.reach for repair in table.repairs.values()]
    return tuple(dict.fromkeys(wish for wish in wishes if wish))


def opening_name(reach: tuple[str, ...]) -> str:
    """
    Name an opening by what it wants off.

    Parameters
    ----------
    reach
        Parts and joints.

    Returns
    -------
    str
        The name.
    """
    return " + ".join(reach)


def minutes_of(table: FaultTable, money_minor: float) -> float:
    """
    Turn money into minutes at the table's rate.

    Parameters
    ----------
    table
        The table.
    money_minor
        The money. [minor units]

    Returns
    -------
    float
        The minutes it buys; no minutes if no rate is set. [min]
    """
    return 60 * money_minor / table.rate if table.rate else 0.0


def pose(
    table: FaultTable,
    layering: Layering,
    belief: Belief,
    evidence: Evidence,
    *,
    open_now: tuple[str, ...] = (),
) -> Posed:
    """
    Write the problem that is left to solve.

    Parameters
    ----------
    table
        The table.
    layering
        Layers of access with their costs.
    belief
        Belief after signs and findings.
    evidence
        Signs and findings.
    open_now
        Layers that are open, by name.

    Returns
    -------
    Posed
        The problem with its money.
    """
    nodes = tuple(
        Node(p.layer.name, p.open_min, p.close_min, p.layer.needs)
        for p in layering.layers
    )
    everything = tuple(node.name for node in nodes)
    used = {f.name for f in evidence.findings if f.outcome != NOT_TRIED}
    left_out = _left_out(table, layering)
    wet = faults_without_power(table, evidence)
    limit = power_limit(table, belief.after, evidence)
    return Posed(
        DiagnosisProblem(
            faults={n: p for n, p in belief.after.items() if n != NOTHING_WRONG},
            nodes=nodes,
            tests=tuple(
                _test(table, layering, name)
                for name in table.tests
                if name not in used and name not in left_out
            ),
            repairs=tuple(
                _repair(table, layering, name)
                for name in table.repairs
                if name not in used and name not in left_out
            ),
            verification=Verification(
                table.check_out.minutes, everything if table.check_out.closed else ()
            ),
            write_off=WriteOff(
                table.give_up.minutes + minutes_of(table, table.give_up.price),
                table.give_up.closed,
            ),
            p_ok=belief.after[NOTHING_WRONG],
            open_now=open_now,
            no_power=wet,
            power_limit=limit,
        ),
        prices_in(table),
        {
            name: why
            for name, why in (_not_yet(table, belief, wet, limit) | left_out).items()
            if name not in used
        },
    )


def _not_yet(
    table: FaultTable, belief: Belief, wet: tuple[str, ...], limit: float
) -> dict[str, str]:
    if sum(belief.after[name] for name in wet) < limit:
        return {}
    how = "is likely" if limit == LIKELY else "is not excluded"
    why = f"not switched on or charged while {' or '.join(wet)} {how}"
    return {name: why for name, test in table.tests.items() if test.powers}


def _left_out(table: FaultTable, layering: Layering) -> dict[str, str]:
    left_out: dict[str, str] = {}
    for name, test in table.tests.items():
        failed = [item for item in test.known_good if table.known_good[item].failed]
        if failed:
            left_out[name] = f"known-good item withdrawn: {', '.join(failed)}"
    actions = [(n, t.reach) for n, t in table.tests.items()]
    actions += [(n, r.reach) for n, r in table.repairs.items()]
    for name, reach in actions:
        reason = layering.out_of_reach.get(opening_name(reach))
        if reason is not None:
            left_out[name] = f"out of reach: {reason}"
    return left_out


def _where(layering: Layering, reach: tuple[str, ...]) -> tuple[str, ...]:
    layer = layering.where.get(opening_name(reach), "")
    return (layer,) if layer else ()


def _test(table: FaultTable, layering: Layering, name: str) -> Test:
    test = table.tests[name]
    return Test(
        name=name,
        cost=test.minutes,
        outcomes=test.all_outcomes,
        p={fault: told_of(test.means, fault) for fault in table.faults},
        p_ok=told_of(test.means, NOTHING_WRONG),
        open=_where(layering, test.reach),
        closed=tuple(p.layer.name for p in layering.layers) if test.closed else (),
        powers=test.powers,
    )


def prices_in(table: FaultTable) -> Prices:
    """
    List what the repairs of a table cost in money.

    Parameters
    ----------
    table
        The table.

    Returns
    -------
    Prices
        The prices.
    """
    repairs = table.repairs
    return Prices(
        {name: float(repair.price) for name, repair in repairs.items()},
        {name: _risk(repair) for name, repair in repairs.items()},
        frozenset(name for name, repair in repairs.items() if repair.keep),
        float(table.give_up.price),
    )


def _risk(repair: FaultRepair) -> float:
    return repair.damage.chance * repair.damage.price if repair.damage else 0.0


def _repair(table: FaultTable, layering: Layering, name: str) -> Repair:
    repair = table.repairs[name]
    price = minutes_of(table, repair.price)
    at_once = repair.minutes + minutes_of(table, _risk(repair))
    return Repair(
        name=name,
        cost=at_once if repair.keep else at_once + price,
        mends=dict(repair.mends),
        keep_cost=price if repair.keep else 0.0,
        open=_where(layering, repair.reach),
        closed=tuple(p.layer.name for p in layering.layers) if repair.closed else (),
    )
