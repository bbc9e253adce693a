"""The database itself refuses to change or remove what was signed or recorded once, whoever asks."""

from django.db import migrations

REFUSAL = "what was signed is only ever added to"
TABLES = (
    "curedecision",
    "curereading",
    "injuryphoto",
    "inspection",
    "loggedcure",
    "materialuse",
    "recordversion",
)


def triggers(vendor: str) -> list[str]:
    """The statements that set the guards up: one against change and one against removal for each table."""
    if vendor == "postgresql":
        function = f"""create function signed_row_refuse() returns trigger language plpgsql as
            $$ begin raise exception '{REFUSAL}' using errcode = 'restrict_violation'; end $$"""
        return [
            function,
            *(
                f"create trigger {table}_{name} before {event} on planner_{table} "
                "for each row execute function signed_row_refuse()"
                for table in TABLES
                for name, event in (("unchanged", "update"), ("not_removed", "delete"))
            ),
        ]
    return [
        f"create trigger {table}_{name} before {event} on planner_{table} "
        f"begin select raise(abort, '{REFUSAL}'); end"
        for table in TABLES
        for name, event in (("unchanged", "update"), ("not_removed", "delete"))
    ]


def guard(apps, schema_editor):
    for statement in triggers(schema_editor.connection.vendor):
        schema_editor.execute(statement)


def unguard(apps, schema_editor):
    vendor = schema_editor.connection.vendor
    for table in TABLES:
        for name in ("unchanged", "not_removed"):
            on = f" on planner_{table}" if vendor == "postgresql" else ""
            schema_editor.execute(f"drop trigger {table}_{name}{on}")
    if vendor == "postgresql":
        schema_editor.execute("drop function signed_row_refuse()")


class Migration(migrations.Migration):
    dependencies = [("planner", "0012_queue_views")]

    operations = [migrations.RunPython(guard, unguard)]
