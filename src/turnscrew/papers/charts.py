"""
How do rates, lives, places and forecasts look?

One picture serves page and print: black on white, told apart by form and not by colour,
with the same figures in words beside it. Curves and bands are drawn as steps, since
nothing is known between two failures.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from turnscrew.core.fleet.answer import (
    YEAR_DAYS,
    CauseAnswer,
    FaultLife,
    ModelTold,
    Shelf,
)
from turnscrew.core.reliability.funnel import funnel_limits
from turnscrew.core.reliability.lives import Floats
from turnscrew.core.reliability.sites import SiteScreen
from turnscrew.papers.page import FONT, font_folder

MOST_ROWS = 12
"""Rates drawn in one picture; the rest stands in the table. [1]"""

MOST_PANES = 4
"""Curves drawn side by side. [1]"""

_MOST_STEPS = 100
"""Places along a curve; more could not be told apart on paper. [1]"""

_WIDTH_PX = 660
_BAND, _INNER, _INK = "#d9d9d9", "#a6a6a6", "black"
_MARKS = re.compile(
    r' (?:class|role|pointer-events|aria-[a-z]+)="[^"]*"| (?:opacity|stroke-width)="1"'
)
_LONG = re.compile(r"-?\d+\.\d{2,}")
_TAILS = (0.001, 0.025, 0.975, 0.999)


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


def rate_chart(causes: Sequence[CauseAnswer], names: Mapping[str, str]) -> Chart:
    """
    Draw the rates of the most frequent causes with their limits.

    Parameters
    ----------
    causes
        The causes, the most frequent first.
    names
        What each cause is called.

    Returns
    -------
    Chart
        A point and a line for each.
    """
    rows = [
        {
            "name": _name(one.model, one.cause, names),
            "rate": 100 * one.rate.rate, "low": 100 * one.rate.rate_lower,
            "high": 100 * one.rate.rate_upper,
        }
        for one in causes[:MOST_ROWS]
    ]  # fmt: skip
    y = {
        "field": "name", "type": "nominal", "sort": None, "title": None,
        "axis": {"labelLimit": 260},
    }  # fmt: skip
    x = {"type": "quantitative", "title": "failures in 100 device-years"}
    layers = [
        {
            "mark": {"type": "rule", "strokeWidth": 2},
            "encoding": {"x": {"field": "low", **x}, "x2": {"field": "high"}, "y": y},
        },
        {
            "mark": {"type": "point", "filled": True, "size": 60},
            "encoding": {"x": {"field": "rate", **x}, "y": y},
        },
    ]
    told = "; ".join(
        f"{row['name']} {row['rate']:.1f} ({row['low']:.1f} to {row['high']:.1f})"
        for row in rows
    )
    spec = {
        "data": {"values": rows}, "layer": layers, "width": _WIDTH_PX - 300,
        "height": {"step": 22},
    }  # fmt: skip
    return Chart(_svg(spec), f"Failures in 100 device-years with limits: {told}.")


def life_chart(lives: Sequence[FaultLife], names: Mapping[str, str]) -> Chart:
    """
    Draw the share of devices still without a failure, by age.

    Parameters
    ----------
    lives
        The lives, the most frequent cause first.
    names
        What each cause is called.

    Returns
    -------
    Chart
        A pane for each, with its band.
    """
    panes, told = [], []
    for one in lives[:MOST_PANES]:
        name, curve = _name(one.model, one.cause, names), one.curve
        # Where nothing runs any more there is no limit: the curve itself stands there.
        low, high = (
            np.where(np.isnan(side), curve.survival, side)
            for side in (curve.low, curve.high)
        )
        lines = (100 * curve.survival, 100 * low, 100 * high)
        panes.append(_curve(name, curve.age, lines, start=100.0))
        if len(curve.age):
            told.append(
                f"{name}: {curve.survival[-1]:.0%} still without it at "
                f"{curve.age[-1] / YEAR_DAYS:.1f} years ({low[-1]:.0%} to "
                f"{high[-1]:.0%})"
            )
    return _panes(panes, "% without it", "Share without the failure. ", told)


def mean_chart(models: Sequence[ModelTold]) -> Chart:
    """
    Draw how many failures a device has had by each age.

    Parameters
    ----------
    models
        The models whose ages are known.

    Returns
    -------
    Chart
        A pane for each, with its band.
    """
    panes, told = [], []
    for one in models[:MOST_PANES]:
        curve = one.number
        if curve is None:
            continue
        lines = (curve.mean, curve.low, curve.high)
        panes.append(_curve(one.model, curve.age, lines, start=0.0))
        told.append(
            f"{one.model}: {curve.mean[-1]:.2f} ({curve.low[-1]:.2f} to "
            f"{curve.high[-1]:.2f}) by {curve.age[-1] / YEAR_DAYS:.1f} years"
        )
    return _panes(panes, "failures of a device", "Failures of a device by age. ", told)


def funnel_chart(screen: SiteScreen, title: str) -> Chart:
    """
    Draw places against what chance alone would give.

    Parameters
    ----------
    screen
        The places.
    title
        Which fault is drawn.

    Returns
    -------
    Chart
        A point for each place between limits of 95 % and 99.8 %.
    """
    sites: list[dict[str, Any]] = [
        {
            "name": site.name, "expected": site.exposure * screen.rate,
            "ratio": site.failures / (site.exposure * screen.rate),
            "more": "more" if site.verdict == "more" else "as others",
        }
        for site in screen.sites
    ]  # fmt: skip
    most = max(row["expected"] for row in sites)
    at = np.linspace(max(most / 60, 0.05), most * 1.15, 60)
    edges = np.maximum(funnel_limits(at, _TAILS), 0.0) / at[:, None]
    limits = [
        {"expected": float(at[i]), "ratio": float(edges[i, k]), "limit": str(k)}
        for i in range(len(at))
        for k in range(len(_TAILS))
    ]
    top = max(4.0, 1.1 * max(row["ratio"] for row in sites))
    x = {
        "field": "expected", "type": "quantitative",
        "title": "failures expected at the rate of all",
    }  # fmt: skip
    y = {
        "field": "ratio", "type": "quantitative", "title": "seen by expected",
        "scale": {"domain": [0, top]},
    }  # fmt: skip
    line = {"type": "line", "clip": True, "strokeWidth": 1}
    layers = [
        {
            "data": {"values": [row for row in limits if row["limit"] in pair]},
            "mark": {**line, "strokeDash": dash},
            "encoding": {
                "x": x, "y": y, "detail": {"field": "limit", "type": "nominal"}
            },
        }
        for pair, dash in ((("1", "2"), [5, 3]), (("0", "3"), [1, 0]))
    ]  # fmt: skip
    layers += [
        {
            "data": {"values": [{"ratio": 1}]},
            "mark": {"type": "rule", "stroke": _INNER},
            "encoding": {"y": y},
        },
        {
            "data": {"values": sites},
            "mark": {"type": "point", "filled": True, "size": 60, "opacity": 1},
            "encoding": {
                "x": x, "y": y,
                "shape": {
                    "field": "more", "type": "nominal", "legend": None,
                    "scale": {
                        "domain": ["as others", "more"],
                        "range": ["circle", "triangle-up"],
                    },
                },
            },
        },
        {
            "data": {"values": [r for r in sites if r["more"] == "more"]},
            "mark": {"type": "text", "dx": 8, "align": "left"},
            "encoding": {"x": x, "y": y, "text": {"field": "name"}},
        },
    ]  # fmt: skip
    odd = [row["name"] for row in sites if row["more"] == "more"]
    told = (
        f"{title}: {len(sites)} places against limits of 95 % (dashed) and 99.8 %; "
        + (f"more than the others: {', '.join(odd)}" if odd else "none stands out")
        + ". "
        + "; ".join(
            f"{row['name']} {row['ratio']:.1f} times the {row['expected']:.1f} expected"
            for row in sites[:MOST_ROWS]
        )
        + "."
    )
    spec = {
        "layer": layers, "width": _WIDTH_PX - 80, "height": 220,
        "title": {"text": title, "anchor": "start"},
    }  # fmt: skip
    return Chart(_svg(spec), told)


def shelf_chart(shelves: Sequence[Shelf], names: Mapping[str, str]) -> Chart:
    """
    Draw what is held against what will be wanted.

    Parameters
    ----------
    shelves
        What to hold, the most frequent cause first.
    names
        What each cause is called.

    Returns
    -------
    Chart
        A pane for each: bands of 50 % and 90 %, and the pieces held.
    """
    panes, told = [], []
    for one in shelves[:MOST_PANES]:
        name = _name(one.model, one.cause, names)
        panes.append(_fan(name, one, is_held=True))
        told.append(
            f"{name}: hold {one.level.stock} for {one.days:.0f} days, "
            f"{one.level.reached:.0%} sure that nobody waits; wanted "
            f"{one.fan.low[-1]} to {one.fan.high[-1]} (90 %)"
        )
    return _panes(panes, "pieces", "Pieces held against demand. ", told)


def fan_chart(shelves: Sequence[Shelf], names: Mapping[str, str]) -> Chart:
    """
    Draw what is to come.

    Parameters
    ----------
    shelves
        Fans over the time ahead, the most frequent cause first.
    names
        What each cause is called.

    Returns
    -------
    Chart
        A pane for each, with bands of 50 % and 90 %.
    """
    panes, told = [], []
    for one in shelves[:MOST_PANES]:
        name = _name(one.model, one.cause, names)
        panes.append(_fan(name, one, is_held=False))
        fan = one.beyond
        told.append(
            f"{name}: {fan.middle[-1]} in {fan.day[-1] / 30.4:.0f} months, between "
            f"{fan.low[-1]} and {fan.high[-1]} (90 %)"
        )
    return _panes(panes, "failures", "Failures to come. ", told)


def _name(model: str, cause: str, names: Mapping[str, str]) -> str:
    called = names.get(cause, "")
    return " ".join(word for word in (model, called or cause) if word)


def _curve(
    title: str, age: Floats, lines: tuple[Floats, Floats, Floats], *, start: float
) -> dict[str, Any]:
    """Give a pane with a stepped curve and its band."""
    middle, low, high = lines
    rows = [{"x": 0.0, "middle": start, "low": start, "high": start}]
    for at in _thinned(len(age)):
        rows.append(
            {
                "x": float(age[at]) / YEAR_DAYS, "middle": float(middle[at]),
                "low": float(low[at]), "high": float(high[at]),
            }
        )  # fmt: skip
    return _pane(title, rows, "age in years", "step-after")


def _fan(title: str, shelf: Shelf, *, is_held: bool) -> dict[str, Any]:
    fan = shelf.fan if is_held else shelf.beyond
    rows = [
        {
            "x": day, "middle": fan.middle[k], "low": fan.low[k], "high": fan.high[k],
            "lower": fan.lower[k], "upper": fan.upper[k],
        }
        for k, day in enumerate(fan.day)
    ]  # fmt: skip
    pane = _pane(title, rows, "days from now", "linear")
    if is_held:
        held = {"y": shelf.level.stock, "says": f"held: {shelf.level.stock}"}
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
    return pane


def _pane(
    title: str, rows: list[dict[str, Any]], x_title: str, shape: str
) -> dict[str, Any]:
    x = {"field": "x", "type": "quantitative", "title": x_title}

    def band(low: str, high: str, fill: str) -> dict[str, Any]:
        return {
            "mark": {"type": "area", "color": fill, "interpolate": shape},
            "encoding": {
                "x": x, "y": {"field": low, "type": "quantitative"},
                "y2": {"field": high},
            },
        }  # fmt: skip

    layers = [band("low", "high", _BAND)]
    if "lower" in rows[0]:
        layers.append(band("lower", "upper", _INNER))
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


def _panes(
    panes: list[dict[str, Any]], y_title: str, head: str, told: Iterable[str]
) -> Chart:
    """Set panes side by side, each with its own scale."""
    if not panes:
        return Chart("", f"{head}Nothing to draw.")
    n_columns = 3 if len(panes) == 3 else min(2, len(panes))
    for pane in panes:
        pane["width"] = _WIDTH_PX // n_columns - 70
        pane["height"] = 130
        for layer in pane["layer"]:
            layer["encoding"]["y"]["title"] = y_title
    spec = {"concat": panes, "columns": n_columns, "spacing": 24}
    return Chart(_svg(spec), f"{head}{'; '.join(told)}.")


def _thinned(n: int) -> list[int]:
    """Give places spread over a curve, its last among them."""
    if n <= _MOST_STEPS:
        return list(range(n))
    return sorted({round(k * (n - 1) / (_MOST_STEPS - 1)) for k in range(_MOST_STEPS)})


def _svg(spec: Mapping[str, Any]) -> str:
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
                "mark": {"color": _INK},
                "title": {"fontSize": 13, "fontWeight": "bold", "color": _INK},
                "axis": {
                    "labelFontSize": 11, "titleFontSize": 11,
                    "titleFontWeight": "normal", "tickCount": 5,
                    "labelColor": _INK, "titleColor": _INK, "gridColor": "#ececec",
                    "domainColor": _INK, "tickColor": _INK,
                },
                "line": {"stroke": _INK}, "rule": {"stroke": _INK},
                "point": {"fill": _INK}, "text": {"fontSize": 11, "fill": _INK},
            },
        },
        vl_version="v5.20",
    )  # fmt: skip
    # A tenth of a pixel is finer than any printer; longer figures and marks that are
    # for scripts, of which there are none, only weigh.
    svg = _MARKS.sub("", svg)
    return _LONG.sub(lambda found: f"{float(found[0]):.1f}", svg)
