"""Where crews shared the name of a truck, all but the first say their own name with it."""

from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("jobs", "0009_jobs_crews_and_the_firm")]

    operations = [
        migrations.RunSQL(
            """
            UPDATE jobs_crew SET truck = left(jobs_crew.truck, 28) || ' (' || left(jobs_crew.name, 20) || ' '
                || jobs_crew.id || ')'
            FROM jobs_crew first
            WHERE lower(first.truck) = lower(jobs_crew.truck) AND first.id < jobs_crew.id
            """,
            migrations.RunSQL.noop,
        ),
    ]
