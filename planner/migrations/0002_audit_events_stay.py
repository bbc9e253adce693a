"""The database itself refuses to change or remove an audit event, whoever asks."""

from django.db import migrations

REFUSAL = "audit events are only ever added"
GUARDS = {
    "sqlite": [
        f"""create trigger audit_event_unchanged before update on planner_auditevent
            begin select raise(abort, '{REFUSAL}'); end""",
        f"""create trigger audit_event_not_removed before delete on planner_auditevent
            begin select raise(abort, '{REFUSAL}'); end""",
    ],
    "postgresql": [
        f"""create function audit_event_refuse() returns trigger language plpgsql as
            $$ begin raise exception '{REFUSAL}' using errcode = 'restrict_violation'; end $$""",
        """create trigger audit_event_unchanged before update on planner_auditevent
            for each row execute function audit_event_refuse()""",
        """create trigger audit_event_not_removed before delete on planner_auditevent
            for each row execute function audit_event_refuse()""",
    ],
}
BACK = {
    "sqlite": ["drop trigger audit_event_unchanged", "drop trigger audit_event_not_removed"],
    "postgresql": [
        "drop trigger audit_event_unchanged on planner_auditevent",
        "drop trigger audit_event_not_removed on planner_auditevent",
        "drop function audit_event_refuse()",
    ],
}


def guard(apps, schema_editor):
    for statement in GUARDS[schema_editor.connection.vendor]:
        schema_editor.execute(statement)


def unguard(apps, schema_editor):
    for statement in BACK[schema_editor.connection.vendor]:
        schema_editor.execute(statement)


class Migration(migrations.Migration):
    dependencies = [("planner", "0001_initial")]

    operations = [migrations.RunPython(guard, unguard)]
