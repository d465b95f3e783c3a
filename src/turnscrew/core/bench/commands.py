"""
Which commands does the bench take by scanner, by key and by button?

A scanner types as a keyboard does, so whatever begins with the prefix is gathered up to
its end before any single key of it is heeded.
"""

from dataclasses import dataclass
from typing import Literal

PREFIX = "TS-"
"""What the text of every code begins with."""

CommandGroup = Literal["working", "numbers", "joints", "parts"]


@dataclass(frozen=True)
class Command:
    """
    One thing that can be told with a scanner, a key or a button.

    Parameters
    ----------
    code
        Text of the code.
    word
        What stands under it and on the button.
    key
        Key of the keyboard, as it is printed on it.
    group
        When it is wanted.
    also
        A second key; empty if there is none.
    """

    code: str
    word: str
    key: str
    group: CommandGroup
    also: str = ""

    @property
    def kind(self) -> str:
        """
        Give the kind of joint or part that it records, the digit, or its name.

        Returns
        -------
        str
            The last word of the code in small letters.
        """
        return self.code.rpartition("-")[2].lower()


_JOINTS = (
    ("Screw", "S"), ("Clip", "C"), ("Socket", "O"), ("Plug", "P"), ("Bond", "B"),
    ("Latch", "L"), ("Slide", "D"), ("Hook", "H"), ("Pin", "I"), ("Press", "R"),
    ("Seal", "E"), ("Cover", "V"), ("Contact", "K"), ("Lead", "A"), ("Other", "X"),
)  # fmt: skip

_PARTS = (
    ("Cover", "C"), ("Board", "B"), ("Battery", "A"), ("Display", "D"), ("Fan", "F"),
    ("Camera", "M"), ("Speaker", "S"), ("Keys", "K"), ("Door", "O"), ("Bracket", "R"),
    ("Frame part", "E"), ("Other", "X"),
)  # fmt: skip

COMMANDS: tuple[Command, ...] = (
    Command("TS-DONE", "Done", "Space", "working", also="Enter"),
    Command("TS-YES", "Yes", "Y", "working"),
    Command("TS-NO", "No", "N", "working"),
    Command("TS-3MORE", "Three more like that", "+", "working"),
    Command("TS-PHOTO", "Photo", "M", "working"),
    Command("TS-NEXT", "Next", "Arrow right", "working"),
    Command("TS-STUCK", "Stuck, will not come", "U", "working"),
    Command("TS-AGAIN", "Say the line again", "Arrow up", "working"),
    Command("TS-FAULT", "Fault found", "F", "working"),
    Command("TS-PARK", "Park", "Z", "working"),
    Command("TS-BURST", "Undo the whole burst", "Shift+Backspace", "working"),
    Command("TS-UNDO", "Undo", "Backspace", "working"),
    *(Command(f"TS-{n}", str(n), str(n), "numbers") for n in range(10)),
    Command("TS-POINT", "Point", ".", "numbers"),
    Command("TS-ENTER", "Enter", "Enter", "numbers"),
    Command("TS-CLEAR", "Clear", "Delete", "numbers"),
    *(Command(f"TS-J-{w.upper()}", w, key, "joints") for w, key in _JOINTS),
    *(
        Command(f"TS-P-{w.split()[0].upper()}", w, f"Shift+{key}", "parts")
        for w, key in _PARTS
    ),
    Command("TS-TURN", "Turned over", "T", "parts"),
)
"""
All commands. Enter closes a number while one is being given, and is Done otherwise.
"""
