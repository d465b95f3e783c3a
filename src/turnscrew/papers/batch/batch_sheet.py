"""What was received, compared, decided and planned?"""

from collections.abc import Iterable, Sized
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.amounts import counted, sureness
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.price.limits import Running, running_sums, unclear_limits
from turnscrew.papers.batch.decision_words import decided_words
from turnscrew.papers.batch.list_words import missing_written, twice_written
from turnscrew.papers.batch.speech import Speech, batch_pdf, speech_of
from turnscrew.papers.batch.words import (
    batch_head,
    day_words,
    faults_written,
    full_date,
    hold_written,
    last_job_words,
    owner_written,
    seen_written,
)
from turnscrew.papers.page import Page
from turnscrew.papers.set_aside import written

_BATCH = """
#set text(size: 9pt)
#grid(columns: (auto, 1fr), column-gutter: 4mm, row-gutter: 1.4mm,
  ..for row in d.facts { (text(weight: "bold", row.at(0)), row.at(1)) })
#part(w("The batch against the customer's list"))
#table(columns: (46mm, 12mm, 1fr), stroke: ruled, inset: 1.2mm,
  row-head("", w("count"), w("which")), ..d.compared.flatten())
#let known(title, rows) = if rows.len() > 0 [
  #part(title)
  #table(columns: (10mm, 30mm, 1fr), stroke: ruled, inset: 1.2mm,
    row-head(w("no."), w("device"), w("what")),
    ..for row in rows { (strong(row.at(0)), row.at(1), row.at(2)) })
]
#known(w("Held: to be observed or settled first"), d.held)
#known(w("Here before, not held"), d.before)
#if d.rows.len() == 0 [
  #w("No device yet: nothing is decided, charged or planned.")
] else [
  #part(w("Decisions"))
  #table(columns: (8mm, 21mm, 13mm, 22mm, 8mm, 1fr, 20mm, 15mm, 17mm, 15mm, 15mm),
    stroke: ruled, inset: 1mm,
    align: (right, left, left, left, right, left, left, right, right, right, right),
    row-head(w("no."), w("owner's no."), w("model"), w("site"), w("due"),
      w("fault found"), w("decision"), w("quote"), w("limit"), w("flips at"),
      w("as donor")),
    ..for row in d.rows { (strong(row.at(0)), ..row.slice(1)) })
  #d.flips
  #part(w("Money before tax") + ", " + d.currency)
  #table(columns: (1fr, 30mm), stroke: ruled, inset: 1.2mm, align: (left, right),
    ..d.money.flatten())
  #part(w("Minutes, hands on, standard"))
  #table(columns: (1fr, 30mm), stroke: ruled, inset: 1.2mm, align: (left, right),
    ..d.minutes.flatten())
  #if d.openings.len() > 0 [
    #part(w("Opening and closing: agreed standard beside the computed way"))
    #table(columns: (1fr, 26mm, 26mm), stroke: ruled, inset: 1.2mm,
      align: (left, right, right),
      row-head(w("device, to reach"), w("standard"), w("computed")),
      ..d.openings.flatten())
  ]
  #part(w("Plan"))
  #table(columns: (40mm, 1fr, 1fr), stroke: ruled, inset: 1.2mm,
    row-head("", w("hand rule"), w("best found")), ..d.plan.flatten())
  #d.why

  #d.promise
]
"""


