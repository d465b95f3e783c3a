"""
How soon do recorded openings teach the order of a model, and what is wrong meanwhile?

Random hidden devices of 6 to 12 things, whose needs have up to two alternatives; one in
five has needs of up to three, which is more than the rules keep. Told after so many
openings: the share of forbidden orders among orders drawn from the learned rules; the
share of unproven ones with its bound, of each device by itself and then in the mean;
and the round-trip cost of the cheapest learned path over the true optimum, to
what the first opening reached. Prints a table and draws a curve. Run::

    .venv/bin/python benchmarks/order_learning.py [devices]
"""

import random
import sys
from collections.abc import Iterable
from math import ceil, floor
from pathlib import Path
from statistics import fmean, median
from typing import NamedTuple

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from random_openings import (  # noqa: E402
    Hidden,
    drawn_openings,
    hidden_device,
    is_legal,
    problem_of,
)
from turnscrew.core.recording.orders import Opened, Rules, rules_from  # noqa: E402
from turnscrew.core.recording.share import (  # noqa: E402
    drawn_order,
    unproven_share,
    upper_share,
)
from turnscrew.flows.opening import solved  # noqa: E402

SEED = 20_250_301
OPENINGS = (1, 2, 3, 5, 8, 13, 21)
KEPT = (1, 2)
N_ORDERS = 40
CURVE = ROOT / "docs" / "figures" / "order-learning.svg"


class Seen(NamedTuple):
    """What one device shows after so many openings, with so many alternatives kept."""

    n_forbidden: int
    n_unproven: int
    cost_ratio: float


def never() -> bool:
    return False


def cost(hidden: Hidden, needs: Rules, target: str) -> int:
    answer = solved(problem_of(hidden, needs, target), never)
    assert answer.status == "optimal" and answer.cost is not None
    return answer.cost


def seen_of(seed: int) -> dict[tuple[int, int], Seen]:
    rng = random.Random(seed)
    hidden = hidden_device(rng, most_alternatives=3 if seed % 5 == 0 else 2)
    openings = drawn_openings(rng, hidden, max(OPENINGS))
    target = openings[0].order[-1]
    best = cost(hidden, hidden.needs, target)
    found = {}
    for kept in KEPT:
        for n_openings in OPENINGS:
            told = openings[:n_openings]
            rules = rules_from(told, kept)
            drawn = [drawn_order(rules, rng.randrange) for _ in range(N_ORDERS)]
            found[kept, n_openings] = Seen(
                n_forbidden=forbidden_in(hidden, drawn),
                n_unproven=unproven_share(drawn, told).n_unproven,
                cost_ratio=cost(hidden, rules, target) / best,
            )
    return found


def forbidden_in(hidden: Hidden, drawn: Iterable[Opened]) -> int:
    return sum(not is_legal(hidden.needs, opened.order) for opened in drawn)


def print_group(name: str, seen: list[dict[tuple[int, int], Seen]]) -> None:
    n_orders = len(seen) * N_ORDERS
    print(f"\n{name}: {len(seen)} devices, {n_orders} orders each line")
    print("| kept | openings | forbidden | unproven | bound | cost, mean (median) |")
    print("|---|---|---|---|---|---|")
    for kept in KEPT:
        for n_openings in OPENINGS:
            rows = [device[kept, n_openings] for device in seen]
            n_forbidden = sum(row.n_forbidden for row in rows)
            n_unproven = sum(row.n_unproven for row in rows)
            bounds = [upper_share(row.n_unproven, N_ORDERS) for row in rows]
            ratios = [row.cost_ratio for row in rows]
            print(
                f"| {kept} | {n_openings} | {100 * n_forbidden / n_orders:.2f} % "
                f"| {100 * n_unproven / n_orders:.2f} % "
                f"| {100 * fmean(bounds):.2f} % "
                f"| x{fmean(ratios):.3f} ({median(ratios):.3f}) |"
            )


