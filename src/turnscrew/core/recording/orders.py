"""
What was always undone before what?

Method: all smallest hitting sets. Let D(i) be the set of things undone before thing b
in opening i, over the openings in which b was undone. What b truly needs is an AND of
ORs, and every D(i) meets each OR, so each OR is a hitting set of the family of D(i)
and contains a smallest one. Keep every smallest hitting set of at most m things as a
rule, and every true OR of at most m alternatives is implied by a rule. Hence:

- as long as no true OR has more than m alternatives, no order is ever allowed that the
  device forbids;
- every recorded order is allowed;
- one more opening can only loosen the rules of a thing already seen.

With m = 1 this is the plain rule: what was always before stays a rule, what was seen
both ways is free.

Limits. An opening in which b was not undone tells nothing about b. If a was left on
while b was undone, a alone is not needed for b. A true OR of more than m alternatives
may be lost once its alternatives were seen one by one; ``share`` bounds what that
costs. The device is taken to be of one build: a second build needs a revision.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass

Clause = tuple[str, ...]
"""Things of which at least one must be off."""

Rules = Mapping[str, tuple[Clause, ...]]
"""For each thing an AND of ORs over things that come off before it."""

NO_RULES: Rules = {}

MOST_ALTERNATIVES = 2
"""Alternatives kept in one rule; more make a description hard to read. [1]"""


@dataclass(frozen=True)
class Opened:
    """
    The bare order of one opening.

    Parameters
    ----------
    order
        Things undone, in that order.
    gone
        Things that were off before it began.
    """

    order: tuple[str, ...]
    gone: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Unmet:
    """
    One place where an order breaks a rule.

    Parameters
    ----------
    thing
        What was undone too early.
    clause
        Things of which none was off yet.
    """

    thing: str
    clause: Clause


def rules_from(
    openings: Iterable[Opened], most_alternatives: int = MOST_ALTERNATIVES
) -> dict[str, tuple[Clause, ...]]:
    """
    Give the strongest rules that every recorded order obeys.

    Parameters
    ----------
    openings
        What was undone, and in which order.
    most_alternatives
        Largest number of alternatives in one rule. [1]

    Returns
    -------
    dict
        Rules by thing, in the order in which things were first undone; within one
        thing single ones first. No rule implies another rule of the same thing.
    """
    before = seen_before(openings)
    place = {thing: index for index, thing in enumerate(before)}
    found = {}
    for thing, seen in before.items():
        # What was gone on arrival and never undone anywhere is no thing of the model.
        sets = _smallest(off.intersection(before) for off in seen)
        clauses = (
            tuple(sorted(hitting, key=place.__getitem__))
            for hitting in _smallest_hitting_sets(sets, most_alternatives)
        )
        found[thing] = tuple(
            sorted(clauses, key=lambda c: (len(c), [place[thing] for thing in c]))
        )
    return found


def seen_before(openings: Iterable[Opened]) -> dict[str, tuple[frozenset[str], ...]]:
    """
    Collect what was off when each thing was undone.

    Parameters
    ----------
    openings
        What was undone, and in which order.

    Returns
    -------
    dict
        Sets by thing, sets that contain another one left out.
    """
    told = tuple(openings)
    known = dict.fromkeys(thing for opened in told for thing in opened.order)
    before: dict[str, list[frozenset[str]]] = {thing: [] for thing in known}
    for opened in told:
        off = set(opened.gone)
        for thing in opened.order:
            before[thing].append(frozenset(off))
            off.add(thing)
    return {thing: _smallest(sets) for thing, sets in before.items()}


def unmet_in(rules: Rules, opened: Opened) -> tuple[Unmet, ...]:
    """
    Find where an order breaks rules.

    Parameters
    ----------
    rules
        The rules; a thing without any is unknown to them and never passes.
    opened
        The order.

    Returns
    -------
    tuple
        The breaches; empty if the order is allowed.
    """
    off = set(opened.gone)
    found = []
    for thing in opened.order:
        if thing not in rules:
            found.append(Unmet(thing, ()))
        for clause in rules.get(thing, ()):
            if off.isdisjoint(clause):
                found.append(Unmet(thing, clause))
        off.add(thing)
    return tuple(found)


def unproven_in(opened: Opened, openings: Iterable[Opened]) -> tuple[str, ...]:
    """
    Name the things that an order undoes with less off than was ever seen.

    Where there are none, the order is proven: whatever the device may need, each thing
    was once undone with nothing more off than here.

    Parameters
    ----------
    opened
        The order.
    openings
        What was recorded.

    Returns
    -------
    tuple
        Things in the order in which they are undone.
    """
    return _unproven(opened, seen_before(openings))


def unproven_counts(
    orders: Sequence[Opened], openings: Iterable[Opened]
) -> tuple[int, ...]:
    """
    Count, for each of several orders, the things undone with less off than ever seen.

    Parameters
    ----------
    orders
        The orders.
    openings
        What was recorded.

    Returns
    -------
    tuple
        One count for each order. [1]
    """
    before = seen_before(openings)
    return tuple(len(_unproven(opened, before)) for opened in orders)


def _unproven(
    opened: Opened, before: Mapping[str, tuple[frozenset[str], ...]]
) -> tuple[str, ...]:
    off = set(opened.gone)
    found = []
    for thing in opened.order:
        if not any(seen <= off for seen in before.get(thing, ())):
            found.append(thing)
        off.add(thing)
    return tuple(found)


def seen_both_ways(openings: Iterable[Opened]) -> tuple[tuple[str, str], ...]:
    """
    Name the pairs undone in one order here and in the other there.

    Parameters
    ----------
    openings
        What was undone, and in which order.

    Returns
    -------
    tuple
        Pairs, in the order in which things were first undone.
    """
    told = tuple(openings)
    known = tuple(dict.fromkeys(thing for opened in told for thing in opened.order))
    pairs = {
        (first, then)
        for opened in told
        for place, first in enumerate(opened.order)
        for then in opened.order[place + 1 :]
    }
    return tuple(
        (one, other)
        for place, one in enumerate(known)
        for other in known[place + 1 :]
        if (one, other) in pairs and (other, one) in pairs
    )


def reduced(rules: Rules, given: Rules = NO_RULES) -> dict[str, tuple[Clause, ...]]:
    """
    Leave out every rule that follows from the others, so that the rest is readable.

    A rule of b follows if b cannot be reached while all its alternatives stay on, even
    without the rule. Each is left out only while that holds of what is still kept, so
    exactly the same orders stay allowed.

    Parameters
    ----------
    rules
        The rules.
    given
        Rules that hold anyhow and are not told again.

    Returns
    -------
    dict
        The rules kept, in their order.
    """
    return _Kept(rules, given).reduced()


class _Kept:
    """The rules still kept, as bits: a thing is a bit, a rule the bits that meet it."""

    def __init__(self, rules: Rules, given: Rules) -> None:
        names = dict.fromkeys([*rules, *given])
        bit = {name: 1 << place for place, name in enumerate(names)}
        # What has no entry can never be undone, so it meets nothing.
        self.bit = bit
        self.rules = rules
        self.clauses = {
            bit[name]: [
                sum(bit.get(thing, 0) for thing in dict.fromkeys(clause))
                for clause in (*rules.get(name, ()), *given.get(name, ()))
            ]
            for name in names
        }

    def reduced(self) -> dict[str, tuple[Clause, ...]]:
        places = {
            name: list(range(len(clauses))) for name, clauses in self.rules.items()
        }
        # The first test is quick and finds most, the second finds all that is left.
        for follows in (self._follows_at_once, self._follows):
            for name, kept in places.items():
                own = self.clauses[self.bit[name]]
                for place in reversed(range(len(kept))):
                    clause = own.pop(place)
                    if follows(self.bit[name], clause):
                        kept.pop(place)
                    else:
                        own.insert(place, clause)
        return {
            name: tuple(self.rules[name][place] for place in kept)
            for name, kept in places.items()
        }

    def _follows_at_once(self, thing: int, left_out: int) -> bool:
        """Say whether each way to meet one other rule of the thing meets this one."""
        return any(
            all(
                bit & left_out or self._waits_for_any(bit, left_out)
                for bit in _bits_in(clause)
            )
            for clause in self.clauses[thing]
        )

    def _waits_for_any(self, thing: int, bits: int) -> bool:
        return any(not clause & ~bits for clause in self.clauses[thing])

    def _follows(self, thing: int, left_out: int) -> bool:
        return not self._reaches(thing, left_out)

    def _reaches(self, wanted: int, avoided: int) -> bool:
        """Undo all that can be undone without what is avoided."""
        off, waiting = 0, [b for b in self.clauses if b == wanted or not b & avoided]
        while True:
            still = []
            for thing in waiting:
                if all(off & clause for clause in self.clauses[thing]):
                    off |= thing
                else:
                    still.append(thing)
            if off & wanted:
                return True
            if len(still) == len(waiting):
                return False
            waiting = still


def _bits_in(clause: int) -> Iterator[int]:
    while clause:
        bit = clause & -clause
        yield bit
        clause ^= bit


def _smallest(sets: Iterable[frozenset[str]]) -> tuple[frozenset[str], ...]:
    """Leave out every set that contains another one."""
    kept: list[frozenset[str]] = []
    for seen in sorted(set(sets), key=lambda seen: (len(seen), sorted(seen))):
        if not any(smaller <= seen for smaller in kept):
            kept.append(seen)
    return tuple(kept)


def _smallest_hitting_sets(sets: Sequence[Set[str]], most: int) -> set[frozenset[str]]:
    """Give all hitting sets of at most so many things from which nothing can go."""
    return {
        hitting
        for hitting in set(_hitting_sets(sets, most, frozenset()))
        if all(any(hitting & seen == {thing} for seen in sets) for thing in hitting)
    }


def _hitting_sets(
    sets: Sequence[Set[str]], most: int, chosen: frozenset[str]
) -> Iterator[frozenset[str]]:
    missed = next((seen for seen in sets if not chosen & seen), None)
    if missed is None:
        yield chosen
    elif len(chosen) < most:
        for thing in missed:
            yield from _hitting_sets(sets, most, chosen | {thing})
