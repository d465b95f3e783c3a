"""What a bench asks and tells, in JSON."""

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime, time, timedelta
from functools import wraps
from typing import Annotated, Any

from django.db import IntegrityError
from django.http import Http404, HttpRequest, JsonResponse
from django.middleware.csrf import get_token
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe
from pydantic import AwareDatetime, BaseModel, Field, ValidationError

from turnscrew.core.model.calendar import FIRST_DAY, LAST_DAY
from turnscrew.errors import TurnscrewError
from turnscrew.web.bench import shell
from turnscrew.web.records.queries import bench_page, bench_runs
from turnscrew.web.records.queries import find as finding
from turnscrew.web.records.queries.bench_diagnosis import diagnosis_of
from turnscrew.web.records.queries.bench_goal import dangers_of
from turnscrew.web.records.queries.bench_unready import not_begun
from turnscrew.web.records.queries.packs import pack_caution
from turnscrew.web.records.queries.rights import allow
from turnscrew.web.records.queries.search_time import within
from turnscrew.web.records.services import (
    bench,
    bench_accounts,
    bench_places,
    bench_recording,
    stop_and_ask,
)
from turnscrew.web.records.services.bench_findings import note_test
from turnscrew.web.records.services.refusal import RefusedError

SEARCH_S = 2.0
"""Time a path is sought while somebody waits; what is found by then is used. [s]"""

_MOST_STROKES = 200

_View = Callable[..., JsonResponse]


_NO_NUL = r"^[^\x00]*$"
"""PostgreSQL keeps no such character."""

_Word = Annotated[str, Field(max_length=300, pattern=_NO_NUL)]
_At = Annotated[
    AwareDatetime,
    Field(
        ge=datetime.combine(FIRST_DAY, time.min, UTC),
        le=datetime.combine(LAST_DAY, time.max, UTC),
    ),
]
"""A time by the clock of a bench, which may be wrong by years."""
_Whole = Annotated[int, Field(ge=-1_000_000, le=1_000_000)]


class StrokeIn(BaseModel):
    """One stroke as it is sent."""

    key: str = Field(min_length=8, max_length=64, pattern=_NO_NUL)
    run: str = Field(pattern=r"^[0-9a-f]{16}$")
    act: str = Field(pattern=r"^(done|answer|differs|skip|undo|record)$")
    line: int = Field(ge=0, le=100_000)
    at: _At
    facts: dict[_Word, _Word | _Whole | bool | None] = Field(
        default_factory=dict, max_length=20
    )
    after: str = Field(default="", max_length=64, pattern=_NO_NUL)
    who: str = Field(default="", max_length=16, pattern=_NO_NUL)


class StrokesIn(BaseModel):
    """Strokes in the order in which they were made; each is read by itself."""

    bench: str = Field(default="", max_length=40, pattern=_NO_NUL)
    sent_at: _At | None = None
    strokes: list[Any] = Field(max_length=_MOST_STROKES)


def for_bench(view: _View) -> _View:
    """Let those in who work at benches, and tell what speaks against it in JSON."""

    @wraps(view)
    def answered(request: HttpRequest, *args: Any, **kwargs: Any) -> JsonResponse:
        allow(getattr(request, "person", None), "bench")
        try:
            return view(request, *args, **kwargs)
        except RefusedError as error:
            return JsonResponse({"reasons": list(error.reasons)}, status=409)
        except TurnscrewError as error:
            return JsonResponse({"reasons": [str(error)]}, status=409)
        except (ValidationError, ValueError) as error:
            return JsonResponse({"reasons": [_plain(error)]}, status=422)

    return answered


def _plain(error: Exception) -> str:
    if isinstance(error, ValidationError):
        first = error.errors(include_url=False)[0]
        where = ".".join(str(step) for step in first["loc"])
        return f"{where}: found {first.get('input')!r:.60}, wanted {first['msg']}"
    return "body: found something else, wanted JSON"


def _person(request: HttpRequest) -> Any:
    return request.person  # type: ignore[attr-defined]


def _body(request: HttpRequest) -> Mapping[str, Any]:
    try:
        told = json.loads(request.body or b"{}")
    except RecursionError as error:
        raise ValueError from error
    if not isinstance(told, dict):
        raise ValueError
    return told


def _word(told: Mapping[str, Any], name: str, most: int = 300) -> str:
    value = told.get(name, "")
    return value[:most].replace("\0", "") if isinstance(value, str) else ""


