"""How does somebody who waits see how far a command is?"""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def progress(title: str) -> Iterator[Callable[[int, int, str], None]]:
    """
    Tell how far a command is, on standard error.

    Where somebody watches it is a bar on one line; elsewhere each step is a line, so
    that a log says the same.

    Parameters
    ----------
    title
        What is done.

    Yields
    ------
    Callable[[int, int, str], None]
        Takes steps done, steps in all, and words for the step that begins.
    """
    if not sys.stderr.isatty():
        yield _in_lines
        return
    from rich.console import Console  # noqa: PLC0415 - slow library
    from rich.progress import (  # noqa: PLC0415 - slow library
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
    )

    columns = (
        TextColumn("{task.fields[title]}"),
        BarColumn(bar_width=30),
        MofNCompleteColumn(),
        TextColumn("{task.description}"),
    )
    with Progress(*columns, console=Console(stderr=True)) as bars:
        task = bars.add_task("", title=title, total=None)

        def tell(n_done: int, n_all: int, words: str) -> None:
            bars.update(task, completed=n_done, total=n_all, description=words)

        yield tell


def _in_lines(n_done: int, n_all: int, words: str) -> None:
    print(f"{n_done} of {n_all}: {words}", file=sys.stderr)
