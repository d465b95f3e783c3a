"""What on the way into a device needs the customer's written yes, and on which?"""

from dataclasses import dataclass

from turnscrew.core.model.device import Device
from turnscrew.core.model.holding import Cover
from turnscrew.core.model.job_state import ENDED
from turnscrew.web.records.models import Batch, Description, WrittenYes
from turnscrew.web.records.queries.descriptions import device_in, newest_by_model


@dataclass(frozen=True)
class AskedFirst:
    """A cover that is crossed only with a yes, and the devices that bear it."""

    model: str
    cover: str
    says: str
    lines: tuple[int, ...]
    given: tuple[WrittenYes, ...] = ()

    @property
    def lacking(self) -> tuple[int, ...]:
        """Give the devices for which nobody has agreed yet."""
        has_one = {one.job.line for one in self.given}
        return tuple(line for line in self.lines if line not in has_one)


def asked_first(batch: Batch) -> list[AskedFirst]:
    """Give what is to be asked beside the price, for the devices still here."""
    bearing: dict[tuple[str, str], list[int]] = {}
    jobs = batch.jobs.exclude(state__in=ENDED).order_by("line")
    for model, revision, line in jobs.values_list("model", "revision", "line"):
        bearing.setdefault((model, revision), []).append(line)
    lines: dict[tuple[str, str, str], list[int]] = {}
    known = newest_by_model({model for model, _ in bearing})
    for (model, revision), found in bearing.items():
        for cover, says in _covers(known.get(model), revision).items():
            lines.setdefault((model, cover, says), []).extend(found)
    given = WrittenYes.objects.filter(
        job__batch=batch, withdrawn_at=None
    ).select_related("job")
    return [
        AskedFirst(
            *key,
            tuple(sorted(found)),
            tuple(
                one for one in given if one.cover == key[1] and one.job.line in found
            ),
        )
        for key, found in lines.items()
    ]


def covers_asked_first(device: Device) -> dict[str, str]:
    """Give the covers that are crossed only with a yes, with what is said of each."""
    return {
        name: joint.how.crossing_says or "ask the customer in writing first"
        for name, joint in device.joints.items()
        if isinstance(joint.how, Cover) and joint.how.crossing == "ask first"
    }


def _covers(description: Description | None, revision: str) -> dict[str, str]:
    if description is None:
        return {}
    return covers_asked_first(device_in(description, revision))
