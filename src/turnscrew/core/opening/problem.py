"""
What is the bare numeric problem of opening a device and putting it back?

The model: an action removes one fastener group, connector, bond or part.
It may be done once its needs hold, in one of its modes (a posture, a tool, a cost).
Turning the device and changing the tool cost extra.
The way back refits what was removed, under its own modes, orders and checks.
Costs are whole numbers in the problem's own unit.
"""

from dataclasses import dataclass

Cnf = tuple[tuple[str, ...], ...]
"""An AND of ORs over action names: every inner group needs one removal of its own."""


@dataclass(frozen=True)
class Mode:
    """
    One way of doing an action.

    Parameters
    ----------
    postures
        Postures of the device in which the action can be done.
    tool
        Tool that must be in hand; ``None`` is the bare hand, which keeps any tool.
    cost
        Cost of the action itself, without turning or changing tools.
    when
        Removals that must have been made (and not undone) for this mode to be open.
    """

    postures: tuple[str, ...]
    tool: str | None
    cost: int
    when: Cnf = ()


@dataclass(frozen=True)
class Act:
    """
    One removal and its refit.

    Parameters
    ----------
    name
        Name of the action, unique in the problem.
    needs
        Removals that must have been made first.
    modes
        Ways of removing.
    refit_modes
        Ways of refitting.
    refit_after
        Actions that, if they were removed, must be back on before this one goes back.
    refit_checks
        Checks that, if they apply, must be passed before this one goes back.
    """

    name: str
    needs: Cnf
    modes: tuple[Mode, ...]
    refit_modes: tuple[Mode, ...]
    refit_after: tuple[str, ...] = ()
    refit_checks: tuple[str, ...] = ()


@dataclass(frozen=True)
class Check:
    """
    One test during the way back.

    Parameters
    ----------
    name
        Name of the check, unique in the problem.
    postures
        Postures in which it can be made.
    tool
        Tool it needs; ``None`` is the bare hand.
    cost
        Cost of making it.
    fitted
        Actions that must be on (refitted or never removed) when it is made.
    applies_if_removed
        The check is due if one of these was removed; empty means always due.
    rework
        Expected extra cost of refitting an action before this check is passed.
    """

    name: str
    postures: tuple[str, ...]
    tool: str | None
    cost: int
    fitted: tuple[str, ...] = ()
    applies_if_removed: tuple[str, ...] = ()
    rework: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True)
class Guard:
    """
    A condition on one direct turn from one posture to another.

    Parameters
    ----------
    start
        Posture left.
    end
        Posture reached.
    needs
        Removals that must be in force while turning.
    """

    start: str
    end: str
    needs: Cnf


@dataclass(frozen=True)
class OpeningProblem:
    """
    The whole numeric problem.

    Parameters
    ----------
    name
        Name for messages.
    unit
        Unit of all costs, in words.
    postures
        Names of the postures.
    posture_cost
        Cost of each direct turn; ``None`` where there is no direct turn.
    guards
        Conditions on direct turns.
    tools
        Names of the tools.
    tool_cost
        Cost of changing from the row's tool to the column's tool.
    start_posture
        Posture at the beginning.
    start_tool
        Tool in hand at the beginning.
    end_posture
        Posture in which the round trip must end.
    targets
        Actions that must have been removed at the turn-round.
    actions
        All actions.
    checks
        All checks of the way back.
    already_off
        Actions removed before the beginning; they too go back.
    """

    name: str
    unit: str
    postures: tuple[str, ...]
    posture_cost: tuple[tuple[int | None, ...], ...]
    guards: tuple[Guard, ...]
    tools: tuple[str, ...]
    tool_cost: tuple[tuple[int, ...], ...]
    start_posture: str
    start_tool: str
    end_posture: str
    targets: tuple[str, ...]
    actions: tuple[Act, ...]
    checks: tuple[Check, ...] = ()
    already_off: tuple[str, ...] = ()
