"""The pages of the manual, as they were built from the folder ``docs``."""

from datetime import UTC, datetime
from mimetypes import guess_type
from pathlib import Path

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.cache import cache_control
from django.views.decorators.http import condition, require_safe

_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".json": "application/json",
    ".svg": "image/svg+xml",
    ".md": "text/markdown; charset=utf-8",
    ".inv": "application/octet-stream",
}
"""What the browser is told of a file; the machine's own list fills in the rest."""


@require_safe
def front(request: HttpRequest) -> HttpResponse:
    """Give the first page, or say how the manual is built."""
    if _folder() is None:
        return render(request, "counter/manual.html")
    return page(request, "index.html")


def _tag(request: HttpRequest, file: str) -> str | None:
    path = _found(file)
    if path is None:
        return None
    facts = path.stat()
    return f'"{facts.st_mtime_ns:x}-{facts.st_size:x}"'


def _changed(request: HttpRequest, file: str) -> datetime | None:
    path = _found(file)
    return datetime.fromtimestamp(int(path.stat().st_mtime), UTC) if path else None


@require_safe
@cache_control(private=True, no_cache=True)
@condition(etag_func=_tag, last_modified_func=_changed)
def page(request: HttpRequest, file: str) -> HttpResponse:
    """Give one file of the manual, and nothing that lies outside of it."""
    path = _found(file)
    if path is None:
        raise Http404
    told = _TYPES.get(path.suffix) or guess_type(path.name)[0]
    return HttpResponse(
        path.read_bytes(), content_type=told or "application/octet-stream"
    )


def _folder() -> Path | None:
    """Give the folder of the built pages, if they are there."""
    folder = Path(settings.DOCS).resolve() if settings.DOCS else None
    return folder if folder and (folder / "index.html").is_file() else None


def _found(file: str) -> Path | None:
    """Give a file of the manual by its name within, and none besides."""
    folder = _folder()
    # What begins with a dot is the builder's own.
    if folder is None or "\0" in file or "/." in f"/{file}":
        return None
    path = (folder / file).resolve()
    return path if path.is_relative_to(folder) and path.is_file() else None
