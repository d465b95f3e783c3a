"""Is a row that stands twice on a list told from a device that lacks?"""

from turnscrew.core.model.batch import BatchLine, ListedDevice
from turnscrew.core.reconcile.match import reconciled
from turnscrew.papers.batch.list_words import missing_written, twice_written
from turnscrew.papers.set_aside import plain

HERE = [BatchLine(1, "S-1", "V80", asset="K-1")]


def test_a_row_that_repeats_one_that_is_here_says_so() -> None:
    rows = [ListedDevice(2, "K-1", "S-1"), ListedDevice(3, "K-1", "S-1")]
    found = reconciled(HERE, [*rows, ListedDevice(4, "K-9", "S-9")])

    told = [plain(missing_written(found, row)) for row in found.missing]

    assert ["K-1 (row 3, the number of row 2 again)", "K-9 (row 4)"] == told
    assert ["rows 2, 3"] == twice_written(found)


def test_a_row_that_repeats_one_that_lacks_too_is_no_other_than_missing() -> None:
    rows = [ListedDevice(2, "", "Q90077"), ListedDevice(3, "", "Q90077")]
    found = reconciled(HERE, rows)

    assert {} == found.listed_again
    assert ["rows 2, 3"] == twice_written(found)
