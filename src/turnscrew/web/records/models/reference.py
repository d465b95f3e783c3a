"""What names a record outside its own table?"""

import secrets

from django.db import models

from turnscrew.web.records.models.kept import Kept


def new_ref() -> str:
    """Give a random reference that tells nothing about what it names."""
    return secrets.token_hex(8)


class Referenced(Kept):
    """A record with a random reference, used in addresses and journals."""

    ref = models.CharField(max_length=16, unique=True, default=new_ref, editable=False)

    class Meta:
        abstract = True
