"""Which packages of others are used: pinned, sealed, and under which licence?"""

import importlib.util
import json
import re
import subprocess
from importlib.metadata import Distribution, distributions
from pathlib import Path
from types import ModuleType

import pytest
from packaging.markers import Marker

ROOT = Path(__file__).resolve().parents[3]
LICENCES = ROOT / "docs" / "dependency-licences.md"
LOCKS = sorted((ROOT / "requirements").glob("*.txt"))
INSTALLED_BY_TESTS = {"base.txt", "pg.txt", "dev.txt"}


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def requirements(lock: Path) -> list[str]:
    """Give each requirement of a lock as one line, its hashes behind it."""
    text = lock.read_text("utf-8").replace("\\\n", " ")
    return [line for line in text.splitlines() if line and not line.lstrip()[0] == "#"]


def is_for_this_machine(requirement: str) -> bool:
    """Say whether a requirement holds for this system and this Python."""
    _, _, rest = requirement.partition(" ; ")
    marker = rest.partition(" --hash")[0].strip()
    return not marker or Marker(marker).evaluate()


def faults_of(requirement: str) -> list[str]:
    """Say what keeps a requirement from being the same everywhere and always."""
    name, _, rest = re.sub(r", (?=[\w, -]*\])", ",", requirement).partition(" ")
    faults = []
    if not re.fullmatch(r"[\w.-]+(\[[\w,-]+\])?==[\w.!+]+", name):
        faults.append(f"{name}: no exact version")
    if not re.findall(r"--hash=sha256:[0-9a-f]{64}(?= |$)", rest):
        faults.append(f"{name}: no digest")
    if re.search(r"--(?!hash=sha256)|://|(?<!\S)@", requirement):
        faults.append(f"{name}: another source")
    return faults


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_it_locks_every_package_by_version_and_digest(lock) -> None:
    wanted = requirements(lock)

    assert len(wanted) > 10
    assert [] == [fault for one in wanted for fault in faults_of(one)]


@pytest.mark.parametrize(
    "bad",
    [
        "django>=5.2 --hash=sha256:" + "0" * 64, "django==5.2.1",
        "django==5.2.1 --hash=md5:" + "0" * 32, "-r other.txt",
        "thing @ https://elsewhere.example/thing.whl --hash=sha256:" + "0" * 64,
        "--index-url=elsewhere", "thing==1 --no-binary=:all:",
    ],
)  # fmt: skip
def test_it_notices_a_requirement_that_is_not_fixed(bad) -> None:
    assert faults_of(bad)


def start() -> ModuleType:
    spec = importlib.util.spec_from_file_location("start", ROOT / "start.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_it_installs_wheels_with_the_right_digest_and_nothing_else(
    monkeypatch, tmp_path
) -> None:
    module, calls = start(), []
    monkeypatch.setattr(module, "_remembered", dict)
    monkeypatch.setattr(module.venv, "create", lambda *_, **__: None)
    monkeypatch.setattr(module, "_pip", lambda *words: calls.append(words))
    monkeypatch.setattr(module, "MEMORY", tmp_path / "installed.json")

    module.install("base.txt")
    packages, own = calls
    assert ("--require-hashes", "--only-binary", ":all:") == packages[:3]
    assert {"--no-deps", "--no-build-isolation"} <= set(own)


def licence_of(package: Distribution) -> str:
    told = package.metadata
    names = [
        kind.split(" :: ")[-1]
        for kind in told.get_all("Classifier", [])
        if kind.startswith("License ::")
    ]
    first = (told.get("License") or "").partition("\n")[0]
    return (
        told.get("License-Expression")
        or "; ".join(names)
        or first
        or first_line_of_licence(package)
    )


def first_line_of_licence(package: Distribution) -> str:
    """Read the licence itself where the metadata do not name it."""
    for path in package.files or []:
        if path.name == "LICENSE" and ".dist-info" in str(path):
            return path.read_text("utf-8").strip().partition("\n")[0]
    return "not told"


def test_it_uses_packages_under_allowed_licences_alone() -> None:
    text = LICENCES.read_text("utf-8")
    allowed = set(re.findall(r"^- (.+)$", text.split("## Packages")[0], re.MULTILINE))
    listed = dict(re.findall(r"^\| ([\w-]+) \| (.+?) \|$", text, re.MULTILINE))
    here = {
        is_here: {
            plain(re.match(r"[\w.-]+", one)[0])
            for lock in LOCKS
            if lock.name in INSTALLED_BY_TESTS
            for one in requirements(lock)
            if is_for_this_machine(one) is is_here
        }
        for is_here in (True, False)
    }
    locked, elsewhere = here[True], here[False] - here[True]
    found = {
        plain(one.metadata["Name"]): licence_of(one)
        for one in distributions()
        if plain(one.metadata["Name"]) in locked
    }

    del listed["package"]
    assert elsewhere <= set(listed)
    assert found == {name: listed[name] for name in set(listed) - elsewhere}
    assert {} == {name: one for name, one in listed.items() if one not in allowed}


@pytest.mark.parametrize(
    ("answer", "code", "said"),
    [
        ([], 0, "no advisory names a package of it"),
        ([{"id": "ADVISORY-1"}], 1, "thing 1.0: ADVISORY-1"),
        (None, 1, "could not be reached"),
    ],
)
def test_it_writes_down_what_advisories_say(
    monkeypatch, tmp_path, answer, code, said
) -> None:
    module = start()
    package = {"name": "thing", "version": "1.0", "vulns": answer}
    output = "" if answer is None else json.dumps({"dependencies": [package]})

    def run(words, **_):
        is_tool = "--requirement" in words
        return subprocess.CompletedProcess(words, 0, output if is_tool else "", "")

    monkeypatch.setattr(module.subprocess, "run", run)
    monkeypatch.setattr(module.venv, "create", lambda *_, **__: None)
    monkeypatch.setattr(module, "AUDIT_REPORT", tmp_path / "audit.md")

    assert code == module.main(["audit"])
    report = (tmp_path / "audit.md").read_text("utf-8")
    assert said in report
    assert re.search(r"\d{4}-\d\d-\d\d: ", report)


def test_it_says_that_the_tool_for_the_audit_could_not_be_had(
    monkeypatch, tmp_path
) -> None:
    module = start()
    failed = subprocess.CompletedProcess([], 1, "", "")
    monkeypatch.setattr(module.subprocess, "run", lambda *_, **__: failed)
    monkeypatch.setattr(module.venv, "create", lambda *_, **__: None)
    monkeypatch.setattr(module, "AUDIT_REPORT", tmp_path / "audit.md")

    assert 1 == module.main(["audit"])
    assert "could not be reached" in (tmp_path / "audit.md").read_text("utf-8")
