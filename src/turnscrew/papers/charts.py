"""
How do rates, lives, places and forecasts look?

One picture serves page and print: black on white, told apart by form and not by colour,
with the same figures in words beside it. Curves and bands are drawn as steps, since
nothing is known between two failures.
"""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from turnscrew.core.fleet.answer import (
    YEAR_DAYS,
    CauseAnswer,
    FaultLife,
    ModelTold,
    Shelf,
)
from turnscrew.core.model.amounts import percent, sureness
from turnscrew.core.reliability.funnel import funnel_limits
from turnscrew.core.reliability.lives import Floats
from turnscrew.core.reliability.sites import SiteScreen
from turnscrew.core.stock.part_outlook import PartOutlook
from turnscrew.papers.panes import (
    INNER,
    WIDTH_PX,
    Chart,
    hold,
    pane_of,
    panes_of,
    svg_of,
    thinned,
)

MOST_ROWS = 12
"""Rates drawn in one picture; the rest stands in the table. [1]"""

MOST_PANES = 4
"""Curves drawn side by side. [1]"""

_TAILS = (0.001, 0.025, 0.975, 0.999)


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
    if not rows:
        return Chart("", "Failures in 100 device-years. Nothing to draw.")
    told = "; ".join(
        f"{row['name']} {row['rate']:.1f} ({row['low']:.1f} to {row['high']:.1f})"
        for row in rows
    )
    spec = {
        "data": {"values": rows}, "layer": layers, "width": WIDTH_PX - 300,
        "height": {"step": 22},
    }  # fmt: skip
    return Chart(svg_of(spec), f"Failures in 100 device-years with limits: {told}.")


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
    # A curve that came to nothing before others were watched tells nothing of them.
    whole = [one for one in lives if not one.curve.is_cut_off]
    for one in whole[:MOST_PANES]:
        name, curve = _name(one.model, one.cause, names), one.curve
        # Where nothing runs any more there is no limit: the curve itself stands there.
        low, high = (
            np.where(np.isnan(side), curve.survival, side)
            for side in (curve.low, curve.high)
        )
        lines = (100 * curve.survival, 100 * low, 100 * high)
        panes.append(_curve(name, curve.age, lines, start=100.0))
        if len(curve.age):
            limits = f"{percent(low[-1])} to {percent(high[-1])}"
            if np.isnan(curve.high[-1]):
                limits = "limits not known"
            told.append(
                f"{name}: {percent(curve.survival[-1])} still without it at "
                f"{curve.age[-1] / YEAR_DAYS:.1f} years ({limits})"
            )
    return panes_of(panes, "% without it", "Share without the failure. ", told)


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
    aged = [(one, one.number) for one in models if one.number is not None]
    for one, curve in aged[:MOST_PANES]:
        lines = (curve.mean, curve.low, curve.high)
        panes.append(_curve(one.model, curve.age, lines, start=0.0))
        told.append(
            f"{one.model}: {curve.mean[-1]:.2f} ({curve.low[-1]:.2f} to "
            f"{curve.high[-1]:.2f}) by {curve.age[-1] / YEAR_DAYS:.1f} years"
        )
    return panes_of(
        panes, "failures of a device", "Failures of a device by age. ", told
    )


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
    counted = at / screen.within
    edges = np.maximum(funnel_limits(counted, _TAILS), 0.0) / counted[:, None]
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
            "mark": {"type": "rule", "stroke": INNER},
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
        "layer": layers, "width": WIDTH_PX - 80, "height": 220,
        "title": {"text": title, "anchor": "start"},
    }  # fmt: skip
    return Chart(svg_of(spec), told)


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
            f"{sureness(one.level.reached)} sure that nobody waits; wanted "
            f"{one.fan.low[-1]} to {one.fan.high[-1]} (90 %)"
        )
    return panes_of(panes, "pieces", "Pieces held against demand. ", told)


def demand_chart(outlook: PartOutlook, title: str, period: str) -> Chart:
    """
    Draw what was wanted of a part, what will be, and what is to be held.

    Parameters
    ----------
    outlook
        What is known of the part.
    title
        Its name.
    period
        What a period is called.

    Returns
    -------
    Chart
        Bars of the past, bands of 50 % and 90 % of what is to come, and the pieces.
    """
    past = [
        {"x": k - len(outlook.past) + 0.5, "n": n} for k, n in enumerate(outlook.past)
    ]
    rows = [{"x": 0, "middle": 0, "low": 0, "high": 0, "lower": 0, "upper": 0}]
    rows += [
        {
            "x": one.periods, "middle": one.middle, "low": one.low, "high": one.high,
            "lower": one.lower, "upper": one.upper,
        }
        for one in outlook.ahead
    ]  # fmt: skip
    pane = pane_of(title, rows, f"{period}s from now", "linear")
    pane["layer"].insert(
        0,
        {
            "data": {"values": past},
            "mark": {"type": "bar", "color": INNER, "width": 8},
            "encoding": {
                "x": {"field": "x", "type": "quantitative"},
                "y": {"field": "n", "type": "quantitative"},
            },
        },
    )
    told = [f"wanted in the past {len(past)} {period}s, oldest first: "]
    told[0] += ", ".join(map(str, outlook.past)) or "nothing"
    if outlook.level is not None:
        hold(pane, outlook.level.stock)
        last = outlook.ahead[-1]
        told.append(
            f"in {last.periods} {period}s {last.middle}, between {last.low} and "
            f"{last.high} (90 %); hold {outlook.level.stock}"
        )
    return panes_of([pane], "pieces", f"{title}. ", told)


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
    return panes_of(panes, "failures", "Failures to come. ", told)


def _name(model: str, cause: str, names: Mapping[str, str]) -> str:
    called = names.get(cause, "")
    return " ".join(word for word in (model, called or cause) if word)


def _curve(
    title: str, age: Floats, lines: tuple[Floats, Floats, Floats], *, start: float
) -> dict[str, Any]:
    """Give a pane with a stepped curve and its band."""
    middle, low, high = lines
    rows = [{"x": 0.0, "middle": start, "low": start, "high": start}]
    for at in thinned(len(age)):
        rows.append(
            {
                "x": float(age[at]) / YEAR_DAYS, "middle": float(middle[at]),
                "low": float(low[at]), "high": float(high[at]),
            }
        )  # fmt: skip
    return pane_of(title, rows, "age in years", "step-after")


def _fan(title: str, shelf: Shelf, *, is_held: bool) -> dict[str, Any]:
    fan = shelf.fan if is_held else shelf.beyond
    rows = [
        {
            "x": day, "middle": fan.middle[k], "low": fan.low[k], "high": fan.high[k],
            "lower": fan.lower[k], "upper": fan.upper[k],
        }
        for k, day in enumerate(fan.day)
    ]  # fmt: skip
    pane = pane_of(title, rows, "days from now", "linear")
    if is_held:
        hold(pane, shelf.level.stock)
    return pane
