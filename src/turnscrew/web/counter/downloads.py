"""How does a paper or a picture reach the browser?"""

from base64 import b64encode

from django.http import HttpResponse

from turnscrew.core.model.german.fleet import AXES
from turnscrew.papers.panes import Chart
from turnscrew.web.counter.spoken import telling

_AXES = {"de": AXES}


def pdf(content: bytes, name: str) -> HttpResponse:
    """Give a paper to look at, or to keep under its name."""
    kind = "text/plain; charset=utf-8" if name.endswith(".txt") else "application/pdf"
    shown = {"Content-Disposition": f'inline; filename="{name}"'}
    return HttpResponse(content, content_type=kind, headers=shown)


def picture(chart: Chart) -> dict[str, str]:
    """Give a picture as an address that holds all of it, and the same in words."""
    by = telling()
    svg = b64encode(by.drawn(chart.svg, _AXES).encode()).decode()
    return {"uri": f"data:image/svg+xml;base64,{svg}", "says": by.says(chart.says)}
