"""What goes in and out? Values of the core where one fits, and only texts that last."""

from datetime import date
from typing import Annotated

from ninja import Path, Schema
from pydantic import AfterValidator, Field, StringConstraints

from turnscrew.core.ledger.chain import Break
from turnscrew.core.ledger.entry import Entry
from turnscrew.core.ledger.gaps import RESTORED_IN_PART
from turnscrew.core.ledger.verbs import VERBS
from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.calendar import FIRST_DAY, LAST_DAY
from turnscrew.core.model.job_state import MainState, SideState, Standing
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.model.quote import Charge, Decision
from turnscrew.core.model.spare_part import SparePart

# Databases choke on NUL, paper on the other control characters.
_PLAIN = r"^[^\x00-\x08\x0b\x0c\x0e-\x1f\x7f]*$"
_WHOLE_LIMIT = 2**31 - 1

# Strict, as a text of digits or a claim is no number.
Whole = Annotated[int, Field(strict=True, ge=-_WHOLE_LIMIT, le=_WHOLE_LIMIT)]
Count = Annotated[int, Field(ge=0, le=_WHOLE_LIMIT)]
Name = Annotated[str, StringConstraints(max_length=60, pattern=_PLAIN)]
Words = Annotated[str, StringConstraints(max_length=2000, pattern=_PLAIN)]
Reason = Annotated[str, StringConstraints(max_length=300, pattern=_PLAIN)]
Fact = bool | Whole | Annotated[str, StringConstraints(max_length=200, pattern=_PLAIN)]
FactName = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z_]{0,39}$")]

Facts = Annotated[
    dict[FactName, Fact | None],
    Field(max_length=20, json_schema_extra={"additionalProperties": False}),
]
Place = Annotated[str, StringConstraints(min_length=1, max_length=60, pattern=_PLAIN)]

_WITH_ROWS = {
    "found fault", "undone", "time explained", "agreed in writing", "photo",
    "safety check", "signed off", "incident", "incident closed", "pack", "adapter",
    "trial", "lock", "finished", "arrival", "looked into", "restore tried", "rebuilt",
    RESTORED_IN_PART,
}  # fmt: skip
ACTIONS = sorted(VERBS["bench"] - _WITH_ROWS)
"""What may be written of a job alone; the others stand beside a row of their own."""


def _known_action(verb: str) -> str:
    if verb not in ACTIONS:
        raise ValueError(f"one of {', '.join(ACTIONS)}")
    return verb


Action = Annotated[
    str, AfterValidator(_known_action), Field(json_schema_extra={"enum": ACTIONS})
]

Ref = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{16}$")]
InPath = Path[Ref]
PartNumber = Path[
    Annotated[str, StringConstraints(min_length=1, max_length=40, pattern=_PLAIN)]
]
Page = Annotated[int, Field(ge=1, le=_WHOLE_LIMIT)]
Wanted = Annotated[str, StringConstraints(max_length=60, pattern=_PLAIN)]
After = Count
Limit = Annotated[int, Field(ge=1, le=1000)]


class Caller(Schema):
    """Whose token it is, and for what."""

    person: str
    name: str
    rights: str
    token: str
    scopes: list[str]


class BatchShort(Schema):
    """A batch in a list."""

    ref: str
    name: str
    received: date
    customer: str
    n_devices: int
    closed_on: date | None


class BatchFull(BatchShort):
    """A batch, and how its devices stand."""

    order_number: str
    n_by_state: dict[str, int]


class BatchPage(Schema):
    """Some batches, the newest first."""

    page: int
    n_pages: int
    batches: list[BatchShort]


class JobFull(Schema):
    """A job: the device as it was received and found, and how it stands."""

    ref: str
    number: str
    batch: str
    item: str
    line: BatchLine
    standing: Standing
    next_states: list[str]
    closed_on: date | None


class Decided(Schema):
    """What is to be done with a device and what it costs, reckoned now."""

    job: str
    number: str
    decision: Decision
    charges: list[Charge]
    parts: list[str]
    holds: list[str]


class Reckoning(Schema):
    """The figures of a batch, reckoned now. Minor units before tax; minutes."""

    devices: list[Decided]
    minutes: dict[str, int]
    orders_minor: int
    invoice_minor: int
    tax_minor: int


class ItemShort(Schema):
    """A body."""

    ref: str
    model: str
    revision: str
    serial: str
    customer: str
    asset_numbers: list[str]


class ItemFull(ItemShort):
    """A body with its jobs, the newest first, and its past."""

    jobs: list[JobFull]
    past: list[PastJob]


class PartFull(Schema):
    """A part, and what of it is on the shelf."""

    ref: str
    part: SparePart
    on_hand: int
    promised: int
    free: int
    short: int
    counted_on: date | None


class PartPage(Schema):
    """Some parts by their number."""

    page: int
    n_pages: int
    parts: list[PartFull]


class Allotted(Schema):
    """A piece meant for a job, and what that leaves of the part."""

    state: str
    job: str
    part: PartFull


class Counted(Schema):
    """What a count found, more or less than the books said."""

    more: int
    part: PartFull


class SealedEntry(Schema):
    """An entry with the digest that seals it."""

    entry: Entry
    digest: str


class JournalPage(Schema):
    """Entries of a journal in their order, and the last one as remembered apart."""

    journal: str
    entries: list[SealedEntry]
    last_sequence: int
    last_digest: str


class Audited(Schema):
    """What an audit found; no breaks: everything is there and adds up."""

    n_entries: dict[str, int]
    n_words_erased: int
    breaks: list[Break]


class Written(Schema):
    """The journal entry that was written."""

    journal: str
    sequence: int
    digest: str


class MoveIn(Schema):
    """Into which state, to which place and holder; the caller's person if none."""

    state: MainState | SideState
    place: Annotated[
        str, StringConstraints(min_length=1, max_length=60, pattern=_PLAIN)
    ]
    holder: Ref | None = None
    until: Annotated[date, Field(ge=FIRST_DAY, le=LAST_DAY)] | None = None
    reason: Reason = ""


class FindingIn(Schema):
    """What was seen or confirmed, by its code, in words or both."""

    stage: Annotated[str, StringConstraints(pattern="^(reported|seen|confirmed)$")]
    code: Annotated[str, StringConstraints(max_length=40, pattern=_PLAIN)] = ""
    words: Words = ""
    result: Name = ""


class ActionIn(Schema):
    """What hands did. What goes to the tray and back needs ``kind`` and ``n``."""

    verb: Action
    facts: Facts = {}
    words: Words = ""


class JobOf(Schema):
    """For which job."""

    job: Ref


class CountIn(Schema):
    """How many pieces lie on the shelf."""

    n: Annotated[int, Field(strict=True, ge=0, le=1_000_000)]
    words: Words = ""
