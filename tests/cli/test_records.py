"""Do the commands of the records serve, audit and refuse as they say?"""

import json
import os
import re
import shutil
import signal
import socket
import ssl
import subprocess
import sys
import time
from http.client import HTTPConnection, HTTPResponse, HTTPSConnection
from pathlib import Path
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, build_opener

import pytest

from systems import end_tree, is_private, untold
from turnscrew.cli.records_folder import opened
from turnscrew.errors import TurnscrewError

ROOT = Path(__file__).resolve().parents[2]
OWNER_LINK = re.compile(r"/first/[\w-]{40,}/")


def turnscrew(*words: object, **more: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "turnscrew", *map(str, words)], cwd=ROOT,
        env=surroundings() | more, capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip


def surroundings() -> dict[str, str]:
    # A folder of its own is said to each command; the suite's database is not meant.
    return {k: v for k, v in os.environ.items() if not k.startswith("TURNSCREW_")}


def free_port() -> int:
    with socket.socket() as trial:
        trial.bind(("127.0.0.1", 0))
        return trial.getsockname()[1]


LONG_S = 30.0
"""Nothing here takes so long unless it will never end. [s]"""


class Serving:
    """A server in a process of its own, until the end of the block."""

    def __init__(self, home: Path, *words: str) -> None:
        self.port = free_port()
        self.words = ["serve", "--home", str(home), "--port", str(self.port), *words]
        self.told = ""

    def __enter__(self) -> "Serving":
        self.process = subprocess.Popen(
            [sys.executable, "-m", "turnscrew", *self.words], cwd=ROOT,
            env=surroundings(), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
            encoding="utf-8", start_new_session=True,
        )  # fmt: skip
        assert self.process.stdout
        for line in self.process.stdout:
            self.told += line
            if line.startswith("Stop with"):
                return self
        raise AssertionError(self.told)

    def __exit__(self, *error: object) -> None:
        end_tree(self.process)
        try:
            self.process.communicate(timeout=LONG_S)
        except subprocess.TimeoutExpired:
            # Told to stop in the moment it begins, it may not hear it.
            end_tree(self.process, at_once=True)
            self.process.communicate()

    def answer(self, path: str, authority: Path | None = None) -> HTTPResponse:
        """Ask until the server listens: it begins a moment after it says so."""
        while self.process.poll() is None:
            if authority is None:
                line = HTTPConnection("127.0.0.1", self.port, timeout=LONG_S)
            else:
                trust = ssl.create_default_context(cafile=str(authority))
                line = HTTPSConnection(
                    "localhost", self.port, context=trust, timeout=LONG_S
                )
            try:
                line.request("GET", path)
                answer = line.getresponse()
                answer.read()
            except ConnectionRefusedError:
                continue
            finally:
                line.close()
            return answer
        raise AssertionError("the server has stopped")


def come_in(link: str) -> None:
    """Open a link as a browser does, and press its button."""
    browser = build_opener(HTTPCookieProcessor())
    page = browser.open(link).read().decode()
    token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', page)
    assert token is not None
    form = urlencode({"csrfmiddlewaretoken": token.group(1)}).encode()
    assert browser.open(link, form).url.endswith("/account/")


def test_it_lists_the_commands_without_loading_the_framework() -> None:
    code = (
        "import sys; from turnscrew.cli.main import app\n"
        "try: app(['--help'])\n"
        "except SystemExit: pass\n"
        "print([n for n in ('django', 'granian', 'cryptography') if n in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=True
    )

    for command in ("serve", "sign-in-link", "audit", "backup", "restore"):
        assert f"  {command} " in done.stdout
    assert "[]" == done.stdout.splitlines()[-1]


def test_it_makes_the_records_and_lets_the_owner_in_once(tmp_path) -> None:
    home = tmp_path / "records"
    with Serving(home) as first:
        link = OWNER_LINK.search(first.told)
        assert link is not None
        assert f"http://localhost:{first.port}{link.group()}" in first.told
        assert first.answer("/").status in {200, 302}
    with Serving(home) as unused:
        newer = OWNER_LINK.search(unused.told)
        assert newer is not None
        assert link.group() != newer.group()
        unused.answer("/")
        come_in(f"http://localhost:{unused.port}{newer.group()}")
    with Serving(home) as again:
        assert again.answer("/").status in {200, 302}
        assert OWNER_LINK.search(again.told) is None

    assert is_private(home)
    files = [path for path in home.iterdir() if path.is_file()]
    assert {"records.sqlite3", "secret"} <= {path.name for path in files}
    assert all(map(is_private, files))
    done = turnscrew("audit", "--home", home, "--json")
    assert (0, []) == (done.returncode, json.loads(done.stdout)["breaks"])


