"""
Write the page of all commands from the commands themselves.

``python docs/make_commands.py`` writes ``docs/commands.md``; a test compares.
"""

import re
from pathlib import Path
from typing import Any

import typer.main

from turnscrew.cli.main import app

PAGE = Path(__file__).resolve().parent / "commands.md"

HEAD = """\
# Commands

Every command is given as `python3 start.py run COMMAND ...`; where the program is installed, `turnscrew COMMAND ...` says the same.
`--help` behind a command tells what stands here.
This page is written by `docs/make_commands.py`.

## Exit codes

| code | means |
|---|---|
| 0 | fine |
| 1 | a problem you can act on; it is said in words |
| 2 | bad input or usage; every problem of a file is listed with its place |
| 3 | a conflict: something changed or ran short meanwhile |
| 4 | not allowed |
| 70 | our bug |
"""  # noqa: E501 - one sentence a line

HERE = "examples/sallowmere"
DEVICE = f"{HERE}/pellorin-l240.device.yaml"
FAULTS = f"{HERE}/pellorin-l240.faults.yaml"

EXAMPLES = {
    "check": "check examples/sallowmere examples/shelf-radio.device.yaml",
    "opening": f"opening {HERE}/tavistle-v80.device.yaml --reach camera --out out",
    "diagnose": f'diagnose {FAULTS} --device {DEVICE} --sign "will not charge"',
    "batch": "batch examples/sallowmere --answer 40=yes --answer 59=yes --out out",
    "batches": "batches examples/sallowmere --plays 0",
    "reckon": "reckon lead_drop_v gauge=18 length_m=1.8 current_a=4.74",
    "fleet": "fleet examples/fleet-history.csv --pdf fleet.pdf",
    "fleets": "fleets examples/fleet-history.csv",
    "follows": "follows examples/adapter-spells.csv",
    "selfcheck": "selfcheck",
    "demo": "demo --out out",
    "cards": "cards examples/sallowmere/people.yaml --out out",
    "serve": "serve --home records",
    "receive": "receive examples/sallowmere --home records",
    "sign-in-link": "sign-in-link lead --home records",
    "audit": "audit --home records",
    "backup": "backup friday.tsb --home records",
    "restore": "restore friday.tsb --check",
    "export": "export for-others.zip --home records",
    "import": "import for-others.zip --home new-records",
    "erase": "erase --due --home records",
}
"""What to type to see a command at work, by command."""

CODES = {
    "check": "0 if all files are clean, 2 if not",
    "opening": "0 also where the answer is that it cannot be reached; 2 for bad input",
    "diagnose": "0 with advice, or with the reason why there is none; 2 for bad input",
    "batch": "0 when reckoned, 2 for bad input",
    "batches": "0 if all were reckoned, 1 if a folder has problems",
    "reckon": "0 with the figure, 2 for an unknown name or a figure out of range",
    "fleet": "0 with the report, 2 for bad input",
    "fleets": "0 if all were reported on, 1 if a history has problems",
    "follows": "0 with the answer, whichever it is; 2 for bad input",
    "selfcheck": "0 if all figures agree, 1 if not",
    "demo": "0 when the papers are written",
    "cards": "0 when the cards are written, 2 for bad input",
    "receive": "0 when received, 1 if it is refused, 2 for bad input",
    "serve": "0 when stopped, 1 if the port or the folder cannot be used",
    "sign-in-link": "0 with the link, 1 if nobody bears that name",
    "audit": "0 if all is whole, 1 with the first break",
    "backup": "0 when the file is whole, 1 if it cannot be written or is there already",
    "restore": "0 when restored and whole, 1 or 2 if the file is refused",
    "export": "0 when written, 1 if the target is there already",
    "import": "0 when the journals are whole, 1 or 2 if it is refused",
    "erase": "0 when erased, 1 if somebody is refused, 2 unless exactly one is named",
}
"""What the exit code says, by command."""


def commands() -> dict[str, Any]:
    """
    List every command by its name.

    Returns
    -------
    dict[str, Any]
        In the order in which ``--help`` lists them.
    """
    return dict(typer.main.get_command(app).commands)


def page() -> str:
    """
    Write the page.

    Returns
    -------
    str
        All of its text.
    """
    every = [section(name, command) for name, command in commands().items()]
    return HEAD + "\n" + "\n".join(every)


def section(name: str, command: Any) -> str:
    """
    Write what there is to know of a command.

    Parameters
    ----------
    name
        Its name.
    command
        The command.

    Returns
    -------
    str
        A piece of the page.
    """
    parts = [" ".join(part.split()) for part in (command.help or "").split("\n\n")]
    said = [plain(part).replace(". ", ".\n") for part in parts]
    rows = [row(it) for it in command.params if it.name != "help"]
    table = ["| word or option | takes | if not said | meaning |", "|---|---|---|---|"]
    pieces = [f"## {name}", *said]
    pieces += ["\n".join(table + rows)] if rows else []
    pieces += [f"Exit code: {CODES[name]}."]
    pieces += [f"```text\npython3 start.py run {EXAMPLES[name]}\n```"]
    return "\n\n".join(pieces) + "\n"


def plain(words: str) -> str:
    """
    Keep stars from being read as emphasis.

    Parameters
    ----------
    words
        Words of a command.

    Returns
    -------
    str
        The same for a page.
    """
    return words.replace("*", "\\*")


def row(it: Any) -> str:
    """
    Write one line of the table of a command.

    Parameters
    ----------
    it
        An argument or an option.

    Returns
    -------
    str
        A row.
    """
    word = ", ".join(f"`{one}`" for one in it.opts)
    return f"| {word} | {kind_of(it)} | {usual(it)} | {plain(it.help)} |"


def kind_of(it: Any) -> str:
    """
    Say what is taken, with its limits.

    Parameters
    ----------
    it
        An argument or an option.

    Returns
    -------
    str
        A few words.
    """
    kinds = re.findall(r"\b(Path|int|float|bool|str)\b", str(type_of(it)))
    names = {"Path": "a path", "int": "a whole number", "float": "a number"}
    least = "" if it.min is None else f" from {it.min}"
    most = "" if it.max is None else f" to {it.max}"
    is_many = "list[" in str(type_of(it))
    if "bool" in kinds:
        return "nothing"
    many = ", repeatable" if is_many else ""
    return names.get(kinds[0], "words") + least + most + many


def type_of(it: Any) -> Any:
    """
    Give the type as the command names it.

    Parameters
    ----------
    it
        An argument or an option.

    Returns
    -------
    Any
        The type; its words if it is a plain class.
    """
    kind = it.type_descriptor.annotation
    return kind.__name__ if isinstance(kind, type) and kind.__name__ != "list" else kind


def usual(it: Any) -> str:
    """
    Say what holds if it is not said.

    Parameters
    ----------
    it
        An argument or an option.

    Returns
    -------
    str
        A few words.
    """
    if it.required:
        return "must be said"
    if it.default in (None, False, "", (), []):
        return "–"
    return f"`{it.default}`"


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
