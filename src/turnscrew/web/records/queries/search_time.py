"""How long may a page search for the best before it takes what it has?"""

from collections.abc import Callable
from time import monotonic


def within(seconds: float) -> Callable[[], bool]:
    """Give what says whether so many seconds, from now on, are over."""
    end = monotonic() + seconds
    return lambda: monotonic() > end
