"""Journals begin empty, and the database itself refuses to change or delete entries."""

from django.db import migrations

from turnscrew.core.ledger.entry import JOURNALS, START

_SQLITE = [
    f"""
    CREATE TRIGGER records_entry_no_{verb.lower()} BEFORE {verb} ON records_entry
    BEGIN SELECT RAISE(ABORT, 'journals only grow: write a correcting entry'); END
    """
    for verb in ("UPDATE", "DELETE")
]
_POSTGRESQL = [
    """
    CREATE FUNCTION records_entry_only_grows() RETURNS trigger AS $$
    BEGIN RAISE EXCEPTION 'journals only grow: write a correcting entry'; END
    $$ LANGUAGE plpgsql
    """,
    """
    CREATE TRIGGER records_entry_only_grows BEFORE UPDATE OR DELETE ON records_entry
    FOR EACH ROW EXECUTE FUNCTION records_entry_only_grows()
    """,
]


def begin(apps, schema_editor):
    head = apps.get_model("records", "Head")
    for journal in JOURNALS:
        head.objects.get_or_create(journal=journal, defaults={"digest": START})
    is_sqlite = schema_editor.connection.vendor == "sqlite"
    for statement in _SQLITE if is_sqlite else _POSTGRESQL:
        schema_editor.execute(statement)


def end(apps, schema_editor):
    if schema_editor.connection.vendor == "sqlite":
        for verb in ("update", "delete"):
            schema_editor.execute(f"DROP TRIGGER records_entry_no_{verb}")
    else:
        schema_editor.execute("DROP FUNCTION records_entry_only_grows CASCADE")


class Migration(migrations.Migration):
    dependencies = [("records", "0001_records")]

    operations = [migrations.RunPython(begin, end)]
