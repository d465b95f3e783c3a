"""
How does a newcomer run Turnscrew from a bare checkout?

``python3 start.py`` shows it at work; ``python3 start.py test`` runs every check;
``python3 start.py run ARGS`` passes ARGS on to the ``turnscrew`` command;
``python3 start.py audit`` compares the locked packages with published advisories.
Needs Python 3.11 or later and nothing else: the locked packages go into ``.venv``
beside this file, once per lock file.
"""

import hashlib
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
MEMORY = VENV / "installed.json"

SHOW = ("demo", "--out", "out")

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
# What a browser shows comes from the same queries, and is tried in SQLite alone.
NOT_ON_POSTGRESQL = "--ignore=tests/web/browser"
POSTGRESQL_TESTS = (*TESTS, "tests/web", NOT_ON_POSTGRESQL)
POSTGRESQL = {"TURNSCREW_DATABASE": "postgresql:///postgres"}

# What the tests need beyond Python: the command, and its Debian package.
SYSTEM_COMMANDS = {"chromium": "chromium", "pg_virtualenv": "postgresql"}

# The tool and what it knows of packages are asked for by this command alone.
AUDIT_TOOL = "pip-audit>=2.10,<3"
AUDITED = ("dev.txt", "pg.txt")
AUDIT_REPORT = ROOT / "docs" / "dependency-audit.md"


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
    match args:
        case []:
            install("base.txt")
            return turnscrew(SHOW)
        case ["run", *rest]:
            is_on_postgresql = bool(os.environ.get("TURNSCREW_DATABASE"))
            install("pg.txt" if is_on_postgresql else "base.txt")
            return turnscrew(rest)
        case ["test", *rest]:
            install("dev.txt")
            return test(rest)
        case ["audit"]:
            return audit()
        case _:
            print(__doc__, file=sys.stderr)
            return 2


def turnscrew(args: "list[str] | tuple[str, ...]") -> int:
    """
    Run the ``turnscrew`` command.

    Parameters
    ----------
    args
        Its words.

    Returns
    -------
    int
        Its exit code.
    """
    return subprocess.run([PYTHON, "-m", "turnscrew", *args], check=False).returncode


def test(pytest_args: list[str]) -> int:
    """
    Run every check, then every test.

    Parameters
    ----------
    pytest_args
        Words passed on to pytest.

    Returns
    -------
    int
        0 if all passed, 1 if anything failed.
    """
    if not _have_system_commands():
        return 1
    failed: list[tuple[str, ...]] = [check for check in CHECKS if _run(check) != 0]
    if _run(POSTGRESQL_TESTS, before=ON_POSTGRESQL, settings=POSTGRESQL) != 0:
        failed.append((*ON_POSTGRESQL, *POSTGRESQL_TESTS))
    for check in failed:
        print("FAILED: " + " ".join(check), flush=True)
    tests_failed = _run((*TESTS, *pytest_args)) != 0
    return 1 if failed or tests_failed else 0


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
        If the packages cannot be installed.
    """
    wanted = _fingerprint(lock)
    known = _remembered()
    if known.get(lock) == wanted:
        return
    print(f"installing {lock} into .venv (once)", file=sys.stderr, flush=True)
    try:
        if known.get("place") != _place():
            venv.create(VENV, clear=True, with_pip=True)
        _pip("--require-hashes", "--only-binary", ":all:", "-r", f"requirements/{lock}")
        _pip("--no-deps", "--no-build-isolation", "--editable", ".")
    except subprocess.CalledProcessError as error:
        raise SystemExit(
            f"could not install (exit {error.returncode}); "
            "on Debian the package python3-venv must be there"
        ) from error
    # A small lock is a subset of a larger one, made against it.
    locks = ["base.txt", "pg.txt", "dev.txt"]
    done = locks[: locks.index(lock) + 1]
    now = {"place": _place()} | {name: _fingerprint(name) for name in done}
    MEMORY.write_text(json.dumps(now), "utf-8")


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


def _have_system_commands() -> bool:
    """Install what is missing where that is allowed; else say what to install."""
    missing = _missing_packages()
    if not missing:
        return True
    install_them = ("apt-get", "install", "-y", "--no-install-recommends", *missing)
    is_allowed = hasattr(os, "geteuid") and os.geteuid() == 0
    if is_allowed and shutil.which("apt-get"):
        quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        print("== " + " ".join(install_them), flush=True)
        subprocess.run(["apt-get", "update", "-q"], check=False, env=quiet)
        subprocess.run(install_them, check=False, env=quiet)
    missing = _missing_packages()
    if missing:
        print("first: apt-get install " + " ".join(missing), file=sys.stderr)
    return not missing


def _missing_packages() -> list[str]:
    commands = SYSTEM_COMMANDS.items()
    return [package for command, package in commands if not shutil.which(command)]


def _pip(*args: str) -> None:
    quiet = ("--quiet", "--disable-pip-version-check", "--no-input")
    command = [str(PYTHON), "-m", "pip", "install", *quiet, *args]
    subprocess.run(command, cwd=ROOT, check=True)


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
    sys.exit(main(sys.argv[1:]))
