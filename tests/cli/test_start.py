"""Does a stranger get from a bare checkout to work, or a sentence that says why not?"""

import ast
import os
import re
import shutil
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from systems import untold

ROOT = Path(__file__).resolve().parents[2]
NEEDED = ("start.py", "pyproject.toml", "requirements")


@pytest.fixture
def calls(start, monkeypatch) -> list[list[str]]:
    """Give what the command would have been asked."""
    asked: list[list[str]] = []
    monkeypatch.setattr(start, "install", lambda _lock: None)
    monkeypatch.setattr(start, "build_manual", lambda: None)
    monkeypatch.setenv("TURNSCREW_DOCS", "")

    def turnscrew(words) -> int:
        asked.append(list(words))
        if words[0] == "receive":
            Path(words[-1]).mkdir(parents=True)
        return 0

    monkeypatch.setattr(start, "turnscrew", turnscrew)
    return asked


def test_an_old_python_can_read_it_and_is_told(monkeypatch) -> None:
    text = (ROOT / "start.py").read_text("utf-8")
    ast.parse(text, feature_version=(3, 7))
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))

    with pytest.raises(SystemExit) as told:
        exec(compile(text, "start.py", "exec"), {"__name__": "start"})
    assert "needs Python 3.11 or later; this is 3.9.2" in str(told.value)


def test_a_new_workshop_gets_the_example_its_papers_and_pages(
    start, calls, tmp_path
) -> None:
    home = tmp_path / "workshop"

    assert 0 == start.main(["--home", str(home), "--demo", "--port", "8123"])
    assert ["demo", "receive", "serve"] == [words[0] for words in calls]
    assert str(home / "papers") in calls[0]
    assert ["--home", str(home / "records"), "--port", "8123"] == calls[2][1:]
    assert (home / "records").is_dir()


def test_the_second_start_serves_at_once(start, calls, tmp_path) -> None:
    home = tmp_path / "workshop"
    (home / "records").mkdir(parents=True)

    assert 0 == start.main(["--home", str(home)])
    assert ["serve"] == [words[0] for words in calls]


def test_the_manual_is_built_once_for_a_program(start, monkeypatch, tmp_path) -> None:
    built: list[list[str]] = []
    monkeypatch.setattr(start, "MANUAL", tmp_path / "build" / "docs")

    def run(words, **_):
        built.append(words)
        Path(words[-1]).mkdir()
        return subprocess.CompletedProcess(words, 0, "", "")

    monkeypatch.setattr(start.subprocess, "run", run)
    start.build_manual()
    start.build_manual()
    assert 1 == len(built)
    # Built beside, so that another start that builds it too disturbs nothing.
    assert str(tmp_path / "build" / "docs") != built[0][-1]
    assert (tmp_path / "build" / "docs").is_dir()
    assert ["docs", "docs-of.txt"] == sorted(
        one.name for one in (tmp_path / "build").iterdir()
    )

    monkeypatch.setattr(start, "SOURCES", ROOT / "tests")
    start.build_manual()
    assert 2 == len(built)


def test_work_begins_where_the_manual_cannot_be_built(
    start, monkeypatch, tmp_path, capsys
) -> None:
    monkeypatch.setattr(start, "MANUAL", tmp_path / "build" / "docs")
    failed = subprocess.CompletedProcess([], 2, "", "docs/index.md: broken")
    monkeypatch.setattr(start.subprocess, "run", lambda *_, **__: failed)
    start.build_manual()

    assert "docs/index.md: broken" in capsys.readouterr().err
    assert not (tmp_path / "build" / "docs-of.txt").exists()


@untold
def test_what_builds_the_manual_ends_with_the_start(
    start, monkeypatch, tmp_path
) -> None:
    monkeypatch.setattr(start, "MANUAL", tmp_path / "build" / "docs")
    slow = tmp_path / "bin"
    slow.mkdir()
    pid = tmp_path / "pid"
    builder = slow / "sphinx-build"
    builder.write_text(f"#!/bin/sh\necho $$ > {pid}\nexec sleep 60\n")
    builder.chmod(0o755)
    monkeypatch.setattr(start, "BIN", slow)

    def tell() -> None:
        while not pid.exists() or not pid.read_text().strip():
            time.sleep(0.01)
        os.kill(os.getpid(), signal.SIGTERM)

    teller = threading.Thread(target=tell)
    teller.start()
    with pytest.raises(SystemExit) as ended:
        start.build_manual()
    teller.join()
    assert 128 + signal.SIGTERM == ended.value.code
    with pytest.raises(ProcessLookupError):
        os.kill(int(pid.read_text()), 0)


def test_an_example_cut_off_in_the_middle_is_begun_anew(
    start, calls, tmp_path, monkeypatch
) -> None:
    home = tmp_path / "workshop"
    monkeypatch.setattr(
        start, "turnscrew", lambda words: int(words[0] == "receive" and 1)
    )
    assert 1 == start.main(["--home", str(home), "--demo"])
    assert not (home / "records").exists()


