"""How is a value spelled in a cell, so that no other program takes it for a formula?"""

import json
import re
from typing import Any

_FORMULA = re.compile(r"'*[=+\-@\t\r]")
_NEUTRALISED = re.compile(r"'+[=+\-@\t\r]")


def cell(value: Any) -> str:
    """
    Spell a value; a text that could be taken for a formula begins with an apostrophe.

    A number never does, be it below 0: it is to be added up.
    """
    if value is None:
        return ""
    if isinstance(value, str):
        return neutral(value)
    return json.dumps(value, ensure_ascii=False, sort_keys=True)


def neutral(text: str) -> str:
    """Put an apostrophe before what a spreadsheet would reckon."""
    return "'" + text if _FORMULA.match(text) else text


def told(text: str) -> str:
    """Take the apostrophe away again."""
    return text[1:] if _NEUTRALISED.match(text) else text
