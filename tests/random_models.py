"""
Small random models of a fault and what may be done about it.

They are the same for the same seed; the draws come in a fixed order, so that a change
here changes every model. Numbers have few digits, so that they are exact as written.
"""

import random
from typing import Any

Model = dict[str, Any]


def random_model(
    rng: random.Random,
    *,
    faults: int,
    repairs: int,
    tests: int,
    nodes: int,
    n_at_once: int = 1,
    has_keep: bool = False,
) -> Model:
    """
    Draw one valid model of any kind.

    With n_at_once above 1 the faults are independent and up to so many are present.
    With has_keep some prices are paid on success only, which mode `each` alone knows.
    """
    names = [f"f{index}" for index in range(faults)]
    steps = draw_nodes(rng, nodes)
    model: Model = {"ok_prior": rng.choice((5, 20, 50)) / 100} if odds(rng, 0.3) else {}
    if n_at_once > 1:
        q = {name: rng.randint(2, 45) / 100 for name in names}
        model["multi"] = {"independent": q, "max": n_at_once}
    else:
        model["faults"] = draw_shares(rng, names, alpha=1.5)
    model["nodes"] = steps
    model["tests"] = [
        draw_test(rng, f"t{index}", names, steps, looks_at_one=n_at_once > 1)
        for index in range(tests)
    ]
    model["repairs"] = [
        draw_repair(rng, f"r{index}", names, steps, has_keep=has_keep)
        for index in range(repairs)
    ]
    # Nothing or everything closed to verify is usual, some nodes closed is rare.
    model["verify"] = {
        "cost": draw_cost(rng, 0, 6),
        "closed": rng.choice(([], "all", "all", draw_names(rng, steps))),
    }
    far = odds(rng, 0.3)
    model["writeoff"] = {
        "cost": rng.randint(90, 400) if far else rng.randint(12, 60),
        "close_first": odds(rng, 0.5),
    }
    return model


def odds(rng: random.Random, p_true: float) -> bool:
    return rng.random() < p_true


def draw_cost(rng: random.Random, least: int, most: int) -> float:
    """Draw a whole cost, or now and then one with tenths."""
    whole = rng.randint(least, most)
    return whole + rng.randint(1, 9) / 10 if odds(rng, 0.2) else whole


def draw_shares(
    rng: random.Random, names: list[str], *, alpha: float
) -> dict[str, float]:
    """Draw shares with a sum of one, in thousandths, none of them zero."""
    raw = [rng.gammavariate(alpha, 1) + 0.01 for _ in names]
    spare = 1000 - 10 * len(names)
    shares = [10 + int(spare * part / sum(raw)) for part in raw]
    shares[0] += 1000 - sum(shares)
    return {name: share / 1000 for name, share in zip(names, shares, strict=True)}


def draw_nodes(rng: random.Random, n_nodes: int) -> list[Model]:
    """Draw nodes that stand on none, one or two of those before."""
    return [
        {
            "id": f"n{index}",
            "open": draw_cost(rng, 0, 9),
            "close": draw_cost(rng, 0, 9),
            "needs": [
                f"n{below}"
                for below in sorted(
                    rng.sample(range(index), min(index, rng.choice((0, 1, 1, 2))))
                )
            ],
        }
        for index in range(n_nodes)
    ]


def draw_names(rng: random.Random, steps: list[Model]) -> list[str]:
    names = [step["id"] for step in steps]
    return sorted(rng.sample(names, min(len(names), rng.choice((0, 1, 1, 2)))))


def needed_for(opened: list[str], steps: list[Model]) -> set[str]:
    """Give these nodes and everything they need."""
    needed = set(opened)
    # A node stands on earlier ones only, so one way through from the end will do.
    for step in reversed(steps):
        if step["id"] in needed:
            needed |= set(step["needs"])
    return needed


def draw_place(rng: random.Random, steps: list[Model], *, p_closed: float) -> Model:
    """Draw what must be open and, now and then, what must be closed."""
    opened = draw_names(rng, steps)
    place: Model = {"open": opened} if opened or odds(rng, 0.5) else {}
    if odds(rng, p_closed):
        free = [s for s in steps if s["id"] not in needed_for(opened, steps)]
        is_all = not opened and odds(rng, 0.5)
        place["closed"] = "all" if is_all else draw_names(rng, free)
    return place


def draw_row(rng: random.Random, n_outcomes: int) -> list[float]:
    """Draw the odds of each outcome in hundredths; half the rows are certain."""
    if odds(rng, 0.5):
        sure = rng.randrange(n_outcomes)
        return [int(outcome == sure) for outcome in range(n_outcomes)]
    cuts = sorted(rng.randint(0, 100) for _ in range(n_outcomes - 1))
    edges = [0, *cuts, 100]
    return [(edges[k + 1] - edges[k]) / 100 for k in range(n_outcomes)]


