"""The program of the first start, for those tests that look inside it."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

START = Path(__file__).resolve().parents[2] / "start.py"


@pytest.fixture
def start() -> ModuleType:
    spec = importlib.util.spec_from_file_location("start", START)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
