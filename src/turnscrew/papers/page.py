"""What do all sheets share: size, head, foot, hand, and how they become a PDF?"""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from functools import partial
from importlib.util import find_spec
from typing import Any, Literal, Protocol

from turnscrew.core.model.notation import Notation
from turnscrew.errors import BadArgumentError, TurnscrewError
from turnscrew.papers.drawn_words import is_drawn, with_words_said
from turnscrew.papers.letters import lacking_in, told_lacking
from turnscrew.papers.set_aside import plain, written

Size = Literal["a4", "letter"]
"""The two sizes of paper that are printed on."""


@dataclass(frozen=True)
class Paper:
    """
    A size of paper, and how figures read on it.

    Parameters
    ----------
    size
        The size.
    notation
        How lengths and decimal numbers are written.
    language
        Short name of the language of the papers of a batch.
    """

    size: Size
    notation: Notation = Notation()
    language: str = "en"


Page = Size | Paper
"""A size alone is read as is usual."""

SIZE_MM: Mapping[str, tuple[float, float]] = {
    "a4": (210.0, 297.0),
    "letter": (216, 279),
}
"""Width and height of the paper. [mm]"""

FIELD_MM = (190.0, 259.0)
"""What lies inside the margins of both sizes of paper, head and foot included. [mm]"""

BODY_MM = (190.0, 243.0)
"""What is left of the field between head and foot. [mm]"""

FONT = "Source Sans Pro"

# One fixed moment, so that equal values give equal bytes.
_STAMP = datetime(2026, 1, 1, tzinfo=UTC)

SHEET = """
#let d = json(bytes(sys.inputs.d))
#let words = d.at("words", default: (:))
#let w(told) = words.at(told, default: told.split("|").first())
#let hair = 0.25pt + black
#let fine = 0.5pt + black
#let thick = 1pt + black
#set document(title: d.head.title)
#set text(font: d.head.font, size: 10pt, fill: black, hyphenate: false,
  lang: d.at("language", default: "en"))
#set par(leading: 0.5em, spacing: 0.65em, justify: false)
#let side = (d.head.width_mm - 190) / 2 * 1mm
#let band = (d.head.height_mm - 259) / 2 * 1mm
#let lacking = d.at("lacking", default: (letters: ""))
#let has-boxes(..texts) = texts.pos().any(told =>
  told.codepoints().any(sign => sign in lacking.letters))
#let is-lacking = lacking.letters != ""
#let boxes-told = if is-lacking {
  let names = lacking.words.map(told => "(" + told + ")").join(", ")
  block(above: 1.1mm, text(size: 6.5pt)[#w(lacking.says): #names#if (
    lacking.n_more > 0) [; #w(lacking.more): #lacking.n_more]])
}
// One line more needs the room between the rule and the words around it.
#let (foot-descent, foot-inset) = if is-lacking { (0.8mm, 0.8mm) } else { (2mm, 1mm) }
#set page(
  width: d.head.width_mm * 1mm, height: d.head.height_mm * 1mm,
  margin: (x: side, top: band + 9mm, bottom: band + 7mm),
  header-ascent: 2mm, footer-descent: foot-descent,
  header: block(width: 100%, stroke: (bottom: thick), inset: (bottom: 1.2mm), grid(
    columns: (1fr, auto), align: (left + bottom, right + bottom),
    [*#d.head.device*#if d.head.revision != "" [, #w("revision") #d.head.revision]],
    [#d.head.title])),
  footer: block(width: 100%, stroke: (top: fine), inset: (top: foot-inset), {
    grid(columns: (1fr, auto), d.head.foot,
      context [#w("page") #counter(page).display()
        #w("of") #counter(page).final().first()])
    boxes-told
  }),
)
// A word without a blank that is wider than its cell is broken, not set over the next.
#let broken(it) = layout(size => {
  let room = size.width - 1.2mm
  show regex(if room < 40mm { "\\S{7,}" } else { "\\S{16,}" }): word => context {
    if measure(word).width > room { word.text.clusters().join(box()) } else { word }
  }
  it
})
#let tick = box(width: 3.6mm, height: 3.6mm, stroke: 0.7pt + black, baseline: 0.5mm)
#let at-least(width, height, body, foot, stroke: fine) = context {
  // A card grows where its words need more than its usual height.
  let need = measure(block(width: width - 6mm, { body; v(2mm); foot })).height + 6mm
  block(width: width, height: calc.max(height, need), stroke: stroke, inset: 3mm,
    breakable: false, { body; v(1fr); foot })
}
#let line-for(width) = box(width: width, stroke: (bottom: hair), height: 3mm)
#let part(title) = block(above: 4mm, below: 2mm, sticky: true,
  text(size: 12pt, weight: "bold", title))
#let row-head(..names) = table.header(
  ..names.pos().map(n => table.cell(stroke: (bottom: thick), text(weight: "bold", n))))
#let ruled = (x: none, top: none, bottom: hair)
#let drawn(svg, ..size) = image(bytes(svg), format: "svg", ..size)
#let bar = box(width: 100mm, height: 3.4mm, {
  place(left + horizon, line(length: 100mm, stroke: 0.7pt))
  for i in range(11) {
    let h = if calc.rem(i, 5) == 0 { 3.4mm } else { 1.8mm }
    place(left + horizon, dx: i * 10mm, line(angle: 90deg, length: h, stroke: 0.5pt))
  }
})
#let proof = grid(columns: (100mm, 1fr), column-gutter: 4mm, align: horizon, bar,
  w("measure this bar: 100 mm; if it differs, this map is not true size"))
"""
"""The beginning of every sheet, in the language of the page setter."""


