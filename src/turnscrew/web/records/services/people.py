"""How do people come, learn, go and get in?"""

import secrets
from datetime import date, datetime, timedelta
from decimal import Decimal
from hashlib import sha256

from django.contrib.auth.models import User
from django.core import signing
from django.db.models import QuerySet
from django_otp import devices_for_user

from turnscrew.core.model import person as bench
from turnscrew.web.records.models import (
    Absence,
    Batch,
    ContactLink,
    KnownGood,
    Person,
    SafetyCheck,
    SafetyKind,
    SignInLink,
)
from turnscrew.web.records.queries.days_away import days_away
from turnscrew.web.records.queries.static_paths import reading_refusal
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, keep_all, read_anew
from turnscrew.web.records.services.on_record import require_on_record, require_open
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

_LINK_DAYS = 14
DONE, NOT_DONE, FAILED = "passed", "not done", "failed"
RESULTS = (DONE, NOT_DONE, FAILED)

SAFETY_KINDS = (
    ("wrist strap", 1, "path to earth below 35 megohm, as a supplier quotes S20.20"),
    ("fire box and sand at each bench", 1, "there, open, reachable"),
    ("bench mat", 90, "path to earth below 1 gigohm, as a summary quotes S20.20"),
    ("floor and footwear", 90, "path to earth below 1 gigohm, as a summary quotes it"),
    ("extraction", 30, "draws smoke at the nozzle"),
    ("first-aid box", 30, "complete, nothing out of date"),
    ("bench supply and leads", 90, "cables whole, plugs whole"),
    ("fire extinguisher", 365, "seal whole, in date"),
    ("fire drill", 365, "everybody out, count right"),
)
"""What is looked at and how often; common practice, no source, but for the strap."""


def account_of_link(token: str, *, now: datetime) -> User | None:
    """Give the account that a link opens, or none; the link is not used up."""
    link = _links(token, now).first()
    return None if link is None else link.person.user


@writing
def sign_in_by_link(token: str, *, now: datetime) -> User | None:
    """Use a link once; give the account it opens, or none."""
    link = _links(token, now).select_for_update(of=("self",)).first()
    if link is None:
        return None
    link.used_at = now
    link.save()
    return link.person.user


def _links(token: str, now: datetime) -> QuerySet[SignInLink]:
    """Ask for the link that may still be used, of somebody who works here."""
    digest = sha256(token.encode()).hexdigest()
    rows = SignInLink.objects.filter(
        token_digest=digest, used_at=None, expires_at__gt=now
    )
    rows = rows.filter(person__has_left=False).exclude(person__user=None)
    return rows.select_related("person__user")


@writing
def add_person(key: str, name: str, rights: str, *, now: datetime) -> Person:
    """Let somebody work here, with an account to sign in by."""
    known = {one for one, _ in Person.RIGHTS}
    reasons = []
    if not (key.isascii() and key.isidentifier()):
        reasons.append(f"short name: found {key!r}, wanted letters, digits and _")
    elif User.objects.filter(username__iexact=key).exists():
        reasons.append(f"short name: found {key} taken, wanted a new one")
    if not name.strip():
        reasons.append("name: found none, wanted one")
    if rights not in known:
        reasons.append(f"rights: found {rights}, wanted one of {', '.join(known)}")
    if reasons:
        raise RefusedError(*reasons)
    person = Person.objects.filter(key=key).first() or Person(key=key)
    person.name, person.rights = name.strip(), rights
    person.user = User.objects.create_user(key)
    keep(person, now)
    return person


@writing
def set_bench_time(
    person: Person, minutes_a_day: int, pace: Decimal, pay_minor: int, *, now: datetime
) -> None:
    """Say how long somebody works at a bench, how fast, for which pay of an hour."""
    told = bench.Person(
        name=person.name, minutes_a_day=minutes_a_day, pay_minor=pay_minor, pace=pace
    )
    read_anew(person)
    person.minutes_a_day, person.pay_minor = told.minutes_a_day, told.pay_minor
    person.pace = told.pace
    keep(person, now)


@writing
def link_for(person: Person, *, now: datetime) -> str:
    """Make a link that signs somebody in once within a day, to a first account too."""
    read_anew(person)
    if person.has_left:
        raise RefusedError("person: found one who has left, wanted them taken back")
    if person.user is None:
        # Who came with a batch is on record, but has never signed in.
        if User.objects.filter(username=person.key).exists():
            raise RefusedError(
                f"short name: found {person.key} taken, wanted a new one"
            )
        person.user = User.objects.create_user(person.key)
        keep(person, now)
    token = secrets.token_urlsafe(32)
    SignInLink.objects.create(
        person=person,
        token_digest=sha256(token.encode()).hexdigest(),
        expires_at=now + timedelta(days=1),
    )
    return token


@writing
def let_go(person: Person, *, now: datetime) -> None:
    """Let somebody leave: the account is closed, the history stays."""
    read_anew(person)
    leads = Person.objects.filter(rights=Person.LEAD, has_left=False)
    others = leads.exclude(pk=person.pk).exclude(user=None)
    if person.rights == Person.LEAD and not others.exists():
        # Nobody else could let anybody in, sign off or prove the journals.
        raise RefusedError("lead: found no other with an account, wanted one first")
    _keep_whether_left(person, has_left=True, now=now)


@writing
def take_back(person: Person, *, now: datetime) -> None:
    """Let somebody who left work here again, under the same name and history."""
    read_anew(person)
    if not person.has_left:
        raise RefusedError("person: found one who works here, wanted one who left")
    _keep_whether_left(person, has_left=False, now=now)


