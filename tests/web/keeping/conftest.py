"""Records in a folder of their own, empty or with the example batch."""

import pytest

from web.keeping.workshop import Workshop, Workshops


@pytest.fixture(scope="session")
def workshops():
    made = Workshops()
    yield made
    made.close()


@pytest.fixture(scope="session")
def pattern(workshops, tmp_path_factory) -> Workshop:
    """Give records with the example batch; only copies of them are changed."""
    folder = tmp_path_factory.mktemp("pattern") / "records"
    folder.mkdir()
    made = workshops.empty(folder)
    made.write("populate")
    return made


@pytest.fixture
def workshop(workshops, pattern, tmp_path) -> Workshop:
    """Give records with the example batch, to do with as one likes."""
    return workshops.copy_of(pattern, tmp_path / "records")
