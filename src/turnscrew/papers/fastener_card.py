"""Which fastener belongs in which hole, at true size?"""

from math import ceil
from typing import Any

from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.german import GERMAN_CARDS
from turnscrew.core.model.holding import Cover
from turnscrew.core.model.joint import Joint
from turnscrew.core.opening.answer import OpeningAnswer
from turnscrew.papers.drawing import canvas_mm, face_svg, faces_with_places
from turnscrew.papers.drawn_words import with_words_said
from turnscrew.papers.page import BODY_MM, Page, head, notation_of
from turnscrew.papers.recess import head_mm, recess_svg, side_path
from turnscrew.papers.telling import Telling, texts_in, told_pdf

TITLE_MM = 18.0
"""Room for title and proof bar beside a map. [mm]"""

OVERLAP_MM = 10.0
"""What two tiles of one face share. [mm]"""

SILHOUETTE_MM = 40.0
"""Width of the field a fastener is drawn in from the side. [mm]"""

SCALE_MM = 30.0
"""Length of the scale under a silhouette; longer fasteners are told, not drawn. [mm]"""

SHEET = """
#if d.confusable.len() > 0 [
  #part(w("Easily mistaken: read before the first is taken out"))
  #for words in d.confusable [ #grid(columns: (5mm, 1fr), tick, words) ]
]
#if d.rows.len() == 0 [ #w("No loose fastener comes off in this opening.") ] else [
#part(w("Compartments"))
#d.letters
#table(columns: (12mm, 13mm, 44mm, 1fr, 14mm), stroke: ruled, inset: 1.2mm,
  align: (center + horizon, center + horizon, left + horizon, left + horizon,
    right + horizon),
  row-head(w("item"), w("recess"), w("from the side, true size"), w("what"),
    w("count|of pieces")),
  ..for row in d.rows { (
    text(size: 14pt, weight: "bold", row.letter),
    if row.recess != "" { drawn(row.recess, width: 9mm) },
    if row.side != "" { drawn(row.side, width: 40mm) },
    [#row.name: #row.what.join(", ")], text(size: 12pt, weight: "bold", row.n)) })
]
#if d.empty.len() > 0 [
  #part(w("Holes in which nothing belongs: a circle with a bar on the map"))
  #for hole in d.empty [ #hole.view: #hole.told.join(", ") #linebreak() ]
]
#for tile in d.tiles [
  #pagebreak(weak: true)
  #part(tile.title)
  #proof
  #v(1mm)
  #box(width: tile.width_mm * 1mm, height: tile.height_mm * 1mm, clip: true,
    stroke: hair, place(top + left, dx: -tile.left_mm * 1mm, dy: -tile.top_mm * 1mm,
      drawn(tile.svg, width: tile.full_mm * 1mm)))
]
"""


