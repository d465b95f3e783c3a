"""
How does a newcomer run Turnscrew from a bare checkout?

    python3 start.py                   set up, show the example, serve the pages
    python3 start.py demo --out DIR    the example batch to its papers, nothing served
    python3 start.py test              run every check and every test; what this
                                       machine lacks is named, and refused with --all
    python3 start.py run ARGS          pass ARGS on to the turnscrew command
    python3 start.py benchmark         measure each engine beside its peers; --quick
    python3 start.py audit             compare the locked packages with advisories

Without a word: --home DIR (the workshop folder, workshop beside this file if not said),
--demo or --empty (what a new workshop begins with; asked at a terminal, else the
example) and --port N (where the pages are served).

Needs Python 3.11 or later and nothing else: the locked packages go into .venv beside
this file, once per lock file.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - this file meets older ones
    sys.exit(
        "Turnscrew needs Python 3.11 or later; this is "
        + ".".join(map(str, sys.version_info[:3]))
        + " ("
        + sys.executable
        + ").\nInstall a newer one and start it by its name: python3.11 start.py"
    )

import argparse
import contextlib
import hashlib
import io
import json
import os
import re
import shutil
import signal
import subprocess
import tempfile
import time
import venv
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
MEMORY = VENV / "installed.json"
EXAMPLE = ROOT / "examples" / "sallowmere"
MANUAL = ROOT / "build" / "docs"
SOURCES = ROOT / "src" / "turnscrew"

STOPS = [
    getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)
]
"""Signals that end this program: told to stop, and its terminal closed."""

WITHIN = {
    "dev.txt": ("base.txt", "pg.txt", "docs.txt"),
    "docs.txt": ("base.txt",),
    "pg.txt": ("base.txt",),
}
"""Lock files, and those that are part of them."""

ROOM_MB = {"base.txt": 1300, "docs.txt": 1400, "pg.txt": 1300, "dev.txt": 2200}
"""Room that an environment takes, its packages and what is unpacked beside. [MB]"""

# Every check runs even if one before it failed.
# pytest comes last, so that its closing line closes the whole run.
CHECKS = (
    ("ruff", "check", "."),
    ("ruff", "format", "--check", "."),
    ("mypy",),
    ("lint-imports", "--no-logo"),
    ("pydoclint", "src"),
)
TESTS = ("pytest", "-n", "auto", "--dist", "worksteal")

# The records are tried in PostgreSQL as in SQLite: a throw-away server on loopback.
ON_POSTGRESQL = ("pg_virtualenv", "-t")
# What is kept, what benches tell, every page once and a whole batch through the pages;
# finer tests and what a browser shows ask the same queries, and run in SQLite alone.
IN_A_BROWSER = "tests/web/browser"
IN_POSTGRESQL = (
    "tests/web/records",
    "tests/web/keeping",
    "tests/web/bench",
    "tests/web/api",
    "tests/web/security/test_every_page.py",
    "tests/web/counter/test_pages.py",
    "tests/web/counter/test_whole_batch.py",
)
POSTGRESQL_TESTS = (*TESTS, *IN_POSTGRESQL)
POSTGRESQL = {"TURNSCREW_DATABASE": "postgresql:///postgres"}

# What the tests need beyond Python: the command, and its Debian package.
SYSTEM_COMMANDS = {"chromium": "chromium", "pg_virtualenv": "postgresql"}
LEFT_OUT = {
    "chromium": IN_A_BROWSER + " (the pages in a real browser)",
    "pg_virtualenv": "the records in PostgreSQL; they run in SQLite all the same",
}
"""What is skipped where a command is missing."""

# The tool and what it knows of packages are asked for by this command alone.
AUDIT_TOOL = "pip-audit>=2.10,<3"
AUDITED = ("dev.txt", "pg.txt")
AUDIT_REPORT = ROOT / "docs" / "dependency-audit.md"

TROUBLE = (
    (
        ("No space left", "not enough space", "Errno 28", "Disk quota"),
        "the disk is full. Make room, about {room} MB, and start again",
    ),
    (
        ("NewConnectionError", "NameResolutionError", "ConnectTimeout", "ReadTimeout",
         "Connection refused", "Network is unreachable", "name resolution",
         "Connection broken", "ConnectionResetError", "ProxyError"),
        "the packages could not be fetched, since no network answers.\n"
        "Connect once and start again; afterwards no network is needed",
    ),
    (
        ("SSLError", "CERTIFICATE_VERIFY_FAILED"),
        "the packages could not be fetched, since the network shows a certificate that "
        "this machine does not trust",
    ),
    (
        ("DO NOT MATCH THE HASHES",),
        "a package is not the one that was locked. Nothing of it was installed; "
        "try another network, and report it if it happens again",
    ),
    (
        ("No matching distribution", "Could not find a version"),
        "a locked package is not to be had for this machine and this Python; "
        "wanted 64 bit and CPython 3.11 or later",
    ),
    (
        ("Permission denied", "Read-only file system", "Errno 13", "Errno 30",
         "Access is denied"),
        "this folder may not be written in. Copy it to one of your own",
    ),
    (
        ("ensurepip",),
        "this Python lacks what makes environments; "
        "on Debian: apt-get install python3-venv",
    ),
)  # fmt: skip
"""Signs in what an installer says, and what a newcomer is told."""


def main(args: list[str]) -> int:
    """
    Choose what to do from the command line.

    Parameters
    ----------
    args
        The words after ``start.py``.

    Returns
    -------
    int
        Exit code: 0 if all went well.
    """
    first, rest = (args or [""])[0], args[1:]
    if first == "run":
        if rest[:1] == ["serve"]:
            prepare_manual()
        install(lock_of_records())
        return turnscrew(rest)
    if first == "demo":
        install("base.txt")
        return turnscrew(["demo", *rest])
    if first == "test":
        install("dev.txt")
        return test(rest)
    if first == "benchmark":
        install("dev.txt")
        return benchmark(rest)
    if first == "audit" and not rest:
        return audit()
    if not first or first.startswith("-"):
        return begin(args)
    print(__doc__, file=sys.stderr)
    return 2


def begin(args: list[str]) -> int:
    """
    Set up, begin a workshop where there is none yet, and serve its pages.

    Parameters
    ----------
    args
        The words after ``start.py``.

    Returns
    -------
    int
        Exit code: 0 if all went well.
    """
    words = argparse.ArgumentParser(
        prog="start.py",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    words.add_argument("--home", type=Path, default=ROOT / "workshop")
    words.add_argument("--port", type=port, default=8000)
    what = words.add_mutually_exclusive_group()
    what.add_argument("--demo", action="store_true")
    what.add_argument("--empty", action="store_true")
    said = words.parse_args(args)
    prepare_manual()
    install(lock_of_records())
    records = said.home / "records"
    if not records.exists():
        failed = new_workshop(
            said.home, is_demo=said.demo or not said.empty and asked()
        )
        if failed:
            return failed
    return turnscrew(["serve", "--home", str(records), "--port", str(said.port)])


def port(text: str) -> int:
    """
    Read the number of a port.

    Parameters
    ----------
    text
        What was typed.

    Returns
    -------
    int
        The number.

    Raises
    ------
    ArgumentTypeError
        If it is none.
    """
    if text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= 65535:
        return int(text)
    raise argparse.ArgumentTypeError(
        f"found {text}, wanted a number from 1 to 65535, such as 8001"
    )


def prepare_manual() -> None:
    """Build the manual and let the pages show it, unless another one is named."""
    if os.environ.get("TURNSCREW_DOCS"):
        return
    install("docs.txt")
    build_manual()
    os.environ["TURNSCREW_DOCS"] = str(MANUAL)


def lock_of_records() -> str:
    """
    Name what the records need to be installed.

    Returns
    -------
    str
        Name of a file in ``requirements``.
    """
    return "pg.txt" if os.environ.get("TURNSCREW_DATABASE") else "base.txt"


def build_manual() -> None:
    """Build the manual that the pages show, unless it is there for this program."""
    mark = MANUAL.parent / "docs-of.txt"
    texts = [*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*"), *SOURCES.rglob("*.py")]
    # Times tell a change as well as the text does, and are read at once.
    facts = [(str(text), text.stat().st_mtime_ns) for text in texts if text.is_file()]
    wanted = hashlib.sha256(repr(sorted(facts)).encode()).hexdigest()
    if mark.is_file() and mark.read_text("utf-8") == wanted:
        return
    _say("Building the manual: once, about a minute")
    MANUAL.parent.mkdir(parents=True, exist_ok=True)
    # Two starts at once build each in a place of its own, and the last one stays.
    with tempfile.TemporaryDirectory(dir=MANUAL.parent, prefix="docs-") as place:
        pages = Path(place) / "html"
        words = [BIN / "sphinx-build", "-q", "-b", "html", "-d", Path(place) / "read"]
        with _stoppable():
            built = subprocess.run(
                [*map(str, words), str(ROOT / "docs"), str(pages)],
                check=False, capture_output=True, encoding="utf-8", errors="replace",
            )  # fmt: skip
        if built.returncode:
            # The work does not wait for its manual.
            _say("The manual could not be built:\n" + built.stderr.strip()[-500:])
            return
        shutil.rmtree(MANUAL, ignore_errors=True)
        try:
            pages.rename(MANUAL)
        except OSError as error:
            _say(f"The manual could not be put in its place: {error}")
            return
    mark.write_text(wanted, "utf-8")


@contextlib.contextmanager
def _stoppable() -> Iterator[None]:
    """End by an exception where told to stop, so that what runs is ended too."""

    def stop(number: int, _: object) -> None:
        raise SystemExit(128 + number)

    before = {one: signal.getsignal(one) for one in STOPS}
    for one, now in before.items():
        if now is not signal.SIG_IGN:
            signal.signal(one, stop)
    try:
        yield
    finally:
        for one, then in before.items():
            signal.signal(one, then)


def new_workshop(home: Path, *, is_demo: bool) -> int:
    """
    Begin a workshop folder.

    Parameters
    ----------
    home
        The folder.
    is_demo
        True to begin with the example batch and its papers.

    Returns
    -------
    int
        Exit code: 0 if all went well.
    """
    if not is_demo:
        return 0
    papers = home / "papers"
    failed = turnscrew(["demo", "--out", str(papers)])
    if failed:
        return failed
    print(f"\nPapers in {papers}\n", flush=True)
    # Only a workshop that is whole is taken for one at the next start.
    making = home / "records-in-the-making"
    shutil.rmtree(making, ignore_errors=True)
    failed = turnscrew(["receive", str(EXAMPLE), "--home", str(making)])
    if not failed:
        making.rename(home / "records")
    return failed


def asked() -> bool:
    """
    Ask whether a new workshop begins with the example.

    Returns
    -------
    bool
        True for the example, also where nobody can be asked.
    """
    if not sys.stdin.isatty():
        return True
    print(
        "A new workshop. What does it begin with?\n"
        "  1  the example: a crate of sixty devices from Sallowmere (invented)\n"
        "  2  nothing: an empty workshop"
    )
    answer = input("1 or 2 [1]: ").strip()
    while answer not in {"", "1", "2"}:
        print(f"found {answer}, wanted 1 or 2")
        answer = input("1 or 2 [1]: ").strip()
    return answer != "2"


def turnscrew(args: "list[str] | tuple[str, ...]") -> int:
    """
    Run the ``turnscrew`` command, and stop it where this program is told to stop.

    Parameters
    ----------
    args
        Its words.

    Returns
    -------
    int
        Its exit code; 128 and the number of the signal where one ended it.
    """
    command = subprocess.Popen([PYTHON, "-m", "turnscrew", *args])
    before = {one: signal.getsignal(one) for one in STOPS}
    for one, now in before.items():
        # Who starts it with nohup wants it to outlive the terminal.
        if now is not signal.SIG_IGN:
            signal.signal(one, lambda *_: command.terminate())
    try:
        code = _ended(command)
    finally:
        for one, then in before.items():
            signal.signal(one, then)
    return code if code >= 0 else 128 - code


def _ended(command: "subprocess.Popen[bytes]") -> int:
    while True:
        try:
            return command.wait()
        except KeyboardInterrupt:
            # The command was told to stop too, and says so itself.
            continue


def test(args: list[str]) -> int:
    """
    Run every check, then every test; say what is left out and why.

    Parameters
    ----------
    args
        Words passed on to pytest; before them ``--all`` if nothing may be left out.

    Returns
    -------
    int
        0 if all passed, 1 if anything failed or, with ``--all``, was left out.
    """
    is_all = args[:1] == ["--all"]
    missing = _missing_commands()
    failed: list[tuple[str, ...]] = [check for check in CHECKS if _run(check) != 0]
    tests = (*TESTS, *args[is_all:])
    if "chromium" in missing:
        tests = (*tests, "--ignore=" + IN_A_BROWSER)
    if "pg_virtualenv" not in missing and _run(
        POSTGRESQL_TESTS, before=ON_POSTGRESQL, settings=POSTGRESQL
    ):
        failed.append((*ON_POSTGRESQL, *POSTGRESQL_TESTS))
    for check in failed:
        print("FAILED: " + " ".join(check), flush=True)
    for command in missing:
        print(f"SKIPPED: {LEFT_OUT[command]}: {_why_missing(command)}", flush=True)
    refused = is_all and missing
    if refused:
        print("FAILED: wanted all of them", flush=True)
    tests_failed = _run(tests) != 0
    return 1 if failed or tests_failed or refused else 0


def benchmark(args: list[str]) -> int:
    """
    Measure each engine beside its peers, which lie apart from the program.

    Parameters
    ----------
    args
        Words passed on: ``--quick`` for smaller sizes, ``--dry`` to write nothing.

    Returns
    -------
    int
        0 if all were measured.
    """
    peers = VENV / "peers"
    wanted = _fingerprint("peers.txt")
    mark = peers / "installed.txt"
    if not mark.is_file() or mark.read_text("utf-8") != wanted:
        _say("Setting up the peers from requirements/peers.txt: once")
        shutil.rmtree(peers, ignore_errors=True)
        try:
            # One of them is published as source alone.
            _pip("--require-hashes", "--target", str(peers),
                 "-r", "requirements/peers.txt")  # fmt: skip
        except subprocess.CalledProcessError as error:
            raise SystemExit(_trouble(error.output or str(error), "dev.txt")) from error
        mark.write_text(wanted, "utf-8")
    path = os.pathsep.join([str(peers), str(ROOT / "src")])
    return subprocess.run(
        [PYTHON, str(ROOT / "benchmarks" / "table.py"), *args],
        check=False, cwd=ROOT, env={**os.environ, "PYTHONPATH": path},
    ).returncode  # fmt: skip


def audit() -> int:
    """
    Compare every locked package with a public list of advisories, and write it down.

    Returns
    -------
    int
        0 if all were compared and none is named, else 1.
    """
    told: list[tuple[str, list[str] | None]] = []
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, with_pip=True)
        place = Path(folder) / BIN.relative_to(VENV)
        tool = ("install", "-q", "--only-binary", ":all:", AUDIT_TOOL)
        is_there = subprocess.run(
            [place / PYTHON.name, "-m", "pip", *tool], check=False, capture_output=True
        )
        for lock in AUDITED:
            if is_there.returncode:
                told.append((lock, None))
            else:
                told.append((lock, _advisories(place / "pip-audit", lock)))
    is_clean = all(found == [] for _, found in told)
    lines = [f"- `{lock}`: {_audit_words(found)}" for lock, found in told]
    outcome = "nothing found" if is_clean else "not clean, or not known"
    day = time.strftime("%Y-%m-%d", time.gmtime())
    text = (
        "# Audit of the locked packages\n\n"
        "Written by `python3 start.py audit`; every release needs a clean one.\n\n"
        f"{day}: {outcome}.\n\n" + "\n".join(lines) + "\n"
    )
    AUDIT_REPORT.write_text(text, "utf-8")
    print(text)
    return 0 if is_clean else 1


def install(lock: str) -> None:
    """
    Bring ``.venv`` up to a lock file, at once if nothing changed since the last time.

    Parameters
    ----------
    lock
        Name of a file in ``requirements``.

    Raises
    ------
    SystemExit
        If the packages cannot be installed, with the reason in plain words.
    """
    wanted = _fingerprint(lock)
    known = _remembered()
    if known.get(lock) == wanted:
        return
    is_new = known.get("place") != _place()
    if is_new:
        _require_room(lock)
    _say(f"Setting up .venv from requirements/{lock}: once, a few minutes")
    try:
        if is_new:
            venv.create(VENV, clear=True, with_pip=True)
        _pip("--require-hashes", "--only-binary", ":all:", "-r", f"requirements/{lock}")
        _pip("--no-deps", "--no-build-isolation", "--editable", ".")
        done = (lock, *WITHIN.get(lock, ()))
        now = {"place": _place()} | {name: _fingerprint(name) for name in done}
        MEMORY.write_text(json.dumps(now), "utf-8")
    except subprocess.CalledProcessError as error:
        told = f"{error.output or ''}{error.stderr or ''}"
        raise SystemExit(_trouble(told or str(error), lock)) from error
    except OSError as error:
        raise SystemExit(_trouble(f"Errno {error.errno}: {error}", lock)) from error


def _trouble(told: str, lock: str) -> str:
    """Say in a newcomer's words why it could not be set up."""
    for signs, words in TROUBLE:
        if any(sign in told for sign in signs):
            return "Could not set up: " + words.format(room=ROOM_MB[lock]) + "."
    last = "\n".join(told.strip().splitlines()[-5:])
    return f"Could not set up, and the installer says why:\n{last}"


