"""Are mean cumulative functions and their variances as printed elsewhere?"""

from collections.abc import Mapping

from turnscrew.core.reliability.lives import Recurrences, recurrences_of
from turnscrew.core.reliability.recurrence import (
    MeanCurve,
    MeanVariance,
    mean_cumulative,
)
from turnscrew.flows.selfcheck.case import Case, Figure, Within

# Age at the end of the watch and ages at replacement, by number of the engine.
_ENGINES: dict[int, tuple[int, list[int]]] = {251: (761, []),
 252: (759, []),
 327: (667, [98]),
 328: (667, [326, 653, 653]),
 329: (665, []),
 330: (667, [84]),
 331: (663, [87]),
 389: (653, [646]),
 390: (653, [92]),
 391: (651, []),
 392: (650, [258, 328, 377, 621]),
 393: (648, [61, 539]),
 394: (644, [254, 276, 298, 640]),
 395: (642, [76, 538]),
 396: (641, [635]),
 397: (649, [349, 404, 561]),
 398: (631, []),
 399: (596, []),
 400: (614, [120, 479]),
 401: (582, [323, 449]),
 402: (589, [139, 139]),
 403: (593, []),
 404: (589, [573]),
 405: (606, [165, 408, 604]),
 406: (594, [249]),
 407: (613, [344, 497]),
 408: (595, [265, 586]),
 409: (389, [166, 206, 348]),
 410: (601, []),
 411: (601, [410, 581]),
 412: (611, []),
 413: (608, []),
 414: (587, []),
 415: (603, [367]),
 416: (585, [202, 563, 570]),
 417: (587, []),
 418: (578, []),
 419: (578, []),
 420: (586, []),
 421: (585, []),
 422: (582, [])}  # fmt: skip
_COMPUTERS = [[18, 22, 45, 52, 74, 76, 91, 98, 100, 103],
 [11, 17, 19, 26, 27, 38, 47, 48, 53, 86, 88],
 [2, 9, 18, 43, 69, 79, 87, 87, 95, 103, 105], [3, 23, 47, 61, 80, 90],
 [19, 43, 51, 62, 72, 73, 91, 93, 104, 104, 105],
 [7, 36, 40, 51, 64, 70, 73, 88, 93, 99, 100, 102],
 [28, 40, 82, 85, 89, 89, 95, 97, 104],
 [4, 20, 31, 45, 55, 68, 69, 99, 101, 104],
 [7, 34, 34, 79, 82, 85, 101], [9, 47, 78, 84]]  # fmt: skip

_ROBUST: MeanVariance = "robust (Lawless-Nadeau)"
_UNBIASED: MeanVariance = "unbiased (Nelson)"
_INDEPENDENT: MeanVariance = "independent increments"


def _by_hand() -> Mapping[str, Figure]:
    fleet = recurrences_of([[5, 8], [], [1, 8, 16]], [12, 16, 20])
    curve = mean_cumulative(fleet)
    return {
        "times": curve.age.tolist(),
        "at_risk": curve.n_at_risk.tolist(),
        "mcf": curve.mean.tolist(),
        "var_lawless_nadeau": curve.variance.tolist(),
        "var_independent_increments": mean_cumulative(
            fleet, variance=_INDEPENDENT
        ).variance.tolist(),
        "var_poisson": mean_cumulative(fleet, variance="Poisson").variance.tolist(),
    }


def _valve_seats() -> Mapping[str, Figure]:
    events = [ages for _, ages in _ENGINES.values()]
    fleet = recurrences_of(events, [end for end, _ in _ENGINES.values()])
    curve = mean_cumulative(fleet)
    return {
        "n_units_events": [curve.n_units, curve.n_events],
        "mcf_61_76_84": [curve.mean_at(age) for age in (61, 76, 84)],
        "mcf_653": curve.mean_at(653),
        "se_lawless_nadeau_653": _error(curve, 653),
        "se_lawless_nadeau_646": _error(curve, 646),
        "se_poisson_653": _error(mean_cumulative(fleet, variance="Poisson"), 653),
        "se_independent_653": _error(
            mean_cumulative(fleet, variance=_INDEPENDENT), 653
        ),
    }


