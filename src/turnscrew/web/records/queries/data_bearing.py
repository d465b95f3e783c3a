"""Does a part hold data, so that the old one must be listed when it is exchanged?"""

from turnscrew.core.model.spare_part import is_storage_by_name
from turnscrew.web.records.models import Finding, Job, Part
from turnscrew.web.records.queries.descriptions import device_in, newest
from turnscrew.web.records.queries.terms_text import terms_of


def holds_data(part: Part, job: Job) -> bool:
    """
    Say whether a part holds data.

    The description of the model tells; words alone where it names no such part.
    """
    description = newest(job.model)
    if description is not None:
        parts = device_in(description, job.revision).parts.values()
        spares = {one.spare: one.data_bearing for one in parts if one.spare}
        if part.number in spares:
            return spares[part.number]
    return is_storage_by_name(part.description)


def exchanged_for(part: Part) -> str:
    """Name what comes out of a device when a part that holds data goes in."""
    return f"storage exchanged for {part.number}"[:120]


def is_failed(part: Part, job: Job) -> bool:
    """Say whether a fault on record is why the part was exchanged."""
    return part.number in _parts_failed(job)


def is_storage_failed(job: Job) -> bool:
    """Say whether a fault on record lies in what holds the data of a device."""
    parts = Part.objects.filter(number__in=_parts_failed(job))
    return any(holds_data(part, job) for part in parts)


def _parts_failed(job: Job) -> set[str]:
    """Name the parts that faults on record exchange."""
    if not job.batch.terms_text:
        return set()
    faults = terms_of(job.batch).faults
    rows = job.findings.filter(withdrawn_at=None).exclude(stage=Finding.REPORTED)
    codes = rows.values_list("code", flat=True)
    return {part for code in codes if code in faults for part in faults[code].parts}