def _words(told: Mapping[str, Any], name: str) -> tuple[str, ...]:
    values = told.get(name, [])
    if not isinstance(values, list):
        raise ValueError
    return tuple(value[:200] for value in values[:20] if isinstance(value, str))


@require_safe
@for_bench
def state(request: HttpRequest) -> JsonResponse:
    """Give all devices on benches, as far as they are told."""
    name = request.GET.get("bench", "")[:40].replace("\0", "")
    told = bench_page.bench_state(name, _person(request), timezone.localtime())
    more = {"token": get_token(request), "version": shell.version()}
    return JsonResponse({**told, **more})


@require_safe
@for_bench
def run(request: HttpRequest, ref: str) -> JsonResponse:
    """Give the lines of a run; they never change."""
    return JsonResponse(bench_page.run_whole(_run(ref)))


@require_safe
@for_bench
def find(request: HttpRequest) -> JsonResponse:
    """Give the device that a scan means."""
    code = request.GET.get("code", "")[:60].replace("\0", "")
    job = bench_page.found_at_bench(code)
    if job is None:
        return JsonResponse(
            {"reasons": [f"device: found no {code}, wanted one that is here"]},
            status=404,
        )
    now = timezone.localtime()
    told = bench_page.job_state(job, job.holder, now)
    told["not_begun"] = not_begun(job, _person(request), now)
    caution = pack_caution(job, now) or " ".join(dangers_of(job))
    return JsonResponse({**told, "caution": caution})


@require_POST
@for_bench
def tell(request: HttpRequest) -> JsonResponse:
    """Write strokes, each once; say of each what became of it."""
    sent = StrokesIn.model_validate(_body(request))
    by, now = _person(request), timezone.localtime()
    if any(_text(one, "who") not in ("", by.ref) for one in sent.strokes):
        # The bench keeps it and asks anew who is signed in.
        raise RefusedError("told by: found somebody else, wanted who is signed in")
    became: list[dict[str, str]] = []
    refused: set[str] = set()
    # Both are of one clock, so what it goes wrong by drops out.
    slow = now - sent.sent_at if sent.sent_at else timedelta()
    message = _Message(sent.bench, slow, by, now)
    for one in sent.strokes:
        became.append(_told(one, message, refused))
        if became[-1]["standing"] == "refused":
            refused.add(_text(one, "run"))
    return JsonResponse({"became": became})


def _text(sent: Any, name: str) -> str:
    value = sent.get(name) if isinstance(sent, dict) else None
    return value if isinstance(value, str) else ""


@dataclass(frozen=True)
class _Message:
    """Whence strokes come, and how much slower the clock there is."""

    bench: str
    slow: timedelta
    by: Any
    now: datetime


def _told(sent: Any, message: _Message, refused: set[str]) -> dict[str, str]:
    if _text(sent, "run") in refused:
        return _refused(sent, "what came before it of this device was refused")
    try:
        one = StrokeIn.model_validate(sent)
    except ValidationError as error:
        return _refused(sent, _plain(error))
    told = bench.Told(
        key=one.key, run=one.run, act=one.act, line=one.line,
        at=min(one.at + message.slow, message.now), facts=one.facts,
        after=one.after, bench=message.bench,
    )  # fmt: skip
    try:
        kept = _once(told, message.by, message.now)
    except (RefusedError, TurnscrewError, bench_runs.NoRunError) as error:
        return _refused(sent, str(error))
    return {"key": one.key, "standing": kept.standing, "against": kept.against}


def _refused(sent: Any, why: str) -> dict[str, str]:
    return {"key": _text(sent, "key"), "standing": "refused", "against": why}


def _once(told: bench.Told, by: Any, now: datetime) -> Any:
    is_recording = bench_runs.is_recording(told.run)
    write = bench_recording.tell if is_recording else bench.tell
    try:
        return write(told, by=by, now=now)
    except IntegrityError:
        # The same key came twice at one moment: the other one wrote it.
        return write(told, by=by, now=now)


@require_POST
@for_bench
def begin(request: HttpRequest, ref: str) -> JsonResponse:
    """Take a device onto the bench, or go on with it."""
    told = _body(request)
    job, by, now = finding.job_named(ref), _person(request), timezone.localtime()
    parked = bench_runs.latest(job) if job.state == "parked open" else None
    is_closing = told.get("is_closing") is True
    if parked is not None:
        stop_and_ask.go_on(
            parked, is_closing=is_closing, by=by, now=now, is_time_up=within(SEARCH_S)
        )
    row = bench_places.take(
        job, by=by, now=now, bench=_word(told, "bench", 40),
        is_time_up=within(SEARCH_S), is_closing=is_closing,
    )  # fmt: skip
    return JsonResponse(bench_page.run_short(row))


