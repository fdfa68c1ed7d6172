"""What history rests on cannot change its meaning: one function for the triggers of all tables, and those of jobs."""

from django.db import migrations

FUNCTION = """
CREATE FUNCTION history_keeps_its_meaning() RETURNS trigger LANGUAGE plpgsql AS $$
-- Refuses a change. Arguments of the trigger: the field, the sentence that says why and what would be right, and, where
-- history does not always rest on the row, a query that says whether it does; $1 in it is the row as it was.
DECLARE
    rests boolean := true;
BEGIN
    IF TG_NARGS > 2 THEN
        -- Waits for whoever is adding a row that refers to this one, so that the query sees it.
        EXECUTE format('SELECT FROM %I.%I WHERE id = ($1).id FOR UPDATE', TG_TABLE_SCHEMA, TG_TABLE_NAME) USING OLD;
        EXECUTE TG_ARGV[2] INTO rests USING OLD;
    END IF;
    IF rests THEN
        RAISE EXCEPTION USING ERRCODE = '23Z01', CONSTRAINT = TG_NAME, TABLE = TG_TABLE_NAME, COLUMN = TG_ARGV[0],
            MESSAGE = TG_ARGV[1];
    END IF;
    RETURN NEW;
END $$;
"""


def keeps(table, column, name, sentence):
    field = column.removesuffix("_id")
    return migrations.RunSQL(
        f"""
        CREATE TRIGGER {name} BEFORE UPDATE OF "{column}" ON {table}
        FOR EACH ROW WHEN (OLD."{column}" IS DISTINCT FROM NEW."{column}")
        EXECUTE FUNCTION history_keeps_its_meaning('{field}', '{sentence}');
        """,
        f"DROP TRIGGER {name} ON {table};",
    )


class Migration(migrations.Migration):
    dependencies = [("jobs", "0003_weather_limits")]

    operations = [
        migrations.RunSQL(FUNCTION, "DROP FUNCTION history_keeps_its_meaning();"),
        keeps("jobs_crewday", "crew_id", "crew_day_keeps_its_crew", "a crew day stays with its crew; add another day"),
        keeps("jobs_crewday", "on", "crew_day_keeps_its_date", "a crew day stays on its date; add another day"),
    ]
