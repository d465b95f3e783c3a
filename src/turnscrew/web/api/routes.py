"""The programming interface: version 1 of its routes, read and written."""

import json
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from ninja import NinjaAPI, Router
from ninja.errors import ValidationError, ValidationErrorContext
from ninja.parser import Parser
from ninja.types import DictStrAny

from turnscrew.web.api import reading, writing
from turnscrew.web.api.access import BearerToken
from turnscrew.web.api.refusals import BODY_LIMIT_BYTES, add_refusals

VERSION = "1"
_METHODS = ["GET", "POST", "PUT", "PATCH", "DELETE"]


class BoundedParser(Parser):
    """Reads JSON of a bounded size."""

    def parse_body(self, request: HttpRequest) -> DictStrAny:
        """Read a body; whatever is raised here becomes one refusal."""
        if len(request.body) > BODY_LIMIT_BYTES:
            raise ValueError(f"{len(request.body)} bytes")
        return super().parse_body(request)


class Interface(NinjaAPI):
    """Tells what was found beside what was wanted."""

    def validation_error_from_error_contexts(
        self, error_contexts: list[ValidationErrorContext[Any]]
    ) -> ValidationError:
        """Keep the wrong value with each error."""
        told = super().validation_error_from_error_contexts(error_contexts)
        errors = [
            error
            for context in error_contexts
            for error in context.pydantic_validation_error.errors(include_url=False)
        ]
        for known, error in zip(told.errors, errors, strict=True):
            known["input"] = error["input"]
        return told


api = Interface(
    title="Turnscrew records",
    version=VERSION,
    description="The workshop's records for other programs of the workshop.",
    urls_namespace="api",
    auth=BearerToken(),
    parser=BoundedParser(),
    docs_url=None,
    openapi_url=None,
)
add_refusals(api)
api.add_router("/v1", reading.router, tags=["read"])
api.add_router("/v1", writing.router, tags=["write"])
others = Router()


@others.get("/v1/openapi.json", include_in_schema=False)
def openapi(request: HttpRequest) -> HttpResponse:
    """Give the description of all routes."""
    return HttpResponse(described(), content_type="application/json")


@others.api_operation(_METHODS, "/{path:rest}", include_in_schema=False, auth=None)
def nothing(request: HttpRequest, rest: str) -> HttpResponse:
    """Say in the one shape that nothing is there."""
    raise Http404


# Last, so that it catches only what no other route has.
api.add_router("", others)


def described() -> str:
    """Describe all routes as it is kept beside the manual."""
    schema = api.get_openapi_schema(path_prefix="/api/")
    return json.dumps(schema, indent=1, ensure_ascii=False, sort_keys=True) + "\n"
