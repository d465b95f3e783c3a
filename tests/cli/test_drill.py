"""
Does a workshop get everything back after the worst day?

The drill of docs/keeping.md by its commands alone: serve, write from two programs and
a tablet, back up meanwhile, pull the plug, restore elsewhere, audit, compare every row
of every table and every byte of every photo.
"""

import json
import re
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from threading import Event, Thread
from time import gmtime, strftime, time
from typing import Any
from urllib.error import HTTPError, URLError
from urllib.request import Request, urlopen

from PIL import Image

from cli.test_records import OWNER_LINK, Serving, turnscrew
from cli.test_two_servers import Browser
from systems import end_tree

N_PROGRAMS = 2
N_EACH = 10
"""What each is told is kept before the backup begins, and again before the fall."""
BORDER = "a-border-of-the-drill"


class Program(Thread):
    """Writes findings without a pause and remembers which were acknowledged."""

    def __init__(self, server: Serving, token: str, jobs: list[str], name: str) -> None:
        super().__init__(daemon=True)
        self.server, self.token, self.jobs, self.mine = server, token, jobs, name
        self.acknowledged: list[str] = []
        self.is_enough = Event()

    def run(self) -> None:
        n = 0
        while not self.is_enough.is_set():
            words, job = f"{self.mine} saw {n}", self.jobs[n % len(self.jobs)]
            body = {"stage": "seen", "words": words, "result": "not tested"}
            try:
                asked(self.server, self.token, f"jobs/{job}/findings", body)
            except (URLError, ConnectionError):
                # Nothing was acknowledged: the plug was pulled.
                return
            self.acknowledged.append(words)
            n += 1

    def wait_for(self, n: int) -> None:
        while len(self.acknowledged) < n:
            assert self.is_alive(), self.acknowledged
            self.join(0.01)


def asked(server: Serving, token: str, path: str, body: object = None) -> object:
    headers = {"Authorization": f"Bearer {token}", "Content-Type": "application/json"}
    data = None if body is None else json.dumps(body).encode()
    request = Request(f"http://localhost:{server.port}/api/v1/{path}", data, headers)
    try:
        with urlopen(request) as answer:
            return json.load(answer)
    except HTTPError as error:
        raise AssertionError(error.read().decode()) from error


def sent(server: Serving, owner: Browser, path: str, picture: bytes) -> None:
    """Send a photo as the form of a browser does."""
    page = owner.get(server, path)
    fields = dict(re.findall(r'<input type="hidden" name="(\w+)" value="(\w+)"', page))
    fields |= {"act": "add", "caption": "before the plug"}
    body = b"".join(
        f'--{BORDER}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n'
        f"{value}\r\n".encode()
        for name, value in fields.items()
    )
    body += (
        f'--{BORDER}\r\nContent-Disposition: form-data; name="photo"; '
        'filename="a.png"\r\nContent-Type: image/png\r\n\r\n'
    ).encode()
    body += picture + f"\r\n--{BORDER}--\r\n".encode()
    address = f"http://localhost:{server.port}{path}"
    kind = {"Content-Type": f"multipart/form-data; boundary={BORDER}"}
    with owner.opener.open(Request(address, body, kind)) as answer:
        assert "/photos/" in answer.url


def came_in(server: Serving) -> Browser:
    server.answer("/sign-in/")
    link = OWNER_LINK.search(server.told)
    assert link is not None
    owner = Browser()
    owner.post(server, link.group(), owner.get(server, link.group()))
    return owner


def token_of(server: Serving, owner: Browser) -> str:
    (mine, *_) = re.findall(r"/people/[0-9a-f]{16}/", owner.get(server, "/people/"))
    in_a_month = gmtime(time() + 30 * 86400)
    page = owner.post(
        server, mine, owner.get(server, mine), act="token", name="the drill",
        scopes=["read", "bench"], expires_on=strftime("%Y-%m-%d", in_a_month),
    )  # fmt: skip
    made = re.search(r"token, shown this once: ([\w-]+)", page)
    assert made is not None, page
    return made[1]