@pytest.mark.parametrize(
    ("answers", "is_demo"), [(["1"], True), ([""], True), (["x", "2"], False)]
)
def test_it_offers_the_example_or_an_empty_workshop(
    start, calls, tmp_path, monkeypatch, answers, is_demo
) -> None:
    monkeypatch.setattr(start.sys.stdin, "isatty", lambda: True, raising=False)
    said = iter(answers)
    monkeypatch.setattr("builtins.input", lambda _words: next(said))

    assert 0 == start.main(["--home", str(tmp_path / "workshop")])
    assert is_demo == (calls[0][0] == "demo")
    assert [] == list(said)


def test_the_example_alone_serves_nothing(start, calls, tmp_path) -> None:
    assert 0 == start.main(["demo", "--out", str(tmp_path)])
    assert [["demo", "--out", str(tmp_path)]] == calls


def test_pages_served_by_the_command_have_their_manual(start, calls) -> None:
    words = ["serve", "--home", "records"]
    assert 0 == start.main(["run", *words])
    assert [words] == calls
    assert str(start.MANUAL) == os.environ["TURNSCREW_DOCS"]


def test_a_manual_that_somebody_names_stays(start, calls, monkeypatch) -> None:
    monkeypatch.setenv("TURNSCREW_DOCS", "/another")
    monkeypatch.setattr(start, "build_manual", lambda: pytest.fail("built for nobody"))

    assert 0 == start.main(["run", "serve"])
    assert "/another" == os.environ["TURNSCREW_DOCS"]


@pytest.mark.parametrize("port", ["eighty", "0", "65536", "-1", "80.5", "", "٨٠٠٠"])
def test_a_port_that_is_none_is_told_what_one_is(start, calls, capsys, port) -> None:
    with pytest.raises(SystemExit):
        start.main([f"--port={port}"])
    told = capsys.readouterr().err
    assert f"found {port}, wanted a number from 1 to 65535, such as 8001" in told
    assert [] == calls


@pytest.mark.parametrize("port", ["1", "8001", "65535"])
def test_a_port_that_is_one_is_passed_on(start, calls, tmp_path, port) -> None:
    (tmp_path / "records").mkdir()

    assert 0 == start.main(["--home", str(tmp_path), "--port", port])
    assert port == calls[0][-1]


COMMAND = """#!{python}
import signal, sys, time
def stop(number, _):
    print("told", signal.Signals(number).name, flush=True)
    time.sleep(0.3)
    print("the last of its work", flush=True)
    sys.exit(0)
signal.signal(signal.SIGTERM, stop)
print("working", flush=True)
time.sleep(30)
"""
START = """
import importlib.util, pathlib, sys
found = importlib.util.spec_from_file_location("start", sys.argv[1])
start = importlib.util.module_from_spec(found)
found.loader.exec_module(start)
start.PYTHON = pathlib.Path(sys.argv[2])
sys.exit(start.turnscrew([]))
"""


@untold
@pytest.mark.parametrize("told", ["SIGTERM", "SIGHUP"])
def test_told_to_stop_it_stops_the_command_and_waits_for_it(tmp_path, told) -> None:
    command = tmp_path / "command"
    command.write_text(COMMAND.format(python=sys.executable), "utf-8")
    command.chmod(0o700)
    words = [sys.executable, "-c", START, str(ROOT / "start.py"), str(command)]
    with subprocess.Popen(words, stdout=subprocess.PIPE, encoding="utf-8") as begun:
        assert begun.stdout
        assert "working\n" == begun.stdout.readline()
        # In the moment it begins, it may not hear it yet.
        time.sleep(0.3)
        begun.send_signal(getattr(signal, told))
        said, _ = begun.communicate(timeout=20)

    assert ["told SIGTERM", "the last of its work"] == said.splitlines()
    assert 0 == begun.returncode


@untold
def test_what_a_signal_ended_did_not_go_well(start, monkeypatch, tmp_path) -> None:
    command = tmp_path / "command"
    command.write_text("#!/bin/sh\nkill -KILL $$\n", "utf-8")
    command.chmod(0o700)
    monkeypatch.setattr(start, "PYTHON", command)
    before = signal.getsignal(signal.SIGTERM)

    assert 128 + signal.SIGKILL == start.turnscrew([])
    assert before is signal.getsignal(signal.SIGTERM)


def test_a_workshop_in_the_checkout_is_not_offered_to_git() -> None:
    """The folders that README and the manual name, and none of the program's own."""
    texts = (ROOT / "README.md", ROOT / "docs" / "first-morning.md")
    named = {
        home.split("/")[0]
        for text in texts
        for home in re.findall(r"--home ([a-z][\w/-]*)", text.read_text("utf-8"))
    }
    ours = named | {"workshop", "turnscrew-records", "records", "empty"}
    ignored = ignored_of([f"{folder}/records.sqlite3" for folder in sorted(ours)])

    assert {"my-workshop", "records"} <= named
    assert len(ours) == len(ignored)
    assert [] == ignored_of(["src/turnscrew/web/records/queries/rights.py"])


