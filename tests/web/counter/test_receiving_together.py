"""What do two people get who receive devices of one batch at the same moment?"""

from dataclasses import replace

import pytest

from turnscrew.core.model.batch import BatchLine
from turnscrew.web.records.services.booking import next_line
from turnscrew.web.records.services.receiving_next import receive_next
from turnscrew.web.records.services.refusal import RefusedError


@pytest.fixture
def mine(sallowmere) -> BatchLine:
    return BatchLine(
        line=next_line(sallowmere), serial="RC-1", model="V80", revision="2",
        asset="RCA-1", reported="no light",
    )  # fmt: skip


def test_each_device_gets_a_number_of_its_own(sallowmere, mine, lead, now) -> None:
    theirs = replace(mine, serial="RC-2", asset="RCA-2")

    jobs = [receive_next(sallowmere, one, by=lead, now=now) for one in (mine, theirs)]

    assert [mine.line, mine.line + 1] == [job.line for job in jobs]
    assert ["RC-1", "RC-2"] == [job.serial for job in jobs]


def test_so_do_devices_of_which_nothing_is_known(sallowmere, mine, lead, now) -> None:
    bare = replace(mine, serial="", asset="")

    jobs = [receive_next(sallowmere, bare, by=lead, now=now) for _ in range(2)]

    assert [mine.line, mine.line + 1] == [job.line for job in jobs]


def test_the_very_same_device_is_received_once(sallowmere, mine, lead, now) -> None:
    receive_next(sallowmere, mine, by=lead, now=now)

    with pytest.raises(RefusedError, match="received already"):
        receive_next(sallowmere, mine, by=lead, now=now)
