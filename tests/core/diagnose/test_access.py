"""Access opens and closes no more than the next action asks for."""

import pytest

from turnscrew.core.diagnose.access import access_of
from turnscrew.core.diagnose.problem import Node
from turnscrew.errors import BadArgumentError

# The inner ones stand first, so that the order of opening is not that of the list.
NODES = (
    Node("board", 8, 16, ("deck", "lid")),
    Node("deck", 2, 4, ("cover",)),
    Node("lid", 32, 64),
    Node("cover", 0.5, 1),
)
ACCESS = access_of(NODES)


def names(mask: int) -> set[str]:
    return {node.name for i, node in enumerate(ACCESS.nodes) if mask >> i & 1}


def named(indices: tuple[int, ...]) -> list[str]:
    return [ACCESS.nodes[i].name for i in indices]


def test_it_puts_every_node_behind_what_it_needs() -> None:
    placed: set[str] = set()
    for node in ACCESS.nodes:
        assert placed.issuperset(node.needs)
        placed.add(node.name)

    assert {node.name for node in NODES} == placed


def test_it_opens_everything_a_node_needs() -> None:
    assert {"deck", "cover"} == names(ACCESS.opened(("deck",)))
    assert {"board", "deck", "cover", "lid"} == names(ACCESS.opened(("board",)))
    assert 0 == ACCESS.opened(())


def test_it_shuts_everything_that_stands_on_a_node() -> None:
    assert {"board", "deck"} == names(ACCESS.shut(("deck",)))
    assert {"board", "lid"} == names(ACCESS.shut(("lid",)))


def test_it_closes_from_the_inside_and_opens_from_the_outside() -> None:
    everything = ACCESS.opened(("board",))

    move = ACCESS.move(everything, 0, ACCESS.shut(("cover",)))
    back = ACCESS.move(move.open_set, everything, 0)

    assert ["board", "deck", "cover"] == named(move.closes)
    assert 16 + 4 + 1 == move.cost
    assert {"lid"} == names(move.open_set)
    assert ["cover", "deck", "board"] == named(back.opens)
    assert 0.5 + 2 + 8 == back.cost
    assert everything == back.open_set


def test_it_closes_first_where_one_action_asks_for_both() -> None:
    now = ACCESS.opened(("deck",))

    move = ACCESS.move(now, ACCESS.opened(("lid",)), ACCESS.shut(("deck",)))

    assert ["deck"] == named(move.closes)
    assert ["lid"] == named(move.opens)
    assert 4 + 32 == move.cost
    assert {"cover", "lid"} == names(move.open_set)


def test_it_leaves_open_what_is_in_nobodys_way() -> None:
    now = ACCESS.opened(("board",))

    move = ACCESS.move(now, ACCESS.opened(("deck",)), 0)

    assert (now, 0, (), ()) == (move.open_set, move.cost, move.closes, move.opens)


def test_it_reckons_the_closing_of_all_that_is_open() -> None:
    assert 16 + 4 + 64 + 1 == ACCESS.closing(ACCESS.opened(("board",)))
    assert 0 == ACCESS.closing(0)


def test_it_refuses_nodes_that_need_one_another() -> None:
    ring = (
        Node("free", 1, 1),
        Node("one", 1, 1, ("two",)),
        Node("two", 1, 1, ("one",)),
    )

    with pytest.raises(BadArgumentError, match="in a ring: one, two"):
        access_of(ring)