@require_POST
@for_bench
def anew(request: HttpRequest, ref: str) -> JsonResponse:
    """Write a new path, as the truth turned out different."""
    told = _body(request)
    change = bench.Change(
        why=_word(told, "why"),
        stays=_words(told, "stays"),
        comes=_words(told, "comes"),
        also_reach=_words(told, "also_reach"),
        revision=_word(told, "revision", 40),
        is_undescribed=told.get("is_undescribed") is True,
        is_closing=told.get("is_closing") is True,
        code=_word(told, "code", 40),
    )
    by, now, job = _person(request), timezone.localtime(), finding.job_named(ref)
    row = bench_runs.latest(job)
    if row is None:
        raise RefusedError("path: found none yet, wanted the device on a bench")
    question = stop_and_ask.question_before(row, change, by=by, now=now)
    if question is not None:
        return JsonResponse({"asks": asdict(question)})
    fresh = bench.plan_anew(row, change, by=by, now=now, is_time_up=within(SEARCH_S))
    return JsonResponse(bench_page.run_short(fresh))


@require_POST
@for_bench
def record(request: HttpRequest, ref: str) -> JsonResponse:
    """Begin to record the opening of a model that nobody has described."""
    row = bench_recording.begin(
        finding.job_named(ref), by=_person(request), now=timezone.localtime(),
        bench=_word(_body(request), "bench", 40),
    )  # fmt: skip
    return JsonResponse(bench_page.run_short(row))


@require_POST
@for_bench
def turn_round(request: HttpRequest, ref: str) -> JsonResponse:
    """Make a draft description of what was recorded, and the way back from it."""
    row = bench_recording.turn_round(
        finding.job_named(ref), by=_person(request), now=timezone.localtime(),
        is_time_up=within(SEARCH_S),
    )  # fmt: skip
    return JsonResponse(bench_page.run_short(row))


@require_POST
@for_bench
def settle(request: HttpRequest, ref: str) -> JsonResponse:
    """Say which of two accounts of a device holds."""
    is_theirs = _body(request).get("is_theirs") is True
    row = bench_runs.latest(finding.job_named(ref))
    if row is None:
        raise Http404
    bench_accounts.settle(
        row, is_theirs=is_theirs, by=_person(request), now=timezone.localtime()
    )
    return JsonResponse(bench_page.run_short(row))


@require_POST
@for_bench
def park(request: HttpRequest, ref: str) -> JsonResponse:
    """Leave a device open, covered, with a reason and a day."""
    told = _body(request)
    bench_places.park(
        finding.job_named(ref), by=_person(request), now=timezone.localtime(),
        reason=_word(told, "reason"),
    )  # fmt: skip
    return JsonResponse({})


@require_POST
@for_bench
def stop(request: HttpRequest, ref: str) -> JsonResponse:
    """Leave a device open, covered, and ask about what was found inside."""
    question = stop_and_ask.stop(
        finding.job_named(ref), by=_person(request), now=timezone.localtime()
    )
    return JsonResponse({"asks": asdict(question)})


@require_POST
@for_bench
def hand(request: HttpRequest) -> JsonResponse:
    """Note which device a bench has in hand, for the camera beside it."""
    told = _body(request)
    ref = _word(told, "job", 16)
    bench_places.in_hand(
        _word(told, "bench", 40), finding.job_named(ref) if ref else None,
        layer=_word(told, "layer", 200), by=_person(request), now=timezone.localtime(),
    )  # fmt: skip
    return JsonResponse({})


@for_bench
def diagnosis(request: HttpRequest, ref: str) -> JsonResponse:
    """Say what is known of the fault and what to test next; write an answer."""
    job, by, now = finding.job_named(ref), _person(request), timezone.localtime()
    if request.method == "POST":
        told = _body(request)
        note_test(
            job, _word(told, "test", 60), _word(told, "answer", 60), by=by, now=now
        )
    return JsonResponse(diagnosis_of(job, within(SEARCH_S)))


def _run(ref: str) -> Any:
    try:
        return bench_runs.run_named(ref)
    except bench_runs.NoRunError as error:
        raise Http404 from error
