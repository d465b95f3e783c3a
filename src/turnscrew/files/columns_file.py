"""What do the headings of other people's tables mean, and how is that remembered?"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from turnscrew.core.model.quantities import Checked
from turnscrew.files.refusal import refuse_if_any
from turnscrew.files.shape import Place, value_of
from turnscrew.files.yaml_text import read_tree

OTHER_WORDS: Mapping[str, tuple[str, ...]] = {
    "asset": (
        "asset no", "asset number", "asset tag", "tag", "inventory no",
        "inventory number", "inventory tag", "owner's number", "owner number",
        "our number",
    ),
    "serial": ("serial no", "serial number", "s n", "sn", "ser no", "serial nr"),
    "model": ("type", "device", "model name", "product", "kind"),
    "rev": ("revision", "version", "ver"),
    "site": ("place", "location", "team", "department", "ward"),
}  # fmt: skip
"""Headings other people give to the columns of a table of devices."""


@dataclass(frozen=True)
class Columns(Checked):
    """
    How one table is to be read.

    Parameters
    ----------
    encoding
        Encoding of its text; empty to find out.
    headings
        Our column for each of their headings.
    ignore
        Their headings that mean nothing to us.
    """

    encoding: str = ""
    headings: dict[str, str] = field(default_factory=dict)
    ignore: tuple[str, ...] = ()


def read_columns(text: str) -> Mapping[str, Columns]:
    """
    Read what is remembered of the headings of tables.

    Parameters
    ----------
    text
        The remembered columns, by file name.

    Returns
    -------
    Mapping
        How each table is to be read.

    Raises
    ------
    BadFileError
        If anything in the text does not fit, with all problems.
    """
    tree, told = read_tree(text, "the name of a table such as batch.csv:")
    problems = list(told)
    found = value_of(tree, dict[str, Columns], Place((), problems))
    refuse_if_any(problems)
    assert isinstance(found, dict)
    return found


def columns_text(known: Mapping[str, Columns]) -> str:
    """
    Write what is remembered of the headings of tables.

    Parameters
    ----------
    known
        How each table is to be read.

    Returns
    -------
    str
        A text that reads as the same.
    """
    lines = ["# What the headings of other people's tables mean, asked once and kept."]
    if not known:
        lines.append("{}")
    for name, columns in known.items():
        lines += ["", f"{_quoted(name)}:"]
        if columns.encoding:
            lines.append(f"  encoding: {_quoted(columns.encoding)}")
        if columns.headings:
            lines.append("  headings:")
        for heading, ours in columns.headings.items():
            lines.append(f"    {_quoted(heading)}: {_quoted(ours)}")
        if columns.ignore:
            lines.append(f"  ignore: [{', '.join(map(_quoted, columns.ignore))}]")
        if columns == Columns():
            lines.append("  headings: {}")
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    escaped = "".join(_escaped(character) for character in text)
    return f'"{escaped}"'


def _escaped(character: str) -> str:
    if character in '"\\':
        return f"\\{character}"
    return character if character.isprintable() else f"\\U{ord(character):08x}"
