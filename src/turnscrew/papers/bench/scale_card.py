"""How long is a screw, and how large are the letters on the screen?"""

from turnscrew.papers.in_words import in_words
from turnscrew.papers.page import Page, compile_pdf, head

CARD_MM = (85.6, 54.0)
"""Width and height of a card ID-1, ISO/IEC 7810, from memory (53.98 there). [mm]"""

LENGTH_MM = 30
"""How far the scale for fasteners goes. [mm]"""

TICK_MM = 0.5
"""Distance of its ticks. [mm]"""

_CARD = """
#set text(size: 11pt)
#let pen = 0.4pt + black
#bar #v(1mm)
#text(size: 12pt, weight: "bold")[#w("True size only if the bar measures 100 mm.")] \\
#w("Print without scaling; measure the bar with a rule before the card is used.")

#part(w("Length of a fastener"))
#block(above: 5mm, below: 3mm, width: 100mm, height: 33mm, {
  let zero = 30mm
  let down = 16mm
  place(top + left, dx: zero - 10mm, dy: down - 14mm, rect(width: 10mm, height: 28mm,
    fill: luma(225), stroke: none))
  place(top + left, dx: zero - 10mm, dy: down - 14mm, block(width: 9mm, height: 28mm,
    align(center + horizon, text(size: 10pt, weight: "bold")[#w("head") \\ #w("here")])))
  place(top + left, dx: zero - 1.2mm, dy: down - 14mm,
    rect(width: 1.2mm, height: 28mm, fill: black, stroke: none))
  place(top + left, dx: zero, dy: down, line(length: d.length * 1mm, stroke: pen))
  for i in range(int(calc.round(d.length / d.tick)) + 1) {
    let at = i * d.tick
    let is-five = calc.rem(i * d.tick, 5) == 0
    let is-whole = calc.rem(i * d.tick, 1) == 0
    let h = if is-five { 9mm } else if is-whole { 6mm } else { 3.5mm }
    if i > 0 {
      place(top + left, dx: zero + at * 1mm, dy: down - h,
        line(angle: 90deg, length: h, stroke: 0.2pt + black))
    }
    if is-five {
      let aside = if i == 0 { 1.4mm } else { 0mm }
      place(top + left, dx: zero + at * 1mm - 4mm + aside, dy: down + 1mm,
        block(width: 8mm, align(center, text(size: 10pt, str(int(calc.round(at)))))))
    }
  }
  place(top + left, dx: zero + d.length * 1mm + 6mm, dy: down - 4mm, [mm])
})
#w("Stick the sheet on stout card and cut it along the right side of the black edge: the edge is the stop.")
#w("Hook the head over it, its underside against it, and read at the tip; ticks of 0.5 mm.")
#w("A countersunk screw is measured with its head: lay the top of the head level with the edge.")
#text(size: 9pt)[(#w("Trade custom, no source."))]

#part(w("Size of the letters on the screen"))
#block(above: 4mm, below: 3mm, width: d.card.at(0) * 1mm, height: d.card.at(1) * 1mm, {
  place(top + left, line(length: d.card.at(0) * 1mm, stroke: pen))
  place(bottom + left, line(length: d.card.at(0) * 1mm, stroke: pen))
  place(top + left, line(angle: 90deg, length: d.card.at(1) * 1mm, stroke: pen))
  place(top + right, line(angle: 90deg, length: d.card.at(1) * 1mm, stroke: pen))
  place(center + horizon, block(width: 74mm, align(center, [
    #text(size: 14pt, weight: "bold")[#w("85.6 × 54.0 mm")] \\
    #w("card of the size ID-1, ISO/IEC 7810") \\
    #w("cut along the line, or take any card of this size")])))
})
#w("Hold the card flat against the screen.")
#w("Make the frame on the screen wider or narrower until it is as large as the card, and press Done.")
#w("The letters are then as large as they are meant to be.")
"""


def scale_card(page: Page, language: str = "en") -> bytes:
    """
    Set the card with which fasteners and screens are measured.

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
    foot = "True size only if the bar measures 100 mm."
    data = {
        "head": head("Scale card", page, device="Turnscrew", foot=foot),
        "card": CARD_MM,
        "length": LENGTH_MM,
        "tick": TICK_MM,
    }
    told = in_words(data, _CARD, language, as_is=frozenset({"device", "font"}))
    return compile_pdf(_CARD, told, is_tagged=True)
