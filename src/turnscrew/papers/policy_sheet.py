"""
How does a whole strategy look on one page?

A tree with one line an action: what came before it on the left, the minutes of the
action and how many of a hundred jobs get there on the right. Branches too rare for the
page end in "ask again".
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from turnscrew.core.diagnose.advice import Advice, action_words
from turnscrew.core.diagnose.answer import Leaf, Policy, Step
from turnscrew.core.diagnose.evidence import Evidence
from turnscrew.core.model.faults import FaultTable
from turnscrew.core.model.german import GERMAN_CARDS
from turnscrew.papers.page import Page, head, language_of, notation_of
from turnscrew.papers.set_aside import written
from turnscrew.papers.telling import Telling, texts_in, told_pdf

MOST_ROWS = 41
"""Lines of the tree that fit if nothing else were said than the shortest head. [1]"""

_PER_LINE = 100

_AGAIN = "ask again here"

Rail = Literal["none", "pass", "tee", "end"]
"""What is drawn in front of a line at one level: nothing, a line going on, a branch."""


@dataclass(frozen=True)
class Row:
    """
    One line of the tree.

    Parameters
    ----------
    rails
        What is drawn in front of it, level by level.
    came
        Outcome that leads here, with its chance.
    action
        What is done.
    steps
        Tests and repairs in it, by name.
    opens
        The last thing opened for it.
    minutes
        What it costs, money included. [min]
    p
        Chance of getting here. [1]
    """

    rails: tuple[Rail, ...]
    came: str
    action: str
    steps: tuple[str, ...]
    opens: str
    minutes: float
    p: float


def rows_of(policy: Policy, least_p: float = 0.0) -> tuple[Row, ...]:
    """
    Lay a strategy out line by line.

    Parameters
    ----------
    policy
        The strategy.
    least_p
        Branches rarer than this are cut short. [1]

    Returns
    -------
    tuple
        The lines.
    """
    return tuple(_rows(policy, (), "", 1.0, least_p))


def fitting_rows(policy: Policy, most: int = MOST_ROWS) -> tuple[Row, ...]:
    """
    Lay out as much of a strategy as fits.

    Parameters
    ----------
    policy
        The strategy.
    most
        Most lines. [1]

    Returns
    -------
    tuple
        The lines; the rarest branches are cut short.
    """
    rows = rows_of(policy)
    for least_p in sorted({row.p for row in rows}):
        if len(rows) <= most:
            break
        rows = rows_of(policy, least_p * 1.000001)
    return rows


def _rows(
    policy: Policy, rails: tuple[Rail, ...], came: str, p: float, least_p: float
) -> Iterator[Row]:
    chain, last = _chain(policy)
    if p < least_p and isinstance(last, Step):
        yield Row(rails, came, _AGAIN, (), "", 0.0, p)
        return
    words = [action_words(step.action) for step in chain]
    steps = tuple(step.action for step in chain)
    opens = [name for step in chain for name in step.opens][-1:]
    minutes = sum(step.cost for step in chain)
    branches: tuple[tuple[str, float, Policy], ...] = ()
    if isinstance(last, Leaf):
        words.append("hand back" if last.kind == "works" else "give up")
        minutes += last.cost
    else:
        branches = last.branches
    yield Row(rails, came, ", ".join(words), steps, "".join(opens), minutes, p)
    inner: tuple[Rail, ...] = tuple(
        "pass" if rail in ("tee", "pass") else "none" for rail in rails
    )
    for n, (outcome, share, after) in enumerate(branches, start=1):
        rail: Rail = "end" if n == len(branches) else "tee"
        said = f"{outcome} {100 * share:.0f} %"
        yield from _rows(after, (*inner, rail), said, p * share, least_p)


def _chain(policy: Policy) -> tuple[list[Step], Policy]:
    """Take steps that follow one another without a branch together."""
    chain: list[Step] = []
    while isinstance(policy, Step):
        chain.append(policy)
        if len(policy.branches) != 1:
            return chain, policy
        policy = policy.branches[0][2]
    return chain, policy


SHEET = """
// German says the same with longer words; one page holds it a little smaller.
#set text(size: 9.3pt) if d.at("language", default: "en") == "de"
#let lead = 4.6mm
#let high = 5.2mm
#let rail(kind, tall) = block(width: lead, height: tall, {
  let mid = 1.8mm
  if kind == "pass" or kind == "tee" {
    place(dx: mid, line(start: (0mm, 0mm), end: (0mm, tall), stroke: 0.6pt)) }
  if kind == "end" {
    place(dx: mid, line(start: (0mm, 0mm), end: (0mm, high / 2), stroke: 0.6pt)) }
  if kind == "tee" or kind == "end" {
    place(dx: mid, dy: high / 2, line(length: lead - mid, stroke: 0.6pt)) }
})
#let told(row) = {
  if row.came != "" { row.came + ": " }
  strong(row.action.join(", "))
  if row.opens != "" { " (" + w("open|before it") + ": " + row.opens + ")" }
  if row.cautions.len() > 0 { " ! " + row.cautions.join(", ") }
}
// A row is as tall as its words: no caution may be cut off.
#let branch(row) = layout(size => {
  let words = block(width: size.width - lead * row.rails.len(),
    inset: (top: 1.1mm, bottom: 1mm), told(row))
  let tall = calc.max(high, measure(words).height)
  grid(columns: (lead,) * row.rails.len() + (1fr,), rows: tall,
    ..for kind in row.rails { (rail(kind, tall),) }, words)
})
#grid(columns: (1fr, 62mm), column-gutter: 6mm,
  [#text(size: 14pt, weight: "bold")[#w("Next|step"): #d.next]
   #if d.guess [#w("(a guess: only base priors speak)")] \\
   #if d.how != "" [#d.how \\ ]
   #if d.closes != "" [#w("close first"): #d.closes \\ ]
   #if d.opens != "" [#w("open first"): #d.opens \\ ]
   #for item in d.known_good [#w("uses") #item \\ ]
   #for caution in d.cautions [*!* #caution \\ ]
   #w("Known|so far"): #d.known \\
   #v(1mm) #w("owner's number") #line-for(28mm) #w("day") #line-for(18mm)
   #w("by") #line-for(14mm)],
  table(columns: (1fr, 13mm, 13mm), stroke: ruled, inset: (x: 0.5mm, y: 1mm),
    align: (left, right, right),
    row-head(w("likely"), w("before"), w("now")),
    ..for row in d.belief { row }))
