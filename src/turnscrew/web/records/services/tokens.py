"""How does a program get into the records, and how is it shut out again?"""

import secrets
from collections.abc import Iterable
from datetime import datetime, time
from hashlib import sha256

from turnscrew.web.records.models import ApiToken, Person
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

SCOPES = ("read", "bench", "counter", "stock", "money", "audit")
"""What a token may be used for; never more than its person may do."""

_NAME_LIMIT = 60

_YEARS = 2
"""A token ends within so many years; our own choice. [1]"""


@writing
def make_token(
    person: Person,
    name: str,
    scopes: Iterable[str],
    now: datetime,
    expires_at: datetime | None = None,
) -> str:
    """
    Make a token and give it in plain, this once; only its digest is kept.

    Without a wish it ends as late as one may.
    """
    wanted, latest = set(scopes), _latest_end(now)
    expires_at = latest if expires_at is None else expires_at
    reasons = []
    if not 1 <= len(name.strip()) <= _NAME_LIMIT:
        reasons.append(
            f"name: found {len(name.strip())} characters, wanted 1 to {_NAME_LIMIT}"
        )
    unknown = ", ".join(sorted(wanted - set(SCOPES)))
    if unknown or not wanted:
        reasons.append(f"scopes: found {unknown or 'none'}, wanted {', '.join(SCOPES)}")
    if expires_at <= now:
        reasons.append(f"expiry: found {expires_at}, wanted later than {now}")
    if expires_at > latest:
        reasons.append(
            f"expiry: found {expires_at.date()}, wanted {latest.date()} or earlier"
        )
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


def _latest_end(now: datetime) -> datetime:
    day = now.date()
    if (day.month, day.day) == (2, 29):
        day = day.replace(day=28)
    day = day.replace(year=day.year + _YEARS)
    return datetime.combine(day, time.max, tzinfo=now.tzinfo)


@writing
def withdraw_token(token: ApiToken) -> None:
    """Make a token worthless; it stays in the list."""
    token.is_withdrawn = True
    token.save(update_fields=["is_withdrawn"])


def digest_of(token: str) -> str:
    """Give what is kept of a token."""
    return sha256(token.encode("utf-8", "surrogatepass")).hexdigest()
