"""Is the manual whole, does it need no network, and does it say what is true?"""

import re
import shlex
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from built_manual import DOCS, ROOT, start_lines
from turnscrew.cli.main import app

sys.path.insert(0, str(DOCS))

import doors
import make_commands

ENGINES = sorted(
    path.parent.name
    for path in (ROOT / "src" / "turnscrew" / "core").glob("*/__init__.py")
)
LINES = start_lines()
N_STORIES = 14


def test_it_loads_nothing_from_elsewhere(pages) -> None:
    resources = re.compile(
        r"<(?:link|script|img|iframe|source)\b[^>]*?(?:src|href)=\"([^\"]+)\""
    )
    found = {
        (name, address)
        for name, text in pages.items()
        for address in resources.findall(text)
        if re.match(r"(?:[a-z]+:)?//", address)
    }

    assert len(pages) > 40
    assert set() == found


def test_its_styles_and_scripts_load_nothing_from_elsewhere(manual) -> None:
    files = [*manual.rglob("*.css"), *manual.rglob("*.js")]
    loads = re.compile(
        r"url\(\s*['\"]?(?:https?:)?//|@import|importScripts|\.src\s*=\s*['\"]http"
    )

    assert len(files) > 5
    assert [] == [path.name for path in files if loads.search(path.read_text("utf-8"))]


def test_it_holds_no_script_and_no_style_in_a_page(pages) -> None:
    """The strict policy of the counter lets none of them run."""
    for name, text in pages.items():
        tags = re.sub(r"<pre>.*?</pre>", "", text, flags=re.DOTALL)
        assert [] == re.findall(r"<script(?![^>]*\bsrc=)[^>]*>", tags), name
        assert "<style" not in tags, name
        assert [] == re.findall(r"<[^>]*\s(?:style|on\w+)=\"[^>]*>", tags), name


def test_every_link_within_leads_somewhere(pages, manual) -> None:
    lost = []
    for name, text in pages.items():
        for address in set(re.findall(r"<a\b[^>]*?href=\"([^\"]+)\"", text)):
            if re.match(r"[a-z]+:", address) or address == "#":
                continue
            file, _, anchor = address.partition("#")
            target = (manual / name).parent / file if file else manual / name
            there = target.resolve().relative_to(manual.resolve()).as_posix()
            if there not in pages:
                lost += [] if target.is_file() else [f"{name}: {address}"]
            elif anchor and f'id="{anchor}"' not in pages[there]:
                lost.append(f"{name}: {address}")

    assert [] == lost


def test_every_page_can_be_reached_from_the_first(pages) -> None:
    seen, waiting = set(), ["index.html"]
    while waiting:
        name = waiting.pop()
        if name in seen or name not in pages:
            continue
        seen.add(name)
        for address in re.findall(r"<a\b[^>]*?href=\"([^\"#:]+)", pages[name]):
            parts: list[str] = []
            for part in [*name.split("/")[:-1], *address.split("/")]:
                parts = parts[:-1] if part == ".." else [*parts, part]
            waiting.append("/".join(parts))

    # The search is reached by its field.
    assert {"search.html"} == set(pages) - seen


@pytest.mark.parametrize("engine", ENGINES)
def test_it_names_whatever_others_ask_of_an_engine(pages, engine) -> None:
    page = pages[f"python/{engine}.html"]
    modules = doors.doors_of(f"turnscrew.core.{engine}")
    names = [f"{one}.{name}" for one in modules for name in doors.public_names(one)]

    assert names
    assert [] == [name for name in names if f'id="{name}"' not in page]


def test_it_finds_the_door_of_an_engine() -> None:
    assert "turnscrew.core.opening.check" in doors.doors_of("turnscrew.core.opening")
    assert "turnscrew.core.opening.solve.bounds" not in doors.doors_of(
        "turnscrew.core.opening"
    )
    assert "replay" not in doors.public_names("turnscrew.core.opening.problem")


def test_the_commands_are_written_as_they_are() -> None:
    """If this fails: ``python docs/make_commands.py``."""
    assert make_commands.page() == (DOCS / "commands.md").read_text("utf-8")


def test_every_command_and_option_is_told(pages) -> None:
    page = pages["commands.html"]
    for name, command in make_commands.commands().items():
        assert f'id="{name}"' in page
        for it in command.params:
            for word in it.opts:
                assert word == "--help" or f">{word}</span>" in page, (name, word)


def test_it_has_a_page_for_each_story_with_tests_that_are_there() -> None:
    stories = [path for path in (DOCS / "howto").glob("*.md") if path.stem != "index"]

    assert N_STORIES == len(stories)
    for path in stories:
        text = path.read_text("utf-8")
        named = re.findall(r"`(tests/[\w/]+\.py)::(\w+)`", text)
        assert named, path.name
        for file, test in named:
            assert f"def {test}(" in (ROOT / file).read_text("utf-8"), test
        for part in ("What to press", "What you see", "What can go wrong"):
            assert f"## {part}" in text, path.name


def test_it_finds_the_lines_to_type() -> None:
    assert len(LINES) > 30
    assert {"README.md", "docs/first-morning.md"} <= {page for page, _ in LINES}


@pytest.mark.parametrize(("page", "line"), LINES, ids=[line for _, line in LINES])
def test_every_line_to_type_is_understood(page, line) -> None:
    """Parse it as the program would, without doing it; its files are there."""
    words = shlex.split(line)
    if words[0] in {"ARGS", "COMMAND"}:
        return
    command = make_commands.commands()[words[0]]
    context = command.make_context(words[0], list(words[1:]), resilient_parsing=False)

    assert context.params
    named = [word for word in words if word.startswith(("examples/", "data/"))]
    assert [] == [word for word in named if not list(ROOT.glob(word))]


@pytest.mark.parametrize(
    "line",
    sorted({
        line for _, line in LINES
        if line.split()[0] in {
            "check", "reckon", "follows", "opening", "diagnose", "cards",
        }
    }),
)  # fmt: skip
def test_what_is_quick_answers(line, monkeypatch, tmp_path) -> None:
    monkeypatch.chdir(ROOT)
    words = [
        one
        for word in shlex.split(line)
        for one in (sorted(map(str, Path().glob(word))) if "*" in word else [word])
    ]

    if "--out" in words:
        words[words.index("--out") + 1] = str(tmp_path)
    done = CliRunner().invoke(app, words)
    assert (0, None) == (done.exit_code, done.exception)
    assert done.output.strip()


def test_it_notices_a_line_that_is_not_understood() -> None:
    command = make_commands.commands()["opening"]

    with pytest.raises(Exception, match="No such option"):
        command.make_context("opening", ["--fly"])
