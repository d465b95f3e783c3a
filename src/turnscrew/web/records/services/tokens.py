"""How does a program get into the records, and how is it shut out again?"""

import secrets
from collections.abc import Iterable
from datetime import datetime
from hashlib import sha256

from turnscrew.web.records.models import ApiToken, Person
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

SCOPES = ("read", "bench", "counter", "stock", "money", "audit")
"""What a token may be used for; never more than its person may do."""

_NAME_LIMIT = 60


@writing
def make_token(
    person: Person,
    name: str,
    scopes: Iterable[str],
    now: datetime,
    expires_at: datetime | None = None,
) -> str:
    """Make a token and give it in plain, this once; only its digest is kept."""
    wanted = set(scopes)
    reasons = []
    if not 1 <= len(name.strip()) <= _NAME_LIMIT:
        reasons.append(
            f"name: found {len(name.strip())} characters, wanted 1 to {_NAME_LIMIT}"
        )
    unknown = ", ".join(sorted(wanted - set(SCOPES)))
    if unknown or not wanted:
        reasons.append(f"scopes: found {unknown or 'none'}, wanted {', '.join(SCOPES)}")
    if expires_at is not None and expires_at <= now:
        reasons.append(f"expiry: found {expires_at}, wanted later than {now}")
    if person.has_left:
        reasons.append(f"person: found {person}, who has left, wanted who works here")
    if reasons:
        raise RefusedError(*reasons)
    token = secrets.token_urlsafe(32)
    ApiToken.objects.create(
        person=person,
        name=name.strip(),
        token_digest=digest_of(token),
        scopes=" ".join(scope for scope in SCOPES if scope in wanted),
        made_at=now,
        expires_at=expires_at,
    )
    return token


@writing
def withdraw_token(token: ApiToken) -> None:
    """Make a token worthless; it stays in the list."""
    token.is_withdrawn = True
    token.save(update_fields=["is_withdrawn"])


def digest_of(token: str) -> str:
    """Give what is kept of a token."""
    return sha256(token.encode("utf-8", "surrogatepass")).hexdigest()
