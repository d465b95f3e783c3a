"""The program of the first start, for those tests that look inside it."""

import importlib.util
import signal
from collections.abc import Iterator
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


@pytest.fixture(autouse=True)
def _a_hang_up_is_heard() -> Iterator[None]:
    """Let what a test starts hear a hang-up, though the tests run with nohup."""
    hung_up = getattr(signal, "SIGHUP", None)
    if hung_up is None:
        yield
        return
    before = signal.getsignal(hung_up)
    if before is signal.SIG_IGN:
        signal.signal(hung_up, signal.SIG_DFL)
    yield
    signal.signal(hung_up, before)
