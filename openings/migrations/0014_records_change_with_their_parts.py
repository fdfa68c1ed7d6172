"""An install record changes with each step and each entry of hours that it shows."""

from django.db import migrations

PARTS = (
    ("openings_steprecord", "openings_installrecord", "record_id"),
    ("openings_hourrecord", "openings_installrecord", "record_id"),
)
EVENTS = (("added", "INSERT", "NEW"), ("changed", "UPDATE", "NEW"), ("removed", "DELETE", "OLD"))


def change_their_whole(table, whole, column):
    return migrations.RunSQL(
        "".join(
            f"""
            CREATE TRIGGER changes_its_whole_once_{done} AFTER {event} ON {table}
            REFERENCING {rows} TABLE AS part
            FOR EACH STATEMENT EXECUTE FUNCTION changes_its_whole('{whole}', '{column}');
            """
            for done, event, rows in EVENTS
        ),
        "".join(f"DROP TRIGGER changes_its_whole_once_{done} ON {table};" for done, _, _ in EVENTS),
    )


class Migration(migrations.Migration):
    dependencies = [("openings", "0013_when_rows_changed")]

    operations = [change_their_whole(*part) for part in PARTS]
