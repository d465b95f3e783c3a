"""
How long does a whole batch take, and how does that grow?

First the command on the example batch, each run in a process of its own: with all
papers; without papers and plays; one what-if. Then batches made from the example, with
new numbers, of 100, 1,000 and 10,000 devices: reading, comparing with a list, deciding
and quoting, allotting with donors and order; with the peak of memory. Beside the
comparison of serials the same pairs are looked for by the edit distances of rapidfuzz,
every serial with every other, in C and on both cores.
"""

import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy
from rapidfuzz import process
from rapidfuzz.distance import OSA

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from benchmarks.peak import peak_mib  # noqa: E402 - the path comes first

from turnscrew.core.batch.question import WhatIf  # noqa: E402
from turnscrew.core.reconcile.match import reconciled  # noqa: E402
from turnscrew.core.reconcile.serials import near_pairs  # noqa: E402
from turnscrew.files.batch_folder import read_batch_folder  # noqa: E402
from turnscrew.flows.batch.decisions import decided_devices  # noqa: E402
from turnscrew.flows.batch.listed import holds_from_list  # noqa: E402
from turnscrew.flows.batch.supply import supplied  # noqa: E402

FOLDER = ROOT / "examples" / "sallowmere"
SIZES = (100, 1_000, 10_000)


def timed(action: Callable[[], object]) -> tuple[float, object]:
    start = time.perf_counter()
    answer = action()
    return time.perf_counter() - start, answer


def command(*args: str) -> float:
    words = [sys.executable, "-m", "turnscrew", "batch", str(FOLDER), *args]
    start = time.perf_counter()
    subprocess.run(words, check=True, capture_output=True)
    return time.perf_counter() - start


def larger(n: int, chance: random.Random) -> dict[str, bytes]:
    """The example folder with n devices drawn from it, each with new numbers."""
    contents = {path.name: path.read_bytes() for path in FOLDER.iterdir()}
    head, *rows = contents["batch.csv"].decode().splitlines()
    lines, listed = [head], ["asset,serial,model,rev,site"]
    for number in range(1, n + 1):
        cells = chance.choice(rows).split(",", 11)
        cells[:3] = [
            str(number), f"SHN-{number:06}", f"{cells[2][:4]}{number * 7919 % 10**7:07}"
        ]  # fmt: skip
        lines.append(",".join(cells))
        if chance.random() < 0.99:
            listed.append(",".join((cells[1], cells[2], cells[3], cells[4], cells[5])))
    chance.shuffle(listed[1:])
    parts = contents["parts.csv"].decode().splitlines()
    grown = [parts[0]]
    for row in parts[1:]:
        cells = row.split(",")
        cells[-1] = str(int(cells[-1]) * n // 60)
        grown.append(",".join(cells))
    return contents | {
        "batch.csv": "\n".join(lines).encode(),
        "customer-list.csv": "\n".join(listed).encode(),
        "parts.csv": "\n".join(grown).encode(),
        "columns.yaml": b"{}",
    }


def growth() -> None:
    print(
        "\ndevices     read  compare   decide    allot      all   all / n log n    peak"
    )
    for n in SIZES:
        contents = larger(n, random.Random(n))
        read_s, batch = timed(lambda c=contents: read_batch_folder(c))
        compare_s, found = timed(lambda b=batch: reconciled(b.lines, b.listed))
        decide_s, devices = timed(
            lambda b=batch, f=found: decided_devices(
                b, holds_from_list(f), lambda _line: None
            )
        )
        allot_s, _ = timed(lambda b=batch, d=devices: supplied(b, d, WhatIf()))
        whole = read_s + compare_s + decide_s + allot_s
        share = whole / (n * numpy.log2(n)) * 1e6
        print(
            f"{n:>7,}  {read_s:6.2f} s {compare_s:6.2f} s {decide_s:6.2f} s "
            f"{allot_s:6.2f} s {whole:6.2f} s {share:9.2f} us {peak_mib():9.0f} MiB"
        )


def texts_of(n: int, chance: random.Random) -> list[str]:
    """Draw serials of ten digits and letters, each once."""
    letters = "ABCDEFGHJKMNPRTWXY23456789"
    return list(dict.fromkeys("".join(chance.choices(letters, k=10)) for _ in range(n)))


def every_pair(texts: list[str]) -> object:
    """Hold every serial against every other, as the library does."""
    return process.cdist(
        texts, texts, scorer=OSA.distance, score_cutoff=1, dtype=numpy.uint8, workers=2
    )


def serials() -> None:
    print(
        "\nnear serials among n of ten digits and letters, and every pair by rapidfuzz"
    )
    chance = random.Random(1)
    for n in SIZES:
        texts = texts_of(n, chance)
        ours_s, _ = timed(lambda t=texts: near_pairs(t))
        theirs_s, _ = timed(lambda t=texts: every_pair(t))
        print(
            f"{n:>7,}  ours {ours_s:6.2f} s  every pair {theirs_s:6.2f} s  "
            f"ratio {theirs_s / ours_s:6.2f}"
        )


def main() -> None:
    with tempfile.TemporaryDirectory() as out:
        cold = command("--out", out, "--json")
        warm = command("--out", out, "--json")
    bare = min(command("--json", "--plays", "0") for _ in range(3))
    asked = min(command("--json", "--away", "lead=2-4") for _ in range(3))
    plain = min(command("--json", "--plays", "0", "--effort", "0") for _ in range(3))
    print(f"60 devices, all papers         {cold:6.2f} s, again {warm:.2f} s")
    print(f"60 devices, no papers or plays {bare:6.2f} s")
    print(f"60 devices, hand rule alone    {plain:6.2f} s")
    print(f"60 devices, what if lead=2-4   {asked:6.2f} s")
    growth()
    serials()


if __name__ == "__main__":
    main()
