"""Which fleets may have been watched by chance?"""

import numpy as np

from random_lives import generator
from turnscrew.core.reliability.table import FleetTable, fleet_table


def random_fleet(
    seed: int,
    n: int = 60,
    *,
    is_whole: bool = True,
    with_entry: bool = True,
    with_weight: bool = False,
    site_factors: tuple[float, ...] = (1.0, 1.0, 1.0),
    shape: float = 1.0,
    scale_d: float = 900.0,
    years: tuple[int, ...] = (2023, 2024, 2025),
) -> FleetTable:
    """
    Give a fleet whose parts fail by a power of age, at sites with factors of their own.

    Older model-years are older in days, so that age and model-year go together.
    """
    rng = generator(seed)
    site = rng.integers(0, len(site_factors), n)
    year = rng.integers(0, len(years), n)
    end = 365.0 * (len(years) - year) + rng.integers(20, 300, n)
    entry = np.where(rng.random(n) < 0.5, rng.integers(1, 300, n), 0.0)
    entry = np.minimum(entry, end - 10) if with_entry else np.zeros(n)
    if not is_whole:
        end, entry = end + rng.random(n), entry * 0.97
    events: list[tuple[int, float, str, int | None]] = []
    for unit in range(n):
        for k, cause in enumerate(("glass", "pack", "fan")):
            rate = site_factors[site[unit]] if cause == "glass" else 1.0
            grown = [(x / scale_d) ** shape * rate for x in (entry[unit], end[unit])]
            for u in rng.random(rng.poisson((grown[1] - grown[0]) / (1 + k))):
                raw = (grown[0] + u * (grown[1] - grown[0])) / rate
                age = scale_d * raw ** (1 / shape)
                age = float(np.ceil(age)) if is_whole else float(age)
                age = min(max(age, entry[unit] + 0.5), end[unit])
                cost = None if rng.random() < 0.2 else int(rng.integers(0, 9000))
                events.append((unit, age, cause, cost))
    return fleet_table(
        [f"unit {k}" for k in range(n)], entry, end, events=events,
        causes=("glass", "pack", "fan"), model_year=[years[k] for k in year],
        site=[f"site {k}" for k in site], are_repeats_meant=True,
        weight=rng.integers(1, 4, n).astype(float) if with_weight else None,
        is_running=(rng.random(n) < 0.9).tolist(),
    )  # fmt: skip
