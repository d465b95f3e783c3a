"""Which modules of an engine does anybody outside it ask?"""

import ast
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[1] / "src"
PACKAGE = SOURCE / "turnscrew"


def name_of(path: Path) -> str:
    """
    Give the dotted name of a module.

    Parameters
    ----------
    path
        Its file.

    Returns
    -------
    str
        Such as ``turnscrew.core.price.money``.
    """
    pieces = path.relative_to(SOURCE).with_suffix("").parts
    return ".".join(pieces[:-1] if pieces[-1] == "__init__" else pieces)


@cache
def asked() -> frozenset[tuple[str, str]]:
    """
    List who imports whom.

    Returns
    -------
    frozenset[tuple[str, str]]
        Names of modules: who asks, and who is asked.
    """
    return frozenset(
        (name_of(path), node.module)
        for path in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module
    )


def doors_of(package: str) -> list[str]:
    """
    List the modules of a package that a module outside it imports.

    Parameters
    ----------
    package
        Dotted name of a package.

    Returns
    -------
    list[str]
        Dotted names, in the order of the alphabet.
    """
    inside = f"{package}."
    return sorted(
        {
            whom
            for who, whom in asked()
            if whom.startswith(inside) and who != package and not who.startswith(inside)
        }
    )


def public_names(module: str) -> list[str]:
    """
    List the functions and classes that a module shows.

    Parameters
    ----------
    module
        Its dotted name.

    Returns
    -------
    list[str]
        Names without that of the module.
    """
    path = SOURCE.joinpath(*module.split("."))
    file = path / "__init__.py" if path.is_dir() else path.with_suffix(".py")
    return [
        node.name
        for node in ast.parse(file.read_text("utf-8")).body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        and not node.name.startswith("_")
    ]
