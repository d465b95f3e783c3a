"""The journals recounted the slow way, from their definition alone."""

import hashlib
import json


def is_whole(rows: list[dict]) -> bool:
    """Say whether rows are numbered from 1 and each seals the one before."""
    before = "0" * 64
    for n, row in enumerate(rows, 1):
        facts = json.dumps(
            row["facts"], sort_keys=True, separators=(",", ":"), ensure_ascii=False
        )
        spelled = json.dumps(
            [
                row["journal"], n, row["at"], row["author"], row["verb"],
                row["subject"], facts, row["words_digest"], row["corrects"], before,
            ],
            separators=(",", ":"),
            ensure_ascii=False,
        )  # fmt: skip
        digest = hashlib.sha256(spelled.encode()).hexdigest()
        if row["sequence"] != n or row["previous"] != before or row["digest"] != digest:
            return False
        before = digest
    return True


def pieces_left(moves: list[tuple[str, int]]) -> int:
    """Count pieces one by one: each comes or goes."""
    shelf = 0
    for verb, n in moves:
        for _ in range(n):
            shelf += {"received": 1, "harvested": 1, "found": 1}.get(verb, -1)
    return shelf
