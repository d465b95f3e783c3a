"""How are devices told that fail of one cause again and again?"""

from dataclasses import dataclass

from turnscrew.core.model.amounts import counted, small_chance


@dataclass(frozen=True)
class Repeats:
    """
    More failures of the same devices than chance makes where all are alike.

    Parameters
    ----------
    model
        The model.
    cause
        The fault.
    n
        Failures. [1]
    n_devices
        Of how many devices they are. [1]
    chance
        How likely the same devices would be met so often, were all alike; every fault
        looked at is counted. [1]
    """

    model: str
    cause: str
    n: int
    n_devices: int
    chance: float

    @property
    def says(self) -> str:
        """Give it in plain sentences."""
        return self.worded("")

    def worded(self, name: str) -> str:
        """
        Give it in plain sentences that call the fault by its name.

        Parameters
        ----------
        name
            What the fault is called; empty for its code alone.

        Returns
        -------
        str
            The sentences.
        """
        called = f"{self.cause} {name}".rstrip()
        on = f" on {self.model}" if self.model else ""
        return (
            f"{called}{on}: the {self.n} failures are of "
            f"{counted(self.n_devices, 'device')}; were all devices alike, the same "
            f"ones would be met so often by a chance of {small_chance(self.chance)}. "
            "Look at those that failed more than once: what was done to them, and "
            "whose they are."
        )
