"""What other processes do to the records in these tests: ``-m web.keeping.writers``."""

# The settings come first; and what is printed is what the tests read.
# ruff: noqa: E402, T201

import json
import sys
from datetime import UTC, datetime

import django

django.setup()

from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.web.keeping.owner import first_owner
from turnscrew.web.keeping.upgrade import bring_up_to_date
from turnscrew.web.records.models import Allotment, Head, Job, Part, Person
from turnscrew.web.records.services import stock
from turnscrew.web.records.services.booking import load_folder
from web.conftest import sallowmere_contents

NOW = datetime(2027, 2, 1, 9, tzinfo=UTC)
PART = "C-FN"


def populate() -> None:
    bring_up_to_date()
    owner = first_owner(NOW)
    contents = sallowmere_contents()
    batch = read_batch_folder(contents)
    load_folder(batch, contents["terms.yaml"].decode(), by=owner, now=NOW)


def promise(first: str, n: str) -> None:
    """Promise a piece to some jobs, one after the other, from a signal on."""
    by, part = lead(), Part.objects.get(number=PART)
    jobs = Job.objects.filter(line__gte=int(first), batch__closed_on=None)[: int(n)]
    for job in wait_with(list(jobs)):
        print(stock.promise(part, job, by=by, now=NOW).state, flush=True)


def take(first: str, n: str) -> None:
    """Take a piece off the shelf for some jobs, promised or not."""
    by, part = lead(), Part.objects.get(number=PART)
    jobs = Job.objects.filter(line__gte=int(first), batch__closed_on=None)[: int(n)]
    for job in wait_with(list(jobs)):
        print(stock.take(part, job, by=by, now=NOW).state, flush=True)


def shelf() -> None:
    """Tell how the part stands, and how many entries its journal has."""
    part = Part.objects.get(number=PART)
    told = {
        "on_hand": part.on_hand,
        "promised": part.promised,
        "free": part.free,
        "short": Allotment.objects.filter(part=part, state="short").count(),
        "entries": Head.objects.get(journal="stock").sequence,
    }
    print(json.dumps(told))


def wait_with(things: list) -> list:
    """Wait for the word of the parent, so that all begin at once."""
    print("ready", flush=True)
    sys.stdin.readline()
    return things


def lead():
    return Person.objects.get(key="lead")


if __name__ == "__main__":
    globals()[sys.argv[1]](*sys.argv[2:])