def batch_sheet(
    answer: BatchAnswer, page: Page, openings: list[tuple[str, str, str]]
) -> bytes:
    """
    Set the whole batch: list compared, holds, decisions, money, minutes, plan.

    Parameters
    ----------
    answer
        The batch.
    page
        Size of the paper.
    openings
        Device and parts reached, standard minutes, computed minutes, as words.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    terms = answer.batch.terms
    customer = terms.customer
    speech = speech_of(answer, page)
    data: dict[str, Any] = {
        "head": batch_head(answer, "Batch sheet", page),
        "facts": [
            ("Customer", written(customer.name)),
            ("Order", written(customer.order) or "no number given"),
            ("Received", f"{full_date(answer, 1)}, workshop day 1"),
            ("Devices", str(len(answer.devices))),
            ("Data terms", written(customer.contract) or "NO CONTRACT ON FILE"),
            *[("To be asked", words) for words in _asked(answer)],
            *[("Noted", note) for note in answer.batch.notes],
        ],
        "compared": _compared(speech),
        "held": [
            _known(speech, d, (*map(hold_written, d.holds), *d.past_beside))
            for d in answer.devices
            if d.holds
        ],
        "before": [
            _known(speech, d, d.past) for d in answer.devices if d.past and not d.holds
        ],
        "rows": [_decision_row(speech, device) for device in answer.devices],
        "flips": (
            "Limit: up to this the device is worth mending. Flips at: the quote at "
            "which the decision would change. As donor: cost of the new parts it would "
            "save others if it were stripped. The sign ~ marks a limit from a value "
            "that is an estimate."
            + (
                " To come: failures expected while it serves on."
                if any(_to_come(answer, device) for device in answer.devices)
                else ""
            )
        ),
        "currency": written(terms.currency),
        "money": _money_rows(speech),
        "minutes": [
            (words, speech.count(answer.minutes[key]))
            for words, key in (
                ("Handling of what goes back", "handling"),
                ("Opening and closing", "open_close"),
                ("Exchange and trials", "exchange"),
                ("Strips, receiving among it", "strips"),
                (
                    "Receiving everything (of what is planned, part of the above)",
                    "receiving",
                ),
            )
        ],
        "openings": [(written(what), own, found) for what, own, found in openings],
        "plan": _plan_rows(answer),
        "why": answer.planned.why_in_use,
        "promise": _promise_words(speech),
    }
    return batch_pdf(_BATCH, data, speech)


def _compared(speech: Speech) -> list[tuple[str, str, str]]:
    found, told = speech.answer.reconciliation, speech.told
    both = f" {told('and')} "
    rows: list[tuple[str, Sized, str]] = [
        ("matched", found.matched, ""),
        (
            "matched, but differing",
            found.differing,
            "; ".join(
                f"{one.line}: {', '.join(told(str(d)) for d in one.differences)}"
                for one in found.differing
            ),
        ),
        (
            "on the list, but not here",
            found.missing,
            "; ".join(told(missing_written(found, row)) for row in found.missing),
        ),
        ("here, but not on the list", found.extra, ", ".join(map(str, found.extra))),
        (
            "the same serial twice",
            found.duplicate_serials,
            "; ".join(both.join(map(str, g)) for g in found.duplicate_serials),
        ),
        (
            "the same owner's number twice",
            found.duplicate_assets,
            "; ".join(both.join(map(str, g)) for g in found.duplicate_assets),
        ),
        (
            "nearly the same serial",
            found.near_serials,
            "; ".join(told(str(near)) for near in found.near_serials),
        ),
        (
            "a number blank",
            found.blanks,
            "; ".join(
                f"{b.line}: {', '.join(told(f'no {name}') for name in b.fields)}"
                for b in found.blanks
            ),
        ),
    ]
    if twice := twice_written(found):
        rows.append(("a number twice on the list", twice, "; ".join(map(told, twice))))
    return [(words, str(len(which)), told) for words, which, told in rows]


def _known(
    speech: Speech, device: DecidedDevice, known: Iterable[str]
) -> tuple[str, str, str]:
    return (
        str(device.name),
        f"{seen_written(device)}, {speech.told(owner_written(device))}",
        "; ".join(map(speech.told, known)),
    )


def _decision_row(speech: Speech, device: DecidedDevice) -> tuple[str, ...]:
    answer, money = speech.answer, speech.money
    decision = device.decision
    due = device.line.due_day
    return (
        str(device.name),
        owner_written(device),
        seen_written(device),
        written(device.line.site),
        "–" if due is None else str(due),
        faults_written(answer, device),
        _decided(answer, device),
        money(decision.quote_minor),
        ("~" if decision.is_estimate else "") + money(decision.limit_minor),
        money(decision.flips_at_minor),
        money(answer.supply.as_donor_minor.get(device.name)),
    )


def _decided(answer: BatchAnswer, device: DecidedDevice) -> str:
    if device.name in answer.what_if.as_it_came:
        return "given back as it came"
    words = decided_words(answer, device)
    is_refused = device.name in answer.refused
    return words if is_refused else words + _to_come(answer, device)


def _to_come(answer: BatchAnswer, device: DecidedDevice) -> str:
    ahead = answer.batch.terms.models[device.line.model].failures_to_come
    return "" if ahead is None else f"; {ahead:.1f} to come"


def _asked(answer: BatchAnswer) -> list[str]:
    """Give each question to the customer once, however many devices raise it."""
    unclear = unclear_limits(answer.batch.terms)
    no_value = [d.decision.reason for d in answer.devices if _lacks_value(d)]
    return list(dict.fromkeys(words for words in (unclear, *no_value) if words))


def _lacks_value(device: DecidedDevice) -> bool:
    decision = device.decision
    has_no_limit = decision.quote_minor is not None and decision.limit_minor is None
    return has_no_limit and decision.code == "ask"


def _money_rows(speech: Speech) -> list[tuple[str, str]]:
    answer, money = speech.answer, speech.money
    account = answer.account
    # Part of the pay is earned already: the plan of the rest tells no margin.
    labour = [
        ("Labour, at pay", money(-account.labour_minor)),
        ("Margin", money(account.margin_minor)),
    ]
    return [
        ("Repairs", money(account.repairs_minor)),
        ("Diagnosis of what is stripped", money(account.strip_diagnosis_minor)),
        ("No fault found, trials", money(account.no_fault_found_minor)),
        ("Total", money(account.total_minor)),
        *((says, money(minor)) for says, _, minor in answer.still_open),
        ("Credit for donor parts", money(-account.donor_credit_minor)),
        ("Invoice", money(account.invoice_minor)),
        ("Bought or stocked parts used, at cost", money(-account.parts_cost_minor)),
        *([] if answer.is_under_way else labour),
        *(
            _running_row(one, speech)
            for one in running_sums(
                answer.not_left, answer.batch.terms, answer.what_if.let_go_before
            )
        ),
    ]


def _running_row(running: Running, speech: Speech) -> tuple[str, str]:
    money = speech.money
    if running.cap_minor is None:
        says = f"Goes without asking; no cap agreed for {running.of}"
    else:
        says = (
            f"Goes without asking, of the {money(running.cap_minor)} agreed for "
            f"{running.of}; {money(running.left_minor)} left"
        )
    return says, money(running.taken_minor)


def _plan_rows(answer: BatchAnswer) -> list[tuple[str, str, str]]:
    planned = answer.planned
    rule = planned.rule
    rows: list[tuple[str, str, str]] = []
    best = planned.best.plan if planned.best else None
    rows.append(
        (
            "last job done",
            last_job_words(answer, rule),
            last_job_words(answer, best) if best else "not asked for",
        )
    )
    rows.append(
        (
            "late, days",
            _late_words(rule.late(planned.problem)),
            _late_words(best.late(planned.problem_best)) if best else "",
        )
    )
    rows.append(
        (
            "set-ups",
            str(rule.n_set_ups(planned.problem)),
            str(best.n_set_ups(planned.problem_best)) if best else "",
        )
    )
    if planned.best:
        b = planned.best
        rows.append(
            (
                "proof",
                "",
                f"{b.status}: at least {b.bound.n_late} late, then "
                f"{counted(b.bound.late_days, 'day')}, then "
                f"{counted(b.bound.n_set_ups, 'set-up')}",
            )
        )
    return rows


def _late_words(late: dict[int, int]) -> str:
    return ", ".join(f"{name}: {days}" for name, days in late.items()) or "none"


def _spread_words(speech: Speech) -> str:
    words = speech.says(str(speech.answer.planned.spread))
    return written(f"{words[0].upper()}{words[1:]}.")


def _promise_words(speech: Speech) -> str:
    answer, told = speech.answer, speech.told
    promise = answer.planned.promise
    if promise is None:
        return ""
    if answer.planned.no_promise:
        return told(answer.planned.no_promise)
    shares = "; ".join(told(f"day {day}: {sureness(p)}") for day, p in promise.by_due)
    done = (
        f"With real times as they spread, everything is done by "
        f"{told(day_words(answer, promise.day))} with probability "
        f"{sureness(promise.probability)} ({promise.n_plays} plays)."
    )
    in_time = told(f"In time for each due day: {shares}.") if shares else ""
    return " ".join(filter(None, (told(done), in_time, _spread_words(speech))))
