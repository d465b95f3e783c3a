"""Which verbs may a journal hold, and which way does each move what is counted?"""

from collections.abc import Mapping

from turnscrew.core.ledger.entry import Fact, JournalName
from turnscrew.core.ledger.gaps import RESTORED_IN_PART

STOCK_SIGNS: Mapping[str, int] = {
    "received": 1,
    "harvested": 1,
    "found": 1,
    "used": -1,
    "returned": -1,
    "lost": -1,
}
"""What each movement does to the pieces on hand."""

PROMISE_SIGNS: Mapping[str, int] = {"promised": 1, "released": -1}
"""What each entry does to the pieces promised to jobs."""

FASTENER_SIGNS: Mapping[str, int] = {
    "taken": 1,
    "refitted": -1,
    "replaced": -1,
    "left out": -1,
}
"""What each action does to the tray: taken = back + replaced + left out + in tray."""


def tray_sign(verb: str, facts: Mapping[str, Fact]) -> int:
    """
    Say which way an entry of the bench moves pieces of the tray.

    Parameters
    ----------
    verb
        What happened.
    facts
        Its facts; an entry that takes another back names that one's verb.

    Returns
    -------
    int
        1 into the tray, -1 out of it, 0 neither.
    """
    if verb == "undone":
        return -FASTENER_SIGNS.get(str(facts.get("verb")), 0)
    return FASTENER_SIGNS.get(verb, 0)


ACCESSORY_SIGNS: Mapping[str, int] = {
    "accessory in": 1,
    "accessory out": -1,
    "accessory explained": -1,
    "accessory corrected": 1,
}
"""What each entry does to the accessories here; a correction bears its own sign."""

WASTE_SIGNS: Mapping[str, int] = {"waste": 1, "waste gone": -1, "waste corrected": 1}
"""What each entry does to the mass that lies here to be thrown away."""

MONEY_SIGNS: Mapping[str, int] = {
    "invoiced": 1,
    "paid": -1,
    "credited": -1,
    "written off": -1,
    "payment taken back": 1,
    "write-off taken back": 1,
    "paid back": 1,
    "pay-back taken back": -1,
}
"""What each entry does to the money owed by a customer."""

RETURN_SIGNS: Mapping[str, int] = {
    "faulty": 1,
    "credited": -1,
    "exchanged": -1,
    "written off": -1,
    "return corrected": 1,
}
"""What each entry does to the faulty pieces that a supplier still owes for."""

VERBS: Mapping[JournalName, frozenset[str]] = {
    "custody": frozenset({
        RESTORED_IN_PART, "moved", "sealed away", "data part", "signed", "expected",
        "device corrected",
        *ACCESSORY_SIGNS, *WASTE_SIGNS,
    }),
    "stock": frozenset({
        RESTORED_IN_PART, "ordered", "counted", "compared", "short", "sent back",
        "photo", "first use",
        "laid", "order corrected", "part corrected", "retired", "in use again",
        "said to fit",
        *STOCK_SIGNS, *PROMISE_SIGNS, *RETURN_SIGNS,
    }),
    "money": frozenset({
        RESTORED_IN_PART,
        "quoted", "asked", "approved", "refused", "answer corrected", "comeback",
        "reminded",
        *MONEY_SIGNS,
    }),
    "bench": frozenset({
        "found fault", "action", "undone", "tested", "found loose", "safety check",
        "signed off", "photo", "incident", "incident closed", "pack",
        "time explained", "adapter", "trial", "lock", "finished", "arrival",
        "looked into", "rebuilt", "agreed in writing", "restore tried",
        RESTORED_IN_PART, *FASTENER_SIGNS,
    }),
}  # fmt: skip
