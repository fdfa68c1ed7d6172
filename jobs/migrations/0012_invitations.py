"""People are invited by links, and say when they changed; the service keeps an owner who can sign in."""

import django.db.models.deletion
import django.db.models.functions.datetime
from django.conf import settings
from django.db import migrations, models

KEEPS_AN_OWNER = """
CREATE FUNCTION service_keeps_an_owner() RETURNS trigger LANGUAGE plpgsql AS $$
-- Of two owners who lock each other out at once, the second waits here and then sees what the first has done.
BEGIN
    PERFORM pg_advisory_xact_lock(hashtext('service_keeps_an_owner'));
    IF NOT EXISTS (SELECT FROM jobs_person
                   WHERE id <> OLD.id AND role = 'owner' AND is_active AND password NOT LIKE '!%') THEN
        RAISE EXCEPTION USING ERRCODE = '23Z01', CONSTRAINT = TG_NAME, TABLE = TG_TABLE_NAME, COLUMN = 'role',
            MESSAGE = 'this is the only owner who can sign in; make somebody else an owner first';
    END IF;
    RETURN CASE TG_OP WHEN 'DELETE' THEN OLD ELSE NEW END;
END $$;
CREATE TRIGGER service_keeps_an_owner BEFORE UPDATE OF role, is_active, password ON jobs_person FOR EACH ROW
WHEN (OLD.role = 'owner' AND OLD.is_active AND OLD.password NOT LIKE '!%'
      AND NOT (NEW.role = 'owner' AND NEW.is_active AND NEW.password NOT LIKE '!%'))
EXECUTE FUNCTION service_keeps_an_owner();
CREATE TRIGGER service_keeps_its_last_owner BEFORE DELETE ON jobs_person FOR EACH ROW
WHEN (OLD.role = 'owner' AND OLD.is_active AND OLD.password NOT LIKE '!%')
EXECUTE FUNCTION service_keeps_an_owner();
"""
LETS_GO = """
DROP TRIGGER service_keeps_an_owner ON jobs_person;
DROP TRIGGER service_keeps_its_last_owner ON jobs_person;
DROP FUNCTION service_keeps_an_owner();
"""


def says_when(table, *, but=""):
    """Keep `updated_at` of a table; a change that changes nothing, or only the column `but`, leaves it."""
    old, new = (f"to_jsonb({row}) - '{but}'" if but else f"{row}.*" for row in ("OLD", "NEW"))
    return migrations.RunSQL(
        f"""
        CREATE TRIGGER says_when_it_was_added BEFORE INSERT ON {table}
        FOR EACH ROW EXECUTE FUNCTION says_when_it_changed();
        CREATE TRIGGER says_when_it_changed BEFORE UPDATE ON {table}
        FOR EACH ROW WHEN ({old} IS DISTINCT FROM {new}) EXECUTE FUNCTION says_when_it_changed();
        """,
        f"DROP TRIGGER says_when_it_was_added ON {table}; DROP TRIGGER says_when_it_changed ON {table};",
    )


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0011_truck_once_among_crews_in_service"),
    ]

    operations = [
        migrations.AddField(
            model_name="person",
            name="updated_at",
            field=models.DateTimeField(
                db_default=django.db.models.functions.datetime.Now(),
                db_index=True,
                editable=False,
                help_text="When it was last changed, as the database saw it.",
            ),
        ),
        migrations.CreateModel(
            name="Invitation",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("made_at", models.DateTimeField(auto_now_add=True)),
                ("expires_at", models.DateTimeField()),
                ("used_at", models.DateTimeField(blank=True, null=True)),
                ("taken_back_at", models.DateTimeField(blank=True, null=True)),
                (
                    "updated_at",
                    models.DateTimeField(
                        db_default=django.db.models.functions.datetime.Now(),
                        db_index=True,
                        editable=False,
                        help_text="When it was last changed, as the database saw it.",
                    ),
                ),
                (
                    "invited_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="invitations",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["-made_at", "-id"],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("taken_back_at", None), ("used_at", None)),
                        fields=("person",),
                        name="one_open_invitation_per_person",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("used_at", None), ("taken_back_at", None), _connector="OR"),
                        name="invitation_is_used_or_taken_back",
                    ),
                ],
            },
        ),
        says_when("jobs_person", but="last_login"),
        says_when("jobs_invitation"),
        migrations.RunSQL(KEEPS_AN_OWNER, LETS_GO),
    ]