def tables_of(home: Path, folder: Path) -> dict[str, list[object]]:
    """Read every row of every table by the export that anybody can read."""
    told = turnscrew("export", folder, "--home", home)
    assert 0 == told.returncode, told.stderr
    tables = {
        path.stem: json.loads(path.read_text("utf-8"))
        for path in folder.rglob("*.json")
        # The hour of the export is on it.
        if path.stem != "about"
    }
    assert len(tables) > 20
    return tables


def photos_of(home: Path) -> dict[str, bytes]:
    kept = home / "photos"
    return {
        str(path.relative_to(kept)): path.read_bytes()
        for path in kept.rglob("*")
        if path.is_file()
    }


def restored(kept: Path, home: Path) -> None:
    for command in (("restore", kept), ("audit",)):
        done = turnscrew(*command, "--home", home)
        assert (0, "") == (done.returncode, done.stderr)


def lost(words: list[str], tables: dict[str, list[object]]) -> list[str]:
    there = json.dumps(tables)
    return [one for one in words if f'"{one}"' not in there]


def jobs_of(server: Serving, token: str) -> list[str]:
    batches: Any = asked(server, token, "batches")
    told: Any = asked(server, token, f"batches/{batches['batches'][0]['ref']}/jobs")
    return [job["ref"] for job in told]


@dataclass(frozen=True)
class WorstDay:
    """What was acknowledged before the backup began, and before the plug was pulled."""

    before: list[str]
    acknowledged: list[str]


def worst_day(home: Path, kept: Path) -> WorstDay:
    """Write, back up meanwhile, write on, pull the plug."""
    picture = BytesIO()
    Image.radial_gradient("L").resize((640, 480)).save(picture, "PNG")
    with Serving(home) as server:
        owner = came_in(server)
        token = token_of(server, owner)
        jobs = jobs_of(server, token)
        sent(server, owner, f"/jobs/{jobs[0]}/photos/", picture.getvalue())
        programs = [
            Program(server, token, jobs[:6], f"program {n}") for n in range(N_PROGRAMS)
        ]
        for program in programs:
            program.start()
        for program in programs:
            program.wait_for(N_EACH)
        before = [words for program in programs for words in program.acknowledged]
        done = turnscrew("backup", kept, "--home", home)
        assert 0 == done.returncode, done.stderr
        n_then = [len(program.acknowledged) for program in programs]
        # Those who wrote were not kept waiting until it was done.
        assert sum(n_then) > len(before)
        for program, n in zip(programs, n_then, strict=True):
            program.wait_for(n + N_EACH)
        end_tree(server.process, at_once=True)
        for program in programs:
            program.join()
    acknowledged = [words for program in programs for words in program.acknowledged]
    return WorstDay(before, acknowledged)


def test_everything_comes_back_after_the_plug_was_pulled(tmp_path) -> None:
    home, meanwhile = tmp_path / "records", tmp_path / "meanwhile.zip"
    received = turnscrew("receive", "examples/sallowmere", "--home", home)
    assert 0 == received.returncode, received.stderr
    day = worst_day(home, meanwhile)

    # On the machine that lost its power: all that was acknowledged.
    whole = turnscrew("audit", "--home", home)
    assert (0, "") == (whole.returncode, whole.stderr)
    here = tables_of(home, tmp_path / "here")
    assert [] == lost(day.acknowledged, here)
    assert {} != photos_of(home)

    # From the backup taken while they wrote: all from before it, and the journals as
    # far as they had come, row for row.
    restored(meanwhile, tmp_path / "one")
    then = tables_of(tmp_path / "one", tmp_path / "then")
    assert [] == lost(day.before, then)
    assert set(here) == set(then)
    assert "records_finding" in {name for name in here if here[name] != then[name]}
    for name, rows in then.items():
        if name == "records_entry":
            assert rows == here[name][: len(rows)]
    assert photos_of(home) == photos_of(tmp_path / "one")

    # From a last backup, elsewhere: equal to the last row and the last byte.
    last = turnscrew("backup", tmp_path / "last.zip", "--home", home)
    assert 0 == last.returncode, last.stderr
    restored(tmp_path / "last.zip", tmp_path / "other")
    assert here == tables_of(tmp_path / "other", tmp_path / "there")
    assert photos_of(home) == photos_of(tmp_path / "other")
