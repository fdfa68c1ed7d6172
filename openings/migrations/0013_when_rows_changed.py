"""Every row that a list shows says when it changed."""

import django.db.models.functions.datetime
from django.db import migrations, models

TABLES = (
    "openings_installationdetail", "openings_opening", "openings_hold", "openings_assignment", "openings_installrecord",
    "openings_fieldmeasurement", "openings_callback", "openings_senderlayout",
)  # fmt: skip
FILES = ("openings_windowschedule", "openings_scheduledraft")
"""Whose rows hold whole files: to compare them at each change costs more than it tells."""


def says_when(table, *, when="WHEN (OLD.* IS DISTINCT FROM NEW.*)"):
    """Keep `updated_at` of a table; a change that changes nothing leaves it."""
    return migrations.RunSQL(
        f"""
        CREATE TRIGGER says_when_it_was_added BEFORE INSERT ON {table}
        FOR EACH ROW EXECUTE FUNCTION says_when_it_changed();
        CREATE TRIGGER says_when_it_changed BEFORE UPDATE ON {table}
        FOR EACH ROW {when} EXECUTE FUNCTION says_when_it_changed();
        """,
        f"DROP TRIGGER says_when_it_was_added ON {table}; DROP TRIGGER says_when_it_changed ON {table};",
    )


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0006_when_rows_changed_and_first_answers"),
        ("openings", "0012_lists_in_the_order_of_an_index"),
    ]

    operations = [
        migrations.AddField(
            model_name="assignment",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="callback",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="fieldmeasurement",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="hold",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="installationdetail",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="installrecord",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="opening",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="scheduledraft",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="senderlayout",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="windowschedule",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        *(says_when(table) for table in TABLES),
        *(says_when(table, when="") for table in FILES),
    ]
