"""Restoring what is whole of a damaged backup, and trying a restore."""

import os
from datetime import UTC, datetime
from pathlib import Path

from turnscrew.cli.records_folder import (
    ADDRESS,
    default_home,
    now_here,
    opened,
    tell_audit,
)
from turnscrew.errors import BadFileError, TurnscrewError


def told_damage(file: Path) -> bool:
    """Say what of a backup is not whole; tell whether anything is not."""
    from turnscrew.web.keeping.archive import (  # noqa: PLC0415 - slow libraries
        examined,
    )

    try:
        examined(file)
    except BadFileError as error:
        for problem in error.problems:
            print(problem)
        return True
    return False


def restore_in_part(file: Path, home: Path | None) -> None:
    """Bring back what is whole, and list what is not."""
    from turnscrew.web.keeping import restore as way  # noqa: PLC0415 - slow libraries
    from turnscrew.web.keeping.whole import found_in  # noqa: PLC0415

    found = found_in(file)
    way.make_way(home or default_home())
    with opened(home, is_new=True) as folder:
        from turnscrew.web.keeping import in_part  # noqa: PLC0415 - slow libraries

        address = os.environ.get(ADDRESS, "")
        lacking = in_part.restore_in_part(found, folder, address, datetime.now(UTC))
        print(f"\nrestored in part, made {lacking.made_at or 'on a day that is lost'}")
        for line in lacking.lines() or ["nothing lacks: every row and photo is back"]:
            print(line)
        tell_audit(as_json=False)


def try_restore(file: Path, home: Path | None, by: str) -> None:
    """Restore a backup in a throw-away place, and write what came of it."""
    with opened(home):
        from turnscrew.web.keeping import trying  # noqa: PLC0415 - slow libraries
        from turnscrew.web.keeping.owner import (  # noqa: PLC0415 - slow libraries
            person_by_key,
        )
        from turnscrew.web.keeping.upgrade import (  # noqa: PLC0415 - slow libraries
            require_current,
        )

        require_current()
        now = now_here()
        tried = trying.try_restore(file, by=person_by_key(by), now=now)
        print(tried.words)
        if not tried.is_whole:
            raise TurnscrewError(
                f"{file}: found one that does not restore, wanted a whole one; make a"
                " new backup and try that"
            )