def _require_room(lock: str) -> None:
    free_mb = shutil.disk_usage(ROOT).free // 1_000_000
    if free_mb < ROOM_MB[lock]:
        raise SystemExit(
            f"Could not set up: found {free_mb} MB free on the disk of {ROOT}, "
            f"wanted {ROOM_MB[lock]} MB. Make room and start again."
        )


def _advisories(tool: Path, lock: str) -> "list[str] | None":
    """Ask which advisories name a package of a lock; ``None`` if nobody answered."""
    options = ("--require-hashes", "--disable-pip", "--vulnerability-service", "osv")
    words = [str(tool), *options, "--format", "json", "--progress-spinner", "off"]
    asked = subprocess.run(
        [*words, "--requirement", str(ROOT / "requirements" / lock)],
        check=False,
        capture_output=True,
        text=True,
    )
    try:
        packages = json.loads(asked.stdout)["dependencies"]
        return [
            f"{package['name']} {package['version']}: {advisory['id']}"
            for package in packages
            for advisory in package["vulns"]
        ]
    except (ValueError, KeyError):
        return None


def _audit_words(found: "list[str] | None") -> str:
    if found is None:
        return "not compared: the tool or the list of advisories could not be reached"
    return "; ".join(found) or "no advisory names a package of it"


def _run(
    command: tuple[str, ...],
    *,
    before: tuple[str, ...] = (),
    settings: "dict[str, str] | None" = None,
) -> int:
    """Run one of our tools, within another command and with settings if given."""
    print("== " + " ".join((*before, *command)), flush=True)
    words = [*before, str(BIN / command[0]), *command[1:]]
    surroundings = {**os.environ, **(settings or {})}
    return subprocess.run(words, cwd=ROOT, check=False, env=surroundings).returncode


