"""How does the whole folder of a batch come into the records, or nothing of it?"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from turnscrew.core.model.batch_input import BatchInput
from turnscrew.files.yaml_text import decode
from turnscrew.web.records.models import Batch, Person
from turnscrew.web.records.queries.said_otherwise import said_otherwise
from turnscrew.web.records.services import booking, descriptions
from turnscrew.web.records.services.writing import writing


@dataclass(frozen=True)
class Received:
    """A batch that came in, and what of its folder is to be known."""

    batch: Batch
    n_descriptions: int
    otherwise: tuple[str, ...] = ()


@writing
def receive_folder(
    contents: Mapping[str, bytes], handed_in: BatchInput, *, by: Person, now: datetime
) -> Received:
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
    Received
        The batch, how many descriptions of models not on record came with it, and
        what its folder says otherwise than the records, which stay.

    Raises
    ------
    BadFileError
        If a description or a fault table does not read well; nothing is kept then.
    RefusedError
        If the batch is booked already.
    """
    terms_text = decode(contents["terms.yaml"])
    booked = booking.load_folder(handed_in, terms_text, by=by, now=now)
    kept, otherwise = descriptions.keep_of_folder(
        contents, handed_in.terms, by=by, now=now
    )
    return Received(booked, len(kept), (*said_otherwise(handed_in), *otherwise))
