"""The house rules that a reader would otherwise have to keep by eye."""

import ast
import re
import subprocess
import tomllib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from importlinter.cli import lint_imports

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "src" / "turnscrew"
MODULE_WALL = 500
MAP_WALL = 120
TOP_WALL = 8
SHELLS = {"__init__", "__main__", "cli", "web"}
VAGUE_NAMES = {"utils", "helpers", "common", "base", "misc", "manager", "data", "info"}

# Each pattern is split, so that this file does not match itself.
FOREIGN = re.compile(
    "|".join(
        (
            "/wo" + "rk/",
            "/ro" + "ot/",
            r"/ho" + r"me/\w",
            "/tmp/" + r"\w",
            r"[A-Za-z]:\\Us" + "ers",
            r"\.\./sha" + "red",
            "python" + "hosted",
            r"py" + r"pi\.org",
            r"registry\.np" + "mjs",
            r"deb\.deb" + "ian",
        )
    )
)


def tracked() -> list[Path]:
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT,
        capture_output=True,
        check=True,
        text=True,
    )
    paths = (ROOT / name for name in listed.stdout.split("\0") if name)
    return [path for path in paths if path.is_file()]


def modules() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def test_it_keeps_every_import_contract(monkeypatch) -> None:
    monkeypatch.chdir(ROOT)

    assert 0 == lint_imports(no_logo=True, no_cache=True)


def test_it_keeps_everything_below_the_shells_from_the_world() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    contracts = settings["tool"]["importlinter"]["contracts"]
    contract = next(c for c in contracts if "touches the world" in c["name"])
    below = {path.stem for path in modules() if path.parent == PACKAGE} | {
        path.parent.name for path in modules() if path.parent.parent == PACKAGE
    }

    assert {f"turnscrew.{name}" for name in below - SHELLS} == set(
        contract["source_modules"]
    )


def test_it_has_no_module_past_the_wall() -> None:
    lengths = {
        str(path.relative_to(ROOT)): len(path.read_text("utf-8").splitlines())
        for path in modules()
    }

    assert {} == {name: n for name, n in lengths.items() if n > MODULE_WALL}


def test_it_shows_at_most_eight_names_at_the_top() -> None:
    names = {
        path.stem
        for path in PACKAGE.iterdir()
        if path.name != "__init__.py" and (path.is_dir() or path.suffix == ".py")
    } - {"__pycache__"}

    assert len(names) <= TOP_WALL, sorted(names)


def test_it_has_no_module_with_a_vague_name() -> None:
    assert [] == [path for path in modules() if path.stem in VAGUE_NAMES]


def test_it_keeps_no_name_that_nothing_else_speaks_of() -> None:
    words: Counter[str] = Counter()
    for path in tracked():
        if path.suffix in {".py", ".html", ".js", ".toml", ".md"}:
            words.update(re.findall(r"\w+", path.read_text()))
    # Django reads the settings, the apps and some names of the pages by themselves.
    read_by_name = {"settings.py", "apps.py", "urls.py"}
    alone = [
        f"{path.relative_to(PACKAGE)}: {name}"
        for path in modules()
        if path.name not in read_by_name and "migrations" not in path.parts
        for name in top_names(path)
        if words[name] == 1
    ]

    assert [] == alone


def top_names(path: Path) -> Iterator[str]:
    for node in ast.parse(path.read_text()).body:
        match node:
            case ast.FunctionDef(name=name, decorator_list=[]):
                yield name
            case ast.ClassDef(name=name):
                yield name
            case ast.Assign(targets=[ast.Name(id=name)]):
                yield name
            case ast.AnnAssign(target=ast.Name(id=name)):
                yield name


def test_it_names_every_folder_in_the_map() -> None:
    text = (ROOT / "ARCHITECTURE.md").read_text("utf-8")
    folders = {
        path.parent.relative_to(PACKAGE).as_posix()
        for path in modules()
        if path.parent != PACKAGE
    }

    assert [] == sorted(folder for folder in folders if f"`{folder}`" not in text)


def test_it_names_nothing_in_the_map_that_is_not_there() -> None:
    text = (ROOT / "ARCHITECTURE.md").read_text("utf-8")
    section = text.split("## Where things are")[1].split("\n## ")[0]
    named = re.findall(r"^- `([^`]+)`", section, flags=re.MULTILINE)

    assert named
    assert [] == [
        name
        for name in named
        if not any((place / name).exists() for place in (PACKAGE, ROOT))
    ]


def test_it_keeps_the_map_to_one_page() -> None:
    text = (ROOT / "ARCHITECTURE.md").read_text("utf-8")

    assert len(text.splitlines()) <= MAP_WALL


def test_it_tells_no_machine_path_and_no_registry_host() -> None:
    found = []
    for path in tracked():
        try:
            text = path.read_text("utf-8")
        except UnicodeDecodeError:
            continue
        for match in FOREIGN.finditer(text):
            found.append(f"{path.relative_to(ROOT)}: {match.group()}")

    assert [] == found


def undocumented_raises(path: Path) -> list[str]:
    tree = ast.parse(path.read_text("utf-8"))
    functions = (n for n in ast.walk(tree) if isinstance(n, ast.FunctionDef))
    found = []
    for function in functions:
        doc = ast.get_docstring(function) or ""
        # A one-line docstring has no sections.
        if "\n" not in doc:
            continue
        raised = {
            node.exc.func.id
            for node in ast.walk(function)
            if isinstance(node, ast.Raise)
            and isinstance(node.exc, ast.Call)
            and isinstance(node.exc.func, ast.Name)
        }
        section = doc.partition("Raises\n------")[2]
        found += [
            f"{path.name}: {function.name}: {n}" for n in raised if n not in section
        ]
    return found


def test_it_documents_every_error_it_raises(tmp_path) -> None:
    sample = tmp_path / "sample.py"
    sample.write_text('def f():\n    """Do.\n\n    More.\n    """\n    raise E(1)\n')

    assert ["sample.py: f: E"] == undocumented_raises(sample)
    # In the pages and records a function says in one sentence what it does; what it
    # raises ends as a refusal on the page, which the tests of the pages look at.
    asked = [path for path in modules() if PACKAGE / "web" not in path.parents]
    assert [] == [line for path in asked for line in undocumented_raises(path)]


def test_it_locks_every_package_it_declares() -> None:
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    base_in = (ROOT / "requirements" / "base.in").read_text("utf-8").splitlines()

    assert set(declared["project"]["dependencies"]) <= set(base_in)


def test_it_locks_the_same_versions_for_users_and_developers() -> None:
    def pins(name: str) -> set[str]:
        text = (ROOT / "requirements" / name).read_text("utf-8")
        return set(re.findall(r"^[\w.-]+==[^ ]+", text, flags=re.MULTILINE))

    assert pins("base.txt")
    assert pins("base.txt") <= pins("dev.txt")
