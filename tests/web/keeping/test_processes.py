"""Several people reach for the same thing at the same moment, each in a process."""

import json

from web.keeping.workshop import Workshop

N_PROCESSES, N_EACH = 4, 6


def together(workshop: Workshop, verb: str) -> list[str]:
    """Let four processes begin at one word; give all they said."""
    children = [
        workshop.start("web.keeping.writers", verb, 1 + n * N_EACH, N_EACH)
        for n in range(N_PROCESSES)
    ]
    for child in children:
        assert "ready\n" == child.stdout.readline()
    said = []
    for child in children:
        child.stdin.write("go\n")
        child.stdin.flush()
    for child in children:
        out, err = child.communicate()
        assert "" == err
        said += out.split()
    return said


def shelf(workshop: Workshop) -> dict[str, int]:
    return json.loads(workshop.write("shelf").stdout)


def audit(workshop: Workshop) -> dict[str, object]:
    done = workshop.turnscrew("audit", "--json")
    return json.loads(done.stdout)


def test_it_promises_no_free_piece_twice(workshop) -> None:
    before = shelf(workshop)

    said = together(workshop, "promise")

    after = shelf(workshop)
    assert N_PROCESSES * N_EACH == len(said)
    assert before["free"] == said.count("promised")
    assert len(said) - before["free"] == said.count("short")
    assert {"free": 0, "promised": before["free"], "short": said.count("short")} == {
        name: after[name] for name in ("free", "promised", "short")
    }
    assert len(said) == after["entries"] - before["entries"]
    assert [] == audit(workshop)["breaks"]


def test_it_shows_a_shortage_where_hands_took_more_than_the_books_know(
    workshop,
) -> None:
    before = shelf(workshop)

    said = together(workshop, "take")

    after = shelf(workshop)
    assert ["used"] * N_PROCESSES * N_EACH == said
    assert before["on_hand"] - len(said) == after["on_hand"]
    assert after["on_hand"] < 0
    assert len(said) == after["entries"] - before["entries"]
    assert [] == audit(workshop)["breaks"]


def test_it_numbers_every_entry_once_while_all_promise_and_take(workshop) -> None:
    before = shelf(workshop)
    children = [
        workshop.start("web.keeping.writers", verb, first, N_EACH)
        for verb in ("promise", "take")
        for first in (1, 2)
    ]
    for child in children:
        child.stdin.write("go\n")
        child.stdin.flush()
    assert [""] * 4 == [child.communicate()[1] for child in children]

    after = shelf(workshop)
    assert before["on_hand"] - 2 * N_EACH == after["on_hand"]
    assert after["promised"] <= before["on_hand"]
    assert [] == audit(workshop)["breaks"]
