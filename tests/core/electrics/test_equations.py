"""Has every reckoning of the power path its equation and its source?"""

import importlib
import inspect
import pkgutil
import re

import pytest

from turnscrew.core import electrics
from turnscrew.core.electrics.equations import EQUATIONS, equation_of
from turnscrew.errors import BadArgumentError

NO_RECKONING = {
    "refuse_outside", "equation_of",
    # A look at an adapter: what is said of it, and limits that nobody published.
    "output_limits_v", "reasons_against", "standing_of",
}  # fmt: skip
MODULES = [
    importlib.import_module(f"{electrics.__name__}.{found.name}")
    for found in pkgutil.iter_modules(electrics.__path__)
]
FUNCTIONS = {
    name: function
    for module in MODULES
    for name, function in inspect.getmembers(module, inspect.isfunction)
    if function.__module__ == module.__name__ and not name.startswith("_")
}


def test_it_names_every_reckoning_and_nothing_else() -> None:
    """The table and the public functions are the same list."""
    assert sorted(EQUATIONS) == sorted(FUNCTIONS.keys() - NO_RECKONING)


@pytest.mark.parametrize("name", EQUATIONS)
def test_it_has_equation_and_source_in_table_and_docstring(name) -> None:
    """Neither is empty in either place."""
    equation, doc = equation_of(name), inspect.getdoc(FUNCTIONS[name]) or ""

    assert equation.text
    assert equation.source
    assert re.search(r"^(Equations?|Rule): \S", doc, flags=re.MULTILINE)
    assert "References\n----------\n" in doc


def test_it_never_calls_anything_safe() -> None:
    """The word stands nowhere, but in the names of two specified levels."""
    texts = {module.__name__: inspect.getsource(module) for module in MODULES}
    words = re.compile(r"(?<!v)safe(?!ty)", flags=re.IGNORECASE)

    assert [] == [name for name, text in texts.items() if words.search(text)]


def test_it_refuses_a_name_without_equation() -> None:
    """The names that exist are listed."""
    with pytest.raises(BadArgumentError, match="^name: found drop, wanted one of"):
        equation_of("drop")