def fastener_card(
    device: Device, answer: OpeningAnswer, page: Page, language: str = "en"
) -> bytes:
    """
    Set the fastener card of an opening.

    Parameters
    ----------
    device
        The device, in the revision reckoned with.
    answer
        Its opening; not an impossible one.
    page
        Size of the paper.
    language
        Short name of the language of its words; names stay.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    letters = {line.name: line.letter for line in answer.opening if line.letter}
    data: dict[str, Any] = {
        "head": head(
            "Fastener card",
            page,
            device=answer.device,
            revision=answer.revision,
            foot="True size only if the bar measures 100 mm.",
        ),
        "confusable": answer.confusable,
        "letters": _LETTERS,
        "rows": [
            row
            for name, letter in letters.items()
            for row in _rows(letter, name, device.joints[name])
        ],
        "empty": [
            {
                "view": hole.view,
                "told": [str(hole.n or len(hole.points_mm)), *filter(None, [hole.why])],
            }
            for hole in device.empty_holes
        ],
        "tiles": [
            tile
            for face in faces_with_places(device, frozenset(letters))
            for tile in _tiles(device, face, letters)
        ],
    }
    own = frozenset(texts_in(device))
    telling = Telling({"de": GERMAN_CARDS}, language, notation_of(page), own)
    for tile in data["tiles"]:
        tile["svg"] = with_words_said(tile["svg"], telling.says)
    return told_pdf(SHEET, data, telling, as_is=_AS_WRITTEN, is_tagged=False)


_AS_WRITTEN = frozenset({
    "device", "revision", "name", "letter", "n", "view", "recess", "side",
})  # fmt: skip
_LETTERS = (
    "The letter is that of the item on sheet, map and bench; its pieces lie in the"
    " compartment of that letter, if no other is named."
)


def _rows(letter: str, name: str, joint: Joint) -> list[dict[str, Any]]:
    """Describe what lies in one compartment, or in one for each height of cover."""
    how = joint.how
    if isinstance(how, Cover) and how.sizes:
        return [
            {
                "letter": f"{letter}{i}",
                "recess": "",
                "side": "",
                "name": name,
                "what": [
                    *_loose_words(joint),
                    f"{size.height_mm:g} mm high {size.where}".strip(),
                    *_kept(joint),
                ],
                "n": str(size.n),
            }
            for i, size in enumerate(how.sizes, start=1)
        ]
    if not isinstance(how, Screw):
        if not joint.goes_in_tray:
            return []
        what, n = [*_loose_words(joint), *_kept(joint)], str(joint.n_pieces)
        told = {"letter": letter, "name": name, "what": what, "n": n}
        return [{**told, "recess": "", "side": ""}]
    facts = [str(fact) for fact in (how.drive, how.thread) if fact is not None]
    facts.append("length not measured" if how.length_mm is None else _length(how))
    facts.append(f"{how.head} head" + (f" {how.head_mm:g} mm" if how.head_mm else ""))
    facts += [word for word in (how.point, how.coating, how.patch) if word]
    facts += [_shoulder(how)] if how.shoulder is not None else []
    facts += how.stack
    facts += ["stays in its part: not for the tray"] if how.stays_in else []
    facts += _kept(joint)
    return [
        {
            "letter": letter,
            "recess": recess_svg(how.drive, head_mm(how) / 2, 9.0),
            "side": _side_svg(how) if (how.length_mm or 0) <= SCALE_MM else "",
            "name": name,
            "what": facts,
            "n": str(joint.n_pieces),
        }
    ]


def _kept(joint: Joint) -> list[str]:
    return [f"keep in compartment {joint.compartment}"] if joint.compartment else []


def _loose_words(joint: Joint) -> list[str]:
    """Say what a loose piece is that is no screw."""
    how = joint.how
    if isinstance(how, Nut):
        thread = [str(how.thread)] if how.thread is not None else []
        width_mm = how.across_flats_mm
        flats = [f"{width_mm:g} mm across flats"] if width_mm else []
        return [joint.kind, *thread, *flats, *how.stack]
    if isinstance(how, Cover):
        return [how.kind, *([f"shape {how.shape}"] if how.shape else [])]
    return [joint.kind]


def _shoulder(screw: Screw) -> str:
    assert screw.shoulder is not None
    sizes = (screw.shoulder.d_mm, screw.shoulder.length_mm)
    told = " × ".join("?" if size is None else f"{size:g}" for size in sizes)
    return f"{screw.shoulder.kind} {told} mm"


def _length(screw: Screw) -> str:
    return f"{screw.length_mm:g} mm under the head"


def _side_svg(screw: Screw) -> str:
    """Draw a screw from the side over a scale that begins under its head."""
    ticks = "".join(
        f'<path d="M{8 + mm} 9v{-2 if mm % 5 == 0 else -1}"/>' for mm in range(31)
    )
    figures = "".join(
        f'<text x="{8 + mm}" y="11.4" font-size="2.4" text-anchor="middle" '
        f'stroke="none" fill="black" font-family="Source Sans Pro">{mm}</text>'
        for mm in range(0, 31, 10)
    )
    body = f'<path d="{side_path(screw, 8.0, 3.6)}"/><path d="M8 9h30"/>'
    return _svg(SILHOUETTE_MM, 12, body + ticks + figures)


def _svg(width_mm: float, height_mm: float, body: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm:g}mm" '
        f'height="{height_mm:g}mm" viewBox="0 0 {width_mm:g} {height_mm:g}">'
        f'<g fill="none" stroke="black" stroke-width="0.15">{body}</g></svg>'
    )


def _tiles(
    device: Device, face: str, letters: dict[str, str]
) -> list[dict[str, str | float]]:
    """Cut the map of one face into as many tiles as the paper asks for."""
    width_mm, height_mm = canvas_mm(device.views[face])
    room_mm = (BODY_MM[0], BODY_MM[1] - TITLE_MM)
    svg = face_svg(device, face, letters, only=frozenset(letters))
    across, down = _cuts(width_mm, room_mm[0]), _cuts(height_mm, room_mm[1])
    n = len(across) * len(down)
    found: list[dict[str, str | float]] = []
    for top_mm in down:
        for left_mm in across:
            tile = f", tile {len(found) + 1} of {n}, overlap {OVERLAP_MM:g} mm"
            found.append(
                {
                    "title": f"Face: {face}, true size{tile if n > 1 else ''}",
                    "svg": svg,
                    "full_mm": width_mm,
                    "left_mm": left_mm,
                    "top_mm": top_mm,
                    "width_mm": min(room_mm[0], width_mm - left_mm),
                    "height_mm": min(room_mm[1], height_mm - top_mm),
                }
            )
    return found


def _cuts(whole_mm: float, room_mm: float) -> list[float]:
    if whole_mm <= room_mm:
        return [0.0]
    n = ceil((whole_mm - OVERLAP_MM) / (room_mm - OVERLAP_MM))
    return [i * (room_mm - OVERLAP_MM) for i in range(n)]