# --- the curve ---------------------------------------------------------------

WIDTH, HEIGHT = 640, 400
LEFT, RIGHT, UPPER, LOWER = 80, 20, 30, 60
DASHES = {1: "7 5", 2: ""}


def across(n_openings: int) -> float:
    place = OPENINGS.index(n_openings) / (len(OPENINGS) - 1)
    return LEFT + place * (WIDTH - LEFT - RIGHT)


def down(ratio: float, low: float, high: float) -> float:
    return UPPER + (high - ratio) / (high - low) * (HEIGHT - UPPER - LOWER)


def text(x: float, y: float, says: str, more: str = "") -> str:
    return f'<text x="{x:.0f}" y="{y:.0f}" {more}>{says}</text>'


def line(x1: float, y1: float, x2: float, y2: float, more: str = "") -> str:
    ends = f'x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}"'
    return f'<line {ends} stroke="black" {more}/>'


def curve(means: dict[tuple[int, int], float]) -> str:
    low = floor(10 * min(*means.values(), 1)) / 10
    high = ceil(10 * max(means.values())) / 10
    bottom = HEIGHT - LOWER
    drawn = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" '
        'font-family="sans-serif" font-size="14">',
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="white"/>',
        line(LEFT, bottom, WIDTH - RIGHT, bottom),
        line(LEFT, UPPER, LEFT, bottom),
        text(WIDTH / 2 + 30, HEIGHT - 15, "openings recorded", MIDDLE),
        text(0, 0, "cost of the learned path / true optimum", UPRIGHT),
    ]
    for n_openings in OPENINGS:
        x = across(n_openings)
        drawn.append(line(x, bottom, x, bottom + 5))
        drawn.append(text(x, bottom + 22, str(n_openings), MIDDLE))
    for tenth in range(round(10 * low), round(10 * high) + 1):
        y = down(tenth / 10, low, high)
        drawn.append(line(LEFT - 5, y, LEFT, y))
        drawn.append(text(LEFT - 10, y + 5, f"{tenth / 10:.1f}", 'text-anchor="end"'))
    true = down(1, low, high)
    drawn.append(line(LEFT, true, WIDTH - RIGHT, true, 'stroke-dasharray="1 4"'))
    for place, kept in enumerate(KEPT):
        points = " ".join(
            f"{across(n):.1f},{down(means[kept, n], low, high):.1f}" for n in OPENINGS
        )
        style = f'stroke="black" stroke-width="2" stroke-dasharray="{DASHES[kept]}"'
        drawn.append(f'<polyline fill="none" {style} points="{points}"/>')
        y = UPPER + 15 + 22 * place
        drawn.append(line(330, y - 5, 380, y - 5, style.partition(" ")[2]))
        drawn.append(text(390, y, LABELS[kept]))
    y = UPPER + 15 + 22 * len(KEPT)
    drawn.append(line(330, y - 5, 380, y - 5, 'stroke-dasharray="1 4"'))
    drawn.append(text(390, y, "the true optimum"))
    return "\n".join([*drawn, "</svg>"]) + "\n"


MIDDLE = 'text-anchor="middle"'
UPRIGHT = (
    f'text-anchor="middle" transform="translate(25 {HEIGHT / 2 - 15}) rotate(-90)"'
)
LABELS = {1: "rules without alternatives", 2: "rules of up to two alternatives"}


def main(n_devices: int) -> None:
    print(f"seed {SEED}")
    seen = {seed: seen_of(seed) for seed in range(SEED, SEED + n_devices)}
    two = [device for seed, device in seen.items() if seed % 5]
    three = [device for seed, device in seen.items() if seed % 5 == 0]
    print_group("up to two alternatives", two)
    print_group("up to three alternatives", three)
    means = {
        key: fmean(device[key].cost_ratio for device in two) for key in next(iter(two))
    }
    CURVE.write_text(curve(means), "utf-8")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
