"""How does an entry come into a journal?"""

import secrets
from collections.abc import Mapping
from datetime import datetime

from turnscrew.core.ledger import entry as ledger
from turnscrew.core.ledger.verbs import VERBS
from turnscrew.web.records.models import Entry, EntryWords, Head, Person
from turnscrew.web.records.services.writing import writing
from turnscrew.web.records.times import time_text


@writing
def append(
    journal: ledger.JournalName,
    verb: str,
    subject: str,
    *,
    by: Person,
    now: datetime,
    facts: Mapping[str, ledger.Fact] | None = None,
    words: str = "",
    corrects: int = 0,
) -> Entry:
    """Add an entry behind the last one, sealed with its digest."""
    if verb not in VERBS[journal]:
        raise ValueError(f"the {journal} journal knows no verb {verb}")
    head = Head.objects.select_for_update().get(journal=journal)
    salt = secrets.token_hex(16) if words else ""
    sealed = ledger.Entry(
        journal=journal,
        sequence=head.sequence + 1,
        at=time_text(now),
        author=by.ref,
        verb=verb,
        subject=subject,
        facts=dict(facts or {}),
        words_digest=ledger.words_digest(salt, words) if words else "",
        corrects=corrects,
        previous=head.digest,
    )
    row = Entry.objects.create(
        journal=journal,
        sequence=sealed.sequence,
        at=now,
        # A clock set back does not change the order; the time is marked instead.
        is_clock_doubtful=head.at is not None and now < head.at,
        author=sealed.author,
        verb=verb,
        subject=subject,
        facts=ledger.facts_text(sealed.facts),
        words_digest=sealed.words_digest,
        corrects=corrects,
        previous=sealed.previous,
        digest=sealed.digest,
    )
    if words:
        EntryWords.objects.create(entry=row, salt=salt, text=words)
    head.sequence, head.digest, head.at = sealed.sequence, sealed.digest, now
    head.save()
    return row
