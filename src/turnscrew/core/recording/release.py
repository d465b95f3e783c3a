"""
How far is a description proven, and what falls back when it is changed?

A draft is tried by another once somebody who did not record it rebuilt a device from
it with nothing left over and nothing in a wrong place; a lead releases it after that;
what turns out wrong is withdrawn.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from turnscrew.core.model.device import Device
from turnscrew.core.model.doing import Doing
from turnscrew.core.model.proof import Origin, Release
from turnscrew.core.model.quantities import Checked, Count
from turnscrew.core.recording.facts import Done
from turnscrew.errors import BadArgumentError

DRAFT = Release()


@dataclass(frozen=True)
class BlindRebuild(Checked):
    """
    One device opened and put back by the description alone.

    Parameters
    ----------
    by
        Random reference of whoever did it.
    on
        When.
    recorded_by
        Random references of all who recorded openings.
    n_left_over
        Pieces left over at the end. [1]
    n_wrong_place
        Pieces that went to a wrong place. [1]
    n_questions
        Questions asked on the way; they hinder nothing, but are told. [1]
    n_stops
        Times it did not go on as said and a new path was wanted; told alike. [1]
    """

    by: str
    on: date
    recorded_by: frozenset[str]
    n_left_over: Count = 0
    n_wrong_place: Count = 0
    n_questions: Count = 0
    n_stops: Count = 0

    @property
    def is_blind(self) -> bool:
        """Say whether somebody else than a recorder did it."""
        return bool(self.by) and self.by not in self.recorded_by

    @property
    def is_clean(self) -> bool:
        """Say whether every piece went back to its place."""
        return self.n_left_over == 0 and self.n_wrong_place == 0


def release_after(rebuild: BlindRebuild, now: Release = DRAFT) -> Release:
    """
    Give the state of release after a blind rebuild.

    Parameters
    ----------
    rebuild
        The rebuild.
    now
        State of release before it.

    Returns
    -------
    Release
        Tried by another after a clean rebuild by somebody else. After one that went
        wrong it is a draft again. What a recorder rebuilt proves nothing good, and
        what is withdrawn stays so.
    """
    if now.state == "withdrawn":
        return now
    if not rebuild.is_clean:
        return Release("draft", rebuild.by, rebuild.on)
    if not rebuild.is_blind or now.state == "released":
        return now
    return Release("tried by another", rebuild.by, rebuild.on, rebuild.by)


def tried(device: Device, rebuild: BlindRebuild) -> Device:
    """
    Give a description the state it has after a blind rebuild.

    Parameters
    ----------
    device
        The description.
    rebuild
        The rebuild.

    Returns
    -------
    Device
        The description in its new state.

    Raises
    ------
    BadArgumentError
        If it would leave the state of draft while a joint holds nothing.
    """
    release = release_after(rebuild, device.release or DRAFT)
    if release.state != "draft":
        _refuse_loose_ends(device)
    return replace(device, release=release)


def released(device: Device, by_lead: str, on: date) -> Device:
    """
    Release a description.

    Parameters
    ----------
    device
        The description.
    by_lead
        Random reference of the lead who releases it.
    on
        When.

    Returns
    -------
    Device
        The description, released as a whole, its things too.

    Raises
    ------
    BadArgumentError
        If it was not tried by another, or a joint still holds nothing.
    """
    now = device.release or DRAFT
    if now.state != "tried by another":
        raise BadArgumentError(f"release: found {now.state}, wanted tried by another")
    _refuse_loose_ends(device)
    return replace(
        device,
        release=Release("released", by_lead, on, now.tried_by),
        parts=_without_own_release(device.parts),
        joints=_without_own_release(device.joints),
        moves=_without_own_release(device.moves),
    )


def withdrawn(device: Device, by: str, on: date) -> Device:
    """
    Withdraw a description, whatever its state.

    Parameters
    ----------
    device
        The description.
    by
        Random reference of whoever withdraws it.
    on
        When.

    Returns
    -------
    Device
        The description, withdrawn.
    """
    tried_by = (device.release or DRAFT).tried_by
    return replace(device, release=Release("withdrawn", by, on, tried_by))


def changed_things(before: Device, after: Device) -> frozenset[str]:
    """
    Name the parts and joints whose facts differ.

    Where a fact comes from and how far it is released is no fact of the thing itself.

    Parameters
    ----------
    before
        The description before an edit.
    after
        The description after it.

    Returns
    -------
    frozenset
        Names of parts and joints changed, added or taken out; a part also if the way
        it is moved aside has changed.
    """
    pairs: tuple[tuple[Mapping[str, Doing], Mapping[str, Doing]], ...] = (
        (before.parts, after.parts),
        (before.joints, after.joints),
        (before.moves, after.moves),
    )
    return frozenset(
        name
        for old, new in pairs
        for name in {*old, *new}
        if _facts(old.get(name)) != _facts(new.get(name))
    )


def as_told(before: Device, after: Device, by: str, on: date) -> Device:
    """
    Note of everything edited that somebody wrote it, so that recordings leave it alone.

    Parameters
    ----------
    before
        The description before an edit.
    after
        The description after it.
    by
        Random reference of the editor.
    on
        When.

    Returns
    -------
    Device
        The edited description with the origin of what was changed.
    """
    changed = changed_things(before, after)
    origin = Origin("told", by, on=on)
    return replace(
        after,
        parts=_with_origin(after.parts, changed, origin),
        joints=_with_origin(after.joints, changed, origin),
        moves=_with_origin(after.moves, changed, origin),
    )


def _facts(doing: Doing | None) -> Doing | None:
    return replace(doing, origin=None, release=None) if doing else None


def _with_origin(
    things: Mapping[str, Done], changed: frozenset[str], origin: Origin
) -> dict[str, Done]:
    return {
        name: replace(thing, origin=origin) if name in changed else thing
        for name, thing in things.items()
    }


def _without_own_release(things: Mapping[str, Done]) -> dict[str, Done]:
    return {name: replace(thing, release=None) for name, thing in things.items()}


def _refuse_loose_ends(device: Device) -> None:
    loose = [name for name, joint in device.joints.items() if not joint.holds]
    if loose:
        raise BadArgumentError(f"nobody has said what {', '.join(loose)} holds")