def _computers() -> Mapping[str, Figure]:
    fleet = recurrences_of(_COMPUTERS, [105] * len(_COMPUTERS))
    return {
        "mcf_at_105": float(mean_cumulative(fleet).mean[-1]),
        "var_lawless_nadeau": _last(fleet, _ROBUST),
        "var_lawless_nadeau_value": _last(fleet, _ROBUST),
        "var_unbiased_n_minus_1": _last(fleet, _UNBIASED),
        "var_independent_increments": _last(fleet, _INDEPENDENT),
        "var_poisson": _last(fleet, "Poisson"),
    }


def _error(curve: MeanCurve, age: float) -> float:
    return float(curve.standard_error[curve.age == age][0])


def _last(fleet: Recurrences, variance: MeanVariance) -> float:
    return float(mean_cumulative(fleet, variance=variance).variance[-1])


CASES = (
    Case(
        name="D1",
        title="three systems by hand",
        source=(
            "Meeker & Escobar (1998), ch. 16: data; figures computed by hand and by "
            "SurPyval 0.25"
        ),
        reckon=_by_hand,
        expected={
            "times": [1, 5, 8, 16],
            "at_risk": [3, 3, 3, 2],
            "mcf": [
                0.3333333333333333,
                0.6666666666666666,
                1.3333333333333333,
                1.8333333333333333,
            ],
            "var_lawless_nadeau": [
                0.07407407407407407,
                0.07407407407407407,
                0.2962962962962963,
                0.7546296296296297,
            ],
            "var_independent_increments": [
                0.0740740741,
                0.1481481481,
                0.2222222222,
                0.3472222222,
            ],
            "var_poisson": [0.1111111111, 0.2222222222, 0.4444444444, 0.6944444444],
        },
        within={
            "mcf": Within(1e-12, "rel"),
            "var_lawless_nadeau": Within(1e-12, "rel"),
            "var_independent_increments": Within(1e-09),
            "var_poisson": Within(1e-09),
        },
    ),
    Case(
        name="D3",
        title="48 valve seats of 41 engines",
        source="Nelson & Doganaksoy (1989), Nelson (1995): data; figures computed",
        reckon=_valve_seats,
        expected={
            "n_units_events": [41, 48],
            "mcf_61_76_84": [0.02439, 0.04878, 0.073171],
            "mcf_653": 1.542688,
            "se_lawless_nadeau_653": 0.311656,
            "se_lawless_nadeau_646": 0.228505,
            "se_poisson_653": 0.262806,
            "se_independent_653": 0.295919,
        },
        within={
            "mcf_61_76_84": Within(1e-06),
            "mcf_653": Within(1e-06),
            "se_lawless_nadeau_653": Within(1e-06),
            "se_lawless_nadeau_646": Within(1e-06),
            "se_poisson_653": Within(1e-06),
            "se_independent_653": Within(1e-06),
        },
    ),
    Case(
        name="D4",
        title="91 calls of ten computers in 105 days",
        source="Meeker & Escobar (1998): data; figures computed",
        reckon=_computers,
        expected={
            "mcf_at_105": 9.1,
            "var_lawless_nadeau": 0.609,
            "var_lawless_nadeau_value": 0.609,
            "var_unbiased_n_minus_1": 0.6766666667,
            "var_independent_increments": 0.831,
            "var_poisson": 0.91,
        },
        within={
            "mcf_at_105": Within(1e-12, "rel"),
            "var_lawless_nadeau": Within(1e-09, "rel"),
            "var_lawless_nadeau_value": Within(1e-09),
            "var_unbiased_n_minus_1": Within(1e-09),
            "var_independent_increments": Within(1e-06),
            "var_poisson": Within(1e-09),
        },
    ),
)
