"""Which lives may have been watched by chance?"""

import numpy as np

from turnscrew.core.reliability.lives import Lives, lives_of


def generator(seed: int) -> np.random.Generator:  # noqa: TID251
    """Give chance by its seed, so that every run of the tests meets the same."""
    return np.random.default_rng(seed)  # noqa: TID251


def random_lives(
    seed: int,
    n: int,
    *,
    family: str = "weibull",
    with_entry: bool = True,
    with_weight: bool = False,
    digits: int | None = None,
) -> Lives:
    """Give lives of known law, part censored, part watched from a later age."""
    rng = generator(seed)
    many = 3 * n + 20
    if family == "weibull":
        age = 1000 * rng.weibull(1.8, many)
    else:
        age = 700 * np.exp(0.8 * rng.standard_normal(many))
    entry = np.where(rng.random(many) < 0.5, rng.uniform(0, 600, many), 0.0)
    entry = entry if with_entry else np.zeros(many)
    end = entry + rng.uniform(100, 1200, many)
    if digits is not None:
        age, entry, end = (np.round(one, digits) for one in (age, entry, end))
    kept = np.flatnonzero((age > entry) & (end > entry))[:n]
    age, entry, end = age[kept], entry[kept], end[kept]
    weight = rng.integers(1, 5, len(kept)).astype(float) if with_weight else None
    return lives_of(np.minimum(age, end), age <= end, entry=entry, weight=weight)
