"""Has every refusal that a page can show its German, whatever values stand in it?"""

import ast
import re
from pathlib import Path

from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.web.records.services import people

WEB = Path(people.__file__).parents[2]
BOOK = Phrasebook(GERMAN_COUNTER)
VALUE = "7"
"""Stands for whatever is put in: a number, which no book has to know."""


WHOLE = re.compile(r"[\w ]+: found .+, wanted .+")
SAID_WHOLE = {
    "left here: found 7, wanted 7": "left here: found 1, wanted 0 or more",
    "byte 7: found 7, wanted a marker": "",
    "7: found 7 characters, wanted at most 7": (
        "line 7, serial: found 61 characters, wanted at most 60"
    ),
    "power: found 7, wanted it seen to before 7": (
        "power: found pack swollen or not known, wanted it seen to before a trial"
    ),
    "history: found 7 without a day, wanted the day of each": (
        "history: found 7 closed jobs without a day, wanted the day of each"
    ),
}
"""Of these an end is chosen elsewhere: so it reads then, or it reaches no page."""


def refusals() -> list[tuple[str, str]]:
    """Give the words of every refusal that are written where it is made."""
    found = []
    for path in [*(WEB / "records").rglob("*.py"), *(WEB / "counter").rglob("*.py")]:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            is_raised = getattr(getattr(node, "func", None), "id", "") == "RefusedError"
            told = map(words_of, node.args) if is_raised else [words_of(node)]
            found += [
                (f"{path.name}:{node.lineno}", SAID_WHOLE.get(words, words))
                for words in told
                if words and (is_raised or WHOLE.fullmatch(words))
            ]
    return found


def words_of(node: ast.AST) -> str:
    if isinstance(node, ast.Constant):
        return str(node.value)
    if isinstance(node, ast.JoinedStr):
        pieces = (one.value if isinstance(one, ast.Constant) else VALUE
                  for one in node.values)  # fmt: skip
        return "".join(map(str, pieces))
    return ""


def test_every_refusal_that_is_shown_has_its_german() -> None:
    told = refusals()

    assert len(told) > 150
    assert [] == [(at, words) for at, words in told if "„" in BOOK.says(words)]


def test_one_that_nobody_foresaw_stands_in_quotation_marks() -> None:
    assert BOOK.says("kettle: found it cold, wanted it hot").startswith("„")


def test_a_device_of_somebody_erased_is_refused_in_plain_german() -> None:
    words = "device: found one of an erased customer, wanted it left out of the words"

    assert BOOK.says(words).startswith("Gerät: eines von einem gelöschten Kunden ")
