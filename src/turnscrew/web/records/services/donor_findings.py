"""What can a donor give no more once something else is found on it?"""

from datetime import datetime

from turnscrew.flows.batch.supply import is_spoiled
from turnscrew.web.records.models import DonorPart, Job, Person
from turnscrew.web.records.queries.batch_input import line_now
from turnscrew.web.records.queries.data_bearing import is_storage_failed
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.services import stock
from turnscrew.web.records.services.writing import writing

STORAGE = "storage"
"""What the part is called that is listed for its data when a donor is taken."""


@writing
def keep_to_findings(job: Job, *, by: Person, now: datetime) -> None:
    """
    Withdraw the pieces of a donor that what is found now spoils, or bring them back.

    Whoever was promised one waits for another. Storage that fails cannot be cleared.
    """
    if not job.batch.terms_text or not hasattr(job, "donor"):
        return
    terms, line = terms_of(job.batch), line_now(job)
    gone = []
    for piece in job.donor.parts.select_for_update(of=("self",)).select_related("part"):
        spoiled = is_spoiled(terms, line, piece.part.number)
        if spoiled and piece.state in {DonorPart.UNTESTED, DonorPart.GOOD}:
            piece.state = DonorPart.WITHDRAWN
            gone.append(piece)
        elif not spoiled and piece.state == DonorPart.WITHDRAWN:
            piece.state = DonorPart.UNTESTED
        else:
            continue
        piece.save()
    stock.want_anew(gone, by=by, now=now)
    if is_storage_failed(job):
        job.data_parts.filter(what=STORAGE, end="").update(is_readable=False)
