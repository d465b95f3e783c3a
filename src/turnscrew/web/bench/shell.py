"""The page of the bench itself, the same for everybody, kept by the browser."""

import json
from functools import lru_cache
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.templatetags.static import static
from django.urls import reverse
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from turnscrew.core.bench.commands import COMMANDS
from turnscrew.core.model.german import GERMAN
from turnscrew.web.records.queries.rights import allow

_FILES = (
    "bench/app.js", "bench/ask.js", "bench/draw.js", "bench/fit.js", "bench/fold.js",
    "bench/input.js", "bench/keep.js", "bench/more.js", "bench/recorder.js",
    "bench/screens.js", "bench/send.js", "bench/setup.js",
    "bench/sound.js", "bench/bench.css", "bench/recording.js", "bench/words.js",
    "bench/version.js", "bench/manifest.json",
)  # fmt: skip
"""What the page is made of."""


@require_safe
@cache_control(no_cache=True)
def page(request: HttpRequest) -> HttpResponse:
    """Give the page; it holds nobody's name and no device."""
    allow(request.person, "bench")  # type: ignore[attr-defined]
    commands = [
        {"code": one.code, "word": one.word, "key": one.key} for one in COMMANDS
    ]
    words = {"de": dict(GERMAN)}
    context = {"commands": commands, "words": words, "version": version()}
    return render(request, "bench/bench.html", context)


@require_safe
@cache_control(no_cache=True)
def worker(request: HttpRequest) -> HttpResponse:
    """Give the worker that keeps the page; it changes whenever a file of it does."""
    page_address = reverse("bench:page")
    kept = [page_address, reverse("bench:letters"), *(static(name) for name in _FILES)]
    words = (
        f"const VERSION = {json.dumps(version())};\n"
        f"const PAGE = {json.dumps(page_address)};\n"
        f"const KEPT = {json.dumps(kept)};\n"
    )
    text = words + _static_file("bench/worker.js").read_text("utf-8")
    return HttpResponse(text, content_type="text/javascript; charset=utf-8")


@require_safe
@cache_control(max_age=86400)
def letters(request: HttpRequest) -> HttpResponse:
    """Give the letters of the page, so that they measure the same on every screen."""
    path = Path(find_spec("font_source_sans_pro").submodule_search_locations[0])  # type: ignore[union-attr,index]
    content = (path / "files" / "SourceSansPro-Semibold.otf").read_bytes()
    return HttpResponse(content, content_type="font/otf")


def _static_file(name: str) -> Path:
    return Path(settings.STATICFILES_DIRS[0]) / name


@lru_cache(maxsize=1)
def version() -> str:
    """Name what the page is made of: another name, another page."""
    digest = sha256()
    for name in (*_FILES, "bench/worker.js"):
        digest.update(_static_file(name).read_bytes())
    digest.update(repr((COMMANDS, GERMAN)).encode())
    template = Path(__file__).parent / "templates" / "bench" / "bench.html"
    digest.update(template.read_bytes())
    return digest.hexdigest()[:16]
