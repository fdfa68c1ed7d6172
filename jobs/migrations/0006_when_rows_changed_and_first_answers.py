"""Every row that a list shows says when it changed, kept by a trigger; and first answers are kept by their key."""

import django.db.models.deletion
import django.db.models.functions.datetime
from django.conf import settings
from django.db import migrations, models

SAYS_WHEN = """
CREATE FUNCTION says_when_it_changed() RETURNS trigger LANGUAGE plpgsql AS $$
-- Not the start of the transaction, which another may outrun; and never back, whatever the clock does.
BEGIN
    NEW.updated_at := clock_timestamp();
    IF TG_OP = 'UPDATE' AND NEW.updated_at <= OLD.updated_at THEN
        NEW.updated_at := OLD.updated_at + interval '1 microsecond';
    END IF;
    RETURN NEW;
END $$;
"""
CHANGES_ITS_WHOLE = """
CREATE FUNCTION changes_its_whole() RETURNS trigger LANGUAGE plpgsql AS $$
-- What is shown with another row changes that row. Arguments: its table, and the column here that refers to it.
BEGIN
    EXECUTE format('UPDATE %I SET updated_at = clock_timestamp() WHERE id IN (SELECT %I FROM part)', TG_ARGV[0],
                   TG_ARGV[1]);
    RETURN NULL;
END $$;
"""

TABLES = ("jobs_crew", "jobs_job", "jobs_crewday", "jobs_siteforecast")


def says_when(table):
    """Keep `updated_at` of a table; a change that changes nothing leaves it."""
    return migrations.RunSQL(
        f"""
        CREATE TRIGGER says_when_it_was_added BEFORE INSERT ON {table}
        FOR EACH ROW EXECUTE FUNCTION says_when_it_changed();
        CREATE TRIGGER says_when_it_changed BEFORE UPDATE ON {table}
        FOR EACH ROW WHEN (OLD.* IS DISTINCT FROM NEW.*) EXECUTE FUNCTION says_when_it_changed();
        """,
        f"DROP TRIGGER says_when_it_was_added ON {table}; DROP TRIGGER says_when_it_changed ON {table};",
    )


class Migration(migrations.Migration):
    dependencies = [("jobs", "0005_forecasts_by_date")]

    operations = [
        migrations.AddField(
            model_name="crew",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="crewday",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="job",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.AddField(
            model_name="siteforecast",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.CreateModel(
            name="FirstAnswer",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.CharField(max_length=255)),
                (
                    "asked",
                    models.CharField(help_text="SHA-256 of the method, the address and the body.", max_length=64),
                ),
                ("status", models.PositiveSmallIntegerField()),
                ("headers", models.JSONField(blank=True, default=dict)),
                ("body", models.BinaryField(blank=True, default=bytes)),
                ("answered_at", models.DateTimeField(auto_now_add=True, db_index=True)),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
                "constraints": [
                    models.UniqueConstraint(fields=("person", "key"), name="key_is_answered_once_per_person")
                ],
            },
        ),
        migrations.RunSQL(SAYS_WHEN, "DROP FUNCTION says_when_it_changed();"),
        migrations.RunSQL(CHANGES_ITS_WHOLE, "DROP FUNCTION changes_its_whole();"),
        *(says_when(table) for table in TABLES),
    ]
