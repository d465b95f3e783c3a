"""One batch: how it stands, its answers, its plan, its papers."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime, time
from functools import cache
from itertools import groupby
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.dateparse import parse_date, parse_datetime

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.amounts import counted
from turnscrew.core.model.calendar import can_be_meant
from turnscrew.core.model.job_state import BY_OWN_ACT, STATES, Standing
from turnscrew.core.price.limits import running_sums, unclear_limits
from turnscrew.errors import BadArgumentError, TurnscrewError
from turnscrew.files.question_text import (
    absence_from,
    late_part_from,
    sign_off_from,
)
from turnscrew.papers.page import Size
from turnscrew.papers.set_aside import written
from turnscrew.web.counter import forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.checks_forms import LocksNoted
from turnscrew.web.counter.contact_links import address_of
from turnscrew.web.counter.downloads import pdf
from turnscrew.web.counter.notation_now import notation
from turnscrew.web.counter.yes_forms import AgreedInWriting, YesWithdrawn
from turnscrew.web.records.queries import batch_page, contact_page, find
from turnscrew.web.records.queries.ahead import ahead_of
from turnscrew.web.records.queries.asked_first import AskedFirst, asked_first
from turnscrew.web.records.queries.batch_input import what_stands
from turnscrew.web.records.queries.duties import duty_gaps
from turnscrew.web.records.queries.expecting import (
    expected_of,
    promise_gap,
    tranches_promised,
)
from turnscrew.web.records.queries.item_page import holders
from turnscrew.web.records.queries.locks import lock_gaps
from turnscrew.web.records.queries.packs import packs_to_isolate
from turnscrew.web.records.queries.paper_beside import beside_of
from turnscrew.web.records.queries.papers import (
    WITH_MONEY,
    paper_bytes,
    paper_of,
    papers_here,
)
from turnscrew.web.records.queries.quotes_shown import quotes_of
from turnscrew.web.records.queries.reckoning import LackingError, reckoned
from turnscrew.web.records.queries.rights import allow, may
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.services import (
    custody,
    findings,
    handing_back,
    kitting,
    locks,
    people,
    quoting,
)
from turnscrew.web.records.services.batch_lines import jobs_at
from turnscrew.web.records.services.written_yes import Agreed, withdraw_yes, write_yes


def stand(request: HttpRequest, ref: str) -> HttpResponse:
    """Show how many are in each state, who waits for what, and how long is safe."""
    batch = find.batch_with_terms(ref)
    person, answer = request.person, _reckoned_once(batch)  # type: ignore[attr-defined]

    def quote(entered: Entered) -> Done:
        quotes = quoting.keep_all_quotes(
            batch, by=person, now=timezone.localtime(), shown=entered["shown"]
        )
        return Done(f"{counted(len(quotes), 'quote')} kept")

    def kit(_: Entered) -> Done:
        now = timezone.localtime()
        wishes = kitting.allot(batch, reckoned(batch, now), by=person, now=now)
        return Done(f"{counted(len(wishes), 'piece')} allotted")

    def fitted(entered: Entered) -> Done:
        lines = entered["lines"]
        n = kitting.fit_several(batch, lines, by=person, now=timezone.localtime())
        return Done(f"{counted(n, 'piece')} written as fitted")

    def move(entered: Entered) -> Done:
        to = Standing(
            entered["state"], entered["place"], entered["holder"], entered["until"],
            reason=entered["reason"],
        )  # fmt: skip
        moved = custody.move_several(
            batch, entered["lines"], to, by=person, now=timezone.localtime()
        )
        return Done(f"{counted(len(moved), 'device')}: {to.state}")

    def lock(entered: Entered) -> Done:
        n = locks.note_locks(
            batch,
            entered["lines"],
            entered["lock"],
            by=person,
            now=timezone.localtime(),
        )
        return Done(f"{counted(n, 'device')}: {entered['lock']}")

    def confirm(entered: Entered) -> Done:
        wrong = {name: entered[name] for name in ("part", "mode", "cause", "agrees")}
        n = findings.confirm_several(
            batch, entered["lines"], wrong, by=person, now=timezone.localtime(),
            code=entered["code"].strip(),
        )  # fmt: skip
        devices = counted(n, "device")
        return Done(f"{devices}: {written(wrong['part'])}, {written(wrong['mode'])}")

    def close(_: Entered) -> Done:
        handing_back.close_batch(batch, by=person, now=timezone.localtime())
        return Done("closed")

    of_batch = {"batch": batch}
    options = {
        **of_batch,
        "people": holders(),
        "states": [state for state in STATES if state not in BY_OWN_ACT],
    }
    acts = {
        "quote": Act(
            quote, "Keep these quotes", forms.Quoted,
            initial={"shown": lambda: quotes_of(answer().devices)},
        ),
        "kit": Act(kit, "Allot the parts", right="stock"),
        "move": Act(
            move, "Move them", forms.MoveSeveral, "look",
            {"holder": person.ref}, options,
        ),
        "fitted": Act(
            fitted, "Write as fitted", forms.Devices, "bench", options=of_batch
        ),
        "lock": Act(lock, "Write it", LocksNoted, "look", options=of_batch),
        "confirm": Act(
            confirm, "Write what was wrong", forms.ConfirmedSeveral, "look",
            options=of_batch,
        ),
        "close": Act(close, "Close the batch"),
    }  # fmt: skip
    return page(request, "counter/batch.html", lambda: _standing(batch, answer()), acts)


def _reckoned_once(batch: Any) -> Callable[[], BatchAnswer]:
    """Give the answer that a page shows, and its forms carry, reckoned when asked."""
    return cache(lambda: reckoned(batch, timezone.localtime()))


def _standing(batch: Any, answer: BatchAnswer) -> Mapping[str, Any]:
    now = timezone.localtime()
    stand = batch_page.batch_stand(batch, now)
    expected = expected_of(batch)
    days = {job.line: answer.answer_by.get(job.line) for job in stand.jobs}
    return {
        "batch": batch,
        "stand": stand,
        "answer": answer,
        "rows": [
            (job, answer.by_name[job.line], _date(answer, days[job.line]))
            for job in stand.jobs
        ],
        "late": answer.planned.rule.late(answer.planned.problem),
        "needs": [n for n in batch_page.order_needs(batch, answer) if n.n_left],
        "open_reasons": handing_back.closing_refusals(batch),
        "to_isolate": packs_to_isolate([batch], now),
        "gaps": [
            *filter(None, [promise_gap(expected, stand.jobs)]),
            *_gaps(answer),
            *lock_gaps(stand.jobs),
        ],
        "duty_gaps": duty_gaps(batch.customer),
        "running": running_sums(
            answer.not_left, answer.batch.terms, answer.what_if.let_go_before
        ),
        "tranches": tranches_promised(expected, stand.jobs, answer.batch.terms),
        "ahead": ahead_of(batch, now) if not stand.jobs else None,
    }


def _gaps(answer: BatchAnswer) -> list[str]:
    """Say in plain sight what cannot be told for want of terms."""
    terms = answer.batch.terms
    told = []
    if terms.ask_limit_minor is None or terms.worth_ratio is None:
        told.append("cannot quote against limits: the terms name none")
    if unclear := unclear_limits(terms):
        told.append(f"nothing goes without asking: {unclear}")
    if not terms.customer.contract:
        told.append("no contract on handling data on file: the strictest class holds")
    return told


def _date(answer: BatchAnswer, day: int | None) -> Any:
    if day is None:
        return None
    return answer.batch.terms.date_of(max(1, day))


def approvals(request: HttpRequest, ref: str) -> HttpResponse:
    """Ask for answers in one message, and take replies for the lines named."""
    batch = find.batch_with_terms(ref)
    person = allow(request.person, "money")  # type: ignore[attr-defined]
    waiting, answer = asked_first(batch), _reckoned_once(batch)

    def ask(entered: Entered) -> Done:
        asked = quoting.ask_all(
            batch, by=person, now=timezone.localtime(), shown=entered["shown"]
        )
        return Done(f"{counted(len(asked), 'device')} asked about")

    def take(entered: Entered) -> Done:
        given = {line: True for line in entered["yes"]}
        given |= {line: False for line in entered["no"]}
        quoting.give_answers(
            batch, given, name=entered["name"], by=person, now=timezone.localtime(),
            newest_seen=entered["seen"],
        )  # fmt: skip
        return Done(f"{counted(len(given), 'answer')} written")

    def correct(entered: Entered) -> Done:
        job = jobs_at(batch, [entered["line"]])[0]
        new = quoting.correct_answer(
            job, is_yes=entered["answer"] == "yes", name=entered["name"], by=person,
            now=timezone.localtime(), words=entered["why"],
        )  # fmt: skip
        more = "; allot its parts again" if new.answer == "yes" else ""
        return Done(f"device {job.line}: {new.answer}{more}")

    def invite(entered: Entered) -> Done:
        people.invite(batch, entered["name"], by=person, now=timezone.localtime())
        return Done("link made: send it to them by hand")

    def withdraw(entered: Entered) -> Done:
        link = contact_page.link_named(batch, entered["link"])
        people.withdraw_invitation(link)
        return Done(f"the link of {written(link.name)} opens nothing any more")

    acts = {
        "ask": Act(
            ask,
            "Write them down as asked",
            forms.Quoted,
            initial={"shown": lambda: quotes_of(answer().pending)},
        ),
        **_agreeing(batch, person, waiting),
        "take": Act(
            take,
            "Write these answers",
            forms.Answers,
            initial={"seen": contact_page.newest_question(batch)},
            options={"batch": batch},
        ),  # fmt: skip
        "correct": Act(correct, "Set it right", forms.AnswerCorrected),
        "withdraw": Act(withdraw, "Withdraw", forms.InvitationWithdrawn),
        "invite": Act(invite, "Make a link for a contact", forms.Invite),
    }

    def context() -> Mapping[str, Any]:
        size = paper_of("a4", _language(request))
        text = paper_bytes("approval-message.txt", answer(), size)
        links = contact_page.links_of(batch)
        return {
            "batch": batch,
            "answer": answer(),
            "pending": [
                (device, _date(answer(), answer().answer_by[device.name]))
                for device in answer().pending
            ],
            "message": text.decode() if text else "",
            "asked_first": waiting,
            "links": [(one, address_of(request, one)) for one in links],
            "given": contact_page.answers_of(batch),
        }

    return page(request, "counter/approvals.html", context, acts)


def _agreeing(batch: Any, person: Any, waiting: Iterable[AskedFirst]) -> dict[str, Act]:
    """Let a yes in writing be written where something waits for one, or withdrawn."""

    def agree(entered: Entered) -> Done:
        agreed = Agreed(entered["cover"], entered["name"], entered["day"])
        new = write_yes(
            batch, entered["lines"], agreed, by=person, now=timezone.localtime()
        )
        return Done(f"written yes for {counted(len(new), 'device')}")

    def unsay(entered: Entered) -> Done:
        withdraw_yes(
            batch, entered["line"], entered["cover"], by=person,
            now=timezone.localtime(), words=entered["why"],
        )  # fmt: skip
        return Done("withdrawn; it stays readable")

    def chosen(covers: Iterable[str]) -> dict[str, list[tuple[str, str]]]:
        return {"chosen": [(cover, cover) for cover in sorted(set(covers))]}

    lacking = chosen(one.cover for one in waiting if one.lacking)
    given = chosen(one.cover for one in waiting if one.given)
    write = Act(
        agree, "Write the yes", AgreedInWriting, options={**lacking, "batch": batch}
    )
    withdraw = Act(unsay, "Withdraw it", YesWithdrawn, options=given)
    return {
        **({"agree": write} if lacking["chosen"] else {}),
        **({"unsay": withdraw} if given["chosen"] else {}),
    }


def plan(request: HttpRequest, ref: str) -> HttpResponse:
    """Show who does what on which day, and what would be if."""
    batch = find.batch_with_terms(ref)
    form = forms.WhatIf(request.GET or None, label_suffix="")
    now = timezone.localtime()
    stands = what_stands(batch, now)
    base = reckoned(batch, now, is_planned=True)
    answer, wrong = base, ""
    if request.GET and form.is_valid():
        try:
            asked = _question(stands, form.cleaned_data)
            answer = reckoned(batch, now, what_if=asked, is_planned=True)
        except TurnscrewError as error:
            wrong = str(error)
    context = {
        "batch": batch,
        "form": form,
        "wrong": wrong,
        "answer": answer,
        "base": base,
        "is_asked": answer is not base,
        "days": _days(answer),
        "late": answer.planned.plan_in_use.late(answer.planned.problem_in_use),
        "rule_late": answer.planned.rule.late(answer.planned.problem),
        "base_late": base.planned.plan_in_use.late(base.planned.problem_in_use),
    }
    return page(request, "counter/plan.html", lambda: context)


def _question(stands: WhatIf, entered: Mapping[str, Any]) -> WhatIf:
    def pieces(name: str) -> list[str]:
        return [p.strip() for p in entered[name].split(";") if p.strip()]

    return replace(
        stands,
        away=tuple(absence_from(words) for words in pieces("away")),
        answers_on=entered["answers_on"],
        late_parts=dict(late_part_from(words) for words in pieces("late")),
        sign_offs=tuple(sign_off_from(words) for words in pieces("sign_offs")),
        use_donors=not entered["no_donors"],
        is_word_given=not entered["released_only"],
    )


def _days(
    answer: BatchAnswer,
) -> list[tuple[int, date | None, list[tuple[str, list[Any]]]]]:
    """
    Give the jobs by day and person, in the order they are done, with their minutes.

    The minutes are those of the person who does it.

    Where the plan reaches into another week, its first day stands with the first day
    of work in each.
    """
    slots = sorted(
        answer.planned.plan_in_use.slots,
        key=lambda slot: (slot.day, slot.person, slot.start_ticks),
    )
    weeks = {
        day: notation().begin_of_week(_date(answer, day))
        for day in dict.fromkeys(slot.day for slot in slots)
    }
    new = {week: day for day, week in reversed(weeks.items())}
    days = []
    for day, own in groupby(slots, key=lambda slot: slot.day):
        people_ = [
            (person, [(answer.by_name[slot.job], slot.minutes) for slot in theirs])
            for person, theirs in groupby(own, key=lambda slot: slot.person)
        ]
        is_new = len(new) > 1 and new[weeks[day]] == day
        days.append((day, weeks[day] if is_new else None, people_))
    return days


def papers(request: HttpRequest, ref: str) -> HttpResponse:
    """List the papers of a batch, now or as of a time."""
    batch = find.batch_with_terms(ref)
    as_of = request.GET.get("as_of", "")[:40]
    if as_of:
        try:
            terms_of(batch, _time(as_of))
        except TurnscrewError as error:
            return _list_of_papers(request, batch, as_of, wrong=str(error), shown=[])
    return _list_of_papers(request, batch, as_of, shown=_papers_for(request))


def _papers_for(request: HttpRequest) -> list[tuple[str, str]]:
    sees_money = may(request.person, "money")  # type: ignore[attr-defined]
    return [
        (name, title)
        for name, title in papers_here()
        if sees_money or name not in WITH_MONEY
    ]


def _list_of_papers(
    request: HttpRequest,
    batch: Any,
    as_of: str,
    *,
    shown: list[tuple[str, str]],
    wrong: str = "",
) -> HttpResponse:
    context = {"batch": batch, "papers": shown, "as_of": as_of, "wrong": wrong}
    return page(request, "counter/papers.html", lambda: context)


def paper(request: HttpRequest, ref: str, name: str) -> HttpResponse:
    """Give one paper as PDF, made from the records as they are or were."""
    if name in WITH_MONEY:
        allow(request.person, "money")  # type: ignore[attr-defined]
    batch = find.batch_with_terms(ref)
    now, is_past = timezone.localtime(), False
    try:
        if request.GET.get("as_of"):
            now, is_past = _time(request.GET["as_of"]), True
        answer = reckoned(batch, now, past_time=is_past, is_planned=True)
    except LackingError:
        # Its own page says what lacks on record.
        raise
    except TurnscrewError:
        raise Http404 from None
    size: Size = "letter" if request.GET.get("paper") == "letter" else "a4"
    beside = beside_of(name, batch, now, answer, past_time=is_past)
    sheet = paper_of(size, _language(request))
    content = paper_bytes(name, answer, sheet, beside)
    if content is None:
        return _nothing_on_it(request, batch, name)
    return pdf(content, f"{batch.ref}-{name}")


def _nothing_on_it(request: HttpRequest, batch: Any, name: str) -> HttpResponse:
    """Show the list again: nobody is led to a page that is not there."""
    shown = _papers_for(request)
    title = dict(shown).get(name)
    if title is None:
        raise Http404
    wrong = f"{title}: nothing to print on it now"
    as_of = request.GET.get("as_of", "")[:40]
    answer = _list_of_papers(request, batch, as_of, shown=shown, wrong=wrong)
    answer.status_code = 404
    return answer


def _language(request: HttpRequest) -> str:
    """Give the language of whoever prints."""
    told: str = request.person.language  # type: ignore[attr-defined]
    return told


def _time(text: str) -> datetime:
    """Read a time; a day alone means its end."""
    try:
        at, day = parse_datetime(text), parse_date(text)
    except ValueError:
        at, day = None, None
    if day is not None:
        at = datetime.combine(day, time.max)
    # At either end of the calendar a time may have no like in another zone.
    if at is None or not can_be_meant(at.date()):
        raise BadArgumentError(f"as of: found {text}, wanted 2027-02-01 or with T09:00")
    return at if at.tzinfo else timezone.make_aware(at)
