"""How a command writes a file: whole, or not at all."""

import os
from contextlib import suppress
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """
    Write a file so that its name never stands for half of it.

    An older file of that name stays as it was until the new one is whole.

    Parameters
    ----------
    path
        Where to write; a link leads to the file it names.
    content
        What to write.

    Raises
    ------
    OSError
        If it cannot be written; nothing half-written is left.
    """
    if path.exists() and not path.is_file():
        # A device or a pipe takes what comes, and is never put in another's place.
        path.write_bytes(content)
        return
    target = Path(os.path.realpath(path))
    partial = target.with_name(f"{target.name}.part")
    try:
        partial.write_bytes(content)
        partial.replace(target)
    except OSError:
        with suppress(OSError):
            partial.unlink(missing_ok=True)
        raise
