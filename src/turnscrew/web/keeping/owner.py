"""How does the first person get in, and anybody who lost the way?"""

from datetime import datetime

from django.contrib.auth.models import User
from django.db import transaction

from turnscrew.web.records.models import Person
from turnscrew.web.records.services.booking import FIRST_OWNER
from turnscrew.web.records.services.keep import keep
from turnscrew.web.records.services.people import link_for, take_factor_away
from turnscrew.web.records.services.refusal import RefusedError

OWNER = "lead"


@transaction.atomic
def make_sign_in_link(
    person: Person, now: datetime, *, without_factor: bool = False
) -> str:
    """Make a link that signs a person in once; the records keep its digest alone."""
    if person.has_left:
        raise RefusedError(f"person: found {person.key}, wanted one who may sign in")
    if person.user is None:
        raise RefusedError(
            f"person: found {person.key} who has never signed in, wanted the first "
            "link made on that person's page: People, the name, Make a link to sign in"
        )
    if without_factor:
        take_factor_away(person)
    return link_for(person, now=now)


@transaction.atomic
def first_owner(now: datetime) -> Person | None:
    """Make the owner where nobody can sign in yet; none where somebody can."""
    if Person.objects.exclude(user=None).exists():
        return None
    owner = Person.objects.filter(key=OWNER).first() or Person(
        key=OWNER, name=FIRST_OWNER
    )
    owner.rights = Person.LEAD
    owner.user = User.objects.create_user(OWNER, password=None)
    keep(owner, now)
    return owner


def lead_now(now: datetime) -> Person:
    """Give who leads the workshop; make a lead where none is left."""
    lead = Person.objects.filter(rights=Person.LEAD, has_left=False).first()
    if lead is None:
        lead = Person.objects.filter(key=OWNER).first() or Person(
            key=OWNER, name=FIRST_OWNER
        )
        lead.rights, lead.has_left = Person.LEAD, False
        # An account bears the short name of its person; it may have outlived the row.
        free = User.objects.filter(username=OWNER, person=None)
        lead.user = lead.user or free.first()
        keep(lead, now)
    return lead


def owner_not_yet_in() -> Person | None:
    """Give the owner as long as nobody at all has ever signed in."""
    if User.objects.exclude(last_login=None).exists():
        return None
    return Person.objects.filter(key=OWNER).exclude(user=None).first()


def person_by_key(key: str) -> Person:
    """Find a person by the short name."""
    person = Person.objects.filter(key=key).first()
    if person is None:
        known = ", ".join(Person.objects.values_list("key", flat=True)) or "nobody yet"
        raise RefusedError(f"person: found {key}, wanted one of {known}")
    return person
