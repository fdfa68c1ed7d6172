"""An opening of which nothing is left to do is marked, and the mark cannot say otherwise than its records."""

from django.db import migrations, models

FILL = """
UPDATE openings_opening SET is_finished = true
WHERE is_void OR id IN (SELECT opening_id FROM openings_installrecord WHERE done_at IS NOT NULL);
"""

# Checked at the end of the transaction, as mark and record are written one after the other. The row is locked, so that
# of two who change the mark and the records at once one sees what the other wrote.
CHECK = """
CREATE FUNCTION opening_is_marked_as_its_records_say() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  concerned bigint;
BEGIN
  IF TG_TABLE_NAME = 'openings_opening' THEN
    concerned := NEW.id;
  ELSIF TG_OP = 'DELETE' THEN
    concerned := OLD.opening_id;
  ELSE
    concerned := NEW.opening_id;
  END IF;
  PERFORM FROM openings_opening WHERE id = concerned FOR SHARE;
  IF EXISTS (
    SELECT FROM openings_opening o WHERE o.id = concerned AND o.is_finished <> (o.is_void OR EXISTS (
      SELECT FROM openings_installrecord r WHERE r.opening_id = o.id AND r.done_at IS NOT NULL
    ))
  ) THEN
    RAISE EXCEPTION 'opening % is marked otherwise than its records say', concerned
    USING ERRCODE = 'check_violation', CONSTRAINT = 'finished_opening_is_done_or_void', TABLE = 'openings_opening';
  END IF;
  RETURN NULL;
END
$$;
"""

TRIGGERS = {
    "new_opening_is_marked": ("INSERT ON openings_opening", "NEW.is_finished AND NOT NEW.is_void"),
    "changed_opening_is_marked": (
        "UPDATE OF is_finished, is_void ON openings_opening",
        "OLD.is_finished <> NEW.is_finished OR OLD.is_void <> NEW.is_void",
    ),
    "opening_of_a_new_record_is_marked": ("INSERT ON openings_installrecord", "NEW.done_at IS NOT NULL"),
    "opening_of_a_changed_record_is_marked": (
        "UPDATE OF done_at ON openings_installrecord",
        "OLD.done_at IS DISTINCT FROM NEW.done_at",
    ),
    "opening_of_a_lost_record_is_marked": ("DELETE ON openings_installrecord", "OLD.done_at IS NOT NULL"),
}


def checked(name):
    after, when = TRIGGERS[name]
    return migrations.RunSQL(
        f"""
        CREATE CONSTRAINT TRIGGER {name} AFTER {after} DEFERRABLE INITIALLY DEFERRED
        FOR EACH ROW WHEN ({when}) EXECUTE FUNCTION opening_is_marked_as_its_records_say();
        """,
        f"DROP TRIGGER {name} ON {after.partition(' ON ')[2]};",
    )


class Migration(migrations.Migration):
    dependencies = [("openings", "0010_what_the_warehouse_told")]

    operations = [
        migrations.AddField(
            model_name="opening",
            name="is_finished",
            field=models.BooleanField(
                default=False, editable=False, help_text="Void, or its install is done: nothing is left to do."
            ),
        ),
        migrations.RunSQL(FILL, migrations.RunSQL.noop),
        migrations.AddConstraint(
            model_name="opening",
            constraint=models.CheckConstraint(
                condition=models.Q(("is_void", False), ("is_finished", True), _connector="OR"),
                name="void_opening_is_finished",
            ),
        ),
        migrations.RunSQL(CHECK, "DROP FUNCTION opening_is_marked_as_its_records_say();"),
        *map(checked, TRIGGERS),
    ]