def head(
    title: str, page: Page, *, device: str = "", revision: str = "", foot: str = ""
) -> dict[str, Any]:
    """
    Give what stands at the head and foot of every page.

    Parameters
    ----------
    title
        What the sheet is.
    page
        Size of the paper.
    device
        Name of the family, or what stands in its place.
    revision
        Revision of the device; empty if there is only one.
    foot
        Words at the foot of every page.

    Returns
    -------
    dict
        The values the beginning of a sheet reads.

    Raises
    ------
    BadArgumentError
        If the size of the paper is not known.
    """
    size = page.size if isinstance(page, Paper) else page
    if size not in SIZE_MM:
        raise BadArgumentError(f"page: found {size}, wanted {' or '.join(SIZE_MM)}")
    width_mm, height_mm = SIZE_MM[size]
    # A head of more than one line would grow out of the field.
    device, revision = _on_one_line(device, 50), _on_one_line(revision, 12)
    title = _on_one_line(title, 50)
    return {
        "title": title, "device": device, "revision": revision, "foot": foot,
        "font": FONT, "width_mm": width_mm, "height_mm": height_mm,
        "notation": asdict(notation_of(page)),
    }  # fmt: skip


class Told(Protocol):
    """Writes an amount of money."""

    def __call__(self, minor: int | None) -> str:
        """
        Write it.

        Parameters
        ----------
        minor
            The amount. [minor units]

        Returns
        -------
        str
            The words.
        """


def notation_of(page: Page) -> Notation:
    """
    Give how figures read on a paper.

    Parameters
    ----------
    page
        The paper.

    Returns
    -------
    Notation
        What was chosen; what is usual for a size alone.
    """
    return page.notation if isinstance(page, Paper) else Notation()


def language_of(page: Page) -> str:
    """
    Give the language of a paper of a batch.

    Parameters
    ----------
    page
        The paper.

    Returns
    -------
    str
        Its short name; English for a size alone.
    """
    return page.language if isinstance(page, Paper) else "en"


def _on_one_line(words: str, most: int) -> str:
    told = " ".join(words.split())
    bare = plain(told)
    if len(bare) <= most:
        return told
    cut = f"{bare[: most - 1]}…"
    return cut if bare == told else written(cut)


def compile_pdf(
    source: str, data: Mapping[str, Any], *, is_tagged: bool = False
) -> bytes:
    """
    Set a sheet.

    Equal arguments give equal bytes.

    Parameters
    ----------
    source
        The sheet after its common beginning, in the language of the page setter.
    data
        All words and figures of the sheet; they never become part of the source.
    is_tagged
        True to mark headings, tables and reading order for programs that read aloud.

    Returns
    -------
    bytes
        The PDF.

    Raises
    ------
    TurnscrewError
        If the sheet cannot be set, or a font of it is not there.
    """
    import typst  # noqa: PLC0415 - slow library

    fonts = typst.Fonts(include_system_fonts=False, font_paths=[font_folder()])
    told = _as_read(data)
    try:
        told = {**told, "lacking": told_lacking(lacking_in(told, FONT, fonts))}
        pdf, warnings = typst.Compiler(font_paths=fonts).compile_with_warnings(
            input=(SHEET + source).encode(),
            format="pdf",
            timestamp=_STAMP,
            sys_inputs={"d": json.dumps(told)},
            pdf_tags=is_tagged,
        )
    except typst.TypstError as error:
        raise TurnscrewError(f"the sheet cannot be set: {error}") from error
    if warnings:
        said = "; ".join(warning.message for warning in warnings)
        raise TurnscrewError(f"the sheet cannot be set as meant: {said}")
    if not isinstance(pdf, bytes):
        raise TurnscrewError("the sheet was not set as one file")
    return pdf


def _as_read(data: Mapping[str, Any]) -> Mapping[str, Any]:
    """Write lengths and numbers with a unit as they are read on this paper."""
    notation = Notation(**data.get("head", {}).get("notation", {}))
    if notation == Notation():
        return data
    said = partial(notation.says, has_comma=data.get("language") == "de")

    def read(value: Any) -> Any:
        if isinstance(value, str):
            return with_words_said(value, said) if is_drawn(value) else said(value)
        if isinstance(value, Mapping):
            return {key: read(inner) for key, inner in value.items()}
        if isinstance(value, (list, tuple)):
            return [read(inner) for inner in value]
        return value

    told: Mapping[str, Any] = read(data)
    return told


def font_folder() -> str:
    """
    Give the folder of the font of all sheets.

    Returns
    -------
    str
        The folder.

    Raises
    ------
    TurnscrewError
        If the font is not installed.
    """
    spec = find_spec("font_source_sans_pro")
    if spec is None or not spec.submodule_search_locations:
        raise TurnscrewError("the font Source Sans Pro is not installed")
    return f"{spec.submodule_search_locations[0]}/files"
