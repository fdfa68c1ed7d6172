"""What is planned and recorded of openings goes on speaking of the same opening, day and file."""

from django.db import migrations

KEPT = (
    ("openings_opening", "job_id", "opening_keeps_its_job",
     "an opening stays with its job; void it and add it to the other job"),
    ("openings_installationdetail", "job_id", "detail_keeps_its_job",
     "a detail stays with its job; add another to the other job"),
    ("openings_assignment", "opening_id", "assignment_keeps_its_opening",
     "an assignment stays with its opening; withdraw it and assign the other"),
    ("openings_assignment", "crew_day_id", "assignment_keeps_its_crew_day",
     "an assignment stays on its crew day; withdraw it and assign the opening anew"),
    ("openings_fieldmeasurement", "opening_id", "measurement_keeps_its_opening",
     "a measurement stays with its opening; measure the other and enter that"),
    ("openings_hold", "opening_id", "hold_keeps_its_opening",
     "a hold stays with its opening; release it and place another"),
    ("openings_hold", "kind", "hold_keeps_its_kind", "a hold keeps its kind; release it and place another"),
    ("openings_installrecord", "opening_id", "install_record_keeps_its_opening",
     "an install record stays with its opening"),
    ("openings_steprecord", "record_id", "step_keeps_its_install_record", "a step stays with its install record"),
    ("openings_steprecord", "step", "step_record_keeps_its_step", "a recorded step stays that step"),
    ("openings_hourrecord", "record_id", "hours_keep_their_install_record", "hours stay with their install record"),
    ("openings_callback", "opening_id", "callback_keeps_its_opening",
     "a callback stays with its opening; resolve it and report another"),
    ("openings_windowschedule", "job_id", "schedule_keeps_its_job",
     "a schedule stays with its job; send the file to the other job"),
    ("openings_windowschedule", "revision", "schedule_keeps_its_revision", "a schedule keeps its revision"),
    ("openings_windowschedule", "sha256", "schedule_keeps_its_file", "a schedule keeps its file; send the other one"),
)  # fmt: skip


def keeps(table, column, name, sentence):
    field = column.removesuffix("_id")
    return migrations.RunSQL(
        f"""
        CREATE TRIGGER {name} BEFORE UPDATE OF {column} ON {table}
        FOR EACH ROW WHEN (OLD.{column} IS DISTINCT FROM NEW.{column})
        EXECUTE FUNCTION history_keeps_its_meaning('{field}', '{sentence}');
        """,
        f"DROP TRIGGER {name} ON {table};",
    )


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0004_history_keeps_its_meaning"),
        ("openings", "0007_hours_keep_every_minute"),
    ]

    operations = [keeps(*kept) for kept in KEPT]
