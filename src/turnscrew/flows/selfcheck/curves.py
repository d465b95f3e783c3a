"""Are curves of survival and of hazard as printed elsewhere?"""

from collections.abc import Mapping

from turnscrew.core.reliability.curves import (
    Transform,
    cumulative_hazard,
    survival_curve,
)
from turnscrew.core.reliability.lives import (
    counted_lives,
    lives_of,
    lives_until,
)
from turnscrew.flows.selfcheck.case import Case, Figure, Within

_WEEKS = [6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32,
 34, 35]  # fmt: skip
_ENDED = [1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0]
_FANS = [[450, 1, 1], [460, 0, 1], [1150, 1, 2], [1560, 0, 1], [1600, 1, 1],
 [1660, 0, 1], [1850, 0, 5], [2030, 0, 3], [2070, 1, 2], [2080, 1, 1],
 [2200, 0, 1], [3000, 0, 4], [3100, 1, 1], [3200, 0, 1], [3450, 1, 1],
 [3750, 0, 2], [4150, 0, 4], [4300, 0, 4], [4600, 1, 1], [4850, 0, 4],
 [5000, 0, 3], [6100, 0, 3], [6100, 1, 1], [6300, 0, 1], [6450, 0, 2],
 [6700, 0, 1], [7450, 0, 1], [7800, 0, 2], [8100, 0, 2], [8200, 0, 1],
 [8500, 0, 3], [8750, 0, 2], [8750, 1, 1], [9400, 0, 1], [9900, 0, 1],
 [10100, 0, 3], [11500, 0, 1]]  # fmt: skip


def _twenty() -> Mapping[str, Figure]:
    failures = [10, 32, 56, 98, 122, 181]
    lives = lives_until(failures, [50, 100, 125, 150, *[200] * 10])
    curve = survival_curve(lives)
    return {
        "R": curve.survival.tolist(),
        "at_risk": curve.n_at_risk.tolist(),
        "R_rounded": curve.survival.tolist(),
        "greenwood_se_181": float(curve.standard_error[-1]),
        "nelson_aalen_181": float(cumulative_hazard(lives).hazard[-1]),
    }


def _remissions() -> Mapping[str, Figure]:
    lives = lives_of(_WEEKS, _ENDED)
    curve = survival_curve(lives)
    hazards = {
        ties: cumulative_hazard(lives, ties=ties).hazard[[0, 1, -1]].tolist()
        for ties in ("together", "one by one")
    }
    return {
        "S": curve.survival.tolist(),
        "at_risk": curve.n_at_risk.tolist(),
        "median": curve.median,
        "se": curve.standard_error.tolist(),
        "ci95_at_23_plain": _last_limits("plain"),
        "ci95_at_23_log": _last_limits("log"),
        "ci95_at_23_loglog": _last_limits("log-log"),
        "nelson_aalen_at_6_7_23": hazards["together"],
        "nelson_aalen_ties_broken_at_6_7_23": hazards["one by one"],
    }


def _fans() -> Mapping[str, Figure]:
    lives = counted_lives(_FANS)
    return {
        "H_tied_d_over_Y": cumulative_hazard(lives).hazard.tolist(),
        "H_ties_broken": cumulative_hazard(lives, ties="one by one").hazard.tolist(),
        "S_km_last": float(survival_curve(lives).survival[-1]),
    }


def _last_limits(limits: Transform) -> list[Figure]:
    curve = survival_curve(lives_of(_WEEKS, _ENDED), limits=limits)
    return [float(curve.low[-1]), float(curve.high[-1])]


CASES = (
    Case(
        name="C1",
        title="share running, 20 units",
        source=(
            "NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.1.5: curve and "
            "units at risk; rounded curve, error and hazard computed"
        ),
        reckon=_twenty,
        expected={
            "R": [
                0.95,
                0.8999999999999999,
                0.8470588235294116,
                0.7941176470588234,
                0.7373949579831931,
                0.6703590527119938,
            ],
            "at_risk": [20, 19, 17, 16, 14, 11],
            "R_rounded": [0.95, 0.9, 0.847059, 0.794118, 0.737395, 0.670359],
            "greenwood_se_181": 0.112141,
            "nelson_aalen_181": 0.386293,
        },
        within={
            "R": Within(1e-12, "rel"),
            "R_rounded": Within(5e-07),
            "greenwood_se_181": Within(5e-07),
            "nelson_aalen_181": Within(5e-07),
        },
    ),
    Case(
        name="C2",
        title="times of remission, three kinds of limits",
        source=(
            "Freireich et al. (1963): curve and units at risk as printed by R "
            "survfit, median seen in a test; errors, limits and hazards computed"
        ),
        reckon=_remissions,
        expected={
            "S": [
                0.8571429,
                0.8067227,
                0.7529412,
                0.6901961,
                0.627451,
                0.5378151,
                0.4481793,
            ],
            "at_risk": [21, 17, 15, 12, 11, 7, 6],
            "median": 23,
            "se": [
                0.0763604,
                0.0869353,
                0.0963497,
                0.1068147,
                0.1140539,
                0.1282338,
                0.1345915,
            ],
            "ci95_at_23_plain": [0.184385, 0.711974],
            "ci95_at_23_log": [0.248788, 0.807372],
            "ci95_at_23_loglog": [0.188052, 0.680143],
            "nelson_aalen_at_6_7_23": [0.1428571, 0.2016807, 0.7521136],
            "nelson_aalen_ties_broken_at_6_7_23": [0.1502506, 0.2090742, 0.7595071],
        },
        within={
            "S": Within(5e-08),
            "se": Within(5e-08),
            "ci95_at_23_plain": Within(1e-06),
            "ci95_at_23_log": Within(1e-06),
            "ci95_at_23_loglog": Within(1e-06),
            "nelson_aalen_at_6_7_23": Within(5e-08),
            "nelson_aalen_ties_broken_at_6_7_23": Within(5e-08),
        },
    ),
    Case(
        name="C5",
        title="hazard of fans, two rules for ties",
        source=(
            "Nelson (1982) p. 318: data; method Nelson (1969, 1982); figures computed"
        ),
        reckon=_fans,
        expected={
            "H_tied_d_over_Y": [
                0.014286,
                0.043697,
                0.059082,
                0.095446,
                0.114314,
                0.13559,
                0.157812,
                0.187224,
                0.225686,
                0.336797,
            ],
            "H_ties_broken": [
                0.014286,
                0.043917,
                0.059302,
                0.096002,
                0.11487,
                0.136146,
                0.158369,
                0.18778,
                0.226242,
                0.337353,
            ],
            "S_km_last": 0.707038,
        },
        within={
            "H_tied_d_over_Y": Within(1e-06),
            "H_ties_broken": Within(1e-06),
            "S_km_last": Within(1e-06),
        },
    ),
)
