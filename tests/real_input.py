"""The examples on published input, for the tests that hold their figures."""

import importlib.util
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).resolve().parents[1]


def loaded() -> ModuleType:
    spec = importlib.util.spec_from_file_location(
        "real_input_examples", ROOT / "examples" / "real_input.py"
    )
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
