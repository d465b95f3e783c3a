"""Which codes does the bench scan in place of keys?"""

from collections.abc import Iterable

from turnscrew.core.bench.commands import COMMANDS, Command, CommandGroup
from turnscrew.papers.batch.codes import bars_svg
from turnscrew.papers.in_words import in_words
from turnscrew.papers.page import Page, compile_pdf, head

_WIDEST = ("TS-DONE", "TS-UNDO")

_FOOT = "One code to a scan: cover its neighbour, or hold the scanner close."

# Neighbours in a row stand half a row apart, so a line across one code meets white.
_CARD = """
#let key-line(c) = text(size: 8pt)[#w("key"): #c.key]
#let wide(c) = block(width: 190mm, height: 38mm, stroke: thick, {
  place(left + horizon, dx: 8mm, block(width: 84mm, {
    text(size: 40pt, weight: "bold", c.word)
    v(1mm)
    key-line(c)
  }))
  place(right + horizon, dx: -8mm, scale(220%, reflow: true, drawn(c.bars)))
})
#let pair(c) = block(width: 92mm, height: 24mm, {
  place(top + center, scale(125%, reflow: true, drawn(c.bars)))
  place(top + center, dy: 11.4mm, text(size: 14pt, weight: "bold", c.word))
  place(top + center, dy: 17.2mm, key-line(c))
})
#let small(c) = block(width: 60mm, height: 7mm, {
  place(top + center, drawn(c.bars))
})
#let named(c) = block(width: 60mm, height: 4.4mm, {
  place(top + center, [
    #text(size: 11pt, weight: "bold", c.word)#h(2mm)#key-line(c)])
})
#wide(d.done)
#block(above: 7mm, below: 0mm, width: 190mm, height: 148mm, {
  for (i, side) in d.sides.enumerate() {
    for (k, c) in side.enumerate() {
      place(top + left, dx: i * 98mm, dy: k * 27.6mm + i * 13.8mm, pair(c))
    }
  }
})
#place(bottom + left, wide(d.undo))
#pagebreak()
#block(width: 190mm, height: 242mm, {
  for (i, side) in d.lists.enumerate() {
    place(top + left, dx: i * 65mm, block(width: 60mm, align(center,
      text(size: 12pt, weight: "bold", side.title))))
    for (k, c) in side.codes.enumerate() {
      let down = 7mm + k * 15.1mm + calc.rem(i, 2) * 7.55mm
      place(top + left, dx: i * 65mm, dy: down, small(c))
      place(top + left, dx: i * 65mm, dy: down + 7.9mm, named(c))
    }
  }
})
"""


def command_card(page: Page, language: str = "en") -> bytes:
    """
    Set the card of codes: what is scanned while working, then recording and numbers.

    Parameters
    ----------
    page
        Size of the paper.
    language
        Short name of the language of its words; codes and keys are the same in all.

    Returns
    -------
    bytes
        The PDF, two pages; equal arguments give equal bytes.
    """
    between = [c for c in _of("working") if c.code not in _WIDEST]
    by_code = {command.code: command for command in COMMANDS}
    data = {
        "head": head("Codes for the bench", page, device="Turnscrew", foot=_FOOT),
        "done": _shown(by_code["TS-DONE"], 11),
        "undo": _shown(by_code["TS-UNDO"], 11),
        "sides": [_all(between[0::2], 8), _all(between[1::2], 8)],
        "lists": [
            {"title": title, "codes": _all(_of(group), 7)} for title, group in _LISTS
        ],
    }
    told = in_words(data, _CARD, language, as_is=_NO_WORDS)
    return compile_pdf(_CARD, told, is_tagged=True)


_NO_WORDS = frozenset({"bars", "device", "font"})

_LISTS: tuple[tuple[str, CommandGroup], ...] = (
    ("Joint", "joints"),
    ("Number", "numbers"),
    ("Part", "parts"),
)


def _of(group: CommandGroup) -> list[Command]:
    return [command for command in COMMANDS if command.group == group]


def _all(commands: Iterable[Command], height_mm: float) -> list[dict[str, str]]:
    return [_shown(command, height_mm) for command in commands]


def _shown(command: Command, height_mm: float) -> dict[str, str]:
    keys = f"{command.key} or {command.also}" if command.also else command.key
    return {
        "bars": bars_svg(command.code, height_mm),
        "word": command.word,
        "key": keys,
    }
