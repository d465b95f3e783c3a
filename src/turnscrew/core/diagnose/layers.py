"""
Which layers of access do the wanted openings share?

Method: each wanted opening takes some things off. What two openings take off in common
is a layer of its own, under both; so the family of things taken off is closed under
intersection, and a layer needs the largest layers inside it.
"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Layer:
    """
    Something open, with what lies open under it.

    Parameters
    ----------
    name
        Name: what is wanted there, or for a shared layer the last thing taken off.
    off
        Everything off or undone then.
    needs
        Layers that lie open before it, by name.
    """

    name: str
    off: frozenset[str]
    needs: tuple[str, ...]


def layers_of(openings: Mapping[str, tuple[str, ...]]) -> tuple[Layer, ...]:
    """
    Find the layers that some openings share.

    Parameters
    ----------
    openings
        For each opening by name what it takes off, in order; openings that take
        nothing off are no layers.

    Returns
    -------
    tuple
        The layers, each after what it needs.
    """
    wanted = {name: frozenset(things) for name, things in openings.items() if things}
    order = [thing for things in openings.values() for thing in things]
    sets = dict.fromkeys(wanted.values())
    grown = True
    while grown:
        both = {one & two for one in sets for two in sets} - {frozenset()} - set(sets)
        grown = bool(both)
        sets |= dict.fromkeys(both)
    by_size = sorted(sets, key=lambda s: (len(s), sorted(s)))
    names: dict[frozenset[str], str] = {}
    for off in by_size:
        known = next((name for name, things in wanted.items() if things == off), "")
        last = max(off, key=lambda thing: (order.index(thing), thing))
        name, n = known or last, 1
        while name in names.values():
            n += 1
            name = f"{known or last} ({n})"
        names[off] = name
    layers: list[Layer] = []
    for off in by_size:
        inside = [s for s in by_size if s < off]
        largest = [s for s in inside if not any(s < t for t in inside)]
        layers.append(Layer(names[off], off, tuple(names[s] for s in largest)))
    return tuple(layers)
