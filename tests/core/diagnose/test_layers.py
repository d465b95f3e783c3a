"""Which layers do the wanted openings share?"""

import random

from turnscrew.core.diagnose.layers import layers_of


def test_it_makes_a_layer_of_what_two_openings_take_off_in_common() -> None:
    openings = {"fan": ("screws", "lid", "fan"), "disk": ("screws", "lid", "disk")}

    shared, *own = layers_of(openings)

    assert ("lid", frozenset({"screws", "lid"}), ()) == (
        shared.name,
        shared.off,
        shared.needs,
    )
    assert {("fan", ("lid",)), ("disk", ("lid",))} == {(x.name, x.needs) for x in own}


def test_it_nests_an_opening_inside_another() -> None:
    lid, board = layers_of({"board": ("lid", "board"), "lid": ("lid",)})

    assert ("lid", "board", ("lid",)) == (lid.name, board.name, board.needs)


def test_it_makes_one_layer_of_openings_that_take_off_the_same() -> None:
    assert 1 == len(layers_of({"a": ("lid",), "b": ("lid",)}))


def test_it_makes_no_layer_of_nothing() -> None:
    assert () == layers_of({"plug": ()})


def test_it_gives_layers_that_end_alike_names_of_their_own() -> None:
    """Three pairs share the lid, each with something else under it."""
    layers = layers_of(
        {
            "a": ("x", "y", "lid", "1"),
            "b": ("x", "y", "lid", "2"),
            "c": ("x", "lid", "3"),
            "d": ("lid", "4"),
        }
    )

    assert ["lid", "lid (2)", "lid (3)"] == [x.name for x in layers[:1]] + [
        x.name for x in layers if x.name.startswith("lid (")
    ]


def test_it_keeps_the_laws_of_layers() -> None:
    """Closed under intersection, named once, each after what lies largest inside it."""
    rng = random.Random(4)
    for _ in range(300):
        things = [f"t{i}" for i in range(8)]
        openings = {
            f"o{i}": tuple(rng.sample(things, rng.randint(1, 6)))
            for i in range(rng.randint(1, 5))
        }

        layers = layers_of(openings)

        sets = {layer.off: layer for layer in layers}
        names = [layer.name for layer in layers]
        assert len(set(names)) == len(names)
        assert {frozenset(x) for x in openings.values()} <= sets.keys()
        for one in sets:
            for two in sets:
                assert not one & two or one & two in sets
        for i, layer in enumerate(layers):
            inside = {x.name for x in layers if x.off < layer.off}
            assert set(layer.needs) <= set(names[:i])
            covered = {y.name for n in layer.needs for y in layers
                       if y.off <= layers[names.index(n)].off}  # fmt: skip
            assert inside == covered
            needed = [layers[names.index(name)].off for name in layer.needs]
            assert not any(one < two for one in needed for two in needed)