def _missing_commands() -> list[str]:
    """Install what is missing where that is allowed; tell what still is."""
    missing = [one for one in SYSTEM_COMMANDS if not shutil.which(one)]
    is_allowed = hasattr(os, "geteuid") and os.geteuid() == 0
    if missing and is_allowed and shutil.which("apt-get"):
        packages = [SYSTEM_COMMANDS[one] for one in missing]
        install_them = (
            "apt-get",
            "install",
            "-y",
            "--no-install-recommends",
            *packages,
        )
        quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        print("== " + " ".join(install_them), flush=True)
        subprocess.run(["apt-get", "update", "-q"], check=False, env=quiet)
        subprocess.run(install_them, check=False, env=quiet)
    return [one for one in missing if not shutil.which(one)]


def _why_missing(command: str) -> str:
    if shutil.which("apt-get"):
        return f"{command} is not here; apt-get install {SYSTEM_COMMANDS[command]}"
    return f"{command} is not here, and no apt-get to install it"


def _pip(*args: str) -> None:
    """Run the installer; tell how far it is, keep what it says for later."""
    lock = next((one for one in args if one.startswith("requirements/")), None)
    n_wanted = _n_packages(ROOT / lock) if lock else 0
    options = ("--disable-pip-version-check", "--no-input", "--progress-bar", "off")
    command = [str(PYTHON), "-m", "pip", "install", *options, *args]
    told: list[str] = []
    n_found = 0
    with subprocess.Popen(
        command,
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    ) as pip:
        assert pip.stdout
        for line in pip.stdout:
            told.append(line)
            fetched = re.match(
                r"(?:Collecting|Requirement already.*?:) ([\w.-]+)", line
            )
            if fetched and n_wanted:
                n_found += 1
                _say(
                    f"package {n_found} of at most {n_wanted}: {fetched[1]}", more=True
                )
            elif line.startswith("Installing collected"):
                _say("unpacking all of them", more=True)
    _say("")
    if pip.returncode:
        raise subprocess.CalledProcessError(pip.returncode, command, "".join(told))


