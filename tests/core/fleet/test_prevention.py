"""Is a usual cause told by the words of a fault, and kept quiet where none tells it?"""

import pytest

from turnscrew.core.fleet.advice import Advice
from turnscrew.core.fleet.prevention import prevention_of

ADVICE = Advice(
    model="V80", cause="T-GLS", of="place", site="Night team", n=6, n_all=9,
    n_devices=6,
    share=0.19, is_by_age=False, confidence=0.9, ratio=8.5,
    ratio_limits=(2.5, 33.0), within=1.0, chance=0.0026, p_adjusted=0.01, n_compared=4,
    saved_n=5.3, saved_limits=(3.6, 5.8),
    cost_minor=12000, saved_minor=10000, known_by=3, helped_by=(2, 5),
)  # fmt: skip


# The faults of the example batch; the cause of each is common practice, no source.
@pytest.mark.parametrize(
    ("fault", "cause"),
    [
        ("keys dead after gel spill", "liquid"),
        ("liquid on the board", "liquid"),
        ("seal leaks", "liquid"),
        ("swollen or worn pack", "heat"),
        ("lid pivot bracket cracked", "opening at one corner"),
        ("display cracked", "drops"),
        ("front glass cracked", "drops"),
        ("scan window scratched", "drops"),
        ("battery door broken", "drops"),
        ("fan worn", "dust"),
        ("keypad worn", "wear by use"),
        ("side-key flex worn", "wear by use"),
        ("charging port loose", "pull"),
        ("battery holds little or no charge", "heat"),
        ("panel broken or dark", "drops"),
        ("bracket of the lid pivot cracked", "opening at one corner"),
        ("contact of the power inlet worn or loose", "pull"),
        ("fan worn or clogged", "dust"),
        ("keys dead after gel or wear", "liquid"),
    ],
)
def test_it_knows_the_usual_cause(fault, cause) -> None:
    found = prevention_of(fault)

    assert found is not None
    assert found.cause.startswith(cause)


@pytest.mark.parametrize(
    "fault",
    [
        "",
        "T-GLS",
        "camera dead",
        "loudspeaker dead",
        "storage fails",
        "no fault found",
        "graphics chip failing",
        "charging chip dead",
        "memory chip faulty",
        "USB pins bent",
        "broken solder joint at fan",
        "pack of screws missing",
        "charge lamp dead",
        "service port setting lost",
        "lid sensor dead",
        "tamper seal missing",
        "hot key dead",
        "dock contacts dirty",
        "battery lead broken",
        "glass",
    ],  # fmt: skip
)
def test_it_gives_no_advice_where_the_cause_is_not_known(fault) -> None:
    assert prevention_of(fault) is None


def test_advice_says_how_to_prevent_the_usual_cause() -> None:
    told = ADVICE.worded("front glass cracked")

    assert "Usual cause: drops, knocks and grit. To prevent it: give every" in told
    assert told.endswith("no more than 5 in 2 terms that it has.")
    assert "cost about 120.00" in told
    assert "Usual cause" not in ADVICE.worded("camera dead")
    assert "Look there for the cause." in ADVICE.worded("camera dead")


def test_a_model_year_is_looked_into_and_not_taught_to_be_careful() -> None:
    made = {**vars(ADVICE), "of": "model-year", "site": "2024"}
    told = Advice(**made).worded("front glass cracked")

    assert "Look for what those devices have in common." in told
    assert "Usual cause" not in told
