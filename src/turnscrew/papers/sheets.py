"""Which paper lies on the bench while a device is opened and put back?"""

from typing import Any

from turnscrew.core.model.amounts import counted
from turnscrew.core.model.device import Device
from turnscrew.core.model.geometry import View
from turnscrew.core.model.language import own_words
from turnscrew.core.opening.answer import Action, OpeningAnswer
from turnscrew.papers.drawing import canvas_mm, face_svg, faces_used
from turnscrew.papers.in_words import in_words
from turnscrew.papers.page import Page, compile_pdf, head

DRAWING_MM = (186.0, 120.0)
"""Room for one face on the sheet. [mm]"""

RATIOS = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 10.0)
"""Scales at which a face may be drawn. [1]"""

CODES_WORDS = "Follow local codes; leave mains parts to licensed people."

SHEET = """
#text(size: 13pt, weight: "bold")[#w("To reach"): #d.reach]
#grid(columns: (auto, 1fr), column-gutter: 4mm, row-gutter: 1.6mm,
  ..for row in d.facts { (text(weight: "bold", row.at(0)), row.at(1)) })
#if d.about.len() > 0 [
  #part(w("Is it this one? How sure is this sheet?"))
  #for words in d.about [ #words #linebreak() ]
]
#if d.before.len() > 0 [
  #part(w("Before opening"))
  #for words in d.before [ #grid(columns: (6mm, 1fr), tick, words) ]
]
#if d.confusable.len() > 0 [
  #part(w("Easily mistaken: read before the first is taken out"))
  #for words in d.confusable [ #grid(columns: (5mm, 1fr), tick, words) ]
]
#if d.used_up.len() > 0 [
  #part(w("Used up by this opening: have it at hand first"))
  #table(columns: (auto, auto, 1fr), stroke: ruled, inset: 1.4mm,
    row-head(w("spare"), w("how much"), w("why")), ..d.used_up.flatten())
]
#let lines(title, rows) = [
  #part(title)
  #table(columns: (8mm, 10mm, 9mm, 1fr, 12mm, 31mm), stroke: ruled, inset: 1.3mm,
    align: (center, right, center, left, right, left),
    row-head("", w("line"), w("item"), w("action"), "s", w("posture / tool")),
    ..for row in rows { (
      tick, row.number, text(weight: "bold", size: 11.5pt, row.letter),
      block(breakable: false)[
        #if row.stop != "" [ #emph(row.stop) #linebreak() ]
        #for words in row.cautions [ *#w("Caution.")* #words #linebreak() ]
        #text(size: 11pt, weight: "semibold", row.says)
        #for words in row.details [ #linebreak() #words ]
        #if row.sign_off != "" [ #linebreak() *#row.sign_off.* ]
        #if row.renew != "" [ #linebreak() *#w("Renew at refit"):* #row.renew ]
      ],
      row.seconds, row.where) })
]
#lines(w("Opening path"), d.opening)
#lines(w("Refit list"), d.refit)
#part(w("Close gate: answer all before the last cover"))
#for gate in d.gates [
  #block(breakable: false, below: 2.4mm, grid(columns: (6mm, 1fr), tick, [
    *#gate.name.* #gate.says #if gate.before != "" [ #w("Before"): #gate.before. ]
    #if gate.power != "" [ #linebreak() #gate.power ]
    #if gate.supports != "" [ #linebreak() #w("With"): #gate.supports. ]
  ]))
]
#if d.counts.len() > 0 [
  #part(w("Tray count: taken = back + replaced + left out + in tray"))
  #table(columns: (12mm, 1fr, 24mm, 17mm, 20mm, 28mm, 22mm), stroke: 0.25pt + black,
    inset: 1.6mm, align: (center, left, center, center, center, center, center),
    row-head(w("item"), w("joint"), w("taken"), w("back|tray"), w("replaced"),
      w("left out"), w("in tray")),
    ..for row in d.counts { (strong(row.at(0)), row.at(1), row.at(2), [], [], [], []) })
]
#if d.after.len() + d.signals.len() > 0 [
  #part(w("After closing"))
  #for words in d.after [ #grid(columns: (6mm, 1fr), tick, words) ]
  #for words in d.signals [ #words #linebreak() ]
]
#v(4mm)
#block(breakable: false)[
  #grid(columns: (1fr, 1fr, 1fr), column-gutter: 6mm,
    [#w("device number") #line-for(28mm)],
    [#w("done by") #line-for(36mm)],
    [#w("second look") #line-for(30mm)])
]
#if d.photos.len() > 0 [
  #part(w("Photos to compare with"))
  #for words in d.photos [ #words #linebreak() ]
]
#for face in d.faces [
  #block(breakable: false)[
    #part(face.title)
    #if face.says != "" [ #face.says ]
    #drawn(face.svg, width: face.width_mm * 1mm)
  ]
]
"""