def test_it_listens_on_this_machine_alone_unless_sharing_is_said(tmp_path) -> None:
    with Serving(tmp_path / "records") as serving:
        serving.answer("/")
        listening = Path("/proc/net/tcp").read_text("utf-8")

    # Addresses stand there in hexadecimal, the lowest byte first.
    assert f"0100007F:{serving.port:04X}" in listening
    assert f"00000000:{serving.port:04X}" not in listening


def test_it_shares_by_https_under_an_authority_of_its_own(tmp_path) -> None:
    home = tmp_path / "records"
    with Serving(home, "--share", "localhost", "--share", "192.0.2.7") as serving:
        authority = home / "tls" / "authority.crt"
        answer = serving.answer("/", authority)
        told = serving.told

    assert answer.status in {200, 302}
    assert "max-age=3600" == answer.headers["Strict-Transport-Security"]
    assert f"https://192.0.2.7:{serving.port}/" in told
    assert "fingerprint" in told
    assert is_private(home / "tls" / "server.key")
    assert is_private(home / "tls" / "authority.key")


def test_it_refuses_a_port_that_is_taken(tmp_path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        done = turnscrew("serve", "--home", tmp_path / "records", "--port", port)

    assert 1 == done.returncode
    assert f"--port: found {port} taken" in done.stderr
    other = int(re.findall(r"such as --port (\d+)$", done.stderr.strip())[0])
    assert other != port
    assert 1024 <= other <= 65535


@untold
@pytest.mark.parametrize("told", ["SIGTERM", "SIGINT", "SIGHUP"])
def test_it_says_at_once_that_it_stops_and_waits_for_nobody_long(
    tmp_path, told
) -> None:
    """Two pages are open: one that keeps its line, one that never asks to the end."""
    with Serving(tmp_path / "records") as serving:
        serving.answer("/sign-in/")
        page = HTTPConnection("127.0.0.1", serving.port, timeout=LONG_S)
        page.request("GET", "/sign-in/")
        assert 200 == page.getresponse().status
        half = socket.create_connection(("127.0.0.1", serving.port), timeout=LONG_S)
        half.sendall(b"GET /sign-in/ HTTP/1.1\r\n")
        with page.sock, half:
            began = time.monotonic()
            serving.process.send_signal(getattr(signal, told))
            assert serving.process.stdout
            said = iter(serving.process.stdout.readline, "")
            assert "Stopping\n" in said
            at_once_s = time.monotonic() - began
            assert 0 == serving.process.wait(LONG_S)
            whole_s = time.monotonic() - began
        assert is_free(serving.port)

    # Said before the open pages are waited for, and these for no longer than said.
    assert at_once_s < whole_s - 1
    assert whole_s < 9


def is_free(port: int) -> bool:
    with socket.socket() as trial:
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind(("127.0.0.1", port))
        except OSError:
            return False
    return True


@pytest.mark.parametrize("command", ["audit", "sign-in-link lead", "backup new.zip"])
def test_it_refuses_a_folder_that_is_not_there(command, tmp_path) -> None:
    done = turnscrew(*command.split(), "--home", tmp_path / "nowhere")

    assert 1 == done.returncode
    assert "found no folder, wanted the records" in done.stderr
    assert not (tmp_path / "nowhere").exists()


@pytest.mark.parametrize("command", ["audit", "sign-in-link lead", "backup new.zip"])
def test_it_names_the_records_of_a_workshop_given_instead(command, tmp_path) -> None:
    records = tmp_path / "records"
    records.mkdir()
    (records / "records.sqlite3").touch()

    done = turnscrew(*command.split(), "--home", tmp_path)

    assert 1 == done.returncode
    assert f"found a workshop, wanted its records; say {records}" in done.stderr
    assert [records] == list(tmp_path.iterdir())


@pytest.mark.parametrize(
    "command",
    [
        "audit",
        "sign-in-link lead",
        "backup new.zip",
        "export new",
        "erase --customer X",
    ],
)
def test_it_makes_nothing_in_an_empty_folder(command, tmp_path) -> None:
    done = turnscrew(*command.split(), "--home", tmp_path)

    assert 1 == done.returncode
    assert "found no records in it, wanted them; turnscrew serve makes" in done.stderr
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("command", ["audit", "sign-in-link lead"])
def test_it_refuses_records_without_a_table(command, tmp_path) -> None:
    (tmp_path / "records.sqlite3").touch()

    done = turnscrew(*command.split(), "--home", tmp_path)

    assert 1 == done.returncode
    assert "tables: found none" in done.stderr


def test_it_says_plainly_that_a_database_does_not_answer(tmp_path) -> None:
    address = f"postgresql://nobody@127.0.0.1:{free_port()}/none"

    done = turnscrew("audit", "--home", tmp_path, TURNSCREW_DATABASE=address)

    assert 1 == done.returncode
    assert done.stderr.startswith("records: found")
    assert 1 == len(done.stderr.splitlines())


def test_it_receives_the_folder_of_a_batch_once(tmp_path) -> None:
    words = ("receive", "examples/sallowmere", "--home", tmp_path / "records")
    first = turnscrew(*words)
    assert 0 == first.returncode, first.stderr
    assert "60 devices received, 3 descriptions kept" in first.stdout
    again = turnscrew(*words)
    assert 1 == again.returncode
    assert "received before, wanted a new one" in again.stderr

    whole = turnscrew("audit", "--home", tmp_path / "records")
    assert 0 == whole.returncode
    assert "custody: 127 entries" in whole.stdout

    # Another customer may call a batch the same.
    other = tmp_path / "other"
    shutil.copytree(ROOT / "examples" / "sallowmere", other)
    terms = other / "terms.yaml"
    said = terms.read_text("utf-8")
    name = "Sallowmere Home-Nursing and Hospice Trust"
    assert name in said
    terms.write_text(said.replace(name, "Otherton School"), "utf-8")
    done = turnscrew("receive", other, "--home", tmp_path / "records")
    assert 0 == done.returncode, done.stderr
    assert "60 devices received" in done.stdout


def test_commands_go_by_the_clock_of_the_workshop(tmp_path) -> None:
    asks = (
        "from pathlib import Path; from turnscrew.cli.records_folder import *\n"
        f"with opened(Path({str(tmp_path)!r}), is_new=True): print(now_here())"
    )
    zone = {"TURNSCREW_TIME_ZONE": "Pacific/Kiritimati"}
    done = subprocess.run(
        [sys.executable, "-c", asks], capture_output=True, text=True, check=False,
        env=surroundings() | zone,
    )  # fmt: skip
    # Fourteen hours before London all the year: there it is the next day already.
    assert done.stdout.strip().endswith("+14:00"), done.stderr


def test_a_backup_wants_a_folder_that_is_there(tmp_path) -> None:
    home = tmp_path / "records"
    assert 0 == turnscrew("receive", "examples/sallowmere", "--home", home).returncode

    done = turnscrew("backup", tmp_path / "gone" / "x.tsb", "--home", home)

    assert 1 == done.returncode
    assert "gone: found no such folder, wanted one to write into" in done.stderr


def test_it_tells_what_a_second_folder_says_otherwise(tmp_path) -> None:
    home, again = tmp_path / "records", tmp_path / "again"
    shutil.copytree(ROOT / "examples" / "sallowmere", again)
    for name, old, new in (
        ("terms.yaml", "first round", "second round"),
        ("parts.csv", "9.80,5,3", "19.80,5,3"),
    ):
        text = (again / name).read_text("utf-8")
        (again / name).write_text(text.replace(old, new), "utf-8")
    turnscrew("receive", "examples/sallowmere", "--home", home)

    second = turnscrew("receive", again, "--home", home)

    told = ["part C-FN, cost: found 19.80, kept 9.80 as on record"]
    assert told == second.stdout.splitlines()[1:]


def test_it_receives_nothing_of_a_folder_with_a_problem(tmp_path) -> None:
    folder = tmp_path / "batch"
    shutil.copytree(ROOT / "examples" / "sallowmere", folder)
    (folder / "batch.csv").write_text("line;what\n1;2\n", "utf-8")
    refused = turnscrew("receive", folder, "--home", tmp_path / "records")

    assert 2 == refused.returncode
    assert "batch.csv" in refused.stderr
    assert not (tmp_path / "records").exists()


@pytest.mark.parametrize("name", ["Mars", "Europe", "../zone", "Europe/Zürich"])
def test_it_takes_no_time_zone_that_is_none(monkeypatch, tmp_path, name) -> None:
    monkeypatch.setenv("TURNSCREW_TIME_ZONE", name)
    wanted = f"TURNSCREW_TIME_ZONE: found {name}, wanted a name of the"

    with pytest.raises(TurnscrewError, match=re.escape(wanted)):
        with opened(tmp_path, is_new=True):
            pass
