"""Which parts did a finding once ask for that what is found now asks for no more?"""

from collections.abc import Mapping

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.model.terms import Terms
from turnscrew.core.price.quote import parts_needed
from turnscrew.web.records import convert
from turnscrew.web.records.models import Job, Part
from turnscrew.web.records.queries.batch_input import line_now
from turnscrew.web.records.queries.terms_text import terms_of


def needed_no_more(
    job: Job, line: BatchLine, terms: Terms, parts: Mapping[str, SparePart]
) -> frozenset[str]:
    """
    Name those parts of one device.

    What somebody asked for of their own accord was asked for by no finding, and stays.
    """
    asked = _asked_once(job, terms)
    return asked - set(parts_needed(line, terms, parts)) if asked else asked


def needed_no_more_now(job: Job) -> frozenset[str]:
    """Name the same, of a device as it stands; none where terms or parts lack."""
    if not job.batch.terms_text:
        return frozenset()
    terms = terms_of(job.batch)
    asked = _asked_once(job, terms)
    kept = Part.objects.filter(number__in=asked)
    parts = {part.number: convert.spare_part(part, 1, 0, None) for part in kept}
    if not asked <= parts.keys():
        return frozenset()
    return needed_no_more(job, line_now(job), terms, parts)


def _asked_once(job: Job, terms: Terms) -> frozenset[str]:
    """Name the parts that all faults ever told of a device asked for."""
    codes = {finding.code for finding in job.findings.all()}
    faults = [terms.faults[code] for code in codes & terms.faults.keys()]
    return frozenset(part for fault in faults for part in fault.parts)
