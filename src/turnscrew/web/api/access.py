"""Which program asks, for whom, and what may it do?"""

from dataclasses import dataclass
from typing import cast

from django.http import HttpRequest
from django.utils import timezone
from ninja.security import HttpBearer

from turnscrew.web.api.refusals import Refusal
from turnscrew.web.records.models import ApiToken, Person
from turnscrew.web.records.queries.rights import allow, may
from turnscrew.web.records.services.tokens import digest_of

_RIGHTS = {"read": "look"}
"""What the person needs for a scope, where it has another name."""


@dataclass(frozen=True)
class Caller:
    """A token that holds, and its person."""

    token: ApiToken
    person: Person
    scopes: frozenset[str]


class BearerToken(HttpBearer):
    """Lets in who shows a token that was made, still holds and is not withdrawn."""

    def authenticate(self, request: HttpRequest, token: str) -> Caller | None:
        """Give the caller; a session does not count here."""
        row = (
            ApiToken.objects.select_related("person__user")
            .filter(token_digest=digest_of(token), is_withdrawn=False)
            .first()
        )
        if row is None or row.person.has_left:
            return None
        if row.expires_at is not None and row.expires_at <= timezone.localtime():
            return None
        if row.person.user is not None and not row.person.user.is_active:
            return None
        return Caller(row, row.person, frozenset(row.scopes.split()))


def caller_of(request: HttpRequest) -> Caller:
    """Give who was let in."""
    return cast("Caller", request.auth)  # type: ignore[attr-defined]


def allowed(request: HttpRequest, *scopes: str) -> Person:
    """
    Give the person if the token has one of the scopes.

    A scope that is missing is told; a right that the person lacks is not: to them
    nothing is there.
    """
    caller = caller_of(request)
    held = [scope for scope in scopes if scope in caller.scopes]
    if not held:
        found = ", ".join(sorted(caller.scopes))
        raise Refusal(403, "scope of the token", found, " or ".join(scopes))
    person = caller.person
    for scope in held[:-1]:
        if may(person, _right(scope)):
            return person
    return allow(person, _right(held[-1]))


def may_see_money(request: HttpRequest) -> bool:
    """Say whether prices are for this caller."""
    caller = caller_of(request)
    return "money" in caller.scopes and may(caller.person, "money")


def _right(scope: str) -> str:
    return _RIGHTS.get(scope, scope)
