"""What does the core make of a batch on record?"""

import random
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from functools import lru_cache
from hashlib import sha256
from threading import Lock
from typing import Any

from django.conf import settings

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.device import Device
from turnscrew.core.model.quote import OpeningUses
from turnscrew.core.opening.answer import OpeningAnswer
from turnscrew.errors import TurnscrewError
from turnscrew.files.terms_file import parts_lacking
from turnscrew.flows.batch.harvest import with_never_harvested
from turnscrew.flows.batch.openings import (
    DeviceOf,
    PathOf,
    minutes_by_description,
    reach_of,
    uses_by_description,
    uses_by_terms,
)
from turnscrew.flows.batch.whole import (
    USUAL_EFFORT,
    USUAL_SEED,
    Effort,
    batch_reckoned,
    usual_plays,
)
from turnscrew.flows.opening import opening_path
from turnscrew.web.records.models import Batch, Description
from turnscrew.web.records.queries.batch_input import batch_input, what_stands
from turnscrew.web.records.queries.descriptions import device_in_text, newest
from turnscrew.web.records.queries.own_times import whole_job_minutes
from turnscrew.web.records.queries.search_time import within


class LackingError(TurnscrewError):
    """Records that a batch cannot be reckoned without are not there."""


_OPENING_S = 5.0
"""Time for one opening; then the best found so far is taken. [s]"""

_KEPT = 16
"""Answers kept at hand; each is a few megabytes at most."""

_kept: dict[str, BatchAnswer] = {}
_lock = Lock()


def reckoned(
    batch: Batch,
    now: datetime,
    *,
    what_if: WhatIf | None = None,
    past_time: bool = False,
    is_planned: bool = False,
) -> BatchAnswer:
    """
    Reckon a batch as it stands, or as it stood.

    With ``is_planned`` the best plan is sought too and the promise played, which takes
    a second; the same question on the same records is answered at once again.
    """
    handed_in = batch_input(batch, now, past_time=past_time)
    # A batch without devices wants no part yet, so it may come before the parts list.
    if handed_in.lines:
        require_parts(batch, handed_in)
    if is_planned:
        handed_in = replace(handed_in, own_min=whole_job_minutes(now))
    asked = what_if or what_stands(batch, now, past_time=past_time)
    told = (handed_in, asked, is_planned, _described(handed_in))
    key = sha256(repr(told).encode()).hexdigest()
    with _lock:
        if key in _kept:
            # The last one asked for is the last one forgotten.
            _kept[key] = _kept.pop(key)
            return _kept[key]
    answer = _reckoned(handed_in, asked, is_planned=is_planned)
    with _lock:
        _kept[key] = answer
        while len(_kept) > _KEPT:
            del _kept[next(iter(_kept))]
    return answer


def require_parts(batch: Batch, handed_in: BatchInput) -> None:
    """Refuse to reckon with parts that are not on record."""
    if lacking := parts_lacking(handed_in.terms, handed_in.parts):
        raise LackingError(
            f"parts of {batch.name}: found no {', '.join(lacking)} on record, wanted"
            " them with their prices; the page Stock takes a parts list, and so does"
            " booking a folder with one"
        )


def _reckoned(handed_in: BatchInput, asked: WhatIf, *, is_planned: bool) -> BatchAnswer:
    source = random.Random(USUAL_SEED)
    n_plays = usual_plays(len(handed_in.lines))
    effort = Effort(
        USUAL_EFFORT if is_planned else 0,
        n_plays if is_planned else 0,
        lambda: source.gauss(0.0, 1.0),
    )
    device_of, path_of = _descriptions(handed_in)
    handed_in = with_never_harvested(handed_in, device_of)
    return batch_reckoned(
        handed_in,
        asked,
        minutes_by_description(handed_in, device_of, path_of),
        effort,
        uses_by_description(handed_in, device_of, path_of),
    )


def _described(handed_in: BatchInput) -> tuple[int, ...]:
    """Name the versions of descriptions that a batch may be reckoned by."""
    models = {line.model for line in handed_in.lines}
    rows = Description.objects.filter(model__in=models).order_by("pk")
    return tuple(rows.exclude(state=Description.WITHDRAWN).values_list("pk", flat=True))


def opening_minutes_in(handed_in: BatchInput) -> Callable[[BatchLine], int | None]:
    """Give what reckons an opening by the description of the model."""
    return minutes_by_description(handed_in, *_descriptions(handed_in))


def _descriptions(handed_in: BatchInput) -> tuple[DeviceOf, PathOf]:
    text_of = _text_of(handed_in)

    def device_of(model: str, revision: str) -> Device | None:
        text = text_of(model)
        return device_in_text(text, revision) if text else None

    def path_of(line: BatchLine, reach: tuple[str, ...]) -> OpeningAnswer:
        return _path(text_of(line.model), line.revision, reach)

    return device_of, path_of


@lru_cache(maxsize=512)
def _path(text: str, revision: str, reach: tuple[str, ...]) -> OpeningAnswer:
    """Compute an opening once for each text of a description."""
    return opening_path(device_in_text(text, revision), reach, within(_OPENING_S))


def _text_of(handed_in: BatchInput) -> Callable[[str], str]:
    """Look descriptions up among those on record, then in the folder of the records."""
    folder = settings.HOME / "descriptions"

    @lru_cache(maxsize=64)
    def text_of(model: str) -> str:
        kept = newest(model)
        if kept is not None:
            return str(kept.text)
        name: Any = handed_in.terms.models[model].device
        path = folder / name if name else None
        if path is None or path.parent != folder or not path.is_file():
            return ""
        return str(path.read_text("utf-8"))

    return text_of


def used_up_at_the_bench(
    handed_in: BatchInput, line: BatchLine, device: Device
) -> OpeningUses:
    """Say what opening one device uses up, by the description worked from."""
    if not reach_of(handed_in, line, device):
        return uses_by_terms(handed_in, line)
    uses = uses_by_description(
        handed_in,
        lambda _model, _revision: device,
        lambda _line, reach: opening_path(device, reach, within(_OPENING_S)),
    )
    return uses(line)
