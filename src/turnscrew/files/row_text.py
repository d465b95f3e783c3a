"""How does a cell of a table become a value, with what does not fit noted?"""

import re
from collections.abc import Mapping, Sequence
from datetime import date

from turnscrew.core.model.calendar import A_DAY_MEANT, can_be_meant
from turnscrew.core.model.nearest import wanted_name
from turnscrew.core.model.quantities import minor_from_text
from turnscrew.errors import BadArgumentError, Problem
from turnscrew.files.table_text import Cell

MAX_CELL = 2000
_DAY = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)
_WHOLE = re.compile(r"\d{1,9}", re.ASCII)


class Row:
    """
    One row of a table, and the list that collects the problems of all rows.

    Parameters
    ----------
    cells
        Cells by column.
    line
        Line of the row.
    problems
        Problems found so far.
    """

    def __init__(
        self, cells: Mapping[str, Cell], line: int, problems: list[Problem]
    ) -> None:
        self.cells = cells
        self.line = line
        self.problems = problems

    def note(self, column: str, found: str, wanted: str) -> None:
        """
        Note a problem in a cell.

        Parameters
        ----------
        column
            The column.
        found
            What stands there.
        wanted
            What would be right.
        """
        cell = self.cells.get(column)
        at = cell.column if cell else 1
        self.problems.append(Problem(column, found, wanted, self.line, at))

    def text(self, column: str) -> str:
        """
        Give a cell as it is written.

        Parameters
        ----------
        column
            The column.

        Returns
        -------
        str
            Its text; empty if the column is not there.
        """
        cell = self.cells.get(column)
        text = cell.text if cell else ""
        if len(text) > MAX_CELL:
            found = f"{len(text):,} characters"
            self.note(column, found, f"at most {MAX_CELL:,}")
        return text

    def needed(self, column: str) -> str:
        """
        Give a cell that must not be blank.

        Parameters
        ----------
        column
            The column.

        Returns
        -------
        str
            Its text.
        """
        text = self.text(column)
        if not text:
            self.note(column, "nothing", "something")
        return text

    def several(self, column: str, separator: str) -> tuple[str, ...]:
        """
        Give the words of a cell.

        Parameters
        ----------
        column
            The column.
        separator
            What stands between the words.

        Returns
        -------
        tuple[str, ...]
            The words, each once.
        """
        return tuple(dict.fromkeys(self.pieces(column, separator)))

    def pieces(self, column: str, separator: str) -> tuple[str, ...]:
        """
        Give the words of a cell that stand for one piece each.

        Parameters
        ----------
        column
            The column.
        separator
            What stands between the words.

        Returns
        -------
        tuple[str, ...]
            The words, each as often as it is written.
        """
        words = (word.strip() for word in self.text(column).split(separator))
        return tuple(word for word in words if word)

    def whole(self, column: str, low: int, high: int) -> int | None:
        """
        Give a whole number.

        Parameters
        ----------
        column
            The column.
        low
            Smallest number.
        high
            Largest number.

        Returns
        -------
        int or None
            The number; ``None`` if the cell is blank or does not fit.
        """
        text = self.text(column)
        if not text:
            return None
        if _WHOLE.fullmatch(text) and low <= int(text) <= high:
            return int(text)
        self.note(column, text, f"a whole number from {low} to {high:,}")
        return None

    def money(self, column: str) -> int | None:
        """
        Give an amount of money.

        Parameters
        ----------
        column
            The column.

        Returns
        -------
        int or None
            The amount; ``None`` if the cell is blank or does not fit. [minor units]
        """
        text = self.text(column)
        if not text:
            return None
        try:
            return minor_from_text(text)
        except BadArgumentError:
            wanted = "an amount such as 31.50"
            if re.fullmatch(r"\d+,\d{1,2}", text):
                wanted = f"{text.replace(',', '.')}, if the comma means a point"
            self.note(column, text, wanted)
        return None

    def word(self, column: str, known: Sequence[str]) -> str:
        """
        Give one of several words.

        Parameters
        ----------
        column
            The column.
        known
            The words.

        Returns
        -------
        str
            The word, or empty if the cell is blank or does not fit.
        """
        text = self.text(column)
        if not text or text in known:
            return text
        words = tuple(word for word in known if word)
        self.note(column, text, wanted_name(text, words))
        return ""

    def day(self, column: str) -> date | None:
        """
        Give a date.

        Parameters
        ----------
        column
            The column.

        Returns
        -------
        date or None
            The date; ``None`` if the cell is blank or does not fit.
        """
        text = self.text(column)
        if not text:
            return None
        try:
            # The library would take weeks and days without hyphens too.
            day = date.fromisoformat(text) if _DAY.fullmatch(text) else None
        except ValueError:
            day = None
        if day is None:
            self.note(column, text, "a day such as 2027-02-01")
        elif not can_be_meant(day):
            self.note(column, text, A_DAY_MEANT)
        else:
            return day
        return None
