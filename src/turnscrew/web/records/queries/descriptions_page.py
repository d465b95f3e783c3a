"""What is known of every model, what is lacking, and how far is it proven?"""

from dataclasses import dataclass, field
from itertools import chain
from typing import Any

from django.db.models import Count
from django.http import Http404

from turnscrew.core.recording.described import described
from turnscrew.core.recording.doubts import DebtInUse, Doubt, debts_by_use, doubtful
from turnscrew.core.recording.release import changed_things
from turnscrew.errors import TurnscrewError
from turnscrew.web.records.models import BenchRun, Description, Person
from turnscrew.web.records.queries.bench_recordings import openings_by_revision
from turnscrew.web.records.queries.descriptions import (
    UNWRITTEN,
    device_in,
    revisions_of,
    unwritten_in,
)
from turnscrew.web.records.queries.rebuilds import RebuildRow, rebuilds_of

MOST_DOUBTS = 10
"""Questions for the next device shown at once. [1]"""

MOST_DEBTS = 40
"""Lacking facts shown at once; the rest are counted. [1]"""


@dataclass(frozen=True)
class ModelRow:
    """The description of a model that is worked from now."""

    description: Description
    n_openings: int
    unwritten: tuple[str, ...] = ()


@dataclass(frozen=True)
class ModelRecord:
    """All that is known of the description of a model."""

    model: str
    shown: Description
    versions: list[Description]
    n_openings: int
    debts: tuple[DebtInUse, ...]
    n_more_debts: int
    doubts: tuple[Doubt, ...]
    contradictions: tuple[str, ...]
    free: tuple[tuple[str, str], ...]
    loose: tuple[str, ...]
    unwritten: tuple[str, ...] = ()
    rebuilds: list[RebuildRow] = field(default_factory=list)
    wrong: str = ""

    @property
    def is_tried(self) -> bool:
        """Say whether a lead's word is all that a release still wants."""
        return self.shown.state == Description.TRIED

    @property
    def standing(self) -> list[Description]:
        """Give the versions that were not withdrawn, the newest first."""
        return [one for one in self.versions if one.state != Description.WITHDRAWN]


def models_known() -> list[ModelRow]:
    """Give for every model the version worked from, or the last one withdrawn."""
    recorded = BenchRun.objects.filter(kind=BenchRun.RECORDING)
    counted = recorded.values_list("job__model").annotate(n=Count("pk"))
    n_openings = dict(counted)
    shown: dict[str, Description] = {}
    for one in _rows().defer("text", "faults_text").order_by("model", "-number"):
        before = shown.setdefault(one.model, one)
        is_better = before.state == Description.WITHDRAWN != one.state
        shown[one.model] = one if is_better else before
    keys = [one.pk for one in shown.values()]
    some = Description.objects.filter(pk__in=keys, text__contains=f"{UNWRITTEN} ")
    unwritten = {one.pk: unwritten_in(one) for one in some}
    return [
        ModelRow(one, n_openings.get(model, 0), unwritten.get(one.pk, ()))
        for model, one in shown.items()
    ]


def parts_without_number(shown: Description) -> list[str]:
    """Name the parts that come off and bear no number of a spare part."""
    parts = device_in(shown, "").parts
    return [name for name, one in parts.items() if not one.fixed and not one.spare]


def model_record(model: str) -> ModelRecord:
    """Give what is known of one model, and what the next device of it must show."""
    # PostgreSQL keeps no such character, and refuses to look for it.
    versions = [] if "\0" in model else list(_rows().filter(model=model))
    versions.sort(key=lambda one: -one.number)
    if not versions:
        raise Http404
    standing = [one for one in versions if one.state != Description.WITHDRAWN]
    shown = (standing or versions)[0]
    device = device_in(shown, "")
    by_revision = openings_by_revision(shown)
    openings = tuple(chain.from_iterable(by_revision.values()))
    lacking = debts_by_use(device, openings)
    learned, wrong = [], ""
    try:
        # What differs from one revision to another is no contradiction.
        learned = [
            described(model, of_one, device_in(shown, revision))
            for revision, of_one in by_revision.items()
        ]
    except TurnscrewError as error:
        wrong = str(error)
    return ModelRecord(
        model=model,
        shown=shown,
        versions=versions,
        n_openings=len(openings),
        debts=lacking[:MOST_DEBTS],
        n_more_debts=max(0, len(lacking) - MOST_DEBTS),
        doubts=doubtful(device, openings)[:MOST_DOUBTS],
        contradictions=tuple(
            dict.fromkeys(chain.from_iterable(one.contradictions for one in learned))
        ),
        free=tuple(dict.fromkeys(chain.from_iterable(one.free for one in learned))),
        loose=loose_ends(shown),
        unwritten=unwritten_in(shown),
        rebuilds=rebuilds_of(model),
        wrong=wrong,
    )


def _rows() -> Any:
    return Description.objects.select_related(
        "by", "may_try", "tried_by", "released_by"
    )


def version_named(ref: str) -> Description:
    """Give one version by its reference."""
    row = None if "\0" in ref else Description.objects.filter(ref=ref).first()
    if row is None:
        raise Http404
    return row


def tryers(but: Person) -> list[tuple[str, str]]:
    """Give who may be let try a description: whoever works at a bench."""
    rows = Person.objects.filter(has_left=False).exclude(rights=Person.DESK)
    return [(one.ref, one.name) for one in rows.exclude(pk=but.pk).order_by("order")]


def loose_ends(description: Description) -> tuple[str, ...]:
    """Name the joints of which nobody has said what they hold."""
    joints = device_in(description, "").joints
    return tuple(name for name, joint in joints.items() if not joint.holds)


def changed_between(before: Description, after: Description) -> list[str]:
    """Name the parts and joints that two versions tell differently, in any revision."""
    revisions = dict.fromkeys([*revisions_of(before), *revisions_of(after)]) or [""]
    changed: set[str] = set()
    for one in revisions:
        changed |= changed_things(device_in(before, one), device_in(after, one))
    return sorted(changed)
