"""How a command writes a file: whole, or not at all."""

import errno
import os
import secrets
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
    if target.is_symlink():
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), str(path))
    # A name nobody has: what else lies there is not ours.
    partial = target.with_name(f".{secrets.token_hex(8)}.part")
    try:
        partial.write_bytes(content)
        partial.replace(target)
    except OSError as error:
        with suppress(OSError):
            partial.unlink(missing_ok=True)
        error.filename, error.filename2 = str(path), None
        raise
