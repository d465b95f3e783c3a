"""How is it written down that a restore brought back a part, or was tried?"""

from collections.abc import Mapping
from datetime import datetime

from turnscrew.core.ledger.entry import JournalName
from turnscrew.core.ledger.gaps import RESTORED_IN_PART, gaps_text
from turnscrew.web.records.models import Entry, Person
from turnscrew.web.records.queries.audit import unequal_sums
from turnscrew.web.records.queries.trial_restore import TRIED
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.writing import writing


@writing
def tell_in_part(
    lost: Mapping[JournalName, frozenset[int]], made_at: str, words: str, *,
    by: Person, now: datetime,
) -> None:  # fmt: skip
    """Write in each journal which entries it lacks, and what no longer adds up."""
    for journal, numbers in lost.items():
        if numbers:
            append(
                journal, RESTORED_IN_PART, by.ref, by=by, now=now,
                facts={"lacking": gaps_text(numbers)},
            )  # fmt: skip
    unproven = [one.where for one in unequal_sums()]
    append(
        "custody", RESTORED_IN_PART, by.ref, by=by, now=now,
        facts={"made": made_at, "unproven": "; ".join(unproven)},
        words=words or "nothing lacks",
    )  # fmt: skip


@writing
def tell_tried(
    file: str, *, is_whole: bool, words: str, by: Person, now: datetime
) -> Entry:
    """Write that a restore was tried, and what came of it."""
    return append(
        "bench", TRIED, by.ref, by=by, now=now,
        facts={"whole": is_whole}, words=f"{file}: {words}",
    )  # fmt: skip
