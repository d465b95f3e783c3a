"""Has every reckoning of the handbook its equation and its source?"""

import importlib
import inspect
import pkgutil
import re

import pytest

from turnscrew.core import handbook
from turnscrew.core.handbook.equations import EQUATIONS, equation_of
from turnscrew.errors import BadArgumentError

NO_RECKONING = {"refuse_outside", "equation_of", "refusal"}
MODULES = [
    importlib.import_module(f"{handbook.__name__}.{found.name}")
    for found in pkgutil.iter_modules(handbook.__path__)
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


def test_it_refuses_a_name_without_equation() -> None:
    """The names that exist are listed."""
    with pytest.raises(BadArgumentError, match="^name: found drop, wanted one of"):
        equation_of("drop")
