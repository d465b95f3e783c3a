"""People and their sign-offs, and the audit."""

from collections.abc import Mapping
from datetime import datetime, time
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone, translation
from django.views.decorators.http import require_safe

from turnscrew.core.model.amounts import counted
from turnscrew.papers.bench.helper_card import SignedSkill, helper_card
from turnscrew.papers.page import Size
from turnscrew.papers.set_aside import written
from turnscrew.web.counter import forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.downloads import pdf
from turnscrew.web.counter.fields import AmountField
from turnscrew.web.records.queries import find, today
from turnscrew.web.records.queries.accounts import has_second_factor
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.audit_words import words_of
from turnscrew.web.records.queries.bench_record import bench_record
from turnscrew.web.records.queries.days_away import days_away
from turnscrew.web.records.queries.papers import paper_of
from turnscrew.web.records.queries.rights import allow
from turnscrew.web.records.queries.skills import skill_meant
from turnscrew.web.records.queries.tokens import token_named, tokens_of
from turnscrew.web.records.services import booking, tokens
from turnscrew.web.records.services import people as service


def everybody(request: HttpRequest) -> HttpResponse:
    """Show who works here, what they may do alone, and when they are away."""

    def add(entered: Entered) -> Done:
        person = service.add_person(
            entered["key"], entered["name"], entered["rights"], now=timezone.localtime()
        )
        to = reverse("counter:person", args=[person.ref])
        return Done(f"{written(person.name)}: now make a link to sign in", to)

    acts = {"add": Act(add, "Add", forms.NewPerson, "people")}
    return page(
        request,
        "counter/people.html",
        lambda: {"members": today.members(timezone.localdate())},
        acts,
    )


def one(request: HttpRequest, ref: str) -> HttpResponse:
    """Show one person's skills and days, and sign off, let in or let go."""
    person = request.person  # type: ignore[attr-defined]
    member = find.person_named(ref)
    now = timezone.localtime()

    def sign_off(entered: Entered) -> Done:
        counted = bench_record(member)
        n_passes, n_left = entered["n_supervised"], entered["n_left_over"]
        skill, is_asked = skill_meant(entered["skill"].strip())
        booking.sign_off(
            member, skill, by=person, now=now, on=now.date(),
            until=entered["until"],
            n_supervised=counted.n_supervised if n_passes is None else n_passes,
            n_left_over=counted.n_left_over if n_left is None else n_left,
        )  # fmt: skip
        more = "" if is_asked else "; no fault of a batch that is here asks for it"
        return Done(f"signed off: {written(skill)}{more}")

    def away(entered: Entered) -> Done:
        n = service.be_away(member, entered["first"], entered["last"], now=now)
        return Done(f"{counted(n, 'day')} away")

    def here(entered: Entered) -> Done:
        n = service.be_here(member, entered["first"], entered["last"], now=now)
        return Done(f"{counted(n, 'day')} here after all")

    def make_token(entered: Entered) -> Done:
        end = datetime.combine(entered["expires_on"], time.max, tzinfo=now.tzinfo)
        token = tokens.make_token(
            member, entered["name"], entered["scopes"], now=now, expires_at=end
        )
        return Done(f"token, shown this once: {written(token)}")

    def withdraw(entered: Entered) -> Done:
        token = token_named(member, entered["token"])
        tokens.withdraw_token(token)
        return Done(f"the token {written(token.name)} lets nobody in any more")

    acts = {
        "token": Act(make_token, "Make a token", forms.TokenMade, "people"),
        "withdraw": Act(withdraw, "Withdraw", forms.TokenWithdrawn, "people"),
        "sign_off": Act(sign_off, "Sign off", forms.SignOffGiven, "people"),
        "bench_time": _bench_time(member),
        "away": Act(away, "Write the days", forms.Away, "people"),
        "here": Act(here, "Here after all", forms.Away, "people"),
    }
    going = _coming_and_going(request, member)

    def context() -> Mapping[str, Any]:
        return {
            "member": member,
            "away": list(days_away(member)),
            "sign_offs": today.sign_offs(member, now.date()),
            "tokens": tokens_of(member, person),
            "counted": bench_record(member),
            "is_timed": person.rights == person.LEAD or person == member,
        }

    if not member.has_left:
        going |= acts
    return page(request, "counter/person.html", context, going)


def _bench_time(member: Any) -> Act:
    """Say how long somebody works at a bench, how fast and for which pay."""

    def write(entered: Entered) -> Done:
        service.set_bench_time(member, **entered, now=timezone.localtime())
        return Done("written; plans count it from now on")

    stands = {
        "minutes_a_day": member.minutes_a_day,
        "pace": member.pace,
        "pay_minor": AmountField.shown(member.pay_minor),
    }
    return Act(write, "Write it", forms.BenchTime, "people", stands, is_whole=True)


def _coming_and_going(request: HttpRequest, member: Any) -> dict[str, Act]:
    """Let somebody in, let them go, and take them back."""
    now = timezone.localtime()

    def let_in(_: Entered) -> Done:
        token = service.link_for(member, now=now)
        address = reverse("counter:first", args=[token])
        return Done(
            "link, good once within a day: "
            + written(request.build_absolute_uri(address))
        )

    def let_go(_: Entered) -> Done:
        service.let_go(member, now=now)
        return Done(f"{written(member.name)} has left; the history stays")

    def take_back(_: Entered) -> Done:
        service.take_back(member, now=now)
        return Done(f"{written(member.name)} works here again: make a link to sign in")

    def take_factor(_: Entered) -> Done:
        service.take_factor_away(member)
        return Done(f"{written(member.name)}: comes in without a second factor now")

    if member.has_left:
        return {"take_back": Act(take_back, "Take back", right="people")}
    acts = {
        "let_in": Act(let_in, "Make a link to sign in", right="people"),
        "let_go": Act(let_go, "Let go", right="people"),
    }
    if has_second_factor(member):
        acts["take_factor"] = Act(
            take_factor, "Take their second factor away", right="people"
        )
    return acts


@require_safe
def card(_: HttpRequest, ref: str, size: Size) -> HttpResponse:
    """Give the card of what somebody may do alone."""
    member = find.person_named(ref)
    skills = [
        SignedSkill(
            one.skill, one.on, one.until, one.signed_by.name,
            one.n_supervised, one.n_left_over,
        )
        for one in today.sign_offs(member, timezone.localdate())
    ]  # fmt: skip
    content = helper_card(
        member.name, member.rights, skills, paper_of(size), translation.get_language()
    )
    return pdf(content, f"helper-card-{member.key}-{size}.pdf")


def audit(request: HttpRequest) -> HttpResponse:
    """Prove the journals and the sums, and name the first break."""
    allow(request.person, "audit")  # type: ignore[attr-defined]

    def run(_: Entered) -> Done:
        found = audited()
        amiss = (*found.breaks, *found.photos)
        if amiss:
            return Done("NOT whole: " + words_of(amiss[:1])[0])
        return Done(f"whole: {sum(found.n_entries.values())} entries")

    acts = {"run": Act(run, "Prove the journals now", right="audit")}
    return page(request, "counter/audit.html", dict, acts)