def _keep_whether_left(person: Person, *, has_left: bool, now: datetime) -> None:
    person.has_left = has_left
    keep(person, now)
    if person.user is not None:
        person.user.is_active = not has_left
        person.user.save()


@writing
def take_factor_away(person: Person) -> int:
    """Take the second factor of somebody who lost it; the password stays."""
    devices = [] if person.user is None else list(devices_for_user(person.user))
    for device in devices:
        device.delete()
    return len(devices)


@writing
def speak_to(person: Person, language: str, *, now: datetime) -> None:
    """Speak to somebody in a language from now on; nothing that is kept changes."""
    known = dict(Person.LANGUAGES)
    if language not in known:
        wanted = ", ".join(known)
        raise RefusedError(f"language: found {language or 'none'}, wanted {wanted}")
    read_anew(person)
    person.language = language
    keep(person, now)


@writing
def be_away(person: Person, first: date, last: date, *, now: datetime) -> int:
    """Write that somebody is away from one day to another."""
    if not first <= last or (last - first).days > 366:
        raise RefusedError(f"days: found {first} to {last}, wanted a year or less")
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    for day in days:
        Absence.objects.get_or_create(
            person=person, day=day, taken_back_at=None, defaults={"at": now}
        )
    return len(days)


@writing
def be_here(person: Person, first: date, last: date, *, now: datetime) -> int:
    """Take back that somebody is away, from one day to another."""
    days = days_away(person).filter(day__range=(first, last))
    n = days.update(taken_back_at=now)
    if not n:
        raise RefusedError(f"days: found none away from {first} to {last}, wanted some")
    return n


def contact_address(link: ContactLink) -> str:
    """Sign the address that a customer's contact may open."""
    return signing.Signer(salt="contact").sign(link.ref)


@writing
def invite(batch: Batch, name: str, *, by: Person, now: datetime) -> ContactLink:
    """Let a customer's contact see and answer for one batch, for some days."""
    if not name.strip():
        raise RefusedError("name: found none, wanted the contact's")
    require_on_record(batch.customer_id)
    require_open(batch)
    return ContactLink.objects.create(
        batch=batch, name=name.strip(), made_by=by, made_at=now,
        expires_at=now + timedelta(days=_LINK_DAYS),
    )  # fmt: skip


@writing
def withdraw_invitation(link: ContactLink) -> None:
    """Make a contact's link worthless."""
    read_anew(link)
    link.is_withdrawn = True
    link.save()


@writing
def check_safety(
    kind: SafetyKind, result: str, *, by: Person, now: datetime, reading: str = ""
) -> SafetyCheck:
    """Write what a look at something showed, today; nothing is filled in later."""
    if result not in RESULTS:
        raise RefusedError(
            f"result: found {result}, wanted one of {', '.join(RESULTS)}"
        )
    against = reading_refusal(kind.name, reading) if result == DONE else ""
    if against:
        raise RefusedError(against)
    today = SafetyCheck.objects.filter(kind=kind, on=now.date())
    if result == DONE and today.filter(result=NOT_DONE).exists():
        raise RefusedError(
            f"{kind.name}: found it written as not done today, wanted the next day's "
            "check; what was skipped stays skipped"
        )
    check = SafetyCheck.objects.create(
        kind=kind, on=now.date(), by=by, result=result, reading=reading
    )
    append(
        "bench", "safety check", by.ref, by=by, now=now,
        facts={"kind": kind.name, "result": result}, words=reading,
    )  # fmt: skip
    return check


@writing
def verify_known_good(
    one: KnownGood, *, is_good: bool, by: Person, now: datetime, how: str
) -> None:
    """Write that something was proven good; what failed is withdrawn at once."""
    if not how.strip():
        raise RefusedError("verified: found nothing, wanted with what")
    read_anew(one)
    if is_good:
        one.verified_on, one.withdrawn_on = now.date(), None
    else:
        one.withdrawn_on = now.date()
    one.verified_with = how.strip()
    keep(one, now)
    append(
        "bench", "tested", one.ref, by=by, now=now, facts={"result": is_good}, words=how
    )


@writing
def keep_known_good(
    what: str, fits: str, place: str, *, now: datetime, key: str = ""
) -> KnownGood:
    """List something that will be proven good, with its key in the fault tables."""
    if KnownGood.objects.filter(what=what).exists():
        raise RefusedError(f"what: found {what} listed already, wanted a new name")
    one = KnownGood(what=what, fits=fits, place=place, key=key.strip())
    _refuse_same_key(one)
    keep(one, now)
    return one


@writing
def tie_known_good(one: KnownGood, key: str, *, now: datetime) -> None:
    """Say by which key the fault tables name something; an empty one unties it."""
    read_anew(one)
    one.key = key.strip()
    _refuse_same_key(one)
    keep(one, now)


def _refuse_same_key(one: KnownGood) -> None:
    others = KnownGood.objects.exclude(pk=one.pk)
    same = others.filter(key__iexact=one.key, fits=one.fits).first()
    if one.key and same is not None:
        raise RefusedError(
            f"key: found {one.key} tied to {same.what} already, wanted another"
        )


@writing
def keep_safety_kind(name: str, every_days: int, how: str) -> SafetyKind:
    """List something that must be looked at again and again."""
    if SafetyKind.objects.filter(name=name).exists():
        raise RefusedError(f"name: found {name} listed already, wanted a new name")
    return SafetyKind.objects.create(name=name, every_days=every_days, how=how)


@writing
def begin_safety() -> None:
    """List the usual things to look at, where none are listed yet."""
    if not SafetyKind.objects.exists():
        keep_all(
            SafetyKind(name=name, every_days=days, how=how)
            for name, days, how in SAFETY_KINDS
        )
