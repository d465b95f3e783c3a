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


CAME = {
    "received", "harvested", "found", "promised", "taken", "accessory in", "waste",
    "invoiced", "payment taken back", "write-off taken back", "faulty",
    "paid back",
    "accessory corrected", "return corrected", "waste corrected",
}  # fmt: skip
"""What makes more of that which its kind of entry counts; all else makes less.

A correction bears its own sign: minus three of what was too many.
"""


def sums(rows: list[tuple[str, str, str, dict]]) -> dict[tuple[str, str], int]:
    """
    Add up journal, verb, subject and facts, one by one, from the rules in words.

    A return to a supplier also stands in the money of the workshop: what is credited
    by a customer's invoice and by a supplier's return are two different journals.
    """
    total: dict[tuple[str, str], int] = {}

    def add(what: str, name: str, n: int) -> None:
        total[what, name] = total.get((what, name), 0) + n

    kinds = {
        "received": "shelf", "harvested": "shelf", "found": "shelf", "used": "shelf",
        "returned": "shelf", "lost": "shelf",
        "promised": "promised", "released": "promised",
        "faulty": "supplier", "exchanged": "supplier",
        "accessory in": "accessory", "accessory out": "accessory",
        "accessory explained": "accessory", "accessory corrected": "accessory",
        "return corrected": "supplier", "waste corrected": "waste",
        "waste": "waste", "waste gone": "waste",
        "invoiced": "owed", "paid": "owed", "payment taken back": "owed",
        "write-off taken back": "owed", "paid back": "owed",
        "pay-back taken back": "owed",
        "taken": "tray", "refitted": "tray", "replaced": "tray", "left out": "tray",
    }  # fmt: skip
    for journal, verb, subject, facts in rows:
        way = 1 if verb in CAME else -1
        if verb in {"credited", "written off"}:
            what = "owed" if journal == "money" else "supplier"
        elif verb == "undone":
            # Taking an entry back undoes what that entry did.
            way = -1 if facts["verb"] in CAME else 1
            what = kinds.get(facts["verb"], "")
        else:
            what = kinds.get(verb, "")
        if not what:
            continue
        name = facts.get("return") or facts.get("waste") or facts.get("kind") or ""
        unit = {"waste": "g", "owed": "minor"}.get(what, "n")
        is_own = what in {"supplier", "waste"}
        add(what, name if is_own else f"{subject} {name}".strip(), way * facts[unit])
        if journal == "stock" and verb in {"credited", "return corrected"}:
            add("credit", name, facts["minor"])
        if verb == "invoiced":
            add("billed", subject, facts["minor"])
    return total