def ignored_of(paths: list[str]) -> list[str]:
    done = subprocess.run(
        ["git", "check-ignore", "--no-index", *paths], cwd=ROOT,
        capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip
    assert done.returncode in {0, 1}, done.stderr
    return done.stdout.splitlines()


def test_an_unknown_word_is_answered_with_all_words(start, capsys) -> None:
    assert 2 == start.main(["tset"])
    assert "python3 start.py test" in capsys.readouterr().err


def test_it_says_plainly_that_no_network_answers(tmp_path) -> None:
    """Ask a port on which nobody listens for the packages."""
    for name in NEEDED:
        source = ROOT / name
        copy = shutil.copytree if source.is_dir() else shutil.copy
        copy(source, tmp_path / name)
    # A place nobody answers at, in place of the machine's own settings.
    nowhere = {
        "PIP_INDEX_URL": "http://127.0.0.1:9/", "PIP_RETRIES": "1",
        "PIP_CONFIG_FILE": os.devnull, "PIP_NO_CACHE_DIR": "1",
    }  # fmt: skip
    surroundings = {k: v for k, v in os.environ.items() if not k.startswith("PIP_")}

    done = subprocess.run(
        [sys.executable, "start.py", "run", "selfcheck"],
        cwd=tmp_path, env=surroundings | nowhere, encoding="utf-8",
        capture_output=True, check=False,
    )  # fmt: skip
    assert 1 == done.returncode
    assert "no network answers" in done.stderr
    assert "Traceback" not in done.stdout + done.stderr
    assert not (tmp_path / ".venv" / "installed.json").exists()


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (OSError(28, "No space left on device"), "the disk is full. Make room"),
        (PermissionError(13, "Permission denied"), "may not be written in"),
        (OSError(30, "Read-only file system"), "may not be written in"),
        (subprocess.CalledProcessError(1, "pip", "PACKAGES DO NOT MATCH THE HASHES"),
         "is not the one that was locked"),
        (subprocess.CalledProcessError(1, "pip", "NewConnectionError: refused"),
         "no network answers"),
        (subprocess.CalledProcessError(1, "pip", "Could not find a version that fits"),
         "not to be had for this machine"),
        (subprocess.CalledProcessError(1, ["python", "-m", "ensurepip"]),
         "apt-get install python3-venv"),
        (subprocess.CalledProcessError(1, "pip", "one\nthe very reason"),
         "the very reason"),
    ],
)  # fmt: skip
def test_each_trouble_of_setting_up_gets_a_sentence(
    start, monkeypatch, tmp_path, error, said
) -> None:
    def fail(*_, **__):
        raise error

    monkeypatch.setattr(start, "MEMORY", tmp_path / "installed.json")
    monkeypatch.setattr(start.venv, "create", fail)

    with pytest.raises(SystemExit, match=said):
        start.install("base.txt")


def test_too_little_room_is_told_before_anything_is_fetched(
    start, monkeypatch, tmp_path
) -> None:
    few = shutil.disk_usage(tmp_path)._replace(free=200_000_000)
    monkeypatch.setattr(start.shutil, "disk_usage", lambda _path: few)
    monkeypatch.setattr(start, "MEMORY", tmp_path / "installed.json")

    with pytest.raises(SystemExit, match="found 200 MB free .* wanted 1300 MB"):
        start.install("base.txt")


@pytest.mark.parametrize(("words", "code"), [([], 0), (["--all"], 1)])
def test_it_says_what_is_skipped_and_refuses_it_where_all_is_wanted(
    start, monkeypatch, capsys, words, code
) -> None:
    ran: list[tuple[str, ...]] = []
    monkeypatch.setattr(start.shutil, "which", lambda _name: None)
    monkeypatch.setattr(start, "_run", lambda words, **_: ran.append(words) or 0)

    assert code == start.test(words)
    told = capsys.readouterr().out
    assert "SKIPPED: tests/web/browser" in told
    assert "pg_virtualenv is not here" in told
    assert "--ignore=tests/web/browser" in ran[-1]


def test_nothing_is_skipped_where_all_is_there(start, monkeypatch, capsys) -> None:
    monkeypatch.setattr(start.shutil, "which", lambda name: name)
    ran: list[tuple[str, ...]] = []
    monkeypatch.setattr(start, "_run", lambda words, **_: ran.append(words) or 0)

    assert 0 == start.test(["--all"])
    assert "SKIPPED" not in capsys.readouterr().out
    assert start.TESTS == ran[-1]
    assert start.POSTGRESQL_TESTS in ran
