"""What does the core make of a batch on record?"""

import random
from collections.abc import Callable
from datetime import datetime
from functools import lru_cache
from hashlib import sha256
from threading import Lock
from typing import Any

from django.conf import settings

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.device import Device
from turnscrew.files.device_file import read_device
from turnscrew.flows.batch.openings import minutes_by_description
from turnscrew.flows.batch.whole import (
    USUAL_EFFORT,
    USUAL_SEED,
    Effort,
    batch_reckoned,
    usual_plays,
)
from turnscrew.web.records.models import Batch
from turnscrew.web.records.queries.batch_input import batch_input, what_stands
from turnscrew.web.records.queries.descriptions import device_in, newest

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
    asked = what_if or what_stands(batch, now, past_time=past_time)
    key = sha256(f"{handed_in!r}\n{asked!r}\n{is_planned}".encode()).hexdigest()
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


def _reckoned(handed_in: BatchInput, asked: WhatIf, *, is_planned: bool) -> BatchAnswer:
    source = random.Random(USUAL_SEED)
    n_plays = usual_plays(len(handed_in.lines))
    effort = Effort(
        USUAL_EFFORT if is_planned else 0,
        n_plays if is_planned else 0,
        lambda: source.gauss(0.0, 1.0),
    )
    minutes = minutes_by_description(handed_in, _device_of(handed_in), lambda: False)
    return batch_reckoned(handed_in, asked, minutes, effort)


def _device_of(handed_in: BatchInput) -> Callable[[str, str], Device | None]:
    """Look descriptions up among those on record, then in the folder of the records."""
    folder = settings.HOME / "descriptions"

    @lru_cache(maxsize=64)
    def device_of(model: str, revision: str) -> Device | None:
        kept = newest(model)
        if kept is not None:
            return device_in(kept, revision)
        name: Any = handed_in.terms.models[model].device
        path = folder / name if name else None
        if path is None or path.parent != folder or not path.is_file():
            return None
        return read_device(path.read_text("utf-8"), revision=revision or None)

    return device_of
