"""In which one shape is a program told what went wrong?"""

import re
from collections.abc import Callable, Iterable, Mapping
from functools import partial
from typing import Any

from django.core.exceptions import RequestDataTooBig
from django.http import Http404, HttpRequest, HttpResponse
from ninja import NinjaAPI
from ninja.errors import AuthenticationError, HttpError, ValidationError
from pydantic import BaseModel, Field

from turnscrew.errors import BadArgumentError, TurnscrewError
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.trouble import StorageError

_SHOWN = 80
"""Characters of a wrong value that are told back."""

BODY_LIMIT_BYTES = 65_536
"""What a program may send at once."""

_REASON = re.compile(r"(?s)(.*?): (?:found )?(.*?), wanted (.*)")


class Trouble(BaseModel):
    """Where something is wrong, what was found there and what was wanted."""

    where: str
    found: str
    wanted: str


class Troubles(BaseModel):
    """Everything that was wrong with a request."""

    problems: list[Trouble] = Field(min_length=1)


_Answer = tuple[int, Iterable[Trouble]]
_Told = Callable[[Any], _Answer]


class Refusal(Exception):  # noqa: N818 - an answer, not a fault of the program
    """An answer other than the one asked for."""

    def __init__(self, status: int, where: str, found: str, wanted: str) -> None:
        super().__init__(f"{where}: found {found}, wanted {wanted}")
        self.status = status
        self.trouble = Trouble(where=where, found=found, wanted=wanted)


MISSING = {401: Troubles, 403: Troubles, 404: Troubles, 422: Troubles}
"""Answers of a route that reads."""

REFUSED = {**MISSING, 409: Troubles, 503: Troubles}
"""Answers of a route that writes."""


def trouble_of(reason: str) -> Trouble:
    """Take a reason of the records apart."""
    parts = _REASON.fullmatch(reason)
    if parts is None:
        return Trouble(where="records", found=reason, wanted="what they allow")
    where, found, wanted = parts.groups()
    return Trouble(where=where, found=found, wanted=wanted)


def add_refusals(api: NinjaAPI) -> None:
    """Let every error leave in the one shape."""
    for kind, told in _ANSWERS.items():
        api.add_exception_handler(kind, partial(_answered, api, told))


def _answered(
    api: NinjaAPI, told: _Told, request: HttpRequest, error: Exception
) -> HttpResponse:
    status, problems = told(error)
    body = Troubles(problems=list(problems)).model_dump()
    response = api.create_response(request, body, status=status)
    if status == 401:
        response["WWW-Authenticate"] = "Bearer"
    return response


def _refused(error: Any) -> _Answer:
    return error.status, [error.trouble]


def _refused_by_records(error: Any) -> _Answer:
    return 409, map(trouble_of, error.reasons)


def _conflict(error: Any) -> _Answer:
    status = 422 if isinstance(error, BadArgumentError) else 409
    return status, [trouble_of(str(error))]


def _out_of_order(error: Any) -> _Answer:
    return 503, [trouble_of(str(error))]


def _unknown(error: Any) -> _Answer:
    found, wanted = "no token that holds", "Bearer TOKEN"
    return 401, [Trouble(where="Authorization", found=found, wanted=wanted)]


def _nothing(error: Any) -> _Answer:
    found, wanted = "nothing", "something on record"
    return 404, [Trouble(where="address", found=found, wanted=wanted)]


def _unreadable(error: Any) -> _Answer:
    return 422, map(_trouble_at, error.errors)


def _malformed(error: Any) -> _Answer:
    wanted = f"JSON in UTF-8 of at most {BODY_LIMIT_BYTES} bytes"
    return 422, [Trouble(where="body", found="something else", wanted=wanted)]


def _trouble_at(error: dict[str, Any]) -> Trouble:
    """Say where a value is wrong; what is shown of it is short and plain."""
    where = ".".join(str(step) for step in error["loc"])
    value = ascii(error.get("input", "nothing"))
    shown = value if len(value) <= _SHOWN else f"{value[:_SHOWN]}..."
    return Trouble(
        where=where.encode("ascii", "backslashreplace").decode()[:_SHOWN],
        found=shown,
        wanted=str(error["msg"]),
    )


_ANSWERS: Mapping[type[Exception], _Told] = {
    Refusal: _refused,
    RefusedError: _refused_by_records,
    TurnscrewError: _conflict,
    StorageError: _out_of_order,
    AuthenticationError: _unknown,
    Http404: _nothing,
    ValidationError: _unreadable,
    HttpError: _malformed,
    RequestDataTooBig: _malformed,
}
