"""What is known of a batch after reckoning?"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.amounts import counted
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.quote import DecidedDevice, net_sum
from turnscrew.core.price.account import Account, InvoiceItem
from turnscrew.core.reconcile.answer import Reconciliation
from turnscrew.core.schedule.best import BestPlan, figures_of
from turnscrew.core.schedule.plan import Plan
from turnscrew.core.schedule.problem import LAST_DAY, ScheduleProblem
from turnscrew.core.schedule.promise import Promise
from turnscrew.core.schedule.spread import Spread
from turnscrew.core.stock.demand import Offer, Use
from turnscrew.core.stock.donors import DonorChoice
from turnscrew.core.stock.order import OrderLine


@dataclass(frozen=True)
class Supply:
    """
    Where every part of a batch comes from.

    Parameters
    ----------
    uses
        One for each piece.
    orders
        What is bought.
    donors
        The donors stripped for their parts.
    offers
        What all of them could give.
    strips
        Every device that is stripped, in order.
    without_minor
        What would be bought without donors. [minor units]
    saved_minor
        Cost of new parts each donor saves, by donor. [minor units]
    p_enough
        For each part from donors: pieces wanted, pieces there, chance that enough pass.
    as_donor_minor
        By device the cost of the new parts it would save others if it were stripped.
        [minor units]
    """

    uses: tuple[Use, ...]
    orders: tuple[OrderLine, ...]
    donors: DonorChoice
    offers: tuple[Offer, ...]
    strips: tuple[int, ...]
    without_minor: int
    saved_minor: Mapping[int, int]
    p_enough: Mapping[str, tuple[int, int, float]]
    as_donor_minor: Mapping[int, int] = field(default_factory=dict)

    @property
    def cost_minor(self) -> int:
        """
        Give what is bought.

        Returns
        -------
        int
            Its cost. [minor units]
        """
        return sum(line.cost_minor for line in self.orders)

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Give the parts on order whose price is not known; they are in no sum."""
        return tuple(
            dict.fromkeys(one.part for one in self.orders if not one.is_priced)
        )

    @cached_property
    def by_device(self) -> Mapping[int, tuple[Use, ...]]:
        """
        Give the pieces used by device.

        Returns
        -------
        Mapping
            Uses in their order; a device that needs none is not in it.
        """
        uses: dict[int, list[Use]] = defaultdict(list)
        for use in self.uses:
            uses[use.demand.device].append(use)
        return {name: tuple(own) for name, own in uses.items()}


@dataclass(frozen=True)
class Planned:
    """
    The work of a batch, planned.

    Parameters
    ----------
    problem
        The problem as the hand rule sees it.
    rule
        Plan by the hand rule.
    problem_best
        The problem with every donor by itself.
    best
        Best plan found, with its bound; ``None`` if it was not asked for.
    promise
        What can be promised; ``None`` if it was not asked for.
    spread
        How far real times spread, and how that is known.
    """

    problem: ScheduleProblem
    rule: Plan
    problem_best: ScheduleProblem
    best: BestPlan | None
    promise: Promise | None
    spread: Spread = Spread(0.0, "terms, made wider", 0)

    @property
    def no_promise(self) -> str:
        """
        Say why no day can be promised.

        Returns
        -------
        str
            A sentence; empty if one can be, or nobody asked.
        """
        if self.promise is None:
            return ""
        if self.rule.impossible:
            return "No day can be promised while devices cannot be planned."
        if self.promise.day is None:
            return (
                "No day can be promised: in too many plays work is left after workshop "
                f"day {LAST_DAY}."
            )
        return ""

    @cached_property
    def is_best_in_use(self) -> bool:
        """
        Say whether the papers follow the best plan.

        Returns
        -------
        bool
            True if it leaves fewer devices out than the hand rule, or makes fewer
            late, or less late. Fewer set-ups alone are no reason: they are bought with
            waiting.
        """
        if self.best is None:
            return False
        n_left_out = len(self.best.plan.impossible), len(self.rule.impossible)
        if n_left_out[0] != n_left_out[1]:
            return n_left_out[0] < n_left_out[1]
        by_rule = figures_of(self.problem, self.rule)
        return self.best.figures.lateness < by_rule.lateness

    @property
    def why_in_use(self) -> str:
        """
        Say why the papers follow the one plan and not the other.

        Returns
        -------
        str
            One sentence; empty where there is no second plan or both are as good.
        """
        if self.best is None:
            return ""
        if len(self.best.plan.impossible) < len(self.rule.impossible):
            return (
                "The papers follow the best plan found: it plans devices for which the "
                "hand rule finds no way."
            )
        if self.is_best_in_use:
            return (
                "The papers follow the best plan found: fewer devices are late, or "
                "less late, than by the hand rule."
            )
        n_saved = self.rule.n_set_ups(self.problem) - self.best.figures.n_set_ups
        if n_saved <= 0:
            return ""
        return (
            "The papers follow the hand rule: by it nobody is later, and the best plan "
            f"found saves {counted(n_saved, 'set-up')} alone, by letting people wait "
            "for like devices."
        )

    @property
    def plan_in_use(self) -> Plan:
        """
        Give the plan the papers are written from.

        Returns
        -------
        Plan
            The best plan or the hand rule's.
        """
        if self.best is not None and self.is_best_in_use:
            return self.best.plan
        return self.rule

    @property
    def problem_in_use(self) -> ScheduleProblem:
        """
        Give the problem that plan solves.

        Returns
        -------
        ScheduleProblem
            The problem.
        """
        return self.problem_best if self.is_best_in_use else self.problem


