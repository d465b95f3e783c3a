"""How is a picture set: panes side by side, bands, lines, nothing finer than ink?"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from turnscrew.papers.page import FONT, font_folder

WIDTH_PX = 660
"""Width of a picture. [px]"""

BAND, INNER, INK = "#d9d9d9", "#a6a6a6", "black"
"""Fill of the wide band, of the narrow one, and of all that is drawn."""

_MOST_STEPS = 100
"""Places along a curve; more could not be told apart on paper. [1]"""

_MARKS = re.compile(
    r' (?:class|role|pointer-events|aria-[a-z]+)="[^"]*"| (?:opacity|stroke-width)="1"'
)
_TAG = re.compile(r"<[^>]*>")
_LONG = re.compile(r"-?\d+\.\d{2,}")


@dataclass(frozen=True)
class Chart:
    """
    A picture and the same in words.

    Parameters
    ----------
    svg
        The picture.
    says
        What it shows, with its figures.
    """

    svg: str
    says: str


def hold(pane: dict[str, Any], stock: int) -> None:
    """
    Draw a line across a pane at the pieces held.

    Parameters
    ----------
    pane
        The pane, which is changed.
    stock
        The pieces. [pieces]
    """
    held = {"y": stock, "says": f"held: {stock}"}
    y = {"field": "y", "type": "quantitative"}
    dashed = {"type": "rule", "strokeDash": [6, 3], "strokeWidth": 2}
    words = {"type": "text", "align": "left", "x": 4, "dy": 9}
    pane["layer"] += [
        {"data": {"values": [held]}, "mark": dashed, "encoding": {"y": y}},
        {
            "data": {"values": [held]}, "mark": words,
            "encoding": {"y": y, "text": {"field": "says"}},
        },
    ]  # fmt: skip


def pane_of(
    title: str, rows: list[dict[str, Any]], x_title: str, shape: str
) -> dict[str, Any]:
    """
    Give a pane with a line and one or two bands.

    Parameters
    ----------
    title
        What stands above it.
    rows
        Places with ``x``, ``middle``, ``low`` and ``high``, for two bands also
        ``lower`` and ``upper``.
    x_title
        What x is.
    shape
        How the line goes from place to place.

    Returns
    -------
    dict
        The pane, as the drawing library wants it.
    """
    x = {"field": "x", "type": "quantitative", "title": x_title}

    def band(low: str, high: str, fill: str) -> dict[str, Any]:
        return {
            "mark": {"type": "area", "color": fill, "interpolate": shape},
            "encoding": {
                "x": x, "y": {"field": low, "type": "quantitative"},
                "y2": {"field": high},
            },
        }  # fmt: skip

    layers = [band("low", "high", BAND)]
    if "lower" in rows[0]:
        layers.append(band("lower", "upper", INNER))
    layers.append(
        {
            "mark": {"type": "line", "interpolate": shape, "strokeWidth": 2},
            "encoding": {"x": x, "y": {"field": "middle", "type": "quantitative"}},
        }
    )
    return {
        "title": {"text": title, "anchor": "start"}, "data": {"values": rows},
        "layer": layers,
    }  # fmt: skip


def panes_of(
    panes: list[dict[str, Any]], y_title: str, head: str, told: Iterable[str]
) -> Chart:
    """
    Set panes side by side, each with its own scale.

    Parameters
    ----------
    panes
        The panes.
    y_title
        What y is.
    head
        First words of the text.
    told
        What each pane shows.

    Returns
    -------
    Chart
        The picture; an empty one without panes.
    """
    if not panes:
        return Chart("", f"{head}Nothing to draw.")
    n_columns = 3 if len(panes) == 3 else min(2, len(panes))
    for pane in panes:
        pane["width"] = WIDTH_PX // n_columns - 70
        pane["height"] = 130
        for layer in pane["layer"]:
            layer["encoding"]["y"]["title"] = y_title
    spec = {"concat": panes, "columns": n_columns, "spacing": 24}
    return Chart(svg_of(spec), f"{head}{'; '.join(told)}.")


def thinned(n: int) -> list[int]:
    """
    Give places spread over a curve, its last among them.

    Parameters
    ----------
    n
        Places of the curve. [1]

    Returns
    -------
    list
        As many as can be told apart. [1]
    """
    if n <= _MOST_STEPS:
        return list(range(n))
    return sorted({round(k * (n - 1) / (_MOST_STEPS - 1)) for k in range(_MOST_STEPS)})


def svg_of(spec: Mapping[str, Any]) -> str:
    """
    Draw a picture.

    Parameters
    ----------
    spec
        The picture in the grammar of the drawing library.

    Returns
    -------
    str
        The SVG.
    """
    import vl_convert  # noqa: PLC0415 - slow library

    vl_convert.register_font_directory(font_folder())
    svg: str = vl_convert.vegalite_to_svg(
        {
            **spec,
            "config": {
                "font": FONT, "background": "white",
                # Where the font is missing, another one may be wider.
                "padding": {"left": 28, "right": 12, "top": 4, "bottom": 4},
                "view": {"stroke": None},
                "mark": {"color": INK},
                "title": {"fontSize": 13, "fontWeight": "bold", "color": INK},
                "axis": {
                    "labelFontSize": 11, "titleFontSize": 11,
                    "titleFontWeight": "normal", "tickCount": 5,
                    "labelColor": INK, "titleColor": INK, "gridColor": "#ececec",
                    "domainColor": INK, "tickColor": INK,
                },
                "line": {"stroke": INK}, "rule": {"stroke": INK},
                "point": {"fill": INK}, "text": {"fontSize": 11, "fill": INK},
            },
        },
        vl_version="v5.20",
    )  # fmt: skip
    # A tenth of a pixel is finer than any printer; longer figures and marks that are
    # for scripts, of which there are none, only weigh.
    svg = _MARKS.sub("", svg)
    return _TAG.sub(lambda tag: _LONG.sub(_shortened, tag[0]), svg)


def _shortened(found: re.Match[str]) -> str:
    return f"{float(found[0]):.1f}"
