"""
How is a sheet that is sent twice written once, by whichever server it comes?

What keeps them apart stands beside the records, where every server sees it.
"""

from datetime import datetime, timedelta

from django.db import IntegrityError, transaction
from django.db.models import Q

from turnscrew.web.records.models import SentSheet
from turnscrew.web.records.trouble import told_plainly

KEPT = timedelta(hours=1)
"""So long it is known that a sheet was written; a choice, no source."""

_LONGEST = timedelta(minutes=5)
"""A server that takes longer has stopped amid it: the sheet may be sent again."""


@told_plainly()
def taken_up(digest: str, now: datetime) -> bool:
    """Take a sheet up for writing; false if it was, or is being, written already."""
    old = Q(at__lt=now - KEPT) | Q(at__lt=now - _LONGEST, is_written=False)
    SentSheet.objects.filter(old).delete()
    try:
        with transaction.atomic():
            SentSheet.objects.create(digest=digest, at=now)
    except IntegrityError:
        return False
    return True


def is_written(digest: str) -> bool:
    """Say whether a sheet was written; false while it is being written."""
    return SentSheet.objects.filter(digest=digest, is_written=True).exists()


@told_plainly()
def written(digest: str) -> None:
    """Note that a sheet is written."""
    SentSheet.objects.filter(digest=digest).update(is_written=True)


@told_plainly()
def let_go(digest: str) -> None:
    """Let a sheet be sent again: it was refused, or broke off."""
    SentSheet.objects.filter(digest=digest).delete()