#v(1mm)
#table(columns: (1fr, 12mm, 14mm), stroke: none, inset: (x: 0.5mm, y: 0mm),
  align: (left + top, right + top, right + top),
  table.header(..(w("what is done, by what came before"), "min",
    w("of 100")).map(
    n => table.cell(stroke: (bottom: thick), inset: (bottom: 1.2mm), strong(n)))),
  ..for row in d.rows { (
    branch(row), pad(top: 1.1mm, row.minutes), pad(top: 1.1mm, row.share)) })
#v(1.5mm)
#line(length: 100%, stroke: fine)
#for reason in d.why [#reason \\ ]
#d.minutes #d.again #d.marked
"""

_MINUTES = (
    "Minutes are hands and money together, money at the bench's rate; opening and "
    "closing are in them."
)
_ASK_AGAIN = "After every finding, ask again with all findings."
_MARKED = (
    "A word after an exclamation mark says what may hurt; its caution is said when the "
    "action comes next."
)


def policy_sheet(
    table: FaultTable,
    advice: Advice,
    evidence: Evidence,
    page: Page,
) -> bytes:
    """
    Set the policy sheet.

    Parameters
    ----------
    table
        The fault table.
    advice
        The advice with its strategy.
    evidence
        Signs and findings it rests on.
    page
        Size of the paper, with its language; the words of the table stay.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    policy = advice.answer.policy
    assert policy is not None
    own = frozenset(texts_in(table))
    telling = Telling({"de": GERMAN_CARDS}, language_of(page), notation_of(page), own)
    why = [reason for reason in advice.why if not reason.startswith("Likeliest")]
    top = sorted(advice.belief.after.items(), key=lambda pair: -pair[1])[:6]
    known = [*evidence.signs, *(finding.words for finding in evidence.findings)]
    foot = (
        "proven best" if advice.answer.status == "optimal" else "best found, not proven"
    )
    data = {
        "head": head("policy sheet", page, device=table.family, foot=foot),
        "next": action_words(advice.action),
        "guess": advice.is_guess,
        "how": advice.how,
        "opens": _names(advice.opens),
        "closes": _names(advice.closes),
        "known_good": list(advice.known_good),
        "cautions": list(advice.cautions),
        "known": "; ".join(map(written, known)) or "nothing yet",
        "belief": [
            [
                written(name),
                f"{100 * advice.belief.before[name]:.0f} %",
                f"{100 * p:.0f} %",
            ]
            for name, p in top
        ],
        "rows": [
            {
                "rails": list(row.rails),
                "came": row.came,
                "action": _pieces(row),
                "opens": written(row.opens),
                "cautions": _cautions(table, row),
                "minutes": f"{row.minutes:.0f}" if row.minutes else "",
                "share": f"{100 * row.p:.1f}",
            }
            for row in fitting_rows(policy, _room(advice, why, telling))
        ],
        "why": why,
        "minutes": _MINUTES,
        "again": _ASK_AGAIN,
        "marked": _MARKED,
    }
    return told_pdf(SHEET, data, telling, as_is=_AS_WRITTEN, is_tagged=False)


_AS_WRITTEN = frozenset({"device", "rails"})


def _pieces(row: Row) -> list[str]:
    """Give what is done on one line, step by step."""
    steps = [action_words(step) for step in row.steps]
    rest = row.action.removeprefix(", ".join(steps)).removeprefix(", ")
    return [*steps, rest] if rest else steps


def _room(advice: Advice, why: list[str], telling: Telling) -> int:
    """Count the lines left for the tree between head and reasons."""
    below = sum(1 + len(telling.says(reason)) // _PER_LINE for reason in why)
    tail = f"{_MINUTES} {_ASK_AGAIN} {_MARKED}"
    longer = len(telling.says(tail)) // _PER_LINE - len(tail) // _PER_LINE
    beside = [*advice.cautions, *advice.known_good, advice.how, "", "", ""]
    told = [telling.says(words) for words in beside]
    above = sum(1 + len(words) // (_PER_LINE * 6 // 10) for words in told)
    return max(5, MOST_ROWS - below - longer - max(0, above - 7) - 4)


def _cautions(table: FaultTable, row: Row) -> tuple[str, ...]:
    """Name what may hurt at one line, in a word each."""
    kinds = [k for n in row.steps if n in table.tests for k in table.tests[n].cautions]
    kinds += [
        k for n in row.steps if n in table.repairs for k in table.repairs[n].cautions
    ]
    return tuple(dict.fromkeys(kinds))


def _names(parts: Sequence[str]) -> str:
    """Join what a description calls its parts."""
    return ", ".join(map(written, parts))
