"""How does the folder of a batch come into the records from the command line?"""

from datetime import datetime
from pathlib import Path

from django.db import transaction

from turnscrew.core.model.batch_input import BatchInput
from turnscrew.web.keeping.owner import OWNER, first_owner, person_by_key
from turnscrew.web.records.models import Batch
from turnscrew.web.records.services import folders
from turnscrew.web.records.services.refusal import RefusedError

_KEPT_AS_TEXT = ("terms.yaml", ".device.yaml", ".faults.yaml")


@transaction.atomic
def receive(folder: Path, batch: BatchInput, now: datetime) -> folders.Received:
    """
    Keep a batch with all that is in its folder.

    Parameters
    ----------
    folder
        The folder.
    batch
        What its files say.
    now
        When.

    Returns
    -------
    folders.Received
        What came in, and what it says otherwise than the records, which stay.

    Raises
    ------
    RefusedError
        If it was received before, or the records have no room for it.
    """
    terms = batch.terms
    same = Batch.objects.filter(
        name=terms.batch, received=terms.received, customer__name=terms.customer.name
    )
    if same.exists():
        raise RefusedError(
            f"batch: found {terms.batch} received before, wanted a new one"
        )
    by = first_owner(now) or person_by_key(OWNER)
    contents = {
        path.name: path.read_bytes()
        for path in sorted(folder.iterdir())
        if path.name.endswith(_KEPT_AS_TEXT)
    }
    return folders.receive_folder(contents, batch, by=by, now=now)
