"""Which programs come in with the rights of a person?"""

from django.http import Http404

from turnscrew.web.records.models import ApiToken, Person
from turnscrew.web.records.queries.rights import may


def tokens_of(member: Person, reader: Person) -> list[ApiToken]:
    """Give somebody's tokens, the newest first, to whoever may make them."""
    return list(member.tokens.all()) if may(reader, "people") else []


def token_named(member: Person, ref: str) -> ApiToken:
    """Give one of somebody's tokens by its reference."""
    row = member.tokens.filter(ref=ref).first()
    if row is None:
        raise Http404
    return row
