"""What may somebody do alone, since when, and who signed for it?"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from turnscrew.core.model.german import GERMAN_CARDS
from turnscrew.papers.page import Page, head, notation_of
from turnscrew.papers.telling import Telling, told_pdf

_EMPTY_ROWS = 6
"""Rows for what is signed off later, by hand. [1]"""

_CARD = """
#set text(size: 12pt)
#text(size: 22pt, weight: "bold", d.name) #h(3mm) #d.rights
#v(2mm)
#if d.rows.len() == 0 [#w("Nothing yet: hazardous work is not given to them alone.")]
#table(columns: (1fr, 25mm, 27mm, 20mm, 20mm, 36mm), stroke: ruled,
  inset: (x: 1mm, y: 2.6mm), align: (left, left, left, right, right, left),
  row-head(w("May do alone"), w("Since"), w("Until"), w("Passes under eyes"),
    w("Pieces left over"), w("Signed")),
  ..for r in d.rows { (strong(r.skill), r.on, r.until, r.passes, r.left, r.by) },
  ..for _ in range(d.n-empty) { ([#v(4mm)], [], [], [], [], []) })
#v(4mm)
#w("A skill that is not on this card is done with the lead beside.")
#w("A sign-off ends on its day, and at once when the lead takes it back.")
#v(6mm)
#grid(columns: (1fr, 1fr), column-gutter: 10mm,
  [#line-for(80mm) \\ #text(size: 10pt)[#w("day, signature of") #d.name]],
  [#line-for(80mm) \\ #text(size: 10pt)[#w("day, signature of the lead")]])
"""


@dataclass(frozen=True)
class SignedSkill:
    """
    A skill somebody may use alone.

    Parameters
    ----------
    skill
        Its name.
    on, until
        First and last day; no last day until further notice, no first day where only
        the workshop's list says so.
    by
        Who signed.
    n_supervised
        Passes under somebody's eyes before that; none where nobody counted. [1]
    n_left_over
        Pieces left over in them; none where nobody counted. [1]
    """

    skill: str
    on: date | None = None
    until: date | None = None
    by: str = ""
    n_supervised: int | None = None
    n_left_over: int | None = None


def helper_card(
    name: str,
    rights: str,
    skills: Sequence[SignedSkill],
    page: Page,
    language: str = "en",
) -> bytes:
    """
    Set the card of what one person may do alone.

    Parameters
    ----------
    name
        The person.
    rights
        What they are here, such as helper.
    skills
        What was signed off.
    page
        Size of the paper.
    language
        Short name of the language of its words; a skill stays as it was written.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    foot = "Keep a copy with the training records; follow local codes."
    rows = [
        {
            "skill": one.skill,
            "on": _day(one.on),
            "until": _day(one.until) or "further notice",
            "passes": _count(one.n_supervised),
            "left": _count(one.n_left_over),
            "by": one.by,
        }
        for one in skills
    ]
    data = {
        "head": head("Helper card", page, device=name, foot=foot),
        "name": name,
        "rights": rights,
        "rows": rows,
        "n-empty": _EMPTY_ROWS,
    }
    telling = Telling({"de": GERMAN_CARDS}, language, notation_of(page))
    return told_pdf(_CARD, data, telling, as_is=_AS_WRITTEN)


_AS_WRITTEN = frozenset({"device", "name", "skill", "by"})


def _day(day: date | None) -> str:
    return f"{day.day} {day:%b %Y}" if day else ""


def _count(n: int | None) -> str:
    return "not counted" if n is None else str(n)