def draw_test(
    rng: random.Random,
    name: str,
    faults: list[str],
    steps: list[Model],
    *,
    looks_at_one: bool,
) -> Model:
    n_outcomes = rng.choice((2, 2, 3))
    seen = rng.sample(faults, 1) if looks_at_one else faults
    test = {
        "id": name,
        "cost": draw_cost(rng, 0, 6),
        **draw_place(rng, steps, p_closed=0.3),
        "outcomes": [f"o{index}" for index in range(n_outcomes)],
        "p": {fault: draw_row(rng, n_outcomes) for fault in seen},
        "ok": draw_row(rng, n_outcomes),
    }
    return test | ({"looks_at": seen} if looks_at_one else {})


def draw_repair(
    rng: random.Random,
    name: str,
    faults: list[str],
    steps: list[Model],
    *,
    has_keep: bool,
) -> Model:
    """Draw a repair of one or two faults; some faults stay without any."""
    fixed = rng.sample(faults, min(len(faults), rng.choice((1, 1, 1, 2))))
    repair = {
        "id": name,
        "cost": draw_cost(rng, 1, 20),
        **draw_place(rng, steps, p_closed=0.1),
        "fix": {fault: rng.choice((1, 1, 0.9, 0.75, 0.4)) for fault in fixed},
    }
    return repair | (
        {"keep": rng.randint(1, 25)} if has_keep and odds(rng, 0.6) else {}
    )


def portable_model(
    rng: random.Random,
    *,
    faults: int,
    repairs: int,
    tests: int,
    nodes: int,
    noisy: float,
) -> Model:
    """
    Draw one model like a portable computer, which must be closed for its power test.

    Every fault but the last, `other`, has a main repair at its own place; repairs past
    those are cheap first tries of the same. The share `noisy` of all rows is uncertain.
    """
    names = [f"f{index}" for index in range(faults - 1)] + ["other"]
    steps = draw_tree(rng, nodes)
    places = {name: draw_depth(rng, steps) for name in names}
    mains = [draw_main(rng, name, places) for name in names[:-1]][:repairs]
    tries = [
        draw_try(rng, index, rng.choice(mains)) for index in range(repairs - len(mains))
    ]
    return {
        "faults": draw_shares(rng, names, alpha=3),
        "nodes": steps,
        "tests": [
            draw_two_way(rng, f"t{index}", names, steps, noisy)
            for index in range(tests)
        ],
        "repairs": mains + tries,
        "verify": {"cost": rng.randint(3, 6), "closed": "all"},
        "writeoff": {"cost": rng.randint(150, 220), "close_first": False},
    }


def draw_tree(rng: random.Random, n_nodes: int) -> list[Model]:
    """Draw a tree that goes deep rather than wide, such as cover, battery, board."""
    steps = []
    for index in range(n_nodes):
        is_outer = index == 0 or odds(rng, 0.25)
        below = max(rng.choices(range(index), k=2)) if not is_outer else 0
        opening = rng.randint(1, 14)
        step = {
            "id": f"n{index}",
            "open": opening,
            "close": min(15, opening + rng.randint(0, 4)),
            "needs": [] if is_outer else [f"n{below}"],
        }
        steps.append(step)
    return steps


def draw_depth(rng: random.Random, steps: list[Model]) -> list[str]:
    """Draw the node to be open, or none for what is reached from outside."""
    if not steps or odds(rng, 0.15):
        return []
    return [rng.choice(steps)["id"]]


def draw_main(rng: random.Random, fault: str, places: dict[str, list[str]]) -> Model:
    return {
        "id": f"swap_{fault}",
        "cost": rng.randint(10, 80),
        "open": places[fault],
        "fix": {fault: rng.randint(90, 100) / 100},
    }


def draw_try(rng: random.Random, index: int, main: Model) -> Model:
    """Draw a reseat or a cleaning of what a main repair would swap."""
    (fault,) = main["fix"]
    return {
        "id": f"try{index}_{fault}",
        "cost": rng.randint(2, 6),
        "open": main["open"],
        "fix": {fault: rng.randint(20, 50) / 100},
    }


def draw_two_way(
    rng: random.Random, name: str, faults: list[str], steps: list[Model], noisy: float
) -> Model:
    """Draw a test that is special for one or two faults; all others share one row."""
    special = rng.sample(faults[:-1], min(len(faults) - 1, rng.choice((1, 1, 2))))
    # With a good item the special faults answer unlike the others, whichever fail.
    is_base_pass = odds(rng, 0.5)
    base = draw_answer(rng, noisy, is_pass=is_base_pass)
    own = {f: draw_answer(rng, noisy, is_pass=not is_base_pass) for f in special}
    return {
        "id": name,
        "cost": rng.randint(2, 8),
        "open": draw_depth(rng, steps[:2]) if odds(rng, 0.4) else [],
        "outcomes": ["pass", "fail"],
        "p": {fault: own.get(fault, base) for fault in faults},
        "ok": draw_answer(rng, noisy, is_pass=True),
    }


def draw_answer(rng: random.Random, noisy: float, *, is_pass: bool) -> list[float]:
    n_wrong = rng.randint(2, 15) if odds(rng, noisy) else 0
    row = [(100 - n_wrong) / 100, n_wrong / 100]
    return row if is_pass else row[::-1]
