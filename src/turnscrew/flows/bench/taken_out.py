"""What is taken out beside the path, when can it be got at, and when is it put back?"""

from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field

from turnscrew.core.bench.looks import is_reachable
from turnscrew.core.model.blocking import Waits
from turnscrew.core.model.device import BeforeOpening, Device


@dataclass
class TakenOut:
    """
    Keeps what is in its place, what is out, and what went back.

    A thing that is a part behind others comes out when it lies free, not before.

    Parameters
    ----------
    device
        The device.
    waits
        What waits for what.
    told
        Sentence for each thing that is taken out first, in the order of the device.
    """

    device: Device
    waits: Waits
    told: tuple[str, ...]
    inside: list[BeforeOpening] = field(default_factory=list)
    out: list[BeforeOpening] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.inside += self.device.before_opening

    def are_out(self, names: AbstractSet[str]) -> None:
        """
        Count things as out that were taken out on an earlier path.

        Parameters
        ----------
        names
            Their names; what is none of these things is passed over.
        """
        for thing in [one for one in self.inside if one.what in names]:
            self.inside.remove(thing)
            self.out.append(thing)

    def come_free(
        self, off: AbstractSet[str], aside: AbstractSet[str]
    ) -> Iterator[tuple[BeforeOpening, str]]:
        """
        Give what can be taken out now, with its sentence; it counts as out then.

        Parameters
        ----------
        off
            Parts and joints that are off.
        aside
            Parts that are aside.

        Yields
        ------
        tuple[BeforeOpening, str]
            The thing, and its sentence.
        """
        for thing in [one for one in self.inside if self._is_free(one, off, aside)]:
            self.inside.remove(thing)
            # A part that the path lifts by itself needs no line of its own.
            if thing.what in off:
                continue
            self.out.append(thing)
            yield thing, self.told[self.device.before_opening.index(thing)]

    def go_back_before(
        self, name: str, off: AbstractSet[str], aside: AbstractSet[str]
    ) -> Iterator[BeforeOpening]:
        """
        Give what has to be back before something is refitted; it counts as back then.

        Parameters
        ----------
        name
            The joint or part that is refitted.
        off
            What is still off after that.
        aside
            What is still aside after that.

        Yields
        ------
        BeforeOpening
            The thing.
        """
        for thing in [one for one in self.out if one.what in self.device.parts]:
            joint = self.device.joints.get(name)
            holds = joint is not None and thing.what in joint.holds
            if holds or not self._is_free(thing, off, aside):
                self.out.remove(thing)
                yield thing

    def _is_free(
        self, thing: BeforeOpening, off: AbstractSet[str], aside: AbstractSet[str]
    ) -> bool:
        name = thing.what
        if name not in self.device.parts or name in off:
            return True
        held = any(
            name in joint.holds and joint_name not in off
            for joint_name, joint in self.device.joints.items()
        )
        return not held and is_reachable(self.waits, name, set(off), set(aside))
