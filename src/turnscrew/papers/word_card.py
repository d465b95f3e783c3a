"""Which words do the sheets use, for the wall beside the bench?"""

from turnscrew.core.model.fastener import Drive
from turnscrew.core.model.german import GERMAN_CARDS
from turnscrew.papers.page import Page, head, notation_of
from turnscrew.papers.recess import recess_svg
from turnscrew.papers.telling import Telling, told_pdf

TERMS = (
    ("Opening path", "What comes off, in order."),
    ("Refit list", "What goes back, in its own order; not the path turned round."),
    ("Action", "One line of either: one thing done with the hands."),
    ("Joint", "What holds parts together: screw, clip, latch, bond, plug."),
    (
        "Item letter",
        "The same letter on sheet, map, bench and compartment, if no other is named.",
    ),
    ("Layer", "What became reachable when something came off."),
    ("No-lever zone", "Hatched: nothing is levered there."),
    ("Safe stop", "Here you may walk away; elsewhere finish or cover it."),
    ("Renew at refit", "This joint works once; a new one goes in."),
    ("Tray count", "Taken = back + replaced + left out + in tray."),
    ("Close gate", "Counts, looks and tests answered before the last cover."),
    ("Look", "See it with your eyes before something covers it."),
    ("Draft", "Not for helpers alone until somebody else has rebuilt from it."),
)
"""Words and what they mean."""

RECESSES = (
    ("type H", Drive("type H", 1)),
    ("hexalobular", Drive("hexalobular", 8)),
    ("hexagon", Drive("hexagon", 2.5)),
    ("slotted", Drive("slotted", 3)),
    ("three-wing", Drive("three-wing", 1)),
)

SHEET = """
#set text(size: 14pt)
#text(size: 20pt, weight: "bold", w("Words on the sheets"))
#v(2mm)
#table(columns: (48mm, 1fr), stroke: ruled, inset: 2mm,
  ..for row in d.terms { (strong(row.at(0)), row.at(1)) })
#v(3mm)
#grid(columns: (1fr,) * d.recesses.len(), align: center, row-gutter: 2mm,
  ..for r in d.recesses { (drawn(r.svg, width: 16mm),) },
  ..for r in d.recesses { (r.name,) })
#v(3mm)
#w("A pack that is swollen, hot or smells: stop, isolate it, call the lead.")
"""


def word_card(page: Page, language: str = "en") -> bytes:
    """
    Set the card of words that hangs by the bench.

    Parameters
    ----------
    page
        Size of the paper.
    language
        Short name of the language of its words.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    foot = "Follow local codes; leave mains parts to licensed people."
    data = {
        "head": head("Words on the sheets", page, device="Turnscrew", foot=foot),
        "terms": TERMS,
        "recesses": [
            {"name": name, "svg": recess_svg(drive, 2.5, 6.0)}
            for name, drive in RECESSES
        ],
    }
    telling = Telling({"de": GERMAN_CARDS}, language, notation_of(page))
    return told_pdf(SHEET, data, telling, as_is=frozenset({"device"}), is_tagged=False)
