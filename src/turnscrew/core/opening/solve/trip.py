"""
What does a whole trip cost when it is settled what comes off?

The way back is searched first; what it costs to begin it in each place
is then the price of ending the way in there.
"""

from dataclasses import dataclass

from turnscrew.core.opening.solve.compact import FAR, Compact
from turnscrew.core.opening.solve.layout import way_back, way_in
from turnscrew.core.opening.solve.leg import Leg, Scope
from turnscrew.core.opening.solve.search import Arrival, Asked, LegSearch, beam, never

WIDTHS = (1, 6, 24)
"""Beam widths tried, as long as there is time. [1]"""

SHORT = 45
"""Items up to which a leg is proved so soon that one narrow beam is enough. [1]"""


@dataclass(frozen=True)
class Trip:
    """
    A trip for one settled set.

    Parameters
    ----------
    total
        Cost of the way in and the way back; ``FAR`` if none was found. [problem's unit]
    bound
        Cost no trip for this set undercuts. [problem's unit]
    inward
        The way in.
    back
        The way back, against the clock; ``None`` for a way in alone.
    legs
        The legs walked.
    """

    total: int
    bound: int
    inward: Arrival | None = None
    back: Arrival | None = None
    legs: tuple[Leg, ...] = ()


NO_TRIP = Trip(FAR, FAR)


def cheapest_trip(
    problem: Compact, off: int, most: int, is_time_up: Asked, *, one_way: bool
) -> Trip:
    """
    Find the cheapest trip on which exactly a given set comes off.

    Parameters
    ----------
    problem
        The problem in bits.
    off
        The actions removed.
    most
        Trips of this cost or more are of no interest.
    is_time_up
        Asked now and then.
    one_way
        True for the way in alone.

    Returns
    -------
    Trip
        The trip, or none with a bound of at least ``most``;
        its total exceeds its bound only if time was up.
    """
    inward = way_in(problem, Scope(off))
    if inward is None:
        return NO_TRIP
    if one_way:
        return _alone(LegSearch(inward, is_time_up), most, is_time_up)
    back = way_back(problem, Scope(off))
    if back is None:
        return NO_TRIP
    return _TripSearch(inward, back, most, is_time_up).run()


def _alone(search: LegSearch, most: int, is_time_up: Asked) -> Trip:
    early = _early(search, is_time_up, most)
    limit = min(most, early.total) if early else most
    arrival = search.next_arrival(limit, is_time_up) or early
    bound = min(search.bound, arrival.total) if arrival else search.bound
    if arrival is None or arrival.total >= most:
        return Trip(FAR, bound)
    if arrival is not early:
        bound = arrival.total
    return Trip(arrival.total, bound, arrival, None, (search.leg,))


def _early(search: LegSearch, is_time_up: Asked, most: int) -> Arrival | None:
    """Run ever wider beams: until there is an order, then as long as it seems worth."""
    best: Arrival | None = None
    is_short = len(search.leg.items) <= SHORT
    for width in WIDTHS:
        if search.bound >= most:
            break
        if best and (is_short or best.total <= search.bound):
            break
        found = beam(search, width, is_time_up if best else never)
        if found and (best is None or found.total < best.total):
            best = found
    return best


class _TripSearch:
    """The two searches of one trip and what joins them."""

    def __init__(self, inward: Leg, back: Leg, most: int, is_time_up: Asked) -> None:
        self.inward, self.back = inward, back
        self.most = most
        self.is_time_up = is_time_up
        self.best = NO_TRIP
        self.ahead = LegSearch(inward, is_time_up)
        self.least_in = self.ahead.bound
        self.behind = LegSearch(back, is_time_up)
        self.arrivals: list[Arrival] = []

    def run(self) -> Trip:
        """Search until the trip is settled, of no interest, or time is up."""
        least = self.least_in + self.behind.bound
        if least >= min(self.most, FAR):
            return Trip(FAR, least)
        early = _early(self.behind, self.is_time_up, self.most - self.least_in)
        if early:
            self.arrivals.append(early)
            self._keep(_early(self.ahead, self.is_time_up, self.most))
        self._go_on_behind(self.most - self.least_in)
        if not self.arrivals:
            return Trip(FAR, self.least_in + self.behind.bound)
        while not (self.is_time_up() and self.best.inward):
            search = LegSearch(self.inward, self.is_time_up, self._final())
            limit = min(self.most, self.best.total)
            arrival = search.next_arrival(limit, self.is_time_up)
            if arrival is None:
                return self._ended(min(search.bound, limit))
            self._keep(arrival)
            if self.best.total <= arrival.total or self.is_time_up():
                return self._ended(arrival.total)
            self._settle(arrival.place)
        found = min(arrival.cost for arrival in self.arrivals)
        return self._ended(self.least_in + min(self.behind.bound, found))

    def _go_on_behind(self, most: int) -> bool:
        """Fetch the next arrival of the way back; tell whether there was one."""
        arrival = self.behind.next_arrival(most, self.is_time_up)
        if arrival:
            self.arrivals.append(arrival)
        return arrival is not None

    def _settle(self, place: int) -> None:
        """Search the way back until it is known what a start from a place costs."""
        while self.behind.bound < (known := self._known(place)[0]):
            if not self._go_on_behind(known):
                return

    def _known(self, place: int) -> tuple[int, int]:
        """Give the cheapest known way back from a place: its cost and its number."""
        n_tools = self.inward.n_tools
        posture, tool = divmod(place, n_tools)
        ways = self.inward.ways(self.inward.full)[posture]
        changes = self.inward.changes[tool]
        return min(
            (ways[a.place // n_tools] + changes[a.place % n_tools] + a.cost, i)
            for i, a in enumerate(self.arrivals)
        )

    def _final(self) -> tuple[int, ...]:
        """Bound what the way back costs from each place."""
        unknown = self.behind.bound
        return tuple(
            min(unknown, self._known(place)[0])
            for place in range(len(self.inward.cheap_here))
        )

    def _keep(self, arrival: Arrival | None) -> None:
        """Join a way in to the best known way back and keep it if it is cheaper."""
        if arrival is None:
            return
        cost, number = self._known(arrival.place)
        total = arrival.cost + cost
        if total < min(self.best.total, self.most):
            legs = (self.inward, self.back)
            self.best = Trip(total, 0, arrival, self.arrivals[number], legs)

    def _ended(self, bound: int) -> Trip:
        best = self.best
        return Trip(
            best.total, min(bound, best.total), best.inward, best.back, best.legs
        )
