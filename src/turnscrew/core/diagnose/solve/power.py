"""
May the device be powered in a state of the search?

With some faults, such as liquid inside, it may not, until a repair was tried that may
mend them. While the faults of that kind that nobody has attended to are likely, neither
the power test is made nor a test that powers.
"""

from collections.abc import Sequence

from turnscrew.core.diagnose.compile import Compact

_EDGE = 1e-9
"""What lies this close to the limit counts as on it, however it was summed. [1]"""


class PowerBar:
    """
    What keeps power off.

    Parameters
    ----------
    whole
        The problem.
    """

    def __init__(self, whole: Compact) -> None:
        self.whole = whole
        self._is_idle = not any(whole.no_power)
        self._kept_off: dict[int, list[int]] = {}

    def unattended(self, tried: int) -> list[int]:
        """
        List the hypotheses with a fault without power that nobody has attended to.

        Parameters
        ----------
        tried
            Mask of the repairs tried.

        Returns
        -------
        list[int]
            The hypotheses, by index.
        """
        if self._is_idle:
            return []
        found = self._kept_off.get(tried)
        if found is None:
            attended = 0
            for r, repair in enumerate(self.whole.repairs):
                if tried >> r & 1:
                    attended |= repair.attends
            found = self._kept_off[tried] = [
                h for h, mask in enumerate(self.whole.no_power) if mask & ~attended
            ]
        return found

    def allows(self, weights: Sequence[float], ok: float, tried: int) -> bool:
        """
        Tell whether the device may be powered.

        Parameters
        ----------
        weights
            Weight of each hypothesis. [1]
        ok
            Weight of the device working. [1]
        tried
            Mask of the repairs tried.

        Returns
        -------
        bool
            True if it may.
        """
        if self._is_idle:
            return True
        kept_off = sum(weights[h] for h in self.unattended(tried))
        return self.is_below(kept_off, sum(weights) + ok)

    def is_below(self, kept_off: float, mass: float) -> bool:
        """
        Tell whether so much of a weight is too little to keep power off.

        Parameters
        ----------
        kept_off
            Weight of what nobody has attended to. [1]
        mass
            Weight of all. [1]

        Returns
        -------
        bool
            True if the device may be powered.
        """
        return self._is_idle or kept_off < (self.whole.power_limit - _EDGE) * mass
