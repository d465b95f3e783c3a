"""How does the whole folder of a batch come into the records, or nothing of it?"""

from collections.abc import Mapping
from datetime import datetime

from turnscrew.core.model.batch_input import BatchInput
from turnscrew.files.yaml_text import decode
from turnscrew.web.records.models import Batch, Person
from turnscrew.web.records.services import booking, descriptions
from turnscrew.web.records.services.writing import writing


@writing
def receive_folder(
    contents: Mapping[str, bytes], handed_in: BatchInput, *, by: Person, now: datetime
) -> tuple[Batch, int]:
    """
    Keep a batch, and the descriptions beside it.

    Parameters
    ----------
    contents
        The files by name.
    handed_in
        What they say of the batch.
    by
        Who receives it.
    now
        When.

    Returns
    -------
    Batch
        The batch.
    int
        Descriptions that came with it.

    Raises
    ------
    BadFileError
        If a description or a fault table does not read well; nothing is kept then.
    RefusedError
        If the batch is booked already.
    """
    terms_text = decode(contents["terms.yaml"])
    booked = booking.load_folder(handed_in, terms_text, by=by, now=now)
    kept = descriptions.keep_of_folder(contents, handed_in.terms, by=by, now=now)
    return booked, len(kept)
