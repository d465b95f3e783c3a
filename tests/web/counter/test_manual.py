"""Does the manual reach everybody who works here, and nothing beside it?"""

import os
from pathlib import Path

import pytest
from django.test import Client

from web.counter_case import signed_in


@pytest.fixture
def folder(settings, tmp_path) -> Path:
    """Give a small manual with something beside it that is nobody's business."""
    folder = tmp_path / "manual"
    (folder / "_static").mkdir(parents=True)
    (folder / ".doctrees").mkdir()
    (folder / ".doctrees" / "index").write_text("the builder's own", "utf-8")
    (folder / "index.html").write_text("<p>How it is done.</p>", "utf-8")
    (folder / "_static" / "turnscrew.css").write_text("p {}", "utf-8")
    (folder / "_static" / "shade.js").write_text("1;", "utf-8")
    (folder / "picture.png").write_bytes(b"\x89PNG")
    (tmp_path / "secret.html").write_text("not for anybody", "utf-8")
    (folder / "out.html").symlink_to(tmp_path / "secret.html")
    settings.DOCS = str(folder)
    return folder


@pytest.mark.parametrize("who", ["lead", "helper", "desk"])
def test_it_is_there_for_everybody_who_works_here(who, folder, request) -> None:
    client = signed_in(request.getfixturevalue(who))

    assert b"How it is done." in client.get("/docs/").content
    assert b'href="/docs/"' in client.get("/").content


def test_it_is_not_there_for_a_stranger(folder, db) -> None:
    for address in ("/docs/", "/docs/index.html", "/docs/_static/shade.js"):
        answer = Client().get(address)
        assert 404 == answer.status_code
        assert b"How it is done." not in answer.content


@pytest.mark.parametrize(
    ("file", "kind"),
    [
        ("index.html", "text/html; charset=utf-8"),
        ("_static/turnscrew.css", "text/css; charset=utf-8"),
        ("_static/shade.js", "text/javascript; charset=utf-8"),
        ("picture.png", "image/png"),
    ],
)
def test_it_says_what_a_file_is(file, kind, folder, lead) -> None:
    assert kind == signed_in(lead).get(f"/docs/{file}")["Content-Type"]


@pytest.mark.parametrize(
    "file",
    [
        "missing.html", "../secret.html", "%2e%2e/secret.html",
        "_static/../../secret.html", "_static", "_static/", "out.html",
        ".doctrees/index", "index.html%00.css", "/etc/hostname",
    ],
)  # fmt: skip
def test_it_gives_nothing_that_lies_outside(file, folder, lead) -> None:
    answer = signed_in(lead).get(f"/docs/{file}")

    assert 404 == answer.status_code
    assert b"not for anybody" not in answer.content


def test_it_sends_nothing_again_that_has_not_changed(folder, lead) -> None:
    client = signed_in(lead)
    first = client.get("/docs/index.html")
    again = client.get("/docs/index.html", headers={"if-none-match": first["ETag"]})
    assert (304, b"") == (again.status_code, again.content)
    since = {"if-modified-since": first["Last-Modified"]}
    assert 304 == client.get("/docs/index.html", headers=since).status_code

    page = folder / "index.html"
    page.write_text("<p>Another way.</p>", "utf-8")
    os.utime(page, (0, page.stat().st_mtime + 5))
    changed = client.get("/docs/index.html", headers={"if-none-match": first["ETag"]})
    assert (200, b"<p>Another way.</p>") == (changed.status_code, changed.content)


def test_it_takes_nothing(folder, lead) -> None:
    client = signed_in(lead)

    for address in ("/docs/", "/docs/index.html"):
        assert 405 == client.post(address).status_code


def test_it_says_how_it_is_built_where_it_is_not(settings, lead, tmp_path) -> None:
    client = signed_in(lead)
    for folder in ("", str(tmp_path / "nowhere")):
        settings.DOCS = folder
        answer = client.get("/docs/")
        assert b"not built yet" in answer.content
        assert b"sphinx-build -q -W -b html docs build/docs" in answer.content
        assert 404 == client.get("/docs/first-morning.html").status_code