def _n_packages(lock: Path) -> int:
    return sum("==" in line for line in lock.read_text("utf-8").splitlines())


def _say(words: str, *, more: bool = False) -> None:
    """Tell how far it is, on one line where somebody watches."""
    is_watched = sys.stderr.isatty()
    if more and is_watched:
        print(f"\r\033[K  {words[:70]}", end="", file=sys.stderr, flush=True)
    elif words and not more:
        print(words, file=sys.stderr, flush=True)
    elif is_watched:
        print("\r\033[K", end="", file=sys.stderr, flush=True)


def _fingerprint(lock: str) -> str:
    texts = (ROOT / "requirements" / lock, ROOT / "pyproject.toml")
    return hashlib.sha256(b"\0".join(text.read_bytes() for text in texts)).hexdigest()


def _place() -> str:
    # A moved folder or another Python makes the old environment useless.
    return f"{ROOT} {sys.version}"


def _remembered() -> dict[str, str]:
    try:
        memory: dict[str, str] = json.loads(MEMORY.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return memory if memory.get("place") == _place() else {}


if __name__ == "__main__":
    for stream in (sys.stdout, sys.stderr):
        # What is passed on to a file or a pipe is UTF-8 on every system.
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors=stream.errors)
    sys.exit(main(sys.argv[1:]))
