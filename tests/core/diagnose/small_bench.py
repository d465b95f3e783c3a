"""A small fault table with two layers, for tests that reckon by hand."""

from turnscrew.core.diagnose.layers import Layer
from turnscrew.core.diagnose.pose import Layering, PricedLayer
from turnscrew.core.model.faults import (
    NOTHING_WRONG,
    OTHERS,
    CheckOut,
    Fault,
    FaultRepair,
    FaultTable,
    FaultTest,
    GiveUp,
    KnownGood,
    Prior,
    Reading,
    Sign,
)

TABLE = FaultTable(
    family="Box",
    rate=6000,
    faults={"lead": Fault(1.0), "pack": Fault(3.0)},
    nothing_wrong=0.0,
    prior=Prior("tests", cases=10),
    signs={
        "dead": Sign({"lead": 0.8, "pack": 0.4, NOTHING_WRONG: 0.0}, ("no light",)),
    },
    known_good={"good lead": KnownGood("a lead")},
    tests={
        "volts": FaultTest(
            minutes=2,
            means={
                "lead": (0.9, 0.1, 0.0),
                OTHERS: (0.1, 0.9, 0.0),
                NOTHING_WRONG: (0.0, 1.0, 0.0),
            },
            reading=Reading("V", low=9.0, high=11.0, plus=0.3),
            cautions=("mains",),
            figure="fit_of",
        ),
        "swap": FaultTest(
            minutes=1,
            outcomes=("charges", "as before"),
            means={
                "lead": (1.0, 0.0),
                OTHERS: (0.0, 1.0),
                NOTHING_WRONG: (0.5, 0.5),
            },
            known_good=("good lead",),
        ),
    },
    repairs={
        "change lead": FaultRepair(
            minutes=1, mends={"lead": 1.0}, price=500, keep=True
        ),
        "change pack": FaultRepair(
            minutes=4, mends={"pack": 1.0}, price=2000, reach=("pack",), part="P-1"
        ),
    },
    check_out=CheckOut(minutes=3, closed=True),
    give_up=GiveUp(price=10_000, minutes=0.0),
)
"""At 60.00 an hour a minute is worth 100 minor units."""

LAYERING = Layering(
    layers=(PricedLayer(Layer("pack", frozenset({"lid", "pack"}), ()), 5.0, 7.0),),
    where={"pack": "pack"},
)
