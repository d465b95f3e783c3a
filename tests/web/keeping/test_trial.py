"""Is a monthly trial restore asked for, done by one command, and written down?"""

import json
from datetime import UTC, datetime, timedelta

import pytest

from turnscrew.core.ledger.verbs import VERBS
from turnscrew.web.api.shapes import ACTIONS
from turnscrew.web.keeping.newest import remember
from turnscrew.web.records.models import Entry
from turnscrew.web.records.queries.trial_restore import (
    EVERY_DAYS,
    asked_for,
    last_trial,
)
from turnscrew.web.records.services.restoring import tell_tried
from web.counter_case import signed_in
from web.keeping.test_backup import TOO_OLD, of_a_newer_program

NOW = datetime(2027, 2, 1, 9, tzinfo=UTC)


def test_one_command_tries_it_keeps_nothing_and_writes_it_down(
    workshop, tmp_path
) -> None:
    kept = tmp_path / "kept.zip"
    assert 0 == workshop.turnscrew("backup", kept).returncode
    told = json.loads(workshop.write("trials").stdout)
    assert (True, str(kept), None) == (
        told["is_asked"], told["newest"], told["is_whole"]
    )  # fmt: skip
    workshop.write("promise_now", 1, 3)

    done = workshop.turnscrew("restore", kept, "--trial")

    assert (0, "") == (done.returncode, done.stderr)
    assert "jobs: 64 in the backup, 64 here now" in done.stdout
    assert "entries of journals: 269 in the backup, 272 here now" in done.stdout
    assert {"kept.zip", "records"} == {path.name for path in tmp_path.iterdir()}
    told = json.loads(workshop.write("trials").stdout)
    assert told["is_whole"]
    assert told["words"].startswith("kept.zip: restores; whole; ")
    assert 0 == workshop.turnscrew("audit").returncode


def test_a_failed_trial_is_told_plainly_and_written_down(workshop, tmp_path) -> None:
    kept = tmp_path / "kept.zip"
    workshop.turnscrew("backup", kept)
    content = bytearray(kept.read_bytes())
    content[len(content) // 2] ^= 0xFF
    kept.write_bytes(content)

    done = workshop.turnscrew("restore", kept, "--trial")

    assert 1 == done.returncode
    assert "found one that does not restore, wanted a whole one" in done.stderr
    told = json.loads(workshop.write("trials").stdout)
    assert (True, False) == (told["is_asked"], told["is_whole"])
    assert "does not restore: " in told["words"]


def test_a_wrong_name_or_two_wishes_are_no_trial(workshop, tmp_path) -> None:
    assert 2 == workshop.turnscrew("restore", tmp_path / "no", "--trial").returncode
    done = workshop.turnscrew("restore", tmp_path / "no", "--trial", "--check")
    assert 2 == done.returncode
    assert "wanted at most one of" in done.stderr
    assert json.loads(workshop.write("trials").stdout)["is_whole"] is None


def test_a_backup_of_a_newer_program_is_no_trial(workshop, tmp_path) -> None:
    kept = tmp_path / "kept.zip"
    workshop.turnscrew("backup", kept)
    newer = of_a_newer_program(kept, tmp_path / "newer.zip")

    done = workshop.turnscrew("restore", newer, "--trial")

    assert (1, "", TOO_OLD) == (done.returncode, done.stdout, done.stderr.strip())
    assert json.loads(workshop.write("trials").stdout)["is_whole"] is None


def today_of(person) -> str:
    return signed_in(person).get("/").content.decode()


@pytest.fixture
def home(settings, tmp_path):
    settings.HOME = tmp_path
    return tmp_path


def test_today_tells_that_there_is_no_backup_yet(sallowmere, lead, clock, home) -> None:
    assert "No backup was made of these records on this machine yet" in today_of(lead)


def test_today_asks_a_lead_alone(sallowmere, lead, helper, desk, clock, home) -> None:
    remember(home / "friday.tsb", NOW)

    told = today_of(lead)
    assert "Try a restore" in told
    assert f"turnscrew restore {home / 'friday.tsb'} --trial --by lead" in told
    assert "No restore was ever tried." in told
    assert "Try a restore" not in today_of(helper)
    assert "Try a restore" not in today_of(desk)


def test_it_rests_for_a_month_after_a_good_one(sallowmere, lead, clock, home) -> None:
    remember(home / "friday.tsb", NOW)
    tell_tried("friday.tsb", is_whole=True, words="whole", by=lead, now=NOW)

    assert "Try a restore" not in today_of(lead)
    assert asked_for(NOW + timedelta(days=EVERY_DAYS - 1)) is None
    asked = asked_for(NOW + timedelta(days=EVERY_DAYS))
    assert asked is not None
    assert not asked.has_failed
    entry = Entry.objects.get(verb="restore tried")
    assert (NOW, lead.ref) == (entry.at, entry.author)


def test_a_failed_one_goes_on_being_asked(sallowmere, lead, clock, home) -> None:
    remember(home / "friday.tsb", NOW)
    tell_tried("friday.tsb", is_whole=False, words="damaged bytes", by=lead, now=NOW)

    told = today_of(lead)

    assert "The last trial failed" in told
    assert "friday.tsb: damaged bytes" in told
    assert lead.name in told
    assert asked_for(NOW).has_failed
    tell_tried("new.tsb", is_whole=True, words="whole", by=lead, now=NOW)
    assert asked_for(NOW) is None
    assert "new.tsb: whole" == last_trial().words


def test_no_program_writes_of_a_restore() -> None:
    told = {"restore tried", "restored in part"}

    assert told <= VERBS["bench"]
    assert not told & set(ACTIONS)
