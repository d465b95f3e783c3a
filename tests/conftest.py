"""Options shared by all tests."""

import pytest
from hypothesis import HealthCheck, settings

# How quick a machine is decides nothing here: speed is measured in benchmarks.
settings.register_profile(
    "without a clock", deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("without a clock")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--random-devices",
        type=int,
        default=300,
        help="how many random small problems the solver meets in the tests",
    )
    parser.addoption(
        "--random-models",
        type=int,
        default=200,
        help="how many random small models of a fault are held against trying all",
    )
    parser.addoption(
        "--fuzz",
        type=int,
        default=120,
        help="how many spoilt texts every reader and form meets",
    )
    parser.addoption(
        "--slow-cases",
        action="store_true",
        help="solve also the given cases that take more than a few seconds",
    )


def pytest_configure(config: pytest.Config) -> None:
    teller = config.pluginmanager.get_plugin("terminalreporter")
    if teller is not None and not hasattr(config, "workerinput"):
        config.pluginmanager.register(FailuresAtOnce(teller))


class FailuresAtOnce:
    """Names a failed test when it fails: a long run may be stopped before its end."""

    def __init__(self, teller: pytest.TerminalReporter) -> None:
        self.teller = teller

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.teller.write_line(f"\nFAILED {report.nodeid}")


@pytest.fixture(scope="session")
def n_random_devices(request: pytest.FixtureRequest) -> int:
    return int(request.config.getoption("--random-devices"))


@pytest.fixture(scope="session")
def n_random_models(request: pytest.FixtureRequest) -> int:
    return int(request.config.getoption("--random-models"))


@pytest.fixture(scope="session")
def n_fuzz(request: pytest.FixtureRequest) -> int:
    return int(request.config.getoption("--fuzz"))
