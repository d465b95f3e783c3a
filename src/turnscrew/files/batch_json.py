"""How is the answer on a whole batch written as JSON?"""

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.schedule.plan import Plan
from turnscrew.core.schedule.problem import TICKS, ScheduleProblem


def batch_json(answer: BatchAnswer) -> dict[str, Any]:
    """
    Give the answer as plain JSON values; ``docs/formats.md`` names every key.

    Parameters
    ----------
    answer
        The answer.

    Returns
    -------
    dict
        The document.
    """
    supply = answer.supply
    devices = answer.devices
    return {
        "reconciliation": _reconciliation(answer),
        "decisions": {str(d.name): d.decision.code for d in devices},
        "quotes": {
            str(d.name): {
                "minor": d.decision.quote_minor,
                "limit_minor": d.decision.limit_minor,
                "flips_at": d.decision.flips_at_minor,
            }
            for d in devices
        },
        "reasons": {str(d.name): d.decision.reason for d in devices},
        "holds": {str(d.name): list(map(str, d.holds)) for d in devices if d.holds},
        "opening_uses": {
            str(d.name): {
                "known_by": d.uses.known_by,
                "parts": list(d.uses.parts),
                "notes": list(d.uses.notes),
            }
            for d in devices
            if str(d.uses)
        },
        "past": {str(d.name): list(d.past) for d in devices if d.past},
        "money": _money(answer),
        "minutes": answer.minutes,
        "order": _order(answer),
        "donors": {
            "strips": list(supply.donors.strips),
            "saves_minor": supply.without_minor - supply.cost_minor,
            "saves": {str(k): v for k, v in sorted(supply.saved_minor.items())},
            "uses": _donor_uses(answer),
            "p_enough": {
                part: {"wanted": wanted, "there": n, "p": p}
                for part, (wanted, n, p) in supply.p_enough.items()
            },
        },
        "answer_by": {str(k): v for k, v in answer.answer_by.items()},
        "in_no_sum": sorted(answer.apart),
        "plan": _plan(answer),
    }


def _reconciliation(answer: BatchAnswer) -> dict[str, Any]:
    found = answer.reconciliation
    return {
        "matched": [match.line for match in found.matched],
        "missing": [
            row.asset or row.serial or f"row {row.row}" for row in found.missing
        ],
        "extra": list(found.extra),
        "differing": [one.line for one in found.differing],
        "duplicate_serials": [list(group) for group in found.duplicate_serials],
        "duplicate_assets": [list(group) for group in found.duplicate_assets],
        "listed_twice": [list(group) for group in found.listed_twice],
        "near_serials": [
            {"lines": list(near.lines), "row": near.row or None, "kind": near.kind}
            for near in found.near_serials
        ],
        "blanks": [blank.line for blank in found.blanks],
        "details": {
            str(one.line): [asdict(difference) for difference in one.differences]
            for one in found.differing
        },
    }


def _money(answer: BatchAnswer) -> dict[str, int]:
    account = answer.account
    return {
        "repairs_minor": account.repairs_minor,
        "strip_diagnosis_minor": account.strip_diagnosis_minor,
        "no_fault_found_minor": account.no_fault_found_minor,
        "total_minor": account.total_minor,
        "donor_credit_minor": account.donor_credit_minor,
        "invoice_minor": account.invoice_minor,
        "tax_minor": account.tax_minor,
        "parts_cost_minor": account.parts_cost_minor,
        "labour_minor": account.labour_minor,
        "margin_minor": account.margin_minor,
    }


def _order(answer: BatchAnswer) -> dict[str, Any]:
    lines: dict[str, int] = {}
    latest: dict[str, int | None] = {}
    for line in answer.supply.orders:
        lines[line.part] = lines.get(line.part, 0) + line.n_bought
        days = (latest.get(line.part), line.latest_day)
        known = [day for day in days if day is not None]
        latest[line.part] = min(known, default=None)
    return {
        "minor": answer.supply.cost_minor,
        "without_donors_minor": answer.supply.without_minor,
        "unpriced": list(answer.supply.unpriced),
        "lines": lines,
        "latest_day": latest,
    }


def _donor_uses(answer: BatchAnswer) -> dict[str, dict[str, int]]:
    uses: dict[str, dict[str, int]] = {}
    for use in answer.supply.uses:
        if use.donor:
            uses.setdefault(str(use.demand.device), {})[use.demand.part] = use.donor
    return uses


def _plan(answer: BatchAnswer) -> dict[str, Any]:
    planned = answer.planned
    document: dict[str, Any] = {"rule": _plan_figures(planned.rule, planned.problem)}
    if planned.best is not None:
        best = planned.best
        document["best"] = _plan_figures(best.plan, planned.problem_best) | {
            "status": best.status,
            "bound": {
                "n_late": best.bound.n_late,
                "late_days": best.bound.late_days,
                "n_set_ups": best.bound.n_set_ups,
            },
        }
    if planned.no_promise:
        document["no_promise"] = planned.no_promise
    elif planned.promise is not None:
        promise = planned.promise
        document["promise"] = {
            "probability": promise.probability,
            "day": promise.day,
            "in_time_by_due_day": {str(day): p for day, p in promise.by_due},
            "n_plays": promise.n_plays,
            "spread": planned.spread.sd,
            "spread_known_by": planned.spread.known_by,
        }
    return document


def _plan_figures(plan: Plan, problem: ScheduleProblem) -> dict[str, Any]:
    return {
        "last_day": plan.last_day,
        "late": _by_name(plan.late(problem)),
        "clock_minutes": {
            person: _plain(ticks) for person, ticks in plan.clock_ticks(problem).items()
        },
        "n_set_ups": plan.n_set_ups(problem),
        "impossible": {str(name): why for name, why in plan.impossible.items()},
        "slots": [
            {
                "line": slot.job,
                "person": slot.person,
                "day": slot.day,
                "from_min": _plain(slot.start_ticks),
                "to_min": _plain(slot.end_ticks),
                "done_day": slot.done_day,
            }
            for slot in plan.slots
        ],
    }


def _by_name(figures: Mapping[int, int]) -> dict[str, int]:
    return {str(name): figures[name] for name in sorted(figures)}


def _plain(ticks: int) -> int | float:
    """Give minutes without a needless decimal point."""
    return ticks // TICKS if ticks % TICKS == 0 else ticks / TICKS
