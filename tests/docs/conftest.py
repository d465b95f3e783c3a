"""The built manual."""

from pathlib import Path

import pytest

from built_manual import built_manual, pages_of


@pytest.fixture(scope="session")
def worker(request: pytest.FixtureRequest) -> str:
    """Give the name of this runner among those that run beside each other."""
    return getattr(request.config, "workerinput", {}).get("workerid", "master")


@pytest.fixture(scope="session")
def manual(tmp_path_factory: pytest.TempPathFactory, worker: str) -> Path:
    return built_manual(tmp_path_factory, worker)


@pytest.fixture(scope="session")
def pages(manual: Path) -> dict[str, str]:
    return pages_of(manual)
