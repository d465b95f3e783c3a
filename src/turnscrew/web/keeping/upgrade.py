"""Do the tables fit the program, and how do they come to?"""

from collections.abc import Iterable, Mapping

from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

from turnscrew.errors import TurnscrewError

CARRIED_APPS = ("auth", "otp_static", "otp_totp", "records")
"""Whose tables leave with a backup or an export."""


class VersionError(TurnscrewError):
    """Tables and program are of different ages."""


def bring_up_to_date() -> None:
    """Bring the tables to the form this program knows; refuse newer ones."""
    unknown = sorted(unknown_steps())
    if unknown:
        raise VersionError(
            f"tables: found {', '.join(unknown)}, wanted none beyond this program;"
            " it is older than the records"
        )
    call_command("migrate", interactive=False, verbosity=0)


def unknown_steps() -> set[str]:
    """List what was done to the tables by a newer program."""
    done = MigrationRecorder(connection).applied_migrations()
    return set(_beyond(step for step in done if step[0] in CARRIED_APPS))


def _beyond(steps: Iterable[tuple[str, str]]) -> list[str]:
    """Name the steps that this program does not know."""
    known = MigrationLoader(None).disk_migrations
    return [f"{app} {name}" for app, name in steps if (app, name) not in known]


def require_known(steps: Mapping[str, str]) -> None:
    """Refuse what stands at steps of a newer program; no table is looked at."""
    if "records" not in steps:
        raise VersionError(
            "tables: found no version, wanted one that this program knows"
        )
    if unknown := _beyond(steps.items()):
        raise VersionError(
            f"tables: found {', '.join(unknown)}, wanted none beyond this program;"
            " it is too old for what it should read"
        )


def is_up_to_date() -> bool:
    """Tell whether the tables have the form this program knows."""
    executor = MigrationExecutor(connection)
    return not executor.migration_plan(executor.loader.graph.leaf_nodes())


def newest_steps() -> dict[str, str]:
    """Name the last step of every app whose tables are carried."""
    graph = MigrationExecutor(connection).loader.graph
    return {app: name for app, name in graph.leaf_nodes() if app in CARRIED_APPS}


def require_current() -> None:
    """Refuse to work on tables that are not there or of another age."""
    if unknown_steps() or not is_up_to_date():
        raise VersionError(
            "tables: found none or those of another version, wanted this program's;"
            " start turnscrew serve once, or restore a backup"
        )
