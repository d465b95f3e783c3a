"""
Which thing does each recorded name stand for, and what may more openings change?

A name of the description means there what it means there; else its first recording
says whether it is a joint or a part.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from turnscrew.core.model.blocking import Removal, removal_named
from turnscrew.core.model.device import Device
from turnscrew.core.recording.orders import Opened
from turnscrew.core.recording.recorded import (
    Recorded,
    RecordedOpening,
    is_as_recorded,
)

Sighting = tuple[RecordedOpening, Recorded]
"""One removal with the opening it was recorded in."""


@dataclass(frozen=True)
class Story:
    """
    Recorded openings with every name settled.

    Parameters
    ----------
    openings
        The openings.
    orders
        The bare order of each opening; a removal is called as in ``str(Removal)``.
    removals
        What each name in the orders removes, in the order of the first recording.
    sightings
        Where each of them was recorded.
    misfits
        Recordings that cannot be what the name stands for, in words.
    """

    openings: tuple[RecordedOpening, ...]
    orders: tuple[Opened, ...]
    removals: Mapping[str, Removal]
    sightings: Mapping[str, tuple[Sighting, ...]]
    misfits: tuple[str, ...]

    def of(self, name: str) -> tuple[Sighting, ...]:
        """
        Give all recordings of a joint, or of a part off or aside.

        Parameters
        ----------
        name
            The joint or part.

        Returns
        -------
        tuple
            Its recordings, opening by opening.
        """
        found = [
            sighting
            for key, removal in self.removals.items()
            if removal.name == name
            for sighting in self.sightings[key]
        ]
        place = {id(opening): index for index, opening in enumerate(self.openings)}
        return tuple(sorted(found, key=lambda s: place[id(s[0])]))


def story_of(openings: Sequence[RecordedOpening], stated: Device | None) -> Story:
    """
    Settle what the names in recorded openings stand for.

    Parameters
    ----------
    openings
        The openings.
    stated
        An existing description, if there is one.

    Returns
    -------
    Story
        The openings with every name settled.
    """
    meant = _meant(openings, stated)
    removals: dict[str, Removal] = {}
    sightings: dict[str, list[Sighting]] = {}
    orders = []
    misfits = []
    for opening in openings:
        order: dict[str, None] = {}
        for recorded in opening.removals:
            kind, said_by = meant[recorded.name]
            if _noun(recorded) != kind:
                misfits.append(
                    f"{recorded.name}: {said_by} says {kind}, "
                    f"{opening} says {_noun(recorded)}"
                )
            if kind == "fixed part":
                continue
            removal = _removal(recorded, kind)
            removals.setdefault(str(removal), removal)
            if str(removal) not in order:
                order[str(removal)] = None
                sightings.setdefault(str(removal), []).append((opening, recorded))
        orders.append(Opened(tuple(order), _gone(opening, order)))
    return Story(
        tuple(openings),
        tuple(orders),
        removals,
        {name: tuple(seen) for name, seen in sightings.items()},
        tuple(misfits),
    )


def learnable(removals: Iterable[Removal], stated: Device | None) -> frozenset[str]:
    """
    Name the removals that rest on recordings alone.

    Parameters
    ----------
    removals
        Removals.
    stated
        An existing description, if there is one.

    Returns
    -------
    frozenset
        Names of those that are new, or stand in the description only as recorded; a
        part moved aside counts as a part besides.
    """
    both = [
        one
        for removal in removals
        for one in (removal, Removal("part", removal.name))
        if removal.kind == "aside" or one == removal
    ]
    return frozenset(str(one) for one in both if _is_learnable(one, stated))


def _is_learnable(removal: Removal, stated: Device | None) -> bool:
    if stated is None:
        return True
    if removal.kind == "joint":
        joint = stated.joints.get(removal.name)
        return joint is None or is_as_recorded(joint)
    if removal.kind == "part":
        part = stated.parts.get(removal.name)
        return part is None or is_as_recorded(part)
    move = stated.moves.get(removal.name)
    return move is None or is_as_recorded(move)


def _meant(
    openings: Iterable[RecordedOpening], stated: Device | None
) -> dict[str, tuple[str, str]]:
    """Say for each name what it stands for, and who said so."""
    meant: dict[str, tuple[str, str]] = {}
    for opening in openings:
        for recorded in opening.removals:
            if recorded.name in meant:
                continue
            known = removal_named(stated, recorded.name) if stated else None
            if stated is None or known is None:
                meant[recorded.name] = (_noun(recorded), str(opening))
            elif known.kind == "part" and stated.parts[known.name].fixed:
                meant[recorded.name] = ("fixed part", "the description")
            else:
                meant[recorded.name] = (known.kind, "the description")
    return meant


def _noun(recorded: Recorded) -> Literal["joint", "part"]:
    return "joint" if recorded.removal == "joint" else "part"


def _removal(recorded: Recorded, kind: str) -> Removal:
    if kind == "joint":
        return Removal("joint", recorded.name)
    is_aside = recorded.removal == "aside"
    return Removal("aside" if is_aside else "part", recorded.name)


def _gone(opening: RecordedOpening, order: Mapping[str, None]) -> frozenset[str]:
    return frozenset(
        name for name, n in opening.missing.items() if n and name not in order
    )
