"""How is the folder of a batch taken from the disk?"""

from pathlib import Path

from turnscrew.core.model.batch_input import BatchInput
from turnscrew.errors import BadArgumentError
from turnscrew.files.batch_folder import (
    TABLE_ENDINGS,
    TABLES,
    TEXTS,
    read_batch_folder,
)

_NAMES = {*TEXTS, *(f"{name}{end}" for name in TABLES for end in TABLE_ENDINGS)}


def folder_from(folder: Path) -> BatchInput:
    """
    Read a batch.

    Parameters
    ----------
    folder
        Its folder.

    Returns
    -------
    BatchInput
        All that is known of it.

    Raises
    ------
    BadFileError
        If a file is missing or breaks its format; every problem bears the file's name.
    BadArgumentError
        If there is no such folder.
    """
    if not folder.is_dir():
        raise BadArgumentError(f"folder: found no folder {folder}, wanted one")
    contents = {
        path.name: path.read_bytes()
        for path in sorted(folder.iterdir())
        if path.name in _NAMES and path.is_file()
    }
    return read_batch_folder(contents)
