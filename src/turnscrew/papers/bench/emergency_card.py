"""What is done at once when somebody is hurt, or a pack smokes?"""

from turnscrew.core.model.german import GERMAN_CARDS
from turnscrew.papers.page import Page, head, notation_of
from turnscrew.papers.telling import Telling, told_pdf

# First-aid custom from memory, no source: what is said here is what the usual first-aid
# teaching says in most places; who was taught otherwise follows that teaching.
EVENTS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "A pack smokes, hisses or burns",
        (
            "Everybody out of the smoke; warn the others; close the door behind you.",
            "Call the fire service and say: lithium pack.",
            "Only if it is small, you were shown how and the way out is behind you: "
            "pull the mains plug, slide the pack into the fire box with the tongs, "
            "shut it, carry it nowhere.",
            "Nobody goes back in. A pack can catch fire again hours later.",
            "Whoever breathed the smoke sees a doctor.",
        ),
    ),
    (
        "A cut",
        (
            "Press a clean pad on it and raise it. Glass that sits deep stays in.",
            "Rinse a small one, cover it, change the gloves.",
            "It does not stop, gapes, or is numb: call for help.",
        ),
    ),
    (
        "A burn",
        (
            "Off with rings and watch. Cool under running water for 20 minutes.",
            "No ice, no ointment. Cover it loosely with film or a clean pad.",
            "Larger than the palm, blistered, or from a pack: see a doctor.",
        ),
    ),
    (
        "A shock",
        (
            "Cut the current first: pull the plug or the switch. "
            "Touch nobody who still hangs on it.",
            "No breath: call for help, begin what you were taught, fetch the "
            "defibrillator.",
            "Everybody who had a shock from the mains sees a doctor, however well "
            "they feel.",
        ),
    ),
    (
        "A spill, or something in the eye",
        (
            "Eye or skin: rinse with water for 15 minutes, lids held open; lenses out. "
            "Then a doctor, with the label of what it was.",
            "Solvent: no flame, no switch; windows open; out until it is gone.",
            "From a pack: gloves and goggles, soak it up, into a closed bag, "
            "to the hazardous waste.",
        ),
    ),
)
"""What happens, and what is done, in order."""

PLACES = (
    "Emergency number",
    "We are at (address, floor, door)",
    "First aider",
    "Mains switch of this bench",
    "Fire box and tongs",
    "Extinguisher",
    "Rinsing place for eyes",
    "First-aid box",
    "Where we meet outside",
)
"""What is filled in by hand at each bench."""

_HANG = (
    "Hang both pages where the bench can see them, and look through them at each fire "
    "drill."
)
_KEEP = (
    "Keep to your local fire plan and codes, and to what your first aiders were "
    "taught, where they say otherwise."
)

_CARD = """
#set text(size: 14pt)
#block(below: 2.5mm, text(size: 26pt, weight: "bold", w("In an emergency")))
#block(stroke: 1.5pt + black, inset: 2mm, width: 100%, above: 0mm, below: 3.5mm,
  text(weight: "bold", w("People first. Leave the work as it lies. Call early.")))
#for one in d.events {
  block(breakable: false, above: 0mm, below: 3mm, width: 100%, {
    block(above: 0mm, below: 1.4mm, text(size: 20pt, weight: "bold", one.at(0)))
    set text(size: 16pt)
    enum(tight: true, spacing: 1.4mm, indent: 1mm, ..one.at(1).map(words => [#words]))
  })
}
#pagebreak()
#block(below: 4mm, text(size: 26pt, weight: "bold", w("Here, at this bench")))
#table(columns: (82mm, 1fr), stroke: ruled, inset: (x: 1mm, y: 5.2mm),
  ..for name in d.places { (strong(name), []) })
#v(5mm)
#w("Filled in by") #line-for(60mm) #w("on") #line-for(35mm)
#v(3mm)
#d.hang
#d.keep
"""


def emergency_card(page: Page, language: str = "en") -> bytes:
    """
    Set the card that hangs by each bench for when somebody is hurt or a pack smokes.

    Parameters
    ----------
    page
        Size of the paper.
    language
        Short name of the language of its words.

    Returns
    -------
    bytes
        The PDF, two pages; equal arguments give equal bytes.
    """
    foot = "Follow local codes; mains parts are for licensed people."
    data = {
        "head": head("Emergency card", page, device="Turnscrew", foot=foot),
        "events": EVENTS,
        "places": PLACES,
        "hang": _HANG,
        "keep": _KEEP,
    }
    telling = Telling({"de": GERMAN_CARDS}, language, notation_of(page))
    return told_pdf(_CARD, data, telling, as_is=frozenset({"device"}))
