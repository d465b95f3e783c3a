"""Options shared by all tests."""

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--random-devices",
        type=int,
        default=300,
        help="how many random small problems the solver meets in the tests",
    )


@pytest.fixture(scope="session")
def n_random_devices(request: pytest.FixtureRequest) -> int:
    return int(request.config.getoption("--random-devices"))
