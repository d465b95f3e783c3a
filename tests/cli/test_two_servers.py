"""Is a server of pages free of memory of its own, so that any other can go on?"""

import re
from http.cookiejar import CookieJar
from typing import Any
from urllib.error import HTTPError
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, OpenerDirector, build_opener

import pytest

from cli.test_records import OWNER_LINK, Serving, turnscrew


class Browser:
    """Somebody whose every page may come from another server."""

    def __init__(self) -> None:
        # Cookies are told apart by host, not by port: as behind one address.
        self.cookies = CookieJar()
        self.opener: OpenerDirector = build_opener(HTTPCookieProcessor(self.cookies))

    def get(self, server: Serving, path: str) -> str:
        with self.opener.open(f"http://localhost:{server.port}{path}") as answer:
            return answer.read().decode()

    def post(self, server: Serving, path: str, page: str, **entered: Any) -> str:
        token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', page)
        assert token is not None
        said = {"csrfmiddlewaretoken": token.group(1), **entered}
        form = urlencode(said, doseq=True).encode()
        with self.opener.open(f"http://localhost:{server.port}{path}", form) as answer:
            return answer.read().decode()


def test_a_session_begun_at_one_server_goes_on_at_the_other(tmp_path) -> None:
    home = tmp_path / "records"
    received = turnscrew("receive", "examples/sallowmere", "--home", home)
    assert 0 == received.returncode
    with Serving(home) as one, Serving(home) as other:
        for server in (one, other):
            server.answer("/sign-in/")
        link = OWNER_LINK.search(other.told)
        assert link is not None
        browser = Browser()
        page = browser.get(one, link.group())
        account = browser.post(other, link.group(), page)
        word = "a long word of the lead"
        browser.post(
            one, "/account/", account, act="password", password=word, again=word
        )

        # What one writes the other shows at once, and a link opens once for both.
        batches = browser.get(other, "/batches/")
        (batch,) = set(re.findall(r"/batches/[0-9a-f]{16}/", batches))
        stand = browser.get(one, batch)
        browser.post(other, batch, stand, act="quote")
        assert "quoted" in browser.get(one, batch)
        stranger = Browser()
        with pytest.raises(HTTPError, match="404"):
            stranger.post(one, link.group(), stranger.get(one, link.group()))

        # Five wrong words at two servers lock the door of both.
        for n in range(5):
            server = (one, other)[n % 2]
            page = stranger.get(server, "/sign-in/")
            try:
                stranger.post(
                    server, "/sign-in/", page, username="lead", password=f"wrong {n}"
                )
            except HTTPError as error:
                assert error.code in {422, 429}
        for server in (one, other):
            with pytest.raises(HTTPError, match="429"):
                stranger.post(server, "/sign-in/", page, username="lead", password=word)
    whole = turnscrew("audit", "--home", home)
    assert 0 == whole.returncode
