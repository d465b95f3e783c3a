"""Which facts are still lacking, and which of them matters most?"""

from collections.abc import Iterator
from dataclasses import dataclass

from turnscrew.core.model.connection import Plug, Socket
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Screw, doubts
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.part import Part

_MINOR_PER_WEIGHT = 100
"""A stated risk of one whole unit of money weighs as much as one point. [1]"""


@dataclass(frozen=True)
class Debt:
    """
    One fact that is lacking or doubtful.

    Parameters
    ----------
    where
        The fact, as a path.
    lacks
        What is lacking, in words.
    weight
        How much it matters: house weight of the kind of fact, plus the stated risk of
        the joint in whole units of money. [1]
    """

    where: str
    lacks: str
    weight: float


def debts(device: Device) -> tuple[Debt, ...]:
    """
    List the facts still lacking, the most harmful first.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    tuple
        Debts by falling weight, then in the order of the description.
    """
    found = [
        *(
            debt
            for name, joint in device.joints.items()
            for debt in _of_joint(name, joint)
        ),
        *(debt for name, part in device.parts.items() for debt in _of_part(name, part)),
        *_of_layers(device),
        *_of_device(device),
    ]
    return tuple(sorted(found, key=lambda debt: -debt.weight))


def _of_joint(name: str, joint: Joint) -> Iterator[Debt]:
    risk = (
        joint.risk.p * joint.risk.loss_minor / _MINOR_PER_WEIGHT if joint.risk else 0.0
    )
    for lacks, weight in _joint_lacks(joint):
        yield Debt(f"joints.{name}", lacks, weight + risk)


def _joint_lacks(joint: Joint) -> Iterator[tuple[str, float]]:
    if not joint.holds:
        yield "what it holds", 5.0
    if joint.how is None:
        yield "what kind of joint it is", 4.0
    else:
        yield from _reuse_lacks(joint)
    if joint.n is not None and joint.at and joint.n != joint.n_places:
        yield f"{joint.n_places} of {joint.n} places", 2.0
    if isinstance(joint.how, Screw):
        yield from _screw_lacks(joint.how)
        if not joint.at:
            yield "places", 1.0
    if not _says_seated(joint):
        yield "what a mated one looks like", 2.0


def _reuse_lacks(joint: Joint) -> Iterator[tuple[str, float]]:
    if joint.survives is None and joint.survival.kind == "unknown":
        yield "whether it can be made again", 3.0
    if joint.survival.is_destroyed and joint.renew is None:
        yield "what takes its place at refit", 3.0


def _says_seated(joint: Joint) -> bool:
    """Say whether a mated connection is described; what is none needs no word."""
    match joint.how:
        case Socket(seated=seated):
            return bool(seated or joint.refit.seat)
        case Plug(clicks=clicks, key=key):
            return bool(clicks or key or joint.refit.seat)
    return True


def _screw_lacks(screw: Screw) -> Iterator[tuple[str, float]]:
    if screw.length_mm is None:
        # A screw too long is what breaks boards, displays and packs.
        yield "length under the head", 4.0
    if screw.drive is None:
        yield "drive", 2.0
    if screw.thread is None:
        yield "thread", 2.0
    for doubt in doubts(screw):
        yield f"a second measurement: {doubt}", 0.5


def _of_part(name: str, part: Part) -> Iterator[Debt]:
    if part.orientation is not None and not part.orientation.if_wrong:
        yield Debt(f"parts.{name}.orientation", "what a wrong one looks like", 1.0)
    if part.kind in ("trim", "seal", "window") and part.orientation is None:
        yield Debt(f"parts.{name}", "whether it fits in more than one way", 1.5)
    if part.kind == "battery" and (part.pack is None or not part.pack.if_swollen):
        yield Debt(f"parts.{name}.pack", "what to do when it has swollen", 5.0)


def _of_layers(device: Device) -> Iterator[Debt]:
    """List the layers that no photo shows, each by the part that covers it."""
    shown = [photo.layer.casefold() for photo in device.photos]
    for name, part in device.parts.items():
        if part.covers and not any(name.casefold() in layer for layer in shown):
            yield Debt(f"parts.{name}", "a photo of the layer it covers", 1.0)


def _of_device(device: Device) -> Iterator[Debt]:
    if not device.views:
        yield Debt("views", "faces with their true size", 1.0)
    if not device.tests:
        yield Debt("tests", "what to test after refit", 2.0)
    if device.release is None or device.release.state == "draft":
        if not (device.release and device.release.tried_by):
            yield Debt("release", "a rebuild by somebody who did not record it", 1.0)
    for name, revision in device.revisions.items():
        if not revision.tell:
            yield Debt(f"revisions.{name}", "how it is recognised", 2.0)
