"""What is taken out beside the path, when can it be got at, and when is it put back?"""

from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field

from turnscrew.core.model.blocking import Waits
from turnscrew.core.model.device import BeforeOpening, Device
from turnscrew.core.model.lying_open import is_reachable
from turnscrew.core.opening.around import take_out_sentence
from turnscrew.core.opening.cautions import cautions_for


@dataclass(frozen=True)
class Beside:
    """
    One line beside the path.

    Parameters
    ----------
    what
        What is taken out, or put back.
    says
        The working line.
    cautions
        Dangers at it, each a sentence.
    """

    what: str
    says: str
    cautions: tuple[str, ...] = ()


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
    """

    device: Device
    waits: Waits
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
    ) -> Iterator[Beside]:
        """
        Give what can be taken out now; it counts as out then.

        Parameters
        ----------
        off
            Parts and joints that are off.
        aside
            Parts that are aside.

        Yields
        ------
        Beside
            The line that takes it out.
        """
        for thing in [one for one in self.inside if self._is_free(one, off, aside)]:
            self.inside.remove(thing)
            # A part that the path lifts by itself needs no line of its own.
            if thing.what in off:
                continue
            self.out.append(thing)
            says = take_out_sentence(self.device, thing)
            yield Beside(thing.what, says, self._cautions(thing))

    def go_back_before(
        self, name: str, off: AbstractSet[str], aside: AbstractSet[str]
    ) -> Iterator[Beside]:
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
        Beside
            The line that puts it back.
        """
        for thing in [one for one in self.out if one.what in self.device.parts]:
            joint = self.device.joints.get(name)
            holds = joint is not None and thing.what in joint.holds
            if holds or not self._is_free(thing, off, aside):
                self.out.remove(thing)
                says = f"Put back {thing.what}."
                yield Beside(thing.what, says, self._cautions(thing))

    def _cautions(self, thing: BeforeOpening) -> tuple[str, ...]:
        part = self.device.parts.get(thing.what)
        return cautions_for(self.device, part) if part else ()

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