def opening_sheet(
    device: Device, answer: OpeningAnswer, page: Page, language: str = "en"
) -> bytes:
    """
    Set the opening path and the refit list as one sheet.

    Parameters
    ----------
    device
        The device, in the revision reckoned with.
    answer
        Its opening; not an impossible one.
    page
        Size of the paper.
    language
        Short name of the language of its fixed words and sentences; the description
        speaks it where it can, else it stands in quotation marks.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    back = {line.name for line in answer.opening if line.verb == "undo"}
    data: dict[str, Any] = {
        "head": head(
            "Opening and refit sheet",
            page,
            device=answer.device,
            revision=answer.revision,
            foot=CODES_WORDS,
        ),
        "reach": ", ".join(answer.reach),
        "facts": _facts(answer),
        "about": answer.about,
        "before": answer.before_opening,
        "confusable": answer.confusable,
        "used_up": [(used.spare, used.amount, used.why) for used in answer.used_up],
        "opening": [_row(line) for line in answer.opening],
        "refit": [_row(line) for line in answer.refit],
        "gates": [
            {
                "name": gate.name,
                "says": gate.says,
                "before": ", ".join(gate.before),
                "power": gate.power,
                "supports": ", ".join(gate.supports),
            }
            for gate in answer.gates
        ],
        "counts": [
            (line.letter, line.name, str(line.n))
            for line in answer.opening
            if line.letter and device.joints[line.name].goes_in_tray
        ],
        "after": [*answer.settings, *answer.final_tests],
        "signals": answer.signals,
        "photos": answer.photos,
        "faces": _faces(device, answer, frozenset(back)),
    }
    own = own_words(device, language)
    told = in_words(data, SHEET, language, own=own, as_is=_NO_WORDS)
    return compile_pdf(SHEET, told)


_NO_WORDS = frozenset({"device", "font", "number", "letter"})


def _facts(answer: OpeningAnswer) -> list[tuple[str, str]]:
    saved = [("Saves", answer.saved_words)] if answer.saved_words else []
    return [
        ("Time", answer.time_words),
        *saved,
        ("Proof", answer.proof_words),
        (
            "Way",
            f"{counted(len(answer.opening), 'action')} in, {len(answer.refit)} back; "
            f"joints that stay as they are: {len(answer.untouched)}",
        ),
    ]


def _row(line: Action) -> dict[str, Any]:
    where = line.posture
    if line.tool not in ("", "hand") and line.verb not in ("turn", "look"):
        where = f"{where} / {line.tool}"
    return {
        "number": str(line.number),
        "letter": line.letter,
        "says": line.says,
        "cautions": line.cautions,
        "details": line.details,
        "sign_off": line.sign_off and f"Only: {line.sign_off}",
        "renew": line.renew,
        "stop": line.stop,
        "seconds": f"{line.seconds:.0f}" if line.seconds else "",
        "where": where,
    }


def _face_words(view: View) -> str:
    """Say what gives the scale of a photo, and which drawing has no words."""
    long = f", {view.scale_mm:g} mm" if view.scale_mm is not None else ""
    scale = f"Scale in a photo: {view.scale}{long}. " if view.scale or long else ""
    drawing = f"Drawing without words: {view.drawing}." if view.drawing else ""
    return f"{scale}{drawing}".strip()


def _fits(view: View, ratio: float) -> bool:
    width_mm, height_mm = canvas_mm(view, ratio)
    return width_mm / ratio <= DRAWING_MM[0] and height_mm / ratio <= DRAWING_MM[1]


def _faces(
    device: Device, answer: OpeningAnswer, joints: frozenset[str]
) -> list[dict[str, Any]]:
    """Draw each face that this opening uses, at a round scale that fits."""
    letters = {line.name: line.letter for line in answer.opening if line.letter}
    found = []
    for face in faces_used(device, joints):
        view = device.views[face]
        ratio = next((r for r in RATIOS if _fits(view, r)), RATIOS[-1])
        svg = face_svg(device, face, letters, only=joints, scale=ratio)
        size = "true size" if ratio == 1 else f"not true size, scale 1:{ratio:g}"
        found.append(
            {
                "title": f"Face: {face} ({size})",
                "says": _face_words(view),
                "svg": svg,
                "width_mm": canvas_mm(view, ratio)[0] / ratio,
            }
        )
    return found