@dataclass(frozen=True)
class BatchAnswer:
    """
    All that is known of a batch after reckoning.

    Parameters
    ----------
    batch
        The batch as asked about.
    what_if
        What was asked.
    reconciliation
        The batch against the customer's list.
    devices
        Devices with their decisions.
    supply
        Where their parts come from.
    planned
        Their plans.
    items
        What is billed, or will be after a yes.
    account
        The money, of what is planned alone.
    answer_by
        By device the day at whose start its answer must be in hand.
    """

    batch: BatchInput
    what_if: WhatIf
    reconciliation: Reconciliation
    devices: tuple[DecidedDevice, ...]
    supply: Supply
    planned: Planned
    items: tuple[InvoiceItem, ...]
    account: Account
    answer_by: Mapping[int, int | None]

    @cached_property
    def by_name(self) -> Mapping[int, DecidedDevice]:
        """
        Give the devices by their number.

        Returns
        -------
        Mapping
            Devices by number.
        """
        return {device.name: device for device in self.devices}

    @property
    def pending(self) -> tuple[DecidedDevice, ...]:
        """
        Give the devices whose answer is not in hand.

        Returns
        -------
        tuple[DecidedDevice, ...]
            In the order of the batch.
        """
        return tuple(d for d in self.devices if d.name in self.answer_by)

    @property
    def not_left(self) -> tuple[DecidedDevice, ...]:
        """
        Give the devices but for those that were given back with nothing done.

        Returns
        -------
        tuple[DecidedDevice, ...]
            In the order of the batch.
        """
        left = self.what_if.as_it_came
        return tuple(device for device in self.devices if device.name not in left)

    @cached_property
    def refused(self) -> frozenset[int]:
        """
        Name the devices whose owner said no, and that are to go back unrepaired.

        What is done at the bench is not among them: it goes back as it was left.

        Returns
        -------
        frozenset[int]
            Their numbers.
        """
        refused = {name for name, is_yes in self.what_if.answers.items() if not is_yes}
        asked = (one.name for one in self.not_left if one.decision.code == "ask")
        settled = self.what_if.as_agreed.keys() | self.what_if.done
        return frozenset(refused.intersection(asked)) - settled

    @property
    def is_open_counted(self) -> bool:
        """
        Say whether what nobody has agreed to yet is planned, and in the money.

        Returns
        -------
        bool
            False once some answers are in hand and the others are not waited for.
        """
        return self.what_if.pending_day is not None

    @property
    def apart(self) -> frozenset[int]:
        """
        Name the devices that are in no plan, and so in no sum.

        Returns
        -------
        frozenset[int]
            Those that cannot be planned, those whose answer nobody waits for, and
            those that were refused.
        """
        apart = apart_from(self.planned.rule, self.answer_by, self.what_if)
        return apart | self.refused

    @property
    def summed(self) -> tuple[InvoiceItem, ...]:
        """
        Give what the money is the sum of.

        Returns
        -------
        tuple[InvoiceItem, ...]
            In the order of the batch.
        """
        return tuple(one for one in self.items if one.device.name not in self.apart)

    @property
    def still_open(self) -> tuple[tuple[str, str, int], ...]:
        """
        Say what of the money nobody has agreed to yet, and what is in none of it.

        Returns
        -------
        tuple[tuple[str, str, int], ...]
            A sentence that names devices, in short what they are to the sum, and what
            is billed for them before tax. [minor units]
        """
        never = set(self.planned.rule.impossible)
        open_ = set(self.answer_by) - never
        asked = ("counted as yes", "of it still open")
        if not self.is_open_counted:
            asked = ("in no plan and no sum", "beside it, open")
        kinds = (
            (open_, f"Not agreed yet, {asked[0]}", asked[1]),
            (never, "Cannot be planned, in no sum", "beside it, not planned"),
        )
        net = {item.device.name: net_sum(item.charges) for item in self.items}
        return tuple(
            (
                f"{says}: {', '.join(map(str, sorted(names)))}",
                brief,
                sum(net.get(name, 0) for name in names),
            )
            for names, says, brief in kinds
            if names
        )

    @property
    def is_under_way(self) -> bool:
        """
        Say whether part of the work is done, so that the plan holds the rest alone.

        Returns
        -------
        bool
            True if the pay for it cannot be told from the plan.
        """
        return self.what_if.is_received or bool(self.what_if.done)

    @property
    def minutes(self) -> dict[str, int]:
        """
        Give the standard minutes by kind of work, of what is planned, as the money.

        Returns
        -------
        dict
            Handling, opening and closing, and exchange of what is mended; strips with
            their receiving; receiving of everything, planned or not. [min]
        """
        sums: Counter[str] = Counter()
        left_out = self.apart | self.what_if.as_it_came
        for device in self.devices:
            work = device.work
            sums["receiving"] += work.receive
            if device.name in left_out:
                continue
            if device.is_mended:
                sums["handling"] += work.handling
                sums["open_close"] += work.open_close
                sums["exchange"] += work.exchange
            else:
                sums["strips"] += work.receive + work.strip
        keys = ("handling", "open_close", "exchange", "strips", "receiving")
        return {key: sums[key] for key in keys}


def apart_from(rule: Plan, open_: Iterable[int], what_if: WhatIf) -> frozenset[int]:
    """
    Name the devices that are in no plan, and so in no sum.

    Parameters
    ----------
    rule
        The plan by the hand rule.
    open_
        Devices whose answer is not in hand.
    what_if
        Says whether those are waited for.

    Returns
    -------
    frozenset[int]
        Those that cannot be planned, and those whose answer nobody waits for.
    """
    left = open_ if what_if.pending_day is None else ()
    return frozenset((*left, *rule.impossible))
