"""How does a paper reach the browser?"""

from django.http import HttpResponse


def pdf(content: bytes, name: str) -> HttpResponse:
    """Give a paper to look at, or to keep under its name."""
    kind = "text/plain; charset=utf-8" if name.endswith(".txt") else "application/pdf"
    shown = {"Content-Disposition": f'inline; filename="{name}"'}
    return HttpResponse(content, content_type=kind, headers=shown)
